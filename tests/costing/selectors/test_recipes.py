"""A book is read in the same number of queries, however deep and however many."""

from decimal import Decimal

import pytest

from costing.selectors.recipes import (
    current_version,
    edit_stamp,
    load_book,
    preparations_below,
    recipes_of,
    used_in,
    versions_of,
)
from tests.builders import (
    TODAY,
    a_damson_paste,
    a_kitchen,
    a_line,
    a_price,
    a_recipe,
    an_ingredient,
)

pytestmark = pytest.mark.django_db

QUERIES = 4
"""Versions, lines, ingredients, prices."""


def nested(kitchen, *, depth):
    """A recipe in a recipe in a recipe, each with an ingredient of its own."""
    recipe = None
    for _ in range(depth):
        food = an_ingredient(kitchen)
        a_price(food)
        recipe = a_recipe(kitchen, lines=[(food, 1), *([(recipe, 1)] if recipe else [])])
    return recipe


@pytest.mark.parametrize("depth", [1, 3, 6])
def test_the_number_of_queries_does_not_grow_with_depth(depth, django_assert_num_queries):
    kitchen = a_kitchen()
    recipe = nested(kitchen, depth=depth)
    with django_assert_num_queries(QUERIES):
        book = load_book(kitchen, [recipe.pk], on=TODAY)
    assert len(book.recipes) == len(book.ingredients) == len(book.prices) == depth


@pytest.mark.parametrize("number", [1, 25])
def test_the_number_of_queries_does_not_grow_with_recipes(number, django_assert_num_queries):
    kitchen = a_kitchen()
    recipes = [nested(kitchen, depth=2) for _ in range(number)]
    with django_assert_num_queries(QUERIES):
        book = load_book(kitchen, [recipe.pk for recipe in recipes], on=TODAY)
    with django_assert_num_queries(QUERIES):
        whole = load_book(kitchen, None, on=TODAY)
    assert whole == book
    assert len(book.recipes) == 2 * number


def test_a_book_holds_what_is_reached_and_nothing_else():
    kitchen = a_kitchen()
    wanted, other = nested(kitchen, depth=2), nested(kitchen, depth=1)
    nested(a_kitchen(), depth=1)
    extra = an_ingredient(kitchen)
    book = load_book(kitchen, [wanted.pk], on=TODAY, ingredient_ids=[extra.pk])
    assert len(book.recipes) == 2
    assert other.pk not in book.recipes
    assert extra.pk in book.ingredients
    assert len(load_book(kitchen, None, on=TODAY).recipes) == 3


def test_nothing_of_another_kitchen_is_read():
    theirs = nested(a_kitchen(), depth=2)
    book = load_book(
        a_kitchen(),
        [theirs.pk],
        on=TODAY,
        ingredient_ids=[an_ingredient().pk],
        version_ids=[current_version(theirs).pk],
    )
    assert (book.recipes, book.ingredients, book.prices) == ({}, {}, {})


def test_a_loop_written_past_the_services_still_comes_to_an_end():
    kitchen = a_kitchen()
    inner = nested(kitchen, depth=1)
    outer = a_recipe(kitchen, lines=[(inner, 1)])
    a_line(current_version(inner), outer, 1)
    assert set(load_book(kitchen, [outer.pk], on=TODAY).recipes) == {inner.pk, outer.pk}


def test_a_pinned_version_wins_over_the_current_one():
    kitchen = a_kitchen()
    food = an_ingredient(kitchen)
    recipe = a_recipe(kitchen, lines=[(food, 1)])
    old = recipe.versions.get()
    recipe.versions.update(is_current=False)
    new = recipe.versions.create(kitchen=kitchen, number=2)
    a_line(new, food, 2)

    def amount(**pins):
        book = load_book(kitchen, pins.pop("recipes", [recipe.pk]), on=TODAY, **pins)
        return [line.amount for line in book.recipes[recipe.pk].lines]

    assert amount() == [2]
    assert amount(version_ids=[old.pk]) == [1]
    assert amount(version_ids=[old.pk], recipes=()) == [1]
    assert amount(version_ids=[old.pk], recipes=None) == [1]


def test_every_figure_of_a_version_reaches_the_sums():
    recipe = a_damson_paste()
    record = load_book(recipe.kitchen, [recipe.pk], on=TODAY).recipes[recipe.pk]
    version = current_version(recipe)
    for name in ("base_name", "base_g", "attended_minutes"):
        assert getattr(record, name) == getattr(version, name)
    assert (record.name, record.version) == ("Damson cheese", 1)
    assert record.cook.kind == version.cook_kind
    for name in record.cook.__dataclass_fields__.keys() - {"kind"}:
        assert getattr(record.cook, name) == getattr(version, name), name
    assert [(line.amount, line.unit, line.is_base) for line in record.lines] == [
        (Decimal(100), "%", True),
        (Decimal(90), "%", False),
        (Decimal(2), "%", False),
    ]


def test_what_a_recipe_is_used_in_and_what_it_uses():
    recipe = a_damson_paste()
    (puree,) = recipes_of(recipe.kitchen).filter(is_preparation=True)
    assert used_in(puree) == [recipe]
    assert used_in(recipe) == []
    assert preparations_below(recipe.kitchen, [recipe.pk]) == {
        recipe.pk: "Damson cheese",
        puree.pk: "Damson puree",
    }


def test_recipes_by_name_archived_ones_only_when_asked():
    kitchen = a_kitchen()
    for name, is_archived in (("Quince", False), ("Apple", False), ("Old", True)):
        a_recipe(kitchen, name=name, is_archived=is_archived)
    a_recipe()
    assert [recipe.name for recipe in recipes_of(kitchen)] == ["Apple", "Quince"]
    assert recipes_of(kitchen, with_archived=True).count() == 3


def test_versions_newest_first_with_a_stamp_for_who_opens_them(django_assert_num_queries):
    recipe = a_recipe(lines=[(an_ingredient(), 1)])
    recipe.versions.update(is_current=False, revision=3)
    recipe.versions.create(kitchen=recipe.kitchen, number=2)
    with django_assert_num_queries(2):
        versions = versions_of(recipe)
        assert [edit_stamp(v) for v in versions] == ["2.1", "1.3"]
        assert [line.ingredient.name for line in versions[1].lines.all()]
