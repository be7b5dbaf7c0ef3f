"""What is told at the stove is kept once, whatever is sent twice, and corrected by another row."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from costing.models import Batch, BatchReading
from costing.selectors.batches import events_in_force
from costing.services.batches import correct_event, note_event
from tests.builders import NOON, a_batch, a_cook, a_finished_batch, a_user

pytestmark = pytest.mark.django_db
LATER = NOON + timedelta(minutes=30)


def told(batch, value=14300, *, kind="weight", key="a", read_at=LATER, **more):
    more = {name: Decimal(str(figure)) for name, figure in more.items()}
    return note_event(
        batch, by=None, kind=kind, value=Decimal(str(value)), key=key, read_at=read_at, **more
    )


def test_the_same_event_sent_twice_is_kept_once():
    batch = a_batch()
    assert told(batch) == told(batch)
    assert told(batch, key="b") != told(batch)
    assert batch.readings.count() == 2


def test_the_same_mark_in_two_pans_is_two_events():
    assert told(a_batch()) != told(a_batch())


def test_the_clock_of_the_device_and_ours_are_both_kept():
    event = told(a_batch())
    assert event.read_at == LATER
    assert event.received_at > LATER


def test_a_correction_replaces_and_both_are_kept_with_the_reason():
    batch, cook = a_batch(), a_cook()
    wrong = told(batch)
    right = correct_event(wrong, by=cook, value=Decimal(13400), reason="digits swapped", key="c")

    assert events_in_force(batch) == (right,)
    assert (right.value, right.read_at, right.by) == (13400, LATER, cook)
    wrong.refresh_from_db()
    assert wrong.value == 14300
    again = correct_event(wrong, by=cook, value=Decimal(13400), reason="digits swapped", key="c")
    assert again == right


def test_a_reading_can_be_struck_out():
    batch = a_batch()
    event = told(batch)
    correct_event(event, by=None, value=None, reason="other pan", key="c")
    assert events_in_force(batch) == ()
    assert batch.readings.count() == 2


def test_a_correction_says_why_and_is_made_of_what_stands():
    event = told(a_batch())
    with pytest.raises(ValidationError, match="why it is corrected"):
        correct_event(event, by=None, value=Decimal(1), reason=" ", key="c")
    correct_event(event, by=None, value=Decimal(1), reason="slip", key="c")
    with pytest.raises(ValidationError, match="corrected already"):
        correct_event(event, by=None, value=Decimal(2), reason="slip", key="d")


@pytest.mark.parametrize(
    ("kind", "value", "more", "words"),
    [
        ("weight", 0, {}, "more than nothing"),
        ("weight", 3000, {"tare_g": 3000}, "the pan alone weighs"),
        ("water", -1, {}, "more than nothing"),
        ("brix", 101, {}, "between 0 and 100"),
        ("brix", -1, {}, "between 0 and 100"),
        ("temperature", 301, {}, "not the temperature of a pan"),
        ("struck", 1, {}, "Say what it is"),
        ("colour", 1, {}, "Say what it is"),
        ("weight", "NaN", {}, "not a number"),
        ("weight", "1e30", {}, "Check the zeros"),
    ],
)
def test_what_no_instrument_shows_is_refused_in_a_sentence(kind, value, more, words):
    batch = a_batch()
    with pytest.raises(ValidationError, match=words):
        told(batch, value, kind=kind, **more)
    assert not batch.readings.exists()


@pytest.mark.parametrize(
    ("kind", "value", "more"),
    [
        ("weight", 3001, {"tare_g": 3000}),
        ("brix", 100, {}),
        ("brix", 0, {"sample_c": 40}),
        # Fahrenheit in a Celsius box is kept and asked about; the sums leave it out meanwhile.
        ("temperature", 222, {}),
    ],
)
def test_what_an_instrument_may_show_is_kept(kind, value, more):
    assert told(a_batch(), value, kind=kind, **more).value == value


def test_what_was_typed_without_a_connection_arrives_after_the_pan_was_done():
    batch = a_finished_batch()
    assert told(batch, read_at=batch.finished_at).pk
    with pytest.raises(ValidationError, match="after the pan was called done"):
        told(batch, key="b", read_at=batch.finished_at + timedelta(seconds=1))


def refused(words):
    return pytest.raises(IntegrityError, match=words)


@pytest.mark.parametrize(
    "change", [{"value": 1}, {"kind": "water"}, {"read_at": NOON}, {"note": "x"}, {"tare_g": 5}]
)
def test_the_database_refuses_to_change_what_was_read(change):
    event = told(a_batch())
    with refused("never changed"), transaction.atomic():
        BatchReading.objects.filter(pk=event.pk).update(**change)
    with refused("never deleted"), transaction.atomic():
        event.delete()


def test_a_reading_outlives_the_account_of_who_read_it():
    user = a_user()
    batch = a_batch()
    event = note_event(batch, by=user, kind="weight", value=Decimal(9000), key="a", read_at=LATER)
    user.delete()
    event.refresh_from_db()
    assert event.by is None


@pytest.mark.parametrize(
    "change",
    [
        {"status": "on the fire"},
        {"lot": "X"},
        {"plan": {}},
        {"factor": 2},
        {"made_on": NOON.date() + timedelta(days=1)},
        {"started_at": LATER},
    ],
)
def test_the_database_keeps_which_batch_it_was(change):
    batch = a_finished_batch()
    with refused("stay"), transaction.atomic():
        Batch.objects.filter(pk=batch.pk).update(**change)
    with refused("kept"), transaction.atomic():
        Batch.objects.filter(pk=batch.pk)._raw_delete("default")


def test_the_database_keeps_what_went_in_and_what_it_cost():
    batch = a_finished_batch()
    rows = batch.inputs.filter(position=1)
    with refused("stay"), transaction.atomic():
        rows.update(per_kg=1)
    with refused("stay"), transaction.atomic():
        rows.delete()
    rows.update(weighed_g=8000)  # a weight may be corrected
    on_the_fire = a_batch().inputs.filter(position=1)
    on_the_fire.update(per_kg=1)
    on_the_fire.delete()


def test_figures_of_a_finished_batch_may_be_corrected_and_its_cook_leave():
    user = a_user()
    batch = a_finished_batch(by=user)
    user.delete()
    Batch.objects.filter(pk=batch.pk).update(net_g=850)
    batch.refresh_from_db()
    assert (batch.cooked_by, batch.started_by, batch.net_g) == (None, None, 850)
