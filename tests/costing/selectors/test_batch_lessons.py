"""One figure a batch: which events and weights count for it."""

from datetime import timedelta
from decimal import Decimal

import pytest

from costing.selectors.batch_lessons import rate_between_weights
from costing.services.batches import correct_event, note_event
from tests.builders import NOON, a_batch

pytestmark = pytest.mark.django_db


def weigh(batch, minute, value):
    return note_event(
        batch,
        by=None,
        kind="weight",
        value=Decimal(value),
        key=str(minute),
        read_at=NOON + timedelta(minutes=minute),
    )


def test_a_rate_needs_two_weights():
    batch = a_batch()
    assert rate_between_weights(batch.readings.all()) is None
    weigh(batch, 0, 17000)
    assert rate_between_weights(batch.readings.all()) is None


@pytest.mark.parametrize(("minute", "rate"), [(4, None), (5, 80)])
def test_a_rate_needs_five_minutes(minute, rate):
    batch = a_batch()
    weigh(batch, 0, 17000)
    weigh(batch, minute, 16600)
    assert rate_between_weights(batch.readings.all()) == rate


def test_a_corrected_weight_counts_as_corrected():
    batch = a_batch()
    weigh(batch, 0, 17000)
    last = weigh(batch, 10, 19000)
    correct_event(last, by=None, value=Decimal(16000), reason="read 9 for 6", key="c")
    assert rate_between_weights(batch.readings.all()) == 100
