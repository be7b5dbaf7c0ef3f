"""The plan that is kept: it comes back as it went, through JSON and the database."""

import json
from decimal import Decimal

import pytest

from costing.selectors.recipes import load_book
from costing.services.batch_plans import book_of, kept, planned_masses
from tests.builders import TODAY, a_batch, a_damson_paste, a_fruit, a_kitchen, a_recipe

pytestmark = pytest.mark.django_db


def test_a_book_comes_back_from_json_as_it_went():
    recipe = a_damson_paste()
    book = load_book(recipe.kitchen, [recipe.pk], on=TODAY)
    assert book_of(json.loads(json.dumps(kept(book, recipe_id=recipe.pk)))) == book


def test_what_a_record_did_not_keep_then_takes_its_usual_value():
    batch = a_batch()
    batch.plan["kitchen"].pop("hob_efficiency_pct")
    assert book_of(batch.plan).kitchen.hob_efficiency_pct == Decimal(55)


def test_masses_of_the_plan_are_those_of_its_lines_and_none_where_not_known():
    # 9 kg, 90 % and 2 % of it.
    batch = a_batch()
    masses = planned_masses(book_of(batch.plan), recipe_id=batch.recipe_id)
    assert list(masses) == [9000, 8100, 180]
    kitchen = a_kitchen()
    recipe = a_recipe(kitchen, lines=[(a_fruit(kitchen), 3, "each"), (a_fruit(kitchen), 1)])
    book = load_book(kitchen, [recipe.pk], on=TODAY)
    assert list(planned_masses(book, recipe_id=recipe.pk)) == [None, 1000]
