"""How far a pan has got: three estimates of one Brix, what is left to boil off, and when."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import combinations

from costing.physics import PhysicsError, boiling_point_rise_k, brix_at_20_c, brix_from_rise
from costing.reckoning.book import Solids
from costing.reckoning.stove_checks import added_g, ask_doubtful_tare, check, net_g
from costing.reckoning.stove_plan import (
    REFRACTOMETER,
    SUGAR,
    TEMPERATURE,
    WATER,
    WEIGHT,
    Ask,
    Band,
    Event,
    StovePlan,
    banded,
    composition_of,
    fruit_off_share,
    fruit_soluble_g,
    has_vinegar,
    pressure_pa,
    say,
    solids_with,
    temperature_sd_k,
    water_reads_c,
)
from costing.reckoning.stove_target import Target, target
from costing.units import as_float, exact

KEEP_GOING, NEARLY, DONE, TOO_FAR, NOT_READ = (
    "keep going",
    "nearly",
    "done",
    "too far",
    "not read yet",
)
NEARLY_BRIX, DONE_BELOW_BRIX, DONE_ABOVE_BRIX = Decimal(2), Decimal("0.5"), Decimal(1)

_SD_90 = 1.645  # half of the 5 to 95 % range of a normal spread, in standard deviations
_TOLD_K = 0.3
_CLEAR_BRIX, _PULPY_BRIX, _NOT_CORRECTED_BRIX = 0.75, 1.5, 0.5
_PULPY_SHARE = 0.01
_STALE_MIN, _APART_MIN = 15.0, 3.0
_DISAGREE_BRIX = 2.0
_SOLIDS_OFF_PCT = Decimal(4)
_NAMES = {WEIGHT: "weight", TEMPERATURE: "thermometer", REFRACTOMETER: "refractometer"}


@dataclass(frozen=True)
class Estimate:
    """Brix by one instrument, with its standard deviation, at the time of the newest reading."""

    kind: str
    brix: Decimal
    sd_brix: Decimal
    event: Event


@dataclass(frozen=True)
class Now:
    """How far the pan has got. Figures are None where nothing tells them.

    as_of: time of the newest reading used. water_to_go_g: below zero when it is past its stop.
    minutes_to_go: counted from `at`. rate_from: "this cook", "this pan" or "".
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
    rate_g_per_min: Decimal | None = None
    rate_from: str = ""
    as_of: datetime | None = None
    contradictions: tuple[str, ...] = ()
    asks: tuple[Ask, ...] = ()
    notes: tuple[str, ...] = ()


def now(plan: StovePlan, events: Sequence[Event], *, at: datetime) -> Now:
    """What all readings so far say together. Nothing is raised: what cannot be is asked."""
    checked = check(plan, events)
    goal = target(plan)
    rate, rate_from = rate_g_per_min(plan, checked.events)
    asks = (*checked.asks, *(ask for ask in goal.asks if ask.about in ("stop", "brix")))
    estimates, notes = _estimates(plan, checked.events, rate)
    doubt = _doubtful_weight(plan, checked.events, estimates)
    if doubt is not None:
        asks = (*asks, doubt)
        estimates = tuple(one for one in estimates if one.kind != WEIGHT)
    if not estimates:
        return Now(
            sentence="Nothing read yet tells how far it is. Weigh the pan, or read the "
            "thermometer at a full boil.",
            asks=asks,
            notes=notes,
            rate_g_per_min=rate,
            rate_from=rate_from,
        )
    brix, sd = combined([(as_float(e.brix), as_float(e.sd_brix)) for e in estimates])
    as_of = max(estimate.event.at for estimate in estimates)
    seen = banded(brix, brix - _SD_90 * sd, brix + _SD_90 * sd, step="0.01")
    solids = solids_with(plan, sugar_g=added_g(checked.events, SUGAR))
    pot = None if solids is None else _pot_band(solids, seen)
    to_go = _to_go(solids, pot, goal)
    minutes = _minutes(to_go, rate, as_of=as_of, at=at)
    verdict = _verdict(seen.value, goal)
    contradictions = _contradictions(estimates, solids)
    return Now(
        verdict=verdict,
        sentence=_sentence(verdict, to_go, minutes, contradictions),
        estimates=estimates,
        brix=seen,
        pot_g=pot,
        gross_g=_with_pan(pot, plan.pan_tare_g),
        target_brix=None if goal.brix is None else goal.brix.value,
        target_gross_g=_target_gross(pot, to_go, plan.pan_tare_g),
        water_to_go_g=to_go,
        minutes_to_go=minutes,
        rate_g_per_min=rate,
        rate_from=rate_from,
        as_of=as_of,
        contradictions=contradictions,
        asks=asks,
        notes=notes,
    )


def combined(estimates: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """One value and its sd from several (value, sd), each weighing 1/sd^2."""
    weight = sum(1 / sd**2 for _, sd in estimates)
    return sum(value / sd**2 for value, sd in estimates) / weight, math.sqrt(1 / weight)


def rate_g_per_min(plan: StovePlan, events: Sequence[Event]) -> tuple[Decimal | None, str]:
    """Water lost in a minute: between the last two weighings, else as this pan does."""
    weights = [event for event in events if event.kind == WEIGHT]
    for first in reversed(weights[:-1]):
        last = weights[-1]
        minutes = _minutes_between(first.at, last.at)
        if minutes < _APART_MIN:
            continue
        since = [event for event in events if first.at < event.at <= last.at]
        lost_g = net_g(first) + added_g(since, WATER) + added_g(since, SUGAR) - net_g(last)
        if lost_g > 0:
            return exact(as_float(lost_g) / minutes, step="0.1"), "this cook"
        break
    found = plan.evaporation_g_per_min
    if found is None or found <= 0:
        return None, ""
    return found, "this pan"


def _minutes_between(first: datetime, last: datetime) -> float:
    return (last - first).total_seconds() / 60


# --- One estimate for each instrument -------------------------------------------------------------


def _estimates(
    plan: StovePlan, events: Sequence[Event], rate: Decimal | None
) -> tuple[tuple[Estimate, ...], tuple[str, ...]]:
    """The last reading of each instrument, carried to the time of the newest one."""
    latest = {e.kind: e for e in events if e.kind in _NAMES}
    changes = [e for e in events if e.kind in (WATER, SUGAR)]
    solids = solids_with(plan, sugar_g=added_g(events, SUGAR))
    found: list[Estimate] = []
    notes: list[str] = []
    if not latest:
        return (), ()
    newest = max(event.at for event in latest.values())
    for kind, event in latest.items():
        put_in_since = [one for one in changes if one.at > event.at]
        if put_in_since or _minutes_between(event.at, newest) > _STALE_MIN:
            notes.append(f"The last {_NAMES[kind]} reading is too old to count: read it again.")
            continue
        read = _read(plan, event, solids)
        if isinstance(read, str):
            notes.append(read)
            continue
        brix, sd = _carried(read, solids, rate, minutes=_minutes_between(event.at, newest))
        found.append(
            Estimate(kind, exact(brix, step="0.01"), exact(max(sd, 0.01), step="0.01"), event)
        )
    return tuple(found), tuple(notes)


def _read(plan: StovePlan, event: Event, solids: Solids | None) -> tuple[float, float] | str:
    if event.kind == TEMPERATURE:
        return _by_temperature(plan, event, solids)
    if event.kind == REFRACTOMETER:
        return _by_refractometer(event, solids)
    if solids is None or solids.soluble_g <= 0:
        return "A weight tells no Brix here: the Brix of what went in is not known."
    return _by_weight(plan, event, solids)


def _doubtful_weight(
    plan: StovePlan, events: Sequence[Event], estimates: Sequence[Estimate]
) -> Ask | None:
    """Asks about the tare where it would settle that the weight stands against the rest."""
    rest = [(as_float(e.brix), as_float(e.sd_brix)) for e in estimates if e.kind != WEIGHT]
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


def _by_weight(plan: StovePlan, event: Event, solids: Solids) -> tuple[float, float]:
    liquid_g = as_float(net_g(event) - solids.insoluble_g)
    soluble_g = as_float(solids.soluble_g)
    brix = 100 * soluble_g / liquid_g
    fruit_g = as_float(fruit_soluble_g(plan)) * fruit_off_share(plan) / math.sqrt(6)
    spread = plan.spreads.inverted_below_pct + plan.spreads.inverted_above_pct
    # Water that sugar binds when it splits: 0.0526 of it.
    before_g = as_float(solids.sucrose_g + solids.hexose_g)
    bound_g = before_g * 0.0526 * as_float(spread) / 100 / math.sqrt(24)
    fibre_g = as_float(solids.insoluble_g * plan.spreads.fibre_pct) / 100 / math.sqrt(6)
    off = math.hypot(
        as_float(plan.spreads.weighing_g) / liquid_g,
        math.hypot(fruit_g, bound_g) / soluble_g,
        fibre_g / liquid_g,
    )
    return brix, brix * off


def _by_temperature(
    plan: StovePlan, event: Event, solids: Solids | None
) -> tuple[float, float] | str:
    rise_k = as_float(event.value - water_reads_c(plan))
    if rise_k < _TOLD_K:
        return "The thermometer is hardly above boiling water: it tells little yet."
    if has_vinegar(plan):
        return "With vinegar in it the thermometer does not tell the Brix: finish by weight."
    composition, pressure = composition_of(solids), pressure_pa(plan)
    try:
        brix = brix_from_rise(rise_k=rise_k, pressure_pa=pressure, composition=composition)
        # Half a kelvin either way would cross zero low down; the local slope does not.
        near = [
            boiling_point_rise_k(brix=one, pressure_pa=pressure, composition=composition)
            for one in (max(brix - 0.25, 0.0), min(brix + 0.25, 95.0))
        ]
    except PhysicsError:
        return (
            f"{say(event.value)} °C is beyond what the sum knows: caramel or a dry spot. Stir and "
            "read again, off the bottom."
        )
    return brix, math.hypot(*temperature_sd_k(plan).values()) * 0.5 / (near[1] - near[0])


def _by_refractometer(event: Event, solids: Solids | None) -> tuple[float, float] | str:
    try:
        brix = as_float(event.value)
        if event.sample_c is not None:
            brix = brix_at_20_c(reading_brix=brix, temperature_c=as_float(event.sample_c))
    except PhysicsError as refused:
        return str(refused)
    is_pulpy = (
        solids is not None
        and solids.insoluble_g > 0
        and as_float(solids.insoluble_g / (solids.soluble_g + solids.insoluble_g)) > _PULPY_SHARE
    )
    sd = _PULPY_BRIX if is_pulpy else _CLEAR_BRIX
    return brix, sd if event.sample_c is not None else math.hypot(sd, _NOT_CORRECTED_BRIX)


def _carried(
    read: tuple[float, float], solids: Solids | None, rate: Decimal | None, *, minutes: float
) -> tuple[float, float]:
    """A reading brought to a later minute by the water lost since; its doubt grows with it."""
    brix, sd = read
    if minutes <= 0 or solids is None or rate is None or brix <= 0:
        return brix, sd * (1 + minutes / _STALE_MIN)
    soluble_g = as_float(solids.soluble_g)
    lost_g = as_float(rate) * minutes
    liquid_g = max(100 * soluble_g / brix - lost_g, soluble_g * 1.02)
    later = 100 * soluble_g / liquid_g
    return later, math.hypot(sd * later / brix, 0.3 * lost_g / liquid_g * later)


# --- What follows from them -----------------------------------------------------------------------


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
    to_go: Decimal | None, rate: Decimal | None, *, as_of: datetime, at: datetime
) -> Decimal | None:
    if to_go is None or rate is None:
        return None
    left = max(as_float(to_go), 0.0) / as_float(rate) - max(_minutes_between(as_of, at), 0.0)
    return exact(max(left, 0.0), step="0.1")


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
        names = f"{_NAMES[one.kind]} and {_NAMES[other.kind]}".capitalize()
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


def _sentence(
    verdict: str,
    to_go: Decimal | None,
    minutes: Decimal | None,
    contradictions: Sequence[str],
) -> str:
    grams = None if to_go is None else say(abs(to_go), places=0)
    if verdict in (KEEP_GOING, NEARLY):
        start = "Nearly there" if verdict == NEARLY else "Keep going"
        left = "" if grams is None else f": {grams} g of water to boil off"
        time = "" if minutes is None else f", about {say(minutes, places=0)} min"
        if minutes == 0:
            time = ". By your rate it should be there now: read again"
        end = " Turn the fire down and scrape." if verdict == NEARLY else ""
        said = f"{start}{left}{time}.{end}"
    elif verdict == DONE:
        said = "Done, as far as these readings tell. Off the fire; test the set on a cold plate."
    else:
        water = "" if grams is None else f" {grams} g of water would bring it back."
        said = f"Too far: off the fire now.{water}"
    return said if not contradictions else f"{said} But the readings disagree."
