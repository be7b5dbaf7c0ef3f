"""What a line of a cook can be filled from, and what is left of the kitchen's own batches."""

from datetime import timedelta
from decimal import Decimal

import pytest

from costing.selectors.cook_lines import (
    fine_ingredients,
    stock_by_preparation,
    suppliers_by_ingredient,
)
from costing.services.batches import InputGiven
from tests.builders import (
    TODAY,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_kitchen,
    a_price,
    a_supplier,
    an_ingredient,
    sugar,
)

pytestmark = pytest.mark.django_db


def test_spices_and_what_sets_are_weighed_to_the_gram_and_fruit_is_not():
    kitchen = a_kitchen()
    fine = [
        an_ingredient(kitchen, name="Cinnamon", category="spice"),
        an_ingredient(kitchen, name="Apple pectin"),
        an_ingredient(kitchen, name="Citric acid"),
    ]
    white = sugar(kitchen)
    theirs = an_ingredient(name="Cloves", category="spice")
    ids = [row.pk for row in (*fine, white, theirs)]
    assert fine_ingredients(kitchen, [*ids, None]) == {row.pk for row in fine}


def test_only_who_sells_an_ingredient_is_offered_for_it():
    kitchen = a_kitchen()
    white, other = sugar(kitchen), an_ingredient(kitchen)
    mill, farm = a_supplier(kitchen, name="Mill"), a_supplier(kitchen, name="Farm")
    for _ in range(2):
        a_price(white, per_kg=1, supplier=mill)
    a_price(white, per_kg=1, supplier=farm)
    assert suppliers_by_ingredient(kitchen, [white.pk, other.pk]) == {white.pk: (farm, mill)}


def test_the_oldest_puree_comes_first_and_what_was_used_up_is_gone(django_assert_num_queries):
    paste = a_damson_paste()
    kitchen = paste.kitchen
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    new = a_finished_batch(puree, net_g=18000)
    before = TODAY - timedelta(days=3)
    old = a_finished_batch(puree, net_g=18000, on=before)
    a_finished_batch(paste, net_g=11000, inputs=[InputGiven(0, Decimal(9000), from_batch=old)])
    with django_assert_num_queries(1):
        stock = stock_by_preparation(kitchen, [puree.pk])[puree.pk]
    # 18 kg less 9 kg.
    assert [(one.batch, one.left_g) for one in stock] == [(old, 9000), (new, 18000)]
    # Not weighed: as planned, 9 kg again. Then nothing is left; its own page still offers it.
    this = a_batch(paste, inputs=[InputGiven(0, from_batch=old)])
    assert [one.batch for one in stock_by_preparation(kitchen, [puree.pk])[puree.pk]] == [new]
    again = stock_by_preparation(kitchen, [puree.pk], besides=this)[puree.pk]
    assert [(one.batch, one.left_g) for one in again] == [(old, 9000), (new, 18000)]
