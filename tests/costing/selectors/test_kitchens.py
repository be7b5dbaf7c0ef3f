"""The one way to fetch a row of a kitchen, and who is in it."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404

from costing.models import Ingredient, Recipe
from costing.selectors.kitchens import (
    changes_of,
    kitchen_record,
    kitchens_called,
    membership,
    memberships,
    people,
    possible_ids,
    this_kitchens,
)
from costing.services.kitchens import update_kitchen
from tests.builders import a_cook, a_kitchen, a_member, a_recipe, an_ingredient, an_owner

pytestmark = pytest.mark.django_db


def test_a_row_is_found_in_its_kitchen_and_nowhere_else():
    ingredient = an_ingredient()
    kitchen = ingredient.kitchen
    assert this_kitchens(Ingredient, kitchen=kitchen, pk=ingredient.pk) == ingredient
    with pytest.raises(Http404):
        this_kitchens(Ingredient, kitchen=a_kitchen(), pk=ingredient.pk)


@pytest.mark.parametrize("pk", [0, -1, 2**63, 10**40])
def test_a_number_that_no_row_has_is_not_found(pk):
    with pytest.raises(Http404):
        this_kitchens(Recipe, kitchen=a_kitchen(), pk=pk)


def test_what_a_page_needs_besides_is_fetched_with_it(django_assert_num_queries):
    recipe = a_recipe()
    with django_assert_num_queries(1):
        found = this_kitchens(Recipe, kitchen=recipe.kitchen, pk=recipe.pk, related=("kitchen",))
        assert found.kitchen.trading_name


def test_membership_is_of_this_kitchen():
    ours, theirs = a_kitchen(), a_kitchen()
    cook = a_cook(ours)
    assert membership(cook, ours.pk).role == "cook"
    assert membership(cook, theirs.pk) is None
    assert membership(AnonymousUser(), ours.pk) is None
    a_member(theirs, user=cook)
    assert [m.kitchen for m in memberships(cook)] == [ours, theirs]
    assert memberships(AnonymousUser()) == []
    assert [m.user for m in people(ours)] == [cook]


def test_changes_of_one_row_newest_first():
    kitchen, other = a_kitchen(), a_kitchen()
    by = an_owner(kitchen)
    update_kitchen(kitchen, by=by, currency="GBP")
    update_kitchen(kitchen, by=by, currency="CHF")
    update_kitchen(other, by=by, currency="USD")
    assert [(c.old, c.new) for c in changes_of(kitchen)] == [("GBP", "CHF"), ("EUR", "GBP")]
    assert changes_of(an_ingredient(kitchen)) == []


def test_every_rate_of_a_kitchen_reaches_the_sums():
    kitchen = a_kitchen(
        altitude_m=240, hob_efficiency_pct=60, start_temperature_c=12, water_reading_c="99.2"
    )
    record = kitchen_record(kitchen)
    stored = {field.name for field in kitchen._meta.concrete_fields}
    for name in record.__dataclass_fields__.keys() & stored:
        assert getattr(record, name) == getattr(kitchen, name), name
    # What is not stored is the same in every kitchen: the heat that water and fruit take up.
    assert record.__dataclass_fields__.keys() - stored == {
        "boils_at_c",
        "heat_capacity_kj_per_kg_k",
        "latent_heat_kj_per_kg",
    }


def test_kitchens_by_name_or_number():
    first, second = a_kitchen(trading_name="Rookfold Kitchen"), a_kitchen(trading_name="Alder")
    assert kitchens_called("rookfold  kitchen") == [first]
    assert kitchens_called(str(second.pk)) == [second]
    assert kitchens_called("") == [second, first]
    assert kitchens_called("Nowhere") == []


def test_numbers_no_row_can_have_are_left_out():
    assert possible_ids([-1, 0, 1, 2**63 - 1, 2**63, 10**40]) == {1, 2**63 - 1}
