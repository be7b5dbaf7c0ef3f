"""A recipe in the cook's words: read from real sheets, as the pages do."""

from decimal import Decimal

import pytest

from costing.models import Kitchen
from costing.services.recipes import cost_recipe
from costing.views.recipe_words import Pen, card, prices_in_words, sentence, stops
from tests.builders import TODAY, a_fruit, a_kitchen, a_recipe, an_ingredient, sugar, water

pytestmark = pytest.mark.django_db


def told(recipe):
    words = sentence(cost_recipe(recipe, on=TODAY), pen=Pen(recipe.kitchen))
    return words.replace("\u00a0", " ")


def test_without_a_base_the_whole_pan_is_told():
    kitchen = a_kitchen()
    recipe = a_recipe(
        kitchen, lines=[(a_fruit(kitchen, name="Plums, pitted"), 2), (sugar(kitchen), 1)],
        cook_kind="cook loss", cook_loss_pct="20",
    )  # fmt: skip
    # 3 kg less 20 % = 2.4 kg
    assert told(recipe) == (
        "2 kg plums (pitted), 1 kg white sugar; cook until 80 % is left; gives 2.4 kg."
    )


def test_a_mixed_base_tells_what_a_kilo_of_it_is():
    kitchen = a_kitchen()
    pear, apple = a_fruit(kitchen, name="Pear puree"), a_fruit(kitchen, name="Apple puree")
    recipe = a_recipe(kitchen, lines=[(pear, 6), (apple, 4), (sugar(kitchen), "7.5")])
    recipe.versions.get().lines.exclude(ingredient__name="White sugar").update(is_base=True)
    # 17.5 kg that are only mixed, over 10 kg of base
    assert told(recipe) == (
        "For each kilo of pear puree and apple puree (600 g pear puree, 400 g apple puree): 750 g "
        "white sugar; mix; gives 1.75 kg."
    )


@pytest.mark.parametrize(
    ("cook", "words"),
    [
        ({"stop_form": "brix", "stop_value": 66}, "cook to 66 Brix"),
        ({"stop_form": "reading", "stop_value": 105}, "cook to 105 °C on this kitchen's"),
        ({"stop_form": "rise", "stop_value": "4.5"}, "cook to 4.5 degrees above boiling water"),
        ({"stop_form": "final weight", "stop_value": 1700}, "cook until 1.7 kg is left in the"),
        ({"stop_form": "share", "stop_value": 85}, "cook until 85 % is left"),
        ({"cook_kind": "weighed out", "finished_g": 1500, "evaporated_g": 0}, "cook and sieve"),
    ],
)
def test_each_way_to_stop_has_its_words(cook, words):
    kitchen = a_kitchen()
    lines = [(a_fruit(kitchen), 1), (sugar(kitchen), 1)]
    assert words in told(a_recipe(kitchen, lines=lines, **{"cook_kind": "boil down"} | cook))


@pytest.mark.parametrize("form", ["brix", "reading", "rise", "final weight", "share"])
def test_whichever_way_it_is_stated_all_five_are_shown_and_one_is_marked(form):
    kitchen = a_kitchen(water_reading_c="99.4")
    value = {"brix": 66, "reading": "104", "rise": "4.5", "final weight": 1750, "share": 85}[form]
    recipe = a_recipe(
        kitchen, lines=[(a_fruit(kitchen), 1), (sugar(kitchen), 1)], cook_kind="boil down",
        stop_form=form, stop_value=value,
    )  # fmt: skip
    shown = stops(cost_recipe(recipe, on=TODAY), pen=Pen(kitchen))
    assert len(shown) == 5
    assert [stop.is_stated for stop in shown].count(True) == 1
    assert all("not known" not in stop.figure for stop in shown)
    units = ("°C", "degrees", "Brix", "kg", "%")
    assert all(unit in stop.figure for unit, stop in zip(units, shown, strict=True))


def test_a_volume_of_unknown_density_has_no_weight_and_no_sentence():
    kitchen = a_kitchen()
    recipe = a_recipe(kitchen, lines=[(an_ingredient(kitchen), 2, "l"), (water(kitchen), 1)])
    sheet = cost_recipe(recipe, on=TODAY)
    assert sentence(sheet, pen=Pen(kitchen)) == ""
    assert [line.weight for line in card(sheet, pen=Pen(kitchen))] == ["", "1.00\u00a0kg"]


def test_what_is_trimmed_says_what_to_buy():
    kitchen = a_kitchen()
    recipe = a_recipe(kitchen, lines=[(a_fruit(kitchen, usable_pct="80"), 4)])
    (line,) = card(cost_recipe(recipe, on=TODAY), pen=Pen(kitchen))
    # 4 kg ready to use / 0.8 = 5 kg
    assert (line.weight, line.note) == ("4.00\u00a0kg", "5.00\u00a0kg to buy")


def test_figures_are_written_as_the_kitchen_writes_them():
    pen = Pen(Kitchen(currency="EUR", number_format="de_DE"))
    assert pen.kilos(Decimal(12321)) == "12,32\u00a0kg"
    assert pen.money(Decimal("1234.5")).replace("\u00a0", " ") == "1.234,50 €"
    assert pen.price(Decimal("0.0380")).startswith("0,0380")


def test_the_policy_is_named_beside_a_cost():
    assert prices_in_words(Kitchen()) == "at the latest prices"
    assert "dearest" in prices_in_words(Kitchen(price_policy="worst"))
    assert "average" in prices_in_words(Kitchen(price_policy="average"))
    fixed = Kitchen(price_policy="fixed", prices_fixed_on=TODAY)
    assert prices_in_words(fixed) == "at the prices of 20 September 2026"
