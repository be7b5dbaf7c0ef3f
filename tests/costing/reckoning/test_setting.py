"""When a slab can be cut: hours counted as they pass, shown on the kitchen's own clock."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.reckoning.errors import ReckoningError
from costing.reckoning.setting import SOURCE, SettingTimes, Wait, ready_times

DUBLIN = ZoneInfo("Europe/Dublin")


def hours(low, high):
    return Wait(timedelta(hours=low), timedelta(hours=high))


def at(day, hour, minute=0, month=6):
    return datetime(2027, month, day, hour, minute, tzinfo=DUBLIN)


def test_poured_in_the_afternoon_cut_in_the_morning():
    # Six to eight hours at room temperature, best overnight (common practice, no source).
    ready = ready_times(at(1, 14, 30))
    assert (ready.cut_from, ready.cut_by) == (at(1, 20, 30), at(1, 22, 30))
    assert ready.cut_best == at(2, 7)
    # Twelve to twenty-four hours before packing (common practice, no source).
    assert (ready.pack_from, ready.pack_by) == (at(2, 2, 30), at(2, 14, 30))
    assert ready.source == SOURCE == "common practice, no source"
    assert "time alone will not set it" in ready.caution


# Pairs: ready at seven sharp is this morning, a minute later is the next.
@pytest.mark.parametrize(("poured", "best"), [(at(1, 23), at(2, 7)), (at(1, 23, 1), at(3, 7))])
def test_the_best_morning_is_the_first_on_which_it_is_ready(poured, best):
    assert ready_times(poured).cut_best == best


def test_hours_pass_as_they_do_when_the_clocks_change():
    # Ireland puts clocks back at 02:00 on Sunday 31 October 2027 (last Sunday of October,
    # Directive 2000/84/EC): eight hours after 22:00 the clock shows 05:00.
    ready = ready_times(at(30, 22, month=10))
    assert ready.cut_by == datetime(2027, 10, 31, 5, 0, tzinfo=DUBLIN)
    assert ready.cut_by.astimezone(UTC) - at(30, 22, month=10).astimezone(UTC) == timedelta(hours=8)
    # And forward at 01:00 on 28 March: it shows 07:00.
    assert ready_times(at(27, 22, month=3)).cut_by == at(28, 7, month=3)


def test_a_kitchen_has_its_own_times():
    own = SettingTimes(cut=hours(20, 24), pack=hours(48, 72), source="own batches")
    ready = ready_times(at(1, 10), times=own, morning=time(6, 30))
    assert (ready.cut_by, ready.cut_best, ready.source) == (at(2, 10), at(3, 6, 30), "own batches")


@settings(max_examples=60, deadline=None)
@given(
    st.datetimes(datetime(2026, 1, 1), datetime(2028, 1, 1), timezones=st.just(UTC)),  # noqa: DTZ001
    st.integers(0, 48),
    st.integers(0, 48),
)
def test_later_steps_are_never_earlier(poured, shortest, more):
    times = SettingTimes(
        cut=hours(shortest, shortest + more), pack=hours(shortest, shortest + more)
    )
    ready = ready_times(poured.astimezone(DUBLIN), times=times)
    assert poured <= ready.cut_from <= ready.cut_by <= ready.cut_best
    assert ready.cut_best - ready.cut_by < timedelta(hours=26)
    assert ready.cut_from - poured == timedelta(hours=shortest)


@pytest.mark.parametrize(
    ("poured", "times", "field"),
    [
        (datetime(2027, 6, 1, 14), SettingTimes(hours(6, 8), hours(12, 24)), "poured_at"),  # noqa: DTZ001
        (at(1, 14), SettingTimes(hours(8, 6), hours(12, 24)), "cut"),
        (at(1, 14), SettingTimes(hours(-1, 6), hours(12, 24)), "cut"),
        (at(1, 14), SettingTimes(hours(6, 8), hours(24, 12)), "pack"),
        (at(1, 14), SettingTimes(hours(6, 8), hours(5, 24)), "pack"),
        (at(1, 14), SettingTimes(hours(6, 8), hours(12, 721)), "pack"),
    ],
)
def test_times_that_cannot_be_are_refused(poured, times, field):
    with pytest.raises(ReckoningError) as refused:
        ready_times(poured, times=times)
    assert refused.value.field == field


def test_thirty_days_are_not_too_long():
    assert ready_times(at(1, 14), times=SettingTimes(hours(6, 8), hours(12, 720)))
