"""All figures of a season in three queries: the same as one subject at a time."""

import pytest

from costing.models import Ingredient, Pan, Recipe
from costing.selectors import batch_lessons
from costing.selectors.batch_figures import every_figure
from tests.builders import a_kitchen

pytestmark = pytest.mark.django_db


def test_a_season_is_read_in_three_queries(demo, django_assert_num_queries):
    with django_assert_num_queries(3):
        assert len(every_figure(demo)) >= 12


def test_a_kitchen_without_a_batch_is_asked_once(django_assert_num_queries):
    kitchen = a_kitchen()
    with django_assert_num_queries(1):
        assert every_figure(kitchen) == {}


def test_the_figures_are_those_of_the_selectors_of_one_subject(demo):
    """Two ways to read the same rows: with every row as an object, and by plain values."""
    one_at_a_time = {
        "usable": lambda key: batch_lessons.usable_shares(
            demo, ingredient=Ingredient.objects.get(pk=key.ingredient_id)
        ),
        "residue": lambda key: (
            batch_lessons.residues_g(demo, pan=Pan.objects.get(pk=key.pan_id))
            if key.pan_id
            else batch_lessons.residue_shares(demo, recipe=Recipe.objects.get(pk=key.recipe_id))
        ),
        "evaporation": lambda key: batch_lessons.evaporation_rates(
            demo, pan=Pan.objects.get(pk=key.pan_id)
        ),
        "brix": lambda key: batch_lessons.brix_of_finished(
            demo, recipe=Recipe.objects.get(pk=key.recipe_id)
        ),
    }
    found = every_figure(demo)
    assert {key.subject for key in found} == set(one_at_a_time)
    for key, figures in found.items():
        if key.supplier_id is None:
            assert figures == one_at_a_time[key.subject](key), key


def test_the_end_of_a_paste_is_decided_and_teaches_no_brix(demo):
    taught = {key.recipe_id for key in every_figure(demo) if key.subject == "brix"}
    names = set(Recipe.objects.filter(pk__in=taught).values_list("name", flat=True))
    assert names == {"Damson puree", "Apple puree", "Pear puree"}
