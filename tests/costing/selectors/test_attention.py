"""What needs the maker: only what is really used, only what is really missing."""

from datetime import timedelta

import pytest

from costing.selectors.attention import attention
from tests.builders import (
    TODAY,
    a_fruit,
    a_kitchen,
    a_price,
    a_product,
    a_recipe,
    no_allergens,
    packaging,
    sugar,
    water,
)

pytestmark = pytest.mark.django_db


def _names(rows):
    return [row.name for row in rows]


def test_an_ingredient_that_is_cooked_with_and_has_no_price_is_named():
    kitchen = a_kitchen()
    plums, white = no_allergens(a_fruit(kitchen)), no_allergens(sugar(kitchen))
    a_fruit(kitchen, name="Never used")
    a_price(plums)
    a_recipe(kitchen, lines=[(plums, 1), (white, 1)])
    known = attention(kitchen, on=TODAY)
    assert _names(known.unpriced) == ["White sugar"]
    assert known.unanswered == ()


def test_water_from_the_tap_needs_no_price():
    kitchen = a_kitchen()
    a_recipe(kitchen, lines=[(water(kitchen), 1)])
    assert attention(kitchen, on=TODAY).unpriced == ()


def test_the_packing_of_what_is_sold_needs_a_price_too():
    kitchen = a_kitchen()
    jar = packaging(kitchen, name="Jar")
    a_product(a_recipe(kitchen), parts=[(jar, 1, 0)])
    known = attention(kitchen, on=TODAY)
    assert _names(known.unpriced) == ["Jar"]
    assert known.unanswered == (), "a jar has no allergens to answer for"


def test_unanswered_allergens_of_what_is_used():
    kitchen = a_kitchen()
    plums = a_fruit(kitchen, name="Plums")
    a_recipe(kitchen, lines=[(plums, 1)])
    assert _names(attention(kitchen, on=TODAY).unanswered) == ["Plums"]
    no_allergens(plums)
    assert attention(kitchen, on=TODAY).unanswered == ()


@pytest.mark.parametrize(("days", "found"), [(90, 0), (91, 1)])
def test_prices_older_than_ninety_days(days, found):
    kitchen = a_kitchen()
    plums = a_fruit(kitchen)
    a_price(plums, valid_from=TODAY - timedelta(days=days))
    a_recipe(kitchen, lines=[(plums, 1)])
    assert len(attention(kitchen, on=TODAY).old) == found


def test_products_whose_price_is_not_decided():
    kitchen = a_kitchen()
    recipe = a_recipe(kitchen)
    a_product(recipe, name="Slab", stall_price="3.00")
    a_product(recipe, name="Jar")
    assert _names(attention(kitchen, on=TODAY).products_without_price) == ["Jar"]


def test_another_kitchen_is_not_spoken_of():
    theirs = a_kitchen()
    a_recipe(theirs, lines=[(a_fruit(theirs), 1)])
    known = attention(a_kitchen(), on=TODAY)
    assert (known.unpriced, known.recipes, known.ingredients) == ((), 0, 0)


def test_the_number_of_queries_does_not_grow(django_assert_max_num_queries):
    kitchen = a_kitchen()
    for _ in range(8):
        a_product(a_recipe(kitchen, lines=[(a_fruit(kitchen), 1)]))
    with django_assert_max_num_queries(9):
        attention(kitchen, on=TODAY)
