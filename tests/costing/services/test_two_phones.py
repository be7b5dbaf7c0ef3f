"""Two phones at one pan: what both tell is kept, and what is told twice is kept once."""

import threading
from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import connection

from costing.models import BatchReading
from costing.services.batch_events import correct_event, note_event
from tests.builders import NOON, a_batch

pytestmark = pytest.mark.django_db(transaction=True)


def _outcome(act):
    try:
        return act()
    except ValidationError as refused:
        return refused


def together(*acts):
    """Run the acts at the same moment, each with its own connection; what each gave or raised.

    SQLite writes one after the other: there they run in turn, and the outcome must be the same.
    """
    outcomes = [None] * len(acts)
    ready = threading.Barrier(len(acts))

    def run(place, act):
        try:
            ready.wait(timeout=10)
            outcomes[place] = act()
        except Exception as error:
            outcomes[place] = error
        finally:
            connection.close()

    if connection.vendor == "sqlite":
        return [_outcome(act) for act in acts]
    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    return outcomes


def telling(batch, key, value):
    return lambda: note_event(
        batch, by=None, kind="temperature", value=Decimal(value), key=key,
        read_at=NOON + timedelta(minutes=5),
    )  # fmt: skip


def test_what_two_phones_tell_at_once_is_all_kept():
    batch = a_batch()
    told = together(*(telling(batch, f"phone-{n}", 101 + n) for n in range(4)))
    assert all(isinstance(one, BatchReading) for one in told), told
    assert sorted(batch.readings.values_list("value", flat=True)) == [101, 102, 103, 104]


def test_the_same_reading_sent_over_two_ways_at_once_is_kept_once():
    batch = a_batch()
    told = together(*(telling(batch, "same", 103) for _ in range(4)))
    assert {one.pk for one in told} == {batch.readings.get().pk}


def test_one_answer_given_on_two_phones_at_once_corrects_once():
    batch = a_batch()
    event = telling(batch, "first", 220)()

    def answer():
        return correct_event(
            BatchReading.objects.get(pk=event.pk), by=None, value=Decimal("104.4"),
            reason="Read in Fahrenheit", key="answer",
        )  # fmt: skip

    told = together(answer, answer, answer)
    assert {one.pk for one in told} == {event.corrected_by.get().pk}


def test_of_two_different_answers_at_once_one_counts_and_the_other_is_told():
    batch = a_batch()
    event = telling(batch, "first", 220)()

    def answer(key, value):
        return lambda: correct_event(
            BatchReading.objects.get(pk=event.pk), by=None, value=value, reason="Misread", key=key
        )

    told = together(answer("meant", Decimal("104.4")), answer("strike", None))
    (refused,) = [one for one in told if isinstance(one, ValidationError)]
    assert "corrected already" in str(refused)
    assert event.corrected_by.count() == 1
