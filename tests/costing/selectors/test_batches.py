"""Batches as pages read them: scoped to a kitchen, in as many queries however much was told."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.http import Http404

from costing.selectors.batches import batch_page, batches_of, on_the_fire
from costing.services.batches import note_event
from tests.builders import NOON, a_batch, a_damson_paste, a_finished_batch, a_kitchen

pytestmark = pytest.mark.django_db


def tell(batch, count):
    for number in range(count):
        note_event(
            batch,
            by=None,
            kind="weight",
            value=Decimal(9000 - number),
            key=str(number),
            read_at=NOON + timedelta(minutes=number),
        )


def test_a_kitchen_sees_its_own_batches_newest_first():
    recipe = a_damson_paste()
    first, second = a_finished_batch(recipe), a_batch(recipe)
    stranger = a_batch()
    assert list(batches_of(recipe.kitchen)) == [second, first]
    assert list(batches_of(recipe.kitchen, recipe=stranger.recipe)) == []
    assert list(on_the_fire(recipe.kitchen)) == [second]


def test_another_kitchens_batch_does_not_exist():
    with pytest.raises(Http404):
        batch_page(a_kitchen(), a_batch().pk)


def test_a_page_takes_as_many_queries_for_one_reading_as_for_ten(
    django_assert_num_queries,
):
    for count in (1, 10):
        batch = a_batch()
        tell(batch, count)
        with django_assert_num_queries(6):
            page = batch_page(batch.kitchen, batch.pk)
            assert len(page.in_force) == len(page.events) == count
            assert [row.ingredient or row.preparation for row in page.inputs]
