"""Density from Brix: against handbook values of syrups, and what it says when it cannot."""

from decimal import Decimal

import pytest

from costing.reckoning.book import RecipeRecord
from costing.reckoning.errors import ReckoningError
from costing.reckoning.paste_density import Strength, paste_g_per_ml, strength_of
from costing.reckoning.recipes import cost_recipe
from tests.costing.reckoning.builders import a_book, a_food, boil_to, kg, sugar

D = Decimal


@pytest.mark.parametrize(
    ("brix", "g_per_ml"),
    # Sucrose solutions at 20 °C, standard sucrose tables (from memory), to their three decimals.
    [(65, "1.316"), (70, "1.347"), (75, "1.379"), (80, "1.412")],
)
def test_a_syrup_weighs_what_the_tables_say(brix, g_per_ml):
    assert abs(paste_g_per_ml(Strength(D(brix))) - D(g_per_ml)) <= D("0.001")


def test_hot_paste_takes_more_room():
    # 66 Brix from 90 to 20 °C shrinks by about 3.2 %: 1.3226 / 1.2808 = 1.0326 by the same source.
    strength = Strength(D(66))
    shrinks = paste_g_per_ml(strength) / paste_g_per_ml(strength, temperature_c=D(90))
    assert abs(shrinks - D("1.032")) < D("0.002")


@pytest.mark.parametrize(("brix", "at_c"), [("85.1", 20), ("66", "100.1"), ("-1", 20)])
def test_outside_what_is_known_the_tub_is_pointed_to(brix, at_c):
    with pytest.raises(ReckoningError, match="density test"):
        paste_g_per_ml(Strength(D(brix)), temperature_c=D(at_c))
    assert paste_g_per_ml(Strength(D(85)), temperature_c=D(100)) > 1


def _boiled(food):
    lines = (kg(1, food.id), kg(1, 2))
    recipe = RecipeRecord(id=7, name="Paste", lines=lines, cook=boil_to(66))
    return cost_recipe(a_book(recipe, foods=(food, sugar())), 7)


def test_a_recipe_ends_with_the_brix_it_is_boiled_to():
    # 1 kg of 12.5 Brix and 2 % fibre, 1 kg sugar: (0.98 x 0.125 or 0.125) + 1 kg soluble at 66 Brix
    found = strength_of(_boiled(a_food(insoluble_pct=D(2))))
    assert found is not None
    assert abs(found.brix - 66) < D("0.0001")
    # 20 g of fibre in (1000 + 122.5..125) / 0.66 + 20 = 1721..1725 g is 1.16 %
    assert abs(found.insoluble_pct - D("1.16")) < D("0.01")


def test_what_is_not_known_of_a_fruit_is_not_guessed():
    assert strength_of(_boiled(a_food(brix=None))) is None
