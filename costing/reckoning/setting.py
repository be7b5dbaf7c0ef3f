"""When a slab can be cut and packed: hours from pouring, as times of day on the kitchen's clock."""

from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta

from costing.reckoning.errors import ReckoningError

LONGEST = timedelta(days=30)
MORNING = time(7, 0)
SOURCE = "common practice, no source"


@dataclass(frozen=True)
class Wait:
    """From at least so long to at most so long after pouring."""

    shortest: timedelta
    longest: timedelta


@dataclass(frozen=True)
class SettingTimes:
    """How long a product waits in its mould before the knife, and before the wrap."""

    cut: Wait
    pack: Wait
    source: str = SOURCE


USUAL = SettingTimes(
    cut=Wait(timedelta(hours=6), timedelta(hours=8)),
    pack=Wait(timedelta(hours=12), timedelta(hours=24)),
)
"""At room temperature, uncovered, best overnight; cut faces dry before packing. All of it common
practice, no source: the kitchen's own times go before it."""


@dataclass(frozen=True)
class ReadyTimes:
    """Clock times in the zone of the pouring.

    cut_from: the first slab may be tried. cut_by: it is ready if it sets at all. cut_best: the
    first morning on which it is. pack_from, pack_by: the same for packing.
    """

    poured_at: datetime
    cut_from: datetime
    cut_by: datetime
    cut_best: datetime
    pack_from: datetime
    pack_by: datetime
    source: str
    caution: str


_CAUTION = (
    "Try one corner before cutting: what is still soft then was stopped too early, or lacks pectin "
    "or acid, and time alone will not set it. Cut when it has cooled right through: packed warm, "
    "it sweats and can mould."
)


def ready_times(
    poured_at: datetime, *, times: SettingTimes = USUAL, morning: time = MORNING
) -> ReadyTimes:
    """When to cut and to pack what was poured at a moment.

    poured_at: with its zone; hours are counted as they pass, also in the night the clocks change.
    morning: when work begins.
    Raises ReckoningError for a time without a zone, and for waits that run backwards.
    """
    if poured_at.utcoffset() is None:
        raise ReckoningError(
            "The time of pouring has no time zone. Set the kitchen's, and type the time again.",
            field="poured_at",
        )
    _check(times.cut, field="cut", what="cutting")
    _check(times.pack, field="pack", what="packing")
    if times.pack.shortest < times.cut.shortest:
        raise ReckoningError("It is cut before it is packed: check the hours.", field="pack")
    cut_by = _after(poured_at, times.cut.longest)
    return ReadyTimes(
        poured_at=poured_at,
        cut_from=_after(poured_at, times.cut.shortest),
        cut_by=cut_by,
        cut_best=_first_morning(cut_by, morning),
        pack_from=_after(poured_at, times.pack.shortest),
        pack_by=_after(poured_at, times.pack.longest),
        source=times.source,
        caution=_CAUTION,
    )


def _check(wait: Wait, *, field: str, what: str) -> None:
    if not timedelta(0) <= wait.shortest <= wait.longest:
        raise ReckoningError(
            f"The hours to {what} go from the shorter to the longer, none below zero.", field=field
        )
    if wait.longest > LONGEST:
        raise ReckoningError(
            f"More than {LONGEST.days} days to {what}? Type hours, not minutes.", field=field
        )


def _after(moment: datetime, wait: timedelta) -> datetime:
    # Through UTC, because adding to a local time skips the hour that the clocks change by.
    return (moment.astimezone(UTC) + wait).astimezone(moment.tzinfo)


def _first_morning(moment: datetime, morning: time) -> datetime:
    """The first time of day `morning` that is not before the moment."""
    same_day = datetime.combine(moment.date(), morning, tzinfo=moment.tzinfo)
    if same_day >= moment:
        return same_day
    return datetime.combine(moment.date() + timedelta(days=1), morning, tzinfo=moment.tzinfo)
