"""Words on keeping: proposed only from what was measured, and never promised."""

from decimal import Decimal

import pytest

from labels.services.storage_words import latest_storage_words, storage_words
from tests.builders import a_batch, a_damson_paste
from tests.labels.services.test_batch_labels import a_weighed

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("brix", "first"),
    # Below 60 Brix sugar alone does not keep it (common practice); 60 is on the bound.
    [("59.9", "Keep refrigerated."), ("68", "Store in a cool, dry place.")],
)
def test_words_follow_the_brix_of_the_batch(brix, first):
    batch = a_weighed(a_damson_paste(), end_brix=brix, ph="3.2")
    words = storage_words(batch)
    assert words.sentences[0] == first
    assert "never promised" in words.caution
    assert any("no process authority" in caution for caution in words.cautions)


def test_a_ph_that_nobody_measured_is_asked_for():
    assert "pH" in storage_words(a_weighed(a_damson_paste())).asks[0]
    assert storage_words(a_weighed(a_damson_paste(), ph="3.2")).asks == ()


def test_nothing_is_proposed_where_no_brix_was_measured():
    assert storage_words(a_weighed(a_damson_paste(), end_brix=None)) is None
    assert storage_words(a_batch()) is None


def test_the_latest_batch_with_a_brix_speaks_for_its_recipe():
    recipe = a_damson_paste()
    assert latest_storage_words(recipe.kitchen, recipe=recipe) is None
    measured = a_weighed(recipe, end_brix=Decimal(70))
    a_weighed(recipe, end_brix=None)
    assert latest_storage_words(recipe.kitchen, recipe=recipe).batch == measured
