"""What is stored of labels: constraints that hold past every form, and links within one kitchen."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from costing.models import Kitchen
from costing.services.saving import check
from labels.models import (
    CrossContact,
    DesignWords,
    LabelDesign,
    NutritionDecision,
    OwnSheet,
    PrintedLabel,
    QuantifiedIngredient,
    WeighedPart,
    WeighedRun,
)
from tests.builders import TODAY, a_batch, a_kitchen, a_product, a_recipe, a_user, an_ingredient

pytestmark = pytest.mark.django_db


def a_design(**values):
    product = a_product()
    values = {"kitchen": product.kitchen, "product": product, "name_of_food": "Jam"} | values
    return LabelDesign.objects.create(**values)


def some_words(**values):
    design = values.pop("design", None) or a_design()
    values = {"language": "es", "name_of_food": "Confitura"} | values
    return DesignWords.objects.create(kitchen=design.kitchen, design=design, **values)


def a_quantified(**values):
    design = a_design()
    return QuantifiedIngredient.objects.create(kitchen=design.kitchen, design=design, **values)


def a_sheet(**values):
    values = {"kitchen": a_kitchen(), "name": "Ours", "columns": 3, "rows": 7} | values
    lengths = ("page_width_mm", "page_height_mm", "label_width_mm", "label_height_mm")
    lengths += ("margin_left_mm", "margin_top_mm", "pitch_x_mm", "pitch_y_mm")
    return OwnSheet.objects.create(**dict.fromkeys(lengths, Decimal(10)) | values)


def a_printed(**values):
    design = a_design()
    version = design.product.recipe.versions.get()
    values = {"lot": "L1", "copies": 1} | values
    return PrintedLabel.objects.create(
        kitchen=design.kitchen,
        design=design,
        product=design.product,
        recipe_version=version,
        rule_date=TODAY,
        market="eu",
        facts={},
        sheet={},
        label_sha256="0" * 64,
        pdf_sha256="0" * 64,
        label_pdf=b"%PDF",
        **values,
    )


def a_look(**values):
    """Somebody looked at the whole kitchen and found no way for eggs to get in."""
    values = {
        "kitchen": a_kitchen(),
        "group": "eggs",
        "outcome": "none found",
        "looked_at": "No egg in the house.",
        "assessed_by": "Ana",
        "assessed_on": TODAY,
        "review_by": TODAY + timedelta(days=1),
    } | values
    return CrossContact.objects.create(**values)


def a_decision(**values):
    """Nobody knows what a pinch of the ingredient holds, and it does not matter."""
    design = values.pop("design", None) or a_design()
    values = {"ingredient": an_ingredient(design.kitchen), "reason": "A pinch."} | values
    return NutritionDecision.objects.create(kitchen=design.kitchen, design=design, **values)


def two_decisions():
    first = a_decision()
    a_decision(design=first.design, ingredient=first.ingredient)


def a_weighed_run(**values):
    batch = a_batch()
    design = a_design(kitchen=batch.kitchen)
    values = {"price_per_kg": Decimal(20), "currency": "EUR", "pieces": [], "order": {}} | values
    return WeighedRun.objects.create(
        kitchen=batch.kitchen, design=design, batch=batch, **values
    )  # fmt: skip


def a_part(run=None, **values):
    run = run or a_weighed_run()
    return WeighedPart.objects.create(
        kitchen=run.kitchen, run=run, number=0, pages_pdf=b"%PDF", **values
    )


def two_parts():
    a_part(a_part().run)


def two_sheets():
    a_sheet(kitchen=a_sheet().kitchen)


REFUSED = {
    "design_surface_is_positive": [lambda: a_design(largest_surface_cm2=Decimal(0))],
    "design_has_its_words_once_a_language": [lambda: some_words(design=some_words().design)],
    "design_words_are_in_a_language": [lambda: some_words(language="")],
    "quantified_is_an_ingredient_or_a_preparation": [
        a_quantified,
        lambda: a_quantified(ingredient=an_ingredient(), preparation=a_recipe()),
    ],
    "own_sheet_name_is_unique": [two_sheets],
    "own_sheet_has_labels": [lambda: a_sheet(columns=0), lambda: a_sheet(rows=0)],
    "printed_at_least_one": [lambda: a_printed(copies=0)],
    "printed_with_a_lot": [lambda: a_printed(lot="")],
}
REFUSED |= {
    "cross_contact_outcome_is_one_of_two": [lambda: a_look(outcome="perhaps")],
    "cross_contact_that_remains_has_a_name": [lambda: a_look(outcome="remains")],
    "cross_contact_says_what_and_who": [
        lambda: a_look(looked_at=""),
        lambda: a_look(assessed_by=""),
    ],
    "cross_contact_is_looked_at_again_later": [lambda: a_look(review_by=TODAY)],
    "trace_is_decided_once_a_design": [two_decisions],
    "trace_decision_has_a_reason": [lambda: a_decision(reason="")],
    "weighed_run_has_a_price": [lambda: a_weighed_run(price_per_kg=Decimal(0))],
    "weighed_run_that_is_printed_has_its_labels": [lambda: a_weighed_run(status="printed")],
    "weighed_part_is_drawn_once": [two_parts],
}
CASES = [(name, build) for name, builds in REFUSED.items() for build in builds]


@pytest.mark.parametrize(("name", "build"), CASES, ids=[name for name, _ in CASES])
def test_the_database_refuses(name, build):
    with (
        pytest.raises(IntegrityError, match=f"{name}|UNIQUE constraint failed"),
        transaction.atomic(),
    ):
        build()


def test_no_constraint_is_left_out():
    ours = apps.get_app_config("labels").get_models()
    assert {c.name for model in ours for c in model._meta.constraints} == set(REFUSED)


def test_what_lies_on_the_bound_is_taken():
    a_design(largest_surface_cm2=Decimal("0.1"))
    a_quantified(ingredient=an_ingredient())
    a_sheet(columns=1, rows=1)
    a_printed()
    a_look()
    a_look(outcome="remains", named_as="egg")
    a_decision()
    a_part(a_weighed_run(price_per_kg=Decimal("0.0001")))


LINKS = {
    "product of a design": lambda k: LabelDesign(kitchen=k, product=a_product()),
    "design of some words": lambda k: DesignWords(kitchen=k, design=a_design(), language="es"),
    "design of a quantity": lambda k: QuantifiedIngredient(kitchen=k, design=a_design()),
    "ingredient of a quantity": lambda k: QuantifiedIngredient(
        kitchen=k, ingredient=an_ingredient()
    ),
    "preparation of a quantity": lambda k: QuantifiedIngredient(kitchen=k, preparation=a_recipe()),
    "design of a print": lambda k: PrintedLabel(kitchen=k, design=a_design()),
    "product of a print": lambda k: PrintedLabel(kitchen=k, product=a_product()),
    "version of a print": lambda k: PrintedLabel(
        kitchen=k, recipe_version=a_recipe().versions.get()
    ),
    "product of a look": lambda k: CrossContact(kitchen=k, product=a_product()),
    "pan of a print": lambda k: PrintedLabel(kitchen=k, batch=a_batch()),
    "first run of a print": lambda k: PrintedLabel(kitchen=k, reprint_of=a_printed()),
    "design of a decision": lambda k: NutritionDecision(kitchen=k, design=a_design()),
    "ingredient of a decision": lambda k: NutritionDecision(kitchen=k, ingredient=an_ingredient()),
    "design of weighed pieces": lambda k: WeighedRun(kitchen=k, design=a_design()),
    "pan of weighed pieces": lambda k: WeighedRun(kitchen=k, batch=a_batch()),
    "labels of weighed pieces": lambda k: WeighedRun(kitchen=k, printed=a_printed()),
    "run of a part": lambda k: WeighedPart(kitchen=k, run=a_weighed_run()),
}


@pytest.mark.parametrize("build", LINKS.values(), ids=LINKS)
def test_a_link_into_another_kitchen_is_refused(build):
    with pytest.raises(ValidationError) as refused:
        check(build(a_kitchen()))
    assert any("not in this kitchen" in sentence for sentence in refused.value.messages)


def test_every_link_between_rows_of_a_kitchen_is_tried_above():
    links = [
        field
        for model in apps.get_app_config("labels").get_models()
        for field in model._meta.concrete_fields
        if field.is_relation
        and field.related_model._meta.app_label in {"costing", "labels"}
        and field.related_model is not Kitchen
    ]
    assert len(links) == len(LINKS)


def test_what_was_printed_keeps_its_version_from_being_deleted():
    printed = a_printed()
    with pytest.raises(IntegrityError):
        printed.recipe_version.delete()


def a_version():
    return a_recipe().versions.get()


ANOTHER = {
    "design": a_design,
    "product": a_product,
    "kitchen": a_kitchen,
    "recipe_version": a_version,
    "batch": a_batch,
    "best_before": lambda: TODAY,
    "rule_date": lambda: date(2020, 1, 1),
    "printed_at": lambda: datetime(2026, 9, 20, tzinfo=UTC),
    "printed_by": a_user,
    "facts": lambda: {"name": "Jelly"},
    "sheet": lambda: {"columns": 3},
    "copies": lambda: 2,
    "label_pdf": lambda: b"other",
    "look": lambda: {"colour": "#000000"},
    "reprint_of": a_printed,
}
COLUMNS = sorted(f.name for f in PrintedLabel._meta.concrete_fields if f.name != "id")


@pytest.mark.parametrize("column", COLUMNS)
def test_nothing_of_a_printed_label_can_be_changed(column):
    printed = a_printed(printed_by=a_user())
    change = {column: ANOTHER.get(column, lambda: "x")()}
    with pytest.raises(IntegrityError, match="kept as it was printed"), transaction.atomic():
        PrintedLabel.objects.filter(pk=printed.pk).update(**change)


def test_a_printed_label_cannot_be_deleted_and_outlives_an_account():
    printed = a_printed(printed_by=a_user())
    with pytest.raises(IntegrityError, match="answers a recall"), transaction.atomic():
        printed.delete()
    PrintedLabel.objects.get().printed_by.delete()
    assert PrintedLabel.objects.get().printed_by is None
