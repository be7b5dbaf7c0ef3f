"""Costs of stored recipes: what is read from the database against worked examples."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from costing.models import SupplierPrice
from costing.reckoning.book import NATURES, LineRecord, RecipeRecord
from costing.selectors.recipes import load_book
from costing.services.recipes import (
    NEW,
    cost_draft,
    cost_recipe,
    cost_recipes,
    cost_version,
    freeze_version,
)
from tests.builders import (
    TODAY,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_line,
    a_price,
    a_recipe,
    an_ingredient,
    sugar,
)

pytestmark = pytest.mark.django_db


def to_cents(value, places=2):
    return round(value, places)


def test_a_nested_paste_costs_what_the_worked_example_says():
    # Constructed example, worked by hand. Puree: 24 kg x 1.80 = 43.20; 1.5 h x 15 = 22.50;
    # 26.4 kg heated 85 K and 1.2 kg boiled off at 55 %: 5.5612 kWh x 0.28 = 1.5571; 1.5 h x 8 = 12;
    # 79.2571 / 18 kg = 4.4032 a kilo. Half of it goes into the paste, where
    # 9 x 12.5 % + 8.1 + 0.18 x 9 % = 9.2412 kg of solids / 75 % = 12.3216 kg, less 3.5 % = 11.8903.
    # 21.60 + 8.1 x 0.95 + 0.18 x 7.50 = 30.6450; labour 11.25 + 37.50; energy 0.7786 + 2.3511;
    # overhead 6 + 20: in all 108.5247, and 108.5247 / 11.8903 = 9.1271.
    sheet = cost_recipe(a_damson_paste(), on=TODAY)

    assert sheet.questions == ()
    assert {nature: to_cents(cost, 4) for nature, cost in sheet.breakdown.items()} == {
        "materials": Decimal("30.6450"),
        "labour": Decimal("48.7500"),
        "energy": Decimal("3.1297"),
        "packaging": Decimal(0),
        "overhead": Decimal("26.0000"),
    }
    assert to_cents(sheet.cost_total, 4) == Decimal("108.5247")
    assert to_cents(sheet.balance.finished_g, 1) == Decimal("11890.3")
    assert to_cents(sheet.balance.evaporated_g, 1) == Decimal("4958.4")
    assert to_cents(sheet.cost_per_kg_finished, 4) == Decimal("9.1271")
    assert to_cents(sheet.cost_per_kg_ingoing, 4) == Decimal("6.2804")


@pytest.mark.parametrize(
    ("brix", "finished_kg", "per_kg"),
    [("72", "12.3858", "8.7620"), ("74.5", "11.9701", "9.0663"), ("77", "11.5815", "9.3705")],
)
def test_stopping_elsewhere_moves_the_mass_that_the_cost_is_spread_over(brix, finished_kg, per_kg):
    # 9.2412 kg of solids / 72 % x 0.965 = 12.3858 kg. The example holds the batch cost at
    # 108.5247 though more boils off, so that is divided here, not our own total.
    recipe = a_damson_paste()
    recipe.versions.update(stop_value=Decimal(brix))
    finished_g = cost_recipe(recipe, on=TODAY).balance.finished_g
    assert to_cents(finished_g / 1000, 4) == Decimal(finished_kg)
    assert to_cents(Decimal("108.5247") * 1000 / finished_g, 4) == Decimal(per_kg)


def test_dearer_sugar_moves_the_cost_by_what_the_sugar_costs_more():
    # 8.1 kg x (1.19 - 0.95) = 1.944: 110.4687 / 11.8903 = 9.2906 a kilo.
    recipe = a_damson_paste()
    white = recipe.kitchen
    dear = recipe.versions.get().lines.get(ingredient__name="White sugar").ingredient
    a_price(dear, per_kg="1.19", valid_from=TODAY, supplier=dear.prices.get().supplier)
    assert white == dear.kitchen
    assert to_cents(cost_recipe(recipe, on=TODAY).cost_per_kg_finished, 4) == Decimal("9.2906")


def test_an_ingredient_without_a_price_is_named_and_not_counted_as_free():
    kitchen = a_kitchen()
    priced, unpriced = an_ingredient(kitchen), an_ingredient(kitchen, name="Quinces")
    a_price(priced, per_kg="3")
    inner = a_recipe(kitchen, lines=[(unpriced, 1), (priced, 1)])
    sheet = cost_recipe(a_recipe(kitchen, lines=[(inner, 1), (priced, 1)]), on=TODAY)

    assert sheet.unpriced == ("Quinces",)
    assert not sheet.is_complete
    # At least 1 kg at 3.00, and half of the 3.00 that is known of the preparation.
    assert sheet.cost_total == Decimal("4.5")
    assert sheet.lines[0].cost is None


def test_a_price_that_begins_tomorrow_is_no_price_today():
    priced = an_ingredient()
    a_price(priced, per_kg="3", valid_from=TODAY + timedelta(days=1))
    recipe = a_recipe(lines=[(priced, 1)])
    assert cost_recipe(recipe, on=TODAY).unpriced == (priced.name,)
    assert cost_recipe(recipe, on=TODAY + timedelta(days=1)).unpriced == ()


def test_entering_todays_price_moves_no_earlier_cost():
    recipe = a_damson_paste()
    days = [date(TODAY.year, 2, 1), date(TODAY.year, 6, 30), TODAY - timedelta(days=1)]
    before = {day: cost_recipe(recipe, on=day).cost_total for day in days}
    for price in list(SupplierPrice.objects.all()):
        a_price(price.ingredient, per_kg="99", supplier=price.supplier, valid_from=TODAY)

    assert {day: cost_recipe(recipe, on=day).cost_total for day in days} == before
    assert cost_recipe(recipe, on=TODAY).cost_total > max(before.values())


def test_a_later_density_moves_no_earlier_cost():
    # The kilo price was worked out when it was entered, with the density of that day.
    vinegar = an_ingredient(density_kg_per_l="1.01")
    a_price(vinegar, per_kg="1.85")
    recipe = a_recipe(lines=[(vinegar, 2, "kg")])
    before = cost_recipe(recipe, on=TODAY).cost_total
    vinegar.density_kg_per_l = Decimal("1.20")
    vinegar.save()
    assert cost_recipe(recipe, on=TODAY).cost_total == before == Decimal("3.70")


@settings(
    max_examples=15,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    rises=st.lists(st.decimals("0", "50", places=2), min_size=3, max_size=3),
    which=st.sampled_from(["latest", "average", "worst"]),
)
def test_raising_a_price_never_lowers_a_cost(rises, which):
    kitchen = a_kitchen(price_policy=which)
    recipe = a_damson_paste(kitchen)
    before = cost_recipe(recipe, on=TODAY)
    prices = SupplierPrice.objects.filter(kitchen=kitchen).order_by("pk")
    for price, rise in zip(list(prices), rises, strict=True):
        dearer = price.per_kg + rise
        a_price(price.ingredient, per_kg=dearer, supplier=price.supplier, valid_from=TODAY)
    after = cost_recipe(recipe, on=TODAY)

    assert after.cost_total >= before.cost_total
    assert after.cost_per_kg_finished >= before.cost_per_kg_finished
    assert sum(after.breakdown.values()) == after.cost_total


def test_the_natures_of_cost_survive_nesting():
    sheet = cost_recipe(a_damson_paste(), on=TODAY)
    assert tuple(sheet.breakdown) == NATURES
    # Half of the puree's 1.5 h: 11.25 of labour came in with it.
    assert sheet.lines[0].natures["labour"] == Decimal("11.25")


def test_many_recipes_are_costed_together_as_one_by_one():
    kitchen = a_kitchen()
    paste = a_damson_paste(kitchen)
    puree = kitchen_recipe(kitchen, "Damson puree")
    together = cost_recipes(kitchen, None, on=TODAY)
    assert together == {r.pk: cost_recipe(r, on=TODAY) for r in (paste, puree)}


def kitchen_recipe(kitchen, name):
    return kitchen_recipes(kitchen)[name]


def kitchen_recipes(kitchen):
    from costing.selectors.recipes import recipes_of

    return {recipe.name: recipe for recipe in recipes_of(kitchen)}


def test_a_recipe_whose_figures_contradict_each_other_says_so_and_harms_no_other():
    kitchen = a_kitchen()
    paste = a_damson_paste(kitchen)
    sweet = a_recipe(
        kitchen,
        name="Sweet",
        lines=[(sugar(kitchen, name="Sugar, other"), 1), (a_fruit(kitchen, brix=60), 1)],
        cook_kind="boil down",
        stop_value=65,
    )  # 80 Brix go in; boiling cannot come to 65
    sheets = cost_recipes(kitchen, None, on=TODAY)
    assert [q.about for q in sheets[sweet.pk].questions] == ["contradiction"]
    assert sheets[sweet.pk].cost_per_kg_finished is None
    assert sheets[paste.pk].is_complete


def test_an_older_version_is_costed_by_its_own_lines():
    recipe = a_damson_paste()
    old = recipe.versions.get()
    freeze_version(old)
    recipe.versions.filter(pk=old.pk).update(is_current=False)
    new = recipe.versions.create(
        kitchen=recipe.kitchen, number=2, cook_kind="no cook", attended_minutes=0
    )
    a_line(new, old.lines.get(ingredient__name="White sugar").ingredient, 1)

    assert cost_recipe(recipe, on=TODAY).cost_total == Decimal("0.95")
    assert to_cents(cost_version(old, on=TODAY).cost_total, 4) == Decimal("108.5247")


def a_draft(recipe, **overrides):
    return replace(load_book(recipe.kitchen, [recipe.pk], on=TODAY).recipes[recipe.pk], **overrides)


def test_what_is_typed_is_costed_like_what_is_saved():
    recipe = a_damson_paste()
    saved = cost_recipe(recipe, on=TODAY)
    typed = cost_draft(recipe.kitchen, a_draft(recipe, id=NEW), on=TODAY)
    assert (typed.cost_total, typed.balance) == (saved.cost_total, saved.balance)


def test_a_draft_that_would_need_itself_is_refused_naming_the_loop():
    paste = a_damson_paste()
    puree = kitchen_recipe(paste.kitchen, "Damson puree")
    draft = a_draft(puree)
    draft = replace(draft, lines=(*draft.lines, LineRecord(Decimal(1), "kg", recipe_id=paste.pk)))
    with pytest.raises(ValidationError) as refused:
        cost_draft(paste.kitchen, draft, on=TODAY)
    (sentence,) = refused.value.message_dict["lines"]
    assert "Damson puree -> Damson cheese -> Damson puree" in sentence


@pytest.mark.parametrize("link", ["ingredient_id", "recipe_id"])
def test_a_draft_cannot_reach_into_another_kitchen(link):
    theirs = a_recipe(lines=[(an_ingredient(), 1)])
    ids = {"recipe_id": theirs.pk, "ingredient_id": theirs.versions.get().lines.get().ingredient_id}
    draft = RecipeRecord(
        id=NEW, name="", lines=(LineRecord(Decimal(1), "kg", **{link: ids[link]}),)
    )
    with pytest.raises(ValidationError, match="not in this kitchen"):
        cost_draft(a_kitchen(), draft, on=TODAY)


@pytest.mark.parametrize("pk", [-1, 10**12, 10**40])
def test_a_draft_with_an_impossible_number_is_refused(pk):
    draft = RecipeRecord(id=NEW, name="", lines=(LineRecord(Decimal(1), "kg", ingredient_id=pk),))
    with pytest.raises(ValidationError, match="not in this kitchen"):
        cost_draft(a_kitchen(), draft, on=TODAY)


def test_an_empty_draft_asks_what_goes_in():
    sheet = cost_draft(a_kitchen(), RecipeRecord(id=NEW, name="Jam"), on=TODAY)
    assert [question.about for question in sheet.questions] == ["lines"]


@pytest.mark.parametrize(
    ("field", "change"),
    [
        ("stop_value", {"stop_value": Decimal(86)}),  # beyond what the model was checked for
        ("stop_value", {"stop_form": "reading", "stop_value": Decimal(90)}),  # below boiling water
        ("stop_value", {"stop_form": "final weight", "stop_value": Decimal(99000)}),  # > ingoing
    ],
)
def test_what_boiling_cannot_do_is_a_fault_of_its_field(field, change):
    recipe = a_damson_paste()
    draft = a_draft(recipe)
    draft = replace(draft, cook=replace(draft.cook, **change))
    with pytest.raises(ValidationError) as refused:
        cost_draft(recipe.kitchen, draft, on=TODAY)
    assert list(refused.value.message_dict) == [field]


def test_live_sums_stay_within_eight_queries(django_assert_max_num_queries):
    recipe = a_damson_paste()
    draft = a_draft(recipe)
    with django_assert_max_num_queries(8):
        cost_draft(recipe.kitchen, draft, on=TODAY)
