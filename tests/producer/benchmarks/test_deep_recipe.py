"""The floor of the costs does the same sums: its answer is the answer."""

from decimal import Decimal

import pytest

from costing.reckoning.recipes import cost_recipe
from costing.selectors.recipes import load_book
from producer.benchmarks.costs import stopped_by_rise
from producer.benchmarks.deep_recipe import LINES, bare_cost, bare_recipes, write_deep_recipe
from producer.benchmarks.made_up_kitchen import make_kitchen
from tests.builders import TODAY

pytestmark = pytest.mark.django_db


@pytest.fixture
def deep():
    made = make_kitchen(recipes=5, on=TODAY)
    top = write_deep_recipe(made.kitchen, made.ingredients)
    return load_book(made.kitchen, [top.pk], on=TODAY), top.pk


def levels(book, pk):
    below = [line.recipe_id for line in book.recipes[pk].lines if line.recipe_id]
    return 1 + max((levels(book, each) for each in below), default=0)


def test_it_has_forty_lines_in_three_levels(deep):
    book, top = deep
    assert sum(len(recipe.lines) for recipe in book.recipes.values()) == LINES == 40
    assert levels(book, top) == 3


def test_the_floor_reckons_the_same_cost_and_the_same_mass(deep):
    book, top = deep
    sheet = cost_recipe(book, top)
    assert sheet.questions == ()
    cost, finished_g = bare_cost(*bare_recipes(book, top))
    # Ours keeps masses to a thousand-millionth of a gram; more than that they cannot differ.
    assert abs(cost - sheet.cost_total) < Decimal("1e-9") * sheet.cost_total
    assert abs(finished_g - sheet.finished_g) < Decimal("1e-6")


def test_every_price_of_the_forty_lines_is_in_the_floors_sum(deep):
    book, top = deep
    recipes, rates = bare_recipes(book, top)
    assert sum(len(each.foods) + len(each.preparations) for each in recipes) == LINES
    before, _ = bare_cost(recipes, rates)
    for place, recipe in enumerate(recipes):
        for number, food in enumerate(recipe.foods):
            dearer = (*food[:2], food[2] + 1, *food[3:])
            foods = (*recipe.foods[:number], dearer, *recipe.foods[number + 1 :])
            changed = list(recipes)
            changed[place] = type(recipe)(
                foods, recipe.preparations, recipe.minutes, recipe.is_boiled_down
            )
            assert bare_cost(changed, rates)[0] > before


def test_the_recipe_stopped_by_a_rise_is_the_same_but_for_where_it_stops(deep):
    book, top = deep
    by_rise = cost_recipe(stopped_by_rise(book, top), top)
    assert by_rise.ingoing_g == cost_recipe(book, top).ingoing_g
    assert by_rise.balance.finishing_brix != 66
    assert abs(by_rise.balance.rise_k - 5) < Decimal("0.001")
