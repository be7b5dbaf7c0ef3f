"""How far a pan has got: three estimates of one Brix, what is left to boil off, and when."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from itertools import combinations

from costing.reckoning.book import Solids
from costing.reckoning.stove_checks import added_g, ask_doubtful_tare, check
from costing.reckoning.stove_estimates import (
    INSTRUMENT_NAMES,
    THIS_COOK,
    Estimate,
    Rate,
    combined,
    estimates_of,
    minutes_between,
    rate_g_per_min,
)
from costing.reckoning.stove_plan import (
    REFRACTOMETER,
    SUGAR,
    WEIGHT,
    Ask,
    Band,
    Event,
    StovePlan,
    banded,
    say,
    solids_with,
)
from costing.reckoning.stove_target import Target, target
from costing.reckoning.stove_time import TURN_DOWN, minutes_to_boil_off
from costing.units import as_float, exact

KEEP_GOING, NEARLY, DONE, TOO_FAR, NOT_READ = (
    "keep going",
    "nearly",
    "done",
    "too far",
    "not read yet",
)
NEARLY_BRIX, DONE_BELOW_BRIX, DONE_ABOVE_BRIX = Decimal(2), Decimal("0.5"), Decimal(1)

_NOTHING_READ = (
    "Nothing read yet tells how far it is. Weigh the pan, or read the thermometer at a full boil."
)
_SOUND_TO_BRIX = Decimal(80)
_ROUGH = "Above 80 Brix these figures are only indicative: caramel is near. Go by weight."
_SD_90 = 1.645  # half of the 5 to 95 % range of a normal spread, in standard deviations
_DISAGREE_BRIX = 2.0
_SOLIDS_OFF_PCT = Decimal(4)


@dataclass(frozen=True)
class Now:
    """How far the pan has got. Figures are None where nothing tells them.

    as_of: time of the newest reading used. water_to_go_g: below zero when it is past its stop.
    minutes_to_go: counted from `at`, the fire turned down once it is thick. rate: by which.
    """

    verdict: str = NOT_READ
    sentence: str = ""
    estimates: tuple[Estimate, ...] = ()
    brix: Band | None = None
    pot_g: Band | None = None
    gross_g: Band | None = None
    target_brix: Decimal | None = None
    target_gross_g: Decimal | None = None
    water_to_go_g: Decimal | None = None
    minutes_to_go: Decimal | None = None
    rate: Rate | None = None
    as_of: datetime | None = None
    contradictions: tuple[str, ...] = ()
    asks: tuple[Ask, ...] = ()
    notes: tuple[str, ...] = ()


def now(plan: StovePlan, events: Sequence[Event], *, at: datetime) -> Now:
    """What all readings so far say together. Nothing is raised: what cannot be is asked."""
    checked = check(plan, events)
    goal = target(plan)
    rate = rate_g_per_min(plan, checked.events)
    g_per_min = None if rate is None else rate.g_per_min
    asks = (*checked.asks, *(ask for ask in goal.asks if ask.about in ("stop", "brix")))
    is_full = rate is not None and not rate.is_turned_down
    estimates, notes = estimates_of(plan, checked.events, g_per_min, is_full_fire=is_full)
    doubt = _doubtful_weight(plan, checked.events, estimates)
    if doubt is not None:
        asks = (*asks, doubt)
        rest = [event for event in checked.events if event is not doubt.event]
        estimates, notes = estimates_of(plan, rest, g_per_min, is_full_fire=is_full)
    before = Now(asks=asks, notes=notes, rate=rate)
    if not estimates:
        return replace(before, sentence=_NOTHING_READ)
    solids = solids_with(plan, sugar_g=added_g(checked.events, SUGAR))
    return _read_so_far(before, plan, goal, estimates, solids, at=at)


def _read_so_far(
    before: Now,
    plan: StovePlan,
    goal: Target,
    estimates: tuple[Estimate, ...],
    solids: Solids | None,
    *,
    at: datetime,
) -> Now:
    brix, sd = combined(estimates)
    as_of = max(estimate.event.at for estimate in estimates)
    contradictions = _contradictions(estimates, solids)
    low, high = brix - _SD_90 * sd, brix + _SD_90 * sd
    if contradictions:  # one of them is wrong, and nothing says which: the band holds them all
        read = [as_float(estimate.brix) for estimate in estimates]
        low, high = min(low, *read), max(high, *read)
    seen = banded(brix, low, high, step="0.01")
    pot = None if solids is None else _pot_band(solids, seen)
    to_go = _to_go(solids, pot, goal)
    minutes = _minutes(solids, pot, to_go, before.rate, waited=minutes_between(as_of, at))
    verdict = _verdict(seen.value, goal)
    rough = (_ROUGH,) if seen.value > _SOUND_TO_BRIX else ()
    if minutes and before.rate is not None and not before.rate.is_turned_down:
        rough = (*rough, TURN_DOWN)
    return replace(
        before,
        notes=(*before.notes, *rough),
        verdict=verdict,
        sentence=_sentence(verdict, to_go, _time(minutes, before.rate), contradictions),
        estimates=estimates,
        brix=seen,
        pot_g=pot,
        gross_g=_with_pan(pot, plan.pan_tare_g),
        target_brix=None if goal.brix is None else goal.brix.value,
        target_gross_g=_target_gross(pot, to_go, plan.pan_tare_g),
        water_to_go_g=to_go,
        minutes_to_go=minutes,
        as_of=as_of,
        contradictions=contradictions,
    )


def _doubtful_weight(
    plan: StovePlan, events: Sequence[Event], estimates: Sequence[Estimate]
) -> Ask | None:
    """Asks about the tare where it would settle that the weight stands against the rest."""
    rest = [one for one in estimates if one.kind != WEIGHT]
    weight = next((one for one in estimates if one.kind == WEIGHT), None)
    solids = solids_with(plan, sugar_g=added_g(events, SUGAR))
    if weight is None or not rest or solids is None:
        return None
    brix, sd = combined(rest)
    off = max(_DISAGREE_BRIX, 2 * math.hypot(sd, as_float(weight.sd_brix)))
    if abs(as_float(weight.brix) - brix) < off:
        return None
    allowed = _pot_band(solids, banded(brix, brix - off, brix + off, step="0.01"))
    before = [event for event in events if event.at < weight.event.at]
    return ask_doubtful_tare(plan, weight.event, before, fits=(allowed.low, allowed.high))


def _pot_band(solids: Solids, brix: Band) -> Band:
    def pot(value: Decimal) -> Decimal:
        floor = max(value, Decimal("0.1"))
        pot_g = solids.soluble_g * 100 / floor + solids.insoluble_g
        return pot_g.quantize(Decimal("0.1"))

    return Band(pot(brix.value), pot(brix.high), pot(brix.low))


def _with_pan(pot: Band | None, tare_g: Decimal | None) -> Band | None:
    if pot is None or tare_g is None:
        return None
    return Band(pot.value + tare_g, pot.low + tare_g, pot.high + tare_g)


def _to_go(solids: Solids | None, pot: Band | None, goal: Target) -> Decimal | None:
    if solids is None or pot is None or goal.brix is None:
        return None
    wanted_g = solids.soluble_g * 100 / goal.brix.value + solids.insoluble_g
    return (pot.value - wanted_g).quantize(Decimal("0.1"))


def _target_gross(
    pot: Band | None, to_go: Decimal | None, tare_g: Decimal | None
) -> Decimal | None:
    if pot is None or to_go is None or tare_g is None:
        return None
    return pot.value - to_go + tare_g


def _minutes(
    solids: Solids | None,
    pot: Band | None,
    to_go: Decimal | None,
    rate: Rate | None,
    *,
    waited: float,
) -> Decimal | None:
    if solids is None or pot is None or to_go is None or rate is None:
        return None
    left = minutes_to_boil_off(
        solids,
        from_g=as_float(pot.value),
        to_g=as_float(pot.value - to_go),
        rate=as_float(rate.g_per_min),
        is_turned_down=rate.is_turned_down,
    )
    return exact(max(left - max(waited, 0.0), 0.0), step="0.1")


def _verdict(brix: Decimal, goal: Target) -> str:
    if goal.brix is None:
        return KEEP_GOING
    off = brix - goal.brix.value
    if off > DONE_ABOVE_BRIX:
        return TOO_FAR
    if off >= -DONE_BELOW_BRIX:
        return DONE
    return NEARLY if off >= -NEARLY_BRIX else KEEP_GOING


def _contradictions(estimates: Sequence[Estimate], solids: Solids | None) -> tuple[str, ...]:
    said = []
    for one, other in combinations(estimates, 2):
        gap = abs(as_float(one.brix - other.brix))
        sd = math.hypot(as_float(one.sd_brix), as_float(other.sd_brix))
        if gap < max(_DISAGREE_BRIX, _SD_90 * sd):
            continue
        names = f"{INSTRUMENT_NAMES[one.kind]} and {INSTRUMENT_NAMES[other.kind]}".capitalize()
        said.append(
            f"{names} disagree by {say(round(gap * 2) / 2)} Brix ({say(one.brix)} and "
            f"{say(other.brix)}): recipe, spillage or fruit Brix? Read both again before you "
            "decide."
        )
    by_kind = {estimate.kind: estimate for estimate in estimates}
    weight, lens = by_kind.get(WEIGHT), by_kind.get(REFRACTOMETER)
    if solids is not None and weight is not None and lens is not None:
        off_pct = (lens.brix - weight.brix) * 100 / weight.brix
        if abs(off_pct) > _SOLIDS_OFF_PCT:
            said.append(
                f"Weight and Brix together show {say(abs(off_pct))} % "
                f"{'more' if off_pct > 0 else 'less'} solids in the pan than the recipe brings: "
                "check what was weighed in."
            )
    return tuple(said)


def _time(minutes: Decimal | None, rate: Rate | None) -> str:
    if minutes is None or rate is None:
        return ""
    if minutes == 0:
        return ". By your rate it should be there now: read again"
    by = "at your last measured rate" if rate.told_by == THIS_COOK else "at this pan's usual rate"
    return f", about {say(minutes, places=0)} min {by}"


def _sentence(verdict: str, to_go: Decimal | None, time: str, contradictions: Sequence[str]) -> str:
    grams = None if to_go is None else say(abs(to_go), places=0)
    if verdict in (KEEP_GOING, NEARLY):
        start = "Nearly there" if verdict == NEARLY else "Keep going"
        left = "" if grams is None else f": {grams} g of water to boil off"
        end = " Turn the fire down and scrape." if verdict == NEARLY else ""
        said = f"{start}{left}{time}.{end}"
    elif verdict == DONE:
        said = "Done, as far as these readings tell. Off the fire; test the set on a cold plate."
    else:
        water = "" if grams is None else f" {grams} g of water would bring it back."
        said = f"Too far: off the fire now.{water}"
    return said if not contradictions else f"{said} But the readings disagree."
