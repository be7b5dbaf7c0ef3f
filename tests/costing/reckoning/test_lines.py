"""Recipe lines in grams, and the base their percents refer to."""

from dataclasses import replace
from decimal import Decimal

import pytest

from costing.reckoning.book import AS_PURCHASED, IngredientRecord, LineRecord, RecipeRecord
from costing.reckoning.errors import ReckoningError
from costing.reckoning.lines import is_bought_whole, weigh_lines
from tests.costing.reckoning.builders import a_book, a_food, kg, pct, sugar

D = Decimal
FOODS = (a_food(), sugar())


def weighed(*lines, base_g=None, foods=FOODS, base_name=""):
    recipe = RecipeRecord(
        1, "Damson cheese", lines, base_name, None if base_g is None else D(base_g)
    )
    return weigh_lines(recipe, book=a_book(recipe, foods=foods))


def test_percents_of_a_base_that_is_stated():
    lines = weighed(pct(100, 1, is_base=True), pct(90, 2), base_g=9000)
    assert lines.masses_g == (9000, 8100)


def test_percents_of_a_base_that_is_weighed_in_its_own_lines():
    lines = weighed(kg(6, 1, is_base=True), kg(3, 1, is_base=True), pct(90, 2))
    assert lines.base_g == 9000
    assert lines.masses_g == (6000, 3000, 8100)


def test_a_base_partly_in_grams_and_partly_in_percent():
    lines = weighed(kg(6, 1, is_base=True), pct(40, 1, is_base=True), pct(75, 2), base_g=10000)
    assert lines.masses_g == (6000, 4000, 7500)


def test_percents_of_a_base_that_is_not_in_the_recipe_are_refused():
    with pytest.raises(ReckoningError) as refused:
        weighed(kg(9, 1), pct(90, 2), base_g=9000, base_name="sieved puree")
    assert "percents of the base “sieved puree” that is not in the recipe" in str(refused.value)
    assert (refused.value.field, refused.value.line) == ("is_base", 1)


# Pair: 99.99 % is a rounding, 99.98 % is not.
@pytest.mark.parametrize(
    ("second", "is_accepted"), [("39.99", True), ("39.98", False), ("41", False)]
)
def test_the_lines_of_the_base_add_up_to_a_hundred(second, is_accepted):
    lines = (pct(60, 1, is_base=True), pct(second, 1, is_base=True))
    if is_accepted:
        assert weighed(*lines, base_g=10000).base_g == 10000
    else:
        with pytest.raises(ReckoningError, match="%, not 100 %") as refused:
            weighed(*lines, base_g=10000)
        assert refused.value.field == "amount"


def test_a_base_in_percent_needs_its_weight():
    with pytest.raises(ReckoningError, match="Say how much the base weighs") as refused:
        weighed(pct(100, 1, is_base=True))
    assert refused.value.field == "base_g"


def test_a_base_that_contradicts_its_lines_is_refused():
    with pytest.raises(ReckoningError, match=r"weigh 9000\.0 g together, but the base is set to"):
        weighed(kg(9, 1, is_base=True), pct(90, 2), base_g=8000)


@pytest.mark.parametrize("amount", ["0", "-1", "NaN", "Infinity"])
@pytest.mark.parametrize("unit", ["kg", "%", "each"])
def test_amounts_that_are_nothing_or_no_number_are_refused(amount, unit):
    with pytest.raises(ReckoningError, match="must be more than nothing") as refused:
        weighed(kg(9, 1, is_base=True), LineRecord(D(amount), unit, 2))
    assert (refused.value.field, refused.value.line) == ("amount", 1)


# Pair: a hundred tonnes is the last that is taken.
def test_absurd_amounts_are_refused():
    assert weighed(kg(100_000, 1)).masses_g == (10**8,)
    for line in (kg("100000.001", 1), kg(10**12, 1)):
        with pytest.raises(ReckoningError, match="more than any pan holds"):
            weighed(line)
    with pytest.raises(ReckoningError, match="more than any pan holds"):
        weighed(pct(100, 1, is_base=True), pct(10**9, 2), base_g=9000)


def test_unknown_units_and_empty_lines_are_refused():
    with pytest.raises(ReckoningError, match="not a unit known here") as refused:
        weighed(LineRecord(D(1), "buckets", 1))
    assert (refused.value.field, refused.value.line) == ("unit", 0)
    for line in (kg(1), kg(1, 99), kg(1, recipe_id=99)):
        with pytest.raises(ReckoningError, match="Choose one"):
            weighed(line)


def test_a_density_and_the_weight_of_one_are_asked_for():
    vinegar = IngredientRecord(3, "Cider vinegar")
    lines = weighed(LineRecord(D(4), "l", 3), LineRecord(D(8), "each", 3), foods=(vinegar,))
    assert lines.masses_g == (None, None)
    assert [(q.about, q.blocks) for q in lines.questions] == [("density", "mass"), ("each", "mass")]
    assert "4 l of Cider vinegar: what does one litre weigh?" in lines.questions[0].sentence
    told = replace(vinegar, density_kg_per_l=D("1.01"), each_g=D(5))
    lines = weighed(LineRecord(D(4), "l", 3), LineRecord(D(8), "each", 3), foods=(told,))
    assert lines.masses_g == (4040, 40)


def test_pieces_are_counted_as_they_are_bought():
    assert is_bought_whole(LineRecord(D(8), "each", 1))
    assert is_bought_whole(kg(1, 1, state=AS_PURCHASED))
    assert not is_bought_whole(kg(1, 1))
    assert not is_bought_whole(pct(90, 1))


@pytest.mark.parametrize("base_g", ["0", "-9000"])
def test_a_base_of_nothing_is_refused(base_g):
    with pytest.raises(ReckoningError, match="base must weigh more than nothing"):
        weighed(pct(100, 1, is_base=True), base_g=base_g)
