"""Nutrition from the kitchen's own rows: USDA SR28 through the pantry, a recipe and a batch."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry
from costing.services.batches import InputGiven, finish_batch
from costing.services.pantry import add_to_kitchen
from labels.models import LabelDesign, NutritionDecision
from labels.services.batch_facts import food_of_batch, read_batch
from labels.services.facts import food_facts, label_facts
from labels.services.nutrition import (
    as_record,
    decide_trace,
    nutrition_of,
    reasons_of,
    trace_of,
    undo_trace,
)
from labels.services.printing import plain
from tests.builders import (
    NOON,
    TODAY,
    a_batch,
    a_kitchen,
    a_line,
    a_product,
    a_recipe,
    an_ingredient,
    an_owner,
)

pytestmark = pytest.mark.django_db

D = Decimal


def a_jam(*, cook=None, **values):
    """450 g of strawberries and 550 g of sugar of the pantry, boiled to 849.5 g; its design.

    45 parts of fruit to 55 of sugar: 21 CFR 150.160.
    """
    kitchen = a_kitchen()
    fruit, sugar = add_to_kitchen(kitchen, by=None, slugs=["strawberry", "sugar-white"])
    recipe = a_recipe(
        kitchen,
        name="Strawberry jam",
        **cook or {"cook_kind": "weighed out", "finished_g": "849.5", "evaporated_g": "150.5"},
        lines=[(fruit, "450", "g"), (sugar, "550", "g")],
    )
    values = {
        "nutrition_exemption": "declared", "name_of_food": recipe.name, "kitchen": kitchen,
        "product": a_product(recipe),
    } | values  # fmt: skip
    return LabelDesign.objects.create(**values)


def declared(design):
    return nutrition_of(design, food_facts(design, on=TODAY))


def test_a_jam_of_the_pantrys_fruit_and_sugar_declares_what_sr28_found_in_jam():
    # SR28 record 19297, jams and preserves, in 100 g: carbohydrate with fibre 68.86 g, fibre 1.1,
    # protein 0.37. Its sugars are those of corn syrup and are not compared.
    found = declared(a_jam())
    assert found.is_complete
    grams = found.grams
    assert "polyols" not in grams  # SR28 does not tell them apart, so nothing is said of them
    assert grams["carbohydrate"] + grams["fibre"] == pytest.approx(D("68.86"), rel=D("0.01"))
    assert grams["fibre"] == pytest.approx(D("1.1"), abs=D("0.05"))
    assert grams["protein"] == pytest.approx(D("0.37"), abs=D("0.05"))


def test_every_value_goes_with_its_source():
    found = declared(a_jam())
    assert [source.name for source in found.sources] == ["White sugar", "Strawberries"]
    known = {name: source for name, _, source in found.sources[1].known}
    assert "09316" in known["fat"]
    assert set(known) == {
        "fat", "saturates", "carbohydrate", "sugars", "fibre", "protein", "salt",
    }  # fmt: skip


def test_nothing_is_worked_out_for_a_label_that_does_not_declare():
    assert declared(a_jam(nutrition_exemption="small quantities")) is None


def a_jam_with_mace(amount):
    """The jam with so much mace of which nothing is known."""
    design = a_jam()
    row = an_ingredient(design.kitchen, name="Mace", brix=0, insoluble_pct=90)
    version = design.product.recipe.versions.get()
    a_line(version, row, amount, "g", position=9)
    version.finished_g += D(amount)
    version.save()
    return design, row


def test_what_is_missing_is_asked_and_the_declaration_is_not_complete():
    design, row = a_jam_with_mace("4")
    found = declared(design)
    assert not found.is_complete
    (source,) = [each for each in found.sources if each.name == "Mace"]
    assert source.key == str(row.pk)
    assert "Mace: how much fat, saturates" in source.question
    assert source.question in found.questions


def test_a_trace_counts_as_nothing_once_the_maker_says_why():
    # 4 g in 853.5 g are 0.47 %
    design, row = a_jam_with_mace("4")
    owner = an_owner(design.kitchen)
    food = food_facts(design, on=TODAY)
    decide_trace(design, food, by=owner, ingredient=row, reason="Half a gram in 100 g at most")
    found = declared(design)
    assert found.is_complete
    assert [s.counts_as_nothing for s in found.sources if s.name == "Mace"] == [
        "Half a gram in 100 g at most"
    ]
    assert AuditEntry.objects.filter(subject="nutritiondecision", field="reason").count() == 1
    undo_trace(design, by=owner, ingredient=row)
    assert reasons_of(design) == {}
    assert not declared(design).is_complete


@pytest.mark.parametrize(
    ("amount", "reason", "says"),
    [
        ("5", "Half a gram in 100 g at most", "Only what is under 0.5 %"),  # 5 / 854.5 = 0.59 %
        ("4", "  tiny  ", "Say why"),
    ],
)
def test_a_trace_is_small_and_has_a_reason(amount, reason, says):
    design, row = a_jam_with_mace(amount)
    food = food_facts(design, on=TODAY)
    with pytest.raises(ValidationError, match=says):
        decide_trace(design, food, by=None, ingredient=row, reason=reason)
    assert not NutritionDecision.objects.exists()


def test_nothing_is_decided_about_what_is_known():
    design = a_jam()
    food = food_facts(design, on=TODAY)
    fruit = food.larder.ingredients[int(declared(design).sources[1].key)]
    assert trace_of(design, food, ingredient=fruit) is None
    with pytest.raises(ValidationError, match="Nothing of Strawberries is missing"):
        decide_trace(design, food, by=None, ingredient=fruit, reason="because it is so little")


@pytest.mark.parametrize(
    ("name", "asks"),
    [("Dark rum", True), ("Red wine", True), ("Red wine vinegar", False), ("Ginger", False)],
)
def test_a_spirit_is_known_by_its_name(name, asks):
    assert as_record(an_ingredient(name=name)).holds_alcohol is asks


def test_a_sweetener_and_water_are_known_by_what_the_kitchen_says():
    assert as_record(an_ingredient(name="Xylitol", additive_class="Sweetener")).is_sweetener
    assert as_record(an_ingredient(name="Tap", category="water")).missing == ()


def test_a_batch_declares_what_went_into_that_pan_over_what_came_out_of_it():
    # 500 g of fruit instead of 450, 550 of sugar; 800 g in the pan, 12 of them left on it.
    # Sugars: (500 x 4.89 + 550 x 99.80) / 800 = 71.67 g in 100 g, whatever sticks.
    design = a_jam(cook={"cook_kind": "boil down", "stop_form": "brix", "stop_value": 65})
    batch = a_batch(design.product.recipe, inputs=[InputGiven(0, D(500)), InputGiven(1, D(550))])
    values = {"pot_g": D(800), "net_g": D(788)}
    done = finish_batch(batch, by=None, finished_at=NOON + timedelta(hours=1), values=values)
    food = food_of_batch(read_batch(done), quantified=())
    assert round(nutrition_of(design, food).grams["sugars"], 2) == D("71.67")


def test_the_frozen_facts_of_a_print_run_keep_every_value_with_its_source():
    design = a_jam()
    facts, food = label_facts(design, on=TODAY, lot="L1", made_on=TODAY, best_before=None)
    kept = plain(replace(facts, nutrition=nutrition_of(design, food)))
    (sugars,) = [row for row in kept["nutrition"]["sources"][1]["known"] if row[0] == "sugars"]
    assert sugars[1] == "4.890"
    assert "USDA" in sugars[2]
    assert kept["shows_nutrition"] is True
