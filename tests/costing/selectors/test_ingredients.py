"""Ingredients of a kitchen, and what is still asked about them."""

import pytest

from costing.models import AllergenAnswer
from costing.selectors.ingredients import (
    allergen_answers,
    compound_parts,
    ingredient_record,
    ingredient_records,
    ingredients_of,
    with_unanswered_allergens,
)
from tests.builders import a_kitchen, an_ingredient, no_allergens, packaging, sugar, water

pytestmark = pytest.mark.django_db


def test_food_and_packaging_by_name_archived_ones_only_when_asked():
    kitchen = a_kitchen()
    an_ingredient(kitchen, name="Quinces")
    an_ingredient(kitchen, name="Apples")
    an_ingredient(kitchen, name="Old", is_archived=True)
    packaging(kitchen, name="Jar")
    an_ingredient(name="Theirs")
    assert [row.name for row in ingredients_of(kitchen)] == ["Apples", "Jar", "Quinces"]
    assert [row.name for row in ingredients_of(kitchen, kind="food")] == ["Apples", "Quinces"]
    assert ingredients_of(kitchen, with_archived=True).count() == 4


def test_foods_that_somebody_must_still_look_at():
    kitchen = a_kitchen()
    no_allergens(an_ingredient(kitchen))
    packaging(kitchen)
    open_ = an_ingredient(kitchen)
    half = no_allergens(an_ingredient(kitchen))
    AllergenAnswer.objects.filter(ingredient=half, group="nuts").update(answer="unknown")
    assert {(row, row.answered) for row in with_unanswered_allergens(kitchen)} == {
        (open_, 0),
        (half, 13),
    }


def test_no_answer_is_not_an_answer():
    ingredient = an_ingredient()
    assert len(allergen_answers(ingredient)) == 14
    assert set(allergen_answers(ingredient).values()) == {None}
    assert compound_parts(ingredient) == []


def test_every_figure_of_an_ingredient_reaches_the_sums():
    ingredient = sugar(density_kg_per_l="0.85", each_g=4, usable_pct=99)
    record = ingredient_record(ingredient)
    assert not record.is_water
    for name in record.__dataclass_fields__.keys() - {"is_water"}:
        assert getattr(record, name) == getattr(ingredient, name), name
    assert ingredient_record(water(ingredient.kitchen)).is_water


def test_records_of_other_kitchens_are_left_out(django_assert_num_queries):
    ours, theirs = an_ingredient(), an_ingredient()
    with django_assert_num_queries(1):
        assert set(ingredient_records(ours.kitchen, [ours.pk, theirs.pk])) == {ours.pk}
