"""When sulphites show; the line of 10 mg/kg stands for one that a law would pass in."""

from decimal import Decimal

import pytest

from labels.facts import Allergen, LabelFacts, UsedIngredient
from labels.mechanics.sulphites import (
    allergens_shown,
    are_over,
    says_so_without_figure,
    shown_above,
)

LINE = Decimal(10)
MARKED = (Allergen("sulphites", "metabisulphite"),)


def used(name, grams, so2=0, **more):
    so2 = None if so2 is None else Decimal(so2)
    return UsedIngredient(name, Decimal(grams), sulphite_mg_per_kg=so2, **more)


def food(*ingredients, finished_g=1000):
    finished_g = None if finished_g is None else Decimal(finished_g)
    return LabelFacts(ingredients=ingredients, finished_g=finished_g)


@pytest.mark.parametrize(
    ("mg_per_kg", "over"),
    # 200 g x 50 mg/kg = 10 mg in 1 kg, the line itself; x 51 = 10.2 mg
    [("50", False), ("51", True)],
)
def test_at_the_line_nothing_shows_and_above_it_does(mg_per_kg, over):
    assert are_over(food(used("apricot", 200, mg_per_kg)), limit_mg_per_kg=LINE) is over


def test_some_that_nobody_can_measure_are_over_the_line():
    assert are_over(food(used("fig", 200, 1), finished_g=None), limit_mg_per_kg=LINE)
    assert not are_over(food(used("fig", 200), finished_g=None), limit_mg_per_kg=LINE)
    said = used("wine", 1, None, allergens=MARKED)
    assert says_so_without_figure(said)
    deep = used("mix", 1, parts=(said,))
    assert are_over(food(deep), limit_mg_per_kg=LINE)


def test_beside_one_over_the_line_a_trace_is_not_marked_but_traces_alone_are():
    apricot, sugar = used("apricot", 200, 1500), used("sugar", 500, 8)
    assert shown_above(food(apricot, sugar), limit_mg_per_kg=LINE) == LINE
    # 1500 g x 8 mg/kg = 12 mg in 1 kg, though none holds more than 8 mg/kg
    assert shown_above(food(used("sugar", 1500, 8)), limit_mg_per_kg=LINE) == 0
    assert shown_above(food(sugar), limit_mg_per_kg=LINE) is None


def test_an_ingredient_over_the_figure_shows_them_by_the_makers_name_or_the_laws():
    milk = Allergen("milk", "milk")

    def shown(ingredient, above=LINE):
        return [
            a.named_as for a in allergens_shown(ingredient, sulphites_above=above, called="SO2")
        ]

    assert shown(used("fig", 1, 11)) == ["SO2"]
    assert shown(used("fig", 1, 10)) == []
    assert shown(used("fig", 1, 0, allergens=(*MARKED, milk))) == ["milk", "metabisulphite"]
    assert shown(used("fig", 1, 11, allergens=(milk,)), above=None) == ["milk"]
