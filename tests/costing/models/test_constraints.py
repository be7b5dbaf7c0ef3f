"""Each constraint stands in the database too: rows written past every form are refused."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from costing.models import (
    AllergenAnswer,
    AuditEntry,
    Batch,
    BatchInput,
    BatchReading,
    BatchYield,
    CompoundPart,
    IngredientName,
    Kitchen,
    Lesson,
    Member,
    Product,
    ProductPart,
    RecipeLine,
    RecipeVersion,
    SupplierPrice,
)
from costing.services.saving import check
from tests.builders import (
    TODAY,
    a_batch,
    a_fruit,
    a_kitchen,
    a_member,
    a_mould,
    a_pan,
    a_price,
    a_product,
    a_recipe,
    a_supplier,
    a_user,
    an_ingredient,
    packaging,
)

pytestmark = pytest.mark.django_db

NOON = datetime(2026, 9, 20, 12, tzinfo=UTC)


def again(row, **changes):
    """The same row once more, as a bulk import writes it: only the database checks it."""
    copy = type(row).objects.get(pk=row.pk)
    copy.pk = None
    for name, value in changes.items():
        setattr(copy, name, value)
    return type(row).objects.bulk_create([copy])[0]


def a_told_weight():
    """A weight of a pan on the fire."""
    batch = a_batch()
    return BatchReading.objects.create(
        kitchen=batch.kitchen, batch=batch, kind="weight", value=D(9000), key="a", read_at=NOON
    )


def a_yield(**values):
    batch = a_batch()
    values = {"mass_g": D(900)} | values
    return BatchYield.objects.create(kitchen=batch.kitchen, batch=batch, **values)


def a_line():
    return a_recipe(lines=[(an_ingredient(), 1)]).versions.get().lines.get()


def a_version(**changes):
    """A second version that differs only in what is asked for."""
    version = a_recipe().versions.get()
    return again(version, **{"number": 2, "is_current": False} | changes)


def an_answer(**values):
    food = an_ingredient()
    values = {"group": "mustard", "answer": "free"} | values
    return AllergenAnswer.objects.create(kitchen=food.kitchen, ingredient=food, **values)


def a_name(**values):
    """A name in Spanish, of an ingredient unless told otherwise."""
    kitchen = a_kitchen()
    if not values.keys() & {"ingredient", "recipe"}:
        values["ingredient"] = an_ingredient(kitchen)
    values = {"kitchen": kitchen, "language": "es", "name": "membrillo"} | values
    return IngredientName.objects.create(**values)


def a_compound_part(**values):
    compound = an_ingredient()
    part = an_ingredient(compound.kitchen)
    values = {"compound": compound, "part": part} | values
    return CompoundPart.objects.create(kitchen=compound.kitchen, **values)


def a_compound_in_itself():
    food = an_ingredient()
    CompoundPart.objects.create(kitchen=food.kitchen, compound=food, part=food)


def a_packing_part(**values):
    product = a_product(parts=[])
    values = {"product": product, "item": packaging(product.kitchen)} | values
    return ProductPart.objects.create(kitchen=product.kitchen, **values)


def twice(build):
    row = build()
    again(row)


def same_name(build):
    """Capitals do not make another name."""
    row = build(name="Damson")
    again(row, name="dAMSON")


D = Decimal
REFUSED = {
    "kitchen_altitude_is_inhabited": [
        lambda: a_kitchen(altitude_m=-431),
        lambda: a_kitchen(altitude_m=5501),
    ],
    "kitchen_recoverable_is_a_share": [
        lambda: a_kitchen(tax_recoverable_pct="-0.01"),
        lambda: a_kitchen(tax_recoverable_pct="100.01"),
    ],
    "kitchen_hob_efficiency_is_a_share": [
        lambda: a_kitchen(hob_efficiency_pct=0),
        lambda: a_kitchen(hob_efficiency_pct="100.01"),
    ],
    "kitchen_rates_are_not_negative": [
        lambda: a_kitchen(labour_rate_per_h="-0.01"),
        lambda: a_kitchen(overhead_rate_per_h="-0.01"),
        lambda: a_kitchen(energy_price_per_kwh="-0.0001"),
    ],
    "kitchen_fixed_prices_name_their_day": [lambda: a_kitchen(price_policy="fixed")],
    "member_is_once_in_a_kitchen": [lambda: twice(a_member)],
    "member_has_a_known_role": [lambda: a_member(role="chef")],
    "ingredient_name_is_unique_in_its_kitchen": [lambda: same_name(an_ingredient)],
    "ingredient_usable_is_a_share": [
        lambda: an_ingredient(usable_pct=0),
        lambda: an_ingredient(usable_pct="100.001"),
    ],
    "ingredient_density_is_physical": [
        lambda: an_ingredient(density_kg_per_l=0),
        lambda: an_ingredient(density_kg_per_l=25),
    ],
    "ingredient_each_weighs_something": [lambda: an_ingredient(each_g=0)],
    "ingredient_brix_is_a_percentage": [
        lambda: an_ingredient(brix="-0.01"),
        lambda: an_ingredient(brix="100.01"),
    ],
    "ingredient_insolubles_are_a_percentage": [
        lambda: an_ingredient(insoluble_pct="-0.01"),
        lambda: an_ingredient(insoluble_pct="100.01"),
    ],
    "ingredient_sulphite_is_not_negative": [lambda: an_ingredient(sulphite_mg_per_kg="-0.01")],
    "ingredient_shares_are_known_together": [
        lambda: a_fruit(sucrose_share="0.5"),
        lambda: a_fruit(sucrose_share="1.1", hexose_share="-0.1", acid_share=0),
    ],
    "ingredient_ph_is_a_range": [
        lambda: a_fruit(ph_low="14.01"),
        lambda: a_fruit(ph_high="-0.01"),
        lambda: a_fruit(ph_low="3.2", ph_high="3.1"),
    ],
    "ingredient_nutrients_are_per_100_g": [
        lambda: an_ingredient(fat_g="100.001"),
        lambda: an_ingredient(salt_g="-0.001"),
    ],
    "allergen_is_answered_once": [lambda: twice(an_answer)],
    "allergen_present_has_a_name": [lambda: an_answer(answer="contains")],
    "allergen_answer_is_one_of_three": [lambda: an_answer(answer="maybe")],
    "name_is_of_an_ingredient_or_a_recipe": [
        lambda: a_name(ingredient=None),
        lambda: a_name(ingredient=an_ingredient(), recipe=a_recipe()),
    ],
    "name_in_a_language_says_something": [lambda: a_name(name=""), lambda: a_name(language="")],
    "ingredient_is_named_once_a_language": [lambda: again(a_name())],
    "recipe_is_named_once_a_language": [lambda: again(a_name(recipe=a_recipe()))],
    "part_is_listed_once": [lambda: twice(a_compound_part)],
    "compound_is_not_its_own_part": [a_compound_in_itself],
    "part_share_is_a_share": [
        lambda: a_compound_part(share_pct=D(0)),
        lambda: a_compound_part(share_pct=D("100.001")),
    ],
    "recipe_name_is_unique_in_its_kitchen": [lambda: same_name(a_recipe)],
    "version_number_is_unique_in_its_recipe": [lambda: a_version(number=1)],
    "recipe_has_one_current": [lambda: a_version(is_current=True)],
    "version_base_is_positive": [lambda: a_version(base_g=D(0))],
    "version_inversion_is_possible": [
        lambda: a_version(inverted_pct=D("-0.01")),
        lambda: a_version(inverted_pct=D("95.01")),
    ],
    "version_residue_is_a_share": [
        lambda: a_version(pan_residue_pct=D("-0.01")),
        lambda: a_version(pan_residue_pct=D(100)),
    ],
    "version_handling_loss_is_a_share": [
        lambda: a_version(handling_loss_pct=D("-0.01")),
        lambda: a_version(handling_loss_pct=D(100)),
    ],
    "version_cook_loss_is_a_share": [
        lambda: a_version(cook_loss_pct=D("-0.01")),
        lambda: a_version(cook_loss_pct=D(100)),
    ],
    "version_brix_is_a_percentage": [
        lambda: a_version(finishing_brix=D("-0.001")),
        lambda: a_version(finishing_brix=D("100.001")),
    ],
    "version_measured_solids_are_percentages": [
        lambda: a_version(measured_brix=D("100.01")),
        lambda: a_version(measured_insoluble_pct=D("-0.01")),
    ],
    "version_residue_is_not_negative": [lambda: a_version(pan_residue_g=D("-0.01"))],
    "version_weighed_masses_are_masses": [
        lambda: a_version(finished_g=D(0)),
        lambda: a_version(evaporated_g=D("-0.001")),
    ],
    "version_minutes_are_not_negative": [lambda: a_version(attended_minutes=D("-0.01"))],
    "line_is_an_ingredient_or_a_preparation": [
        lambda: again(a_line(), ingredient=None),
        lambda: again(a_line(), preparation=a_recipe()),
    ],
    "line_amount_is_positive": [lambda: again(a_line(), amount=D(0))],
    "product_name_is_unique_in_its_kitchen": [lambda: same_name(a_product)],
    "product_net_quantity_is_positive": [lambda: a_product(net_quantity_g=0)],
    "product_fill_is_not_short": [lambda: a_product(net_quantity_g=340, fill_g="339.99")],
    "product_tax_is_a_rate": [
        lambda: a_product(sales_tax_pct="-0.01"),
        lambda: a_product(sales_tax_pct="100.01"),
    ],
    "product_margin_is_below_a_hundred": [
        lambda: a_product(aim_pct="-0.001"),
        lambda: a_product(aim="margin", aim_pct=100),
    ],
    "product_rounding_goes_somewhere": [
        lambda: a_product(rounding="step", rounding_value=0),
        lambda: a_product(rounding="ending", rounding_value="-0.05"),
    ],
    "product_prices_are_not_negative": [
        lambda: a_product(stall_price="-0.01"),
        lambda: a_product(wholesale_price="-0.01"),
        lambda: a_product(packing_minutes="-0.01"),
    ],
    "product_shop_margin_is_below_a_hundred": [
        lambda: a_product(shop_margin_pct="-0.01"),
        lambda: a_product(shop_margin_pct=100),
    ],
    "packing_part_is_listed_once": [lambda: twice(a_packing_part)],
    "packing_part_is_something": [lambda: a_packing_part(quantity=D(0))],
    "packing_loss_is_a_share": [
        lambda: a_packing_part(loss_pct=D("-0.01")),
        lambda: a_packing_part(loss_pct=D(100)),
    ],
    "supplier_name_is_unique_in_its_kitchen": [lambda: same_name(a_supplier)],
    "price_pack_holds_something": [lambda: a_price(pack_quantity=0)],
    "price_is_not_negative": [lambda: a_price(pack_price="-0.0001")],
    "price_unit_is_a_base_unit": [lambda: a_price(pack_unit="kg")],
    "price_tax_is_a_rate": [lambda: a_price(tax_pct="-0.01"), lambda: a_price(tax_pct="100.01")],
    "price_recoverable_is_a_share": [
        lambda: a_price(tax_recoverable_pct="-0.01"),
        lambda: a_price(tax_recoverable_pct="100.01"),
    ],
    "price_delivery_is_not_negative": [lambda: a_price(delivery_per_pack="-0.0001")],
    "price_knows_a_kilo_or_a_piece": [lambda: again(a_price(), per_kg=None)],
    "price_voided_with_a_reason": [lambda: a_price(voided_at=NOON)],
    "pan_name_is_unique_in_its_kitchen": [lambda: again(a_pan(name="Copper"), name="copper")],
    "pan_weighs_something": [lambda: a_pan(tare_g=0)],
    "pan_has_a_width": [lambda: a_pan(diameter_cm=0)],
    "pan_rate_is_positive": [lambda: a_pan(evaporation_g_per_min=0)],
    "mould_name_is_unique_in_its_kitchen": [lambda: again(a_mould(name="Tray"), name="tray")],
    "mould_has_an_inside": [lambda: a_mould(length_mm=0), lambda: a_mould(depth_mm=0)],
    "lot_is_unique_in_its_kitchen": [lambda: again(a_batch(lot="DC"), lot="dc")],
    "batch_has_a_lot": [lambda: again(a_batch(), lot="")],
    "batch_net_is_not_negative": [lambda: again(a_batch(), lot="X", net_g=D("-0.1"))],
    "batch_pot_is_positive": [lambda: again(a_batch(), lot="X", pot_g=D(0))],
    "finished_batch_knows_its_net": [lambda: again(a_batch(), lot="X", status="finished")],
    "batch_factor_is_positive": [lambda: again(a_batch(), lot="X", factor=D(0))],
    "input_is_an_ingredient_or_a_preparation": [
        lambda: again(a_batch().inputs.get(position=1), ingredient=None)
    ],
    "input_weight_is_not_negative": [
        lambda: again(a_batch().inputs.get(position=1), weighed_g=D("-0.001"))
    ],
    "event_is_kept_once": [lambda: again(a_told_weight())],
    "correction_says_why": [
        lambda: again(event := a_told_weight(), key="b", corrects=event, note="")
    ],
    "yield_is_not_negative": [lambda: a_yield(mass_g=D("-0.1"))],
    "yield_of_a_product_is_counted": [lambda: a_yield(product=a_product())],
}
CASES = [(name, build) for name, builds in REFUSED.items() for build in builds]


@pytest.mark.parametrize(("name", "build"), CASES, ids=[name for name, _ in CASES])
def test_the_database_refuses(name, build):
    # SQLite names the column of a unique constraint, PostgreSQL the constraint.
    told = f"{name}|UNIQUE constraint failed"
    with pytest.raises(IntegrityError, match=told), transaction.atomic():
        build()


def test_no_constraint_is_left_out():
    ours = apps.get_app_config("costing").get_models()
    assert {c.name for model in ours for c in model._meta.constraints} == set(REFUSED)


BOUNDS = {
    "kitchen": lambda: a_kitchen(altitude_m=-430, tax_recoverable_pct=0, hob_efficiency_pct=100),
    "a high kitchen": lambda: a_kitchen(
        altitude_m=5500, price_policy="fixed", prices_fixed_on=TODAY
    ),
    "food": lambda: an_ingredient(
        usable_pct="0.001", brix=0, insoluble_pct=100, ph_low=3, ph_high=3
    ),
    "all fat": lambda: an_ingredient(fat_g=100, salt_g=0, sulphite_mg_per_kg=0, usable_pct=100),
    "mercury": lambda: an_ingredient(density_kg_per_l="24.9999"),
    "version": lambda: a_version(
        inverted_pct=D(95), pan_residue_pct=D("99.99"), cook_loss_pct=D(0)
    ),
    "product": lambda: a_product(net_quantity_g=340, fill_g=340, aim="markup", aim_pct=150),
    "own fruit": lambda: a_price(pack_price=0, per_kg=0, tax_pct=100),
    "same name in another kitchen": lambda: [an_ingredient(name="Fig") for _ in range(2)],
}


@pytest.mark.parametrize("build", BOUNDS.values(), ids=BOUNDS)
def test_the_database_takes_what_lies_on_the_bound(build):
    with transaction.atomic():
        build()


# --- One kitchen ---------------------------------------------------------------------------------

LINKS = {
    "supplier of a price": lambda k: SupplierPrice(kitchen=k, supplier=a_supplier()),
    "ingredient of a price": lambda k: SupplierPrice(kitchen=k, ingredient=an_ingredient()),
    "ingredient of an answer": lambda k: AllergenAnswer(kitchen=k, ingredient=an_ingredient()),
    "ingredient of a name": lambda k: IngredientName(kitchen=k, ingredient=an_ingredient()),
    "recipe of a name": lambda k: IngredientName(kitchen=k, recipe=a_recipe()),
    "part of a compound": lambda k: CompoundPart(kitchen=k, part=an_ingredient()),
    "whole of a part": lambda k: CompoundPart(kitchen=k, compound=an_ingredient()),
    "recipe of a version": lambda k: RecipeVersion(kitchen=k, recipe=a_recipe()),
    "version of a line": lambda k: RecipeLine(kitchen=k, version=a_recipe().versions.get()),
    "ingredient of a line": lambda k: RecipeLine(kitchen=k, ingredient=an_ingredient()),
    "preparation of a line": lambda k: RecipeLine(kitchen=k, preparation=a_recipe()),
    "recipe of a product": lambda k: Product(kitchen=k, recipe=a_recipe()),
    "product of a part": lambda k: ProductPart(kitchen=k, product=a_product()),
    "item of a part": lambda k: ProductPart(kitchen=k, item=packaging()),
    "recipe of a batch": lambda k: Batch(kitchen=k, recipe=a_recipe()),
    "version of a batch": lambda k: Batch(kitchen=k, version=a_recipe().versions.get()),
    "pan of a batch": lambda k: Batch(kitchen=k, pan=a_pan()),
    "mould of a batch": lambda k: Batch(kitchen=k, mould=a_mould()),
    "batch of an input": lambda k: BatchInput(kitchen=k, batch=a_batch()),
    "ingredient of an input": lambda k: BatchInput(kitchen=k, ingredient=an_ingredient()),
    "preparation of an input": lambda k: BatchInput(kitchen=k, preparation=a_recipe()),
    "batch an input is from": lambda k: BatchInput(kitchen=k, from_batch=a_batch()),
    "supplier of an input": lambda k: BatchInput(kitchen=k, supplier=a_supplier()),
    "batch of an event": lambda k: BatchReading(kitchen=k, batch=a_batch()),
    "event a correction names": lambda k: BatchReading(kitchen=k, corrects=a_told_weight()),
    "batch of a yield": lambda k: BatchYield(kitchen=k, batch=a_batch()),
    "product of a yield": lambda k: BatchYield(kitchen=k, product=a_product()),
    "ingredient of a lesson": lambda k: Lesson(kitchen=k, ingredient=an_ingredient()),
    "supplier of a lesson": lambda k: Lesson(kitchen=k, supplier=a_supplier()),
    "pan of a lesson": lambda k: Lesson(kitchen=k, pan=a_pan()),
    "batch of a lesson": lambda k: Lesson(kitchen=k, batch=a_batch()),
    "recipe of a lesson": lambda k: Lesson(kitchen=k, recipe=a_recipe()),
}


@pytest.mark.parametrize("build", LINKS.values(), ids=LINKS)
def test_a_link_into_another_kitchen_is_refused(build):
    with pytest.raises(ValidationError) as refused:
        check(build(a_kitchen()))
    assert any("not in this kitchen" in sentence for sentence in refused.value.messages)


def test_every_link_between_rows_of_a_kitchen_is_tried_above():
    links = [
        field
        for model in apps.get_app_config("costing").get_models()
        for field in model._meta.concrete_fields
        if field.is_relation
        and field.related_model._meta.app_label == "costing"
        and field.related_model is not Kitchen
    ]
    assert len(links) == len(LINKS)


# --- Figures and texts come back as they went in ------------------------------------------------


@pytest.mark.parametrize(
    "figure", ["0.00000001", "0.1", "2.67", "1234567.12345678", "9999999.99999999"]
)
def test_the_cost_of_a_kilo_comes_back_to_its_last_digit(figure):
    # SQLite keeps decimals as 15 significant digits; ten million a kilo is refused before that.
    price = a_price(per_kg=figure)
    assert SupplierPrice.objects.get(pk=price.pk).per_kg == Decimal(figure)


@pytest.mark.parametrize("amount", ["0.00001", "8.1", "0.18", "999999999.99999"])
def test_the_amount_of_a_line_comes_back_to_its_last_digit(amount):
    line = again(a_line(), amount=Decimal(amount))
    assert RecipeLine.objects.get(version=line.version, amount=Decimal(amount)).amount == Decimal(
        amount
    )


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "{{ 7|add:7 }}{% now 'Y' %}",
        "Quince 🍐 jelly",
        "Ærøskøbing «Blomme» – 50 % & mere",
        "قمر الدين",
        "'; DROP TABLE costing_recipe; --",
        "100% %s %(name)s",
    ],
)
def test_texts_are_kept_as_they_were_typed(text):
    ingredient = an_ingredient(name=text, note=text, figure_sources={"brix": text})
    check(ingredient)
    ingredient.refresh_from_db()
    assert (ingredient.name, ingredient.note) == (text, text)
    assert ingredient.figure_sources == {"brix": text}


def test_a_change_is_kept_when_the_person_who_made_it_leaves():
    user = a_user()
    entry = AuditEntry.objects.create(
        kitchen=a_kitchen(), by=user, subject="recipe", subject_id=1, field="name"
    )
    user.delete()
    entry.refresh_from_db()
    assert entry.by is None
    assert not Member.objects.exists()
