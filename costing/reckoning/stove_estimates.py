"""What each instrument says of the Brix in the pan, how surely, and how fast water goes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from costing.physics import (
    BURN_ON_BRIX,
    BURN_ON_POWER_SHARE,
    PhysicsError,
    boiling_point_rise_k,
    brix_at_20_c,
    brix_from_rise,
    brix_with_invert_and_acid,
    combine,
)
from costing.physics import Estimate as OneReading
from costing.physics.readings import Method
from costing.reckoning.book import Solids
from costing.reckoning.stove_checks import added_g, net_g
from costing.reckoning.stove_plan import (
    REFRACTOMETER,
    SUGAR,
    TEMPERATURE,
    WATER,
    WEIGHT,
    Event,
    StovePlan,
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
from costing.units import as_float, exact

INSTRUMENT_NAMES = {WEIGHT: "weight", TEMPERATURE: "thermometer", REFRACTOMETER: "refractometer"}
_METHODS: dict[str, Method] = {
    WEIGHT: "weight",
    TEMPERATURE: "temperature",
    REFRACTOMETER: "refractometer",
}
THIS_COOK, THIS_PAN = "this cook", "this pan"
# Sound to 80 Brix; to 85 the boiling point is good to 1.5 K, above it is explanation only.
_ROUGH_K = ((80.0, 0.0), (85.0, 0.9), (100.0, 3.0))
_TOLD_K = 0.3
_CLEAR_BRIX, _PULPY_BRIX, _NOT_CORRECTED_BRIX = 0.75, 1.5, 0.5
_PULPY_SHARE = 0.01
_ONLY_TEMPERATURE = (
    "The refractometer reading is not corrected for invert sugar and acid, which its scale shows"
    " half a Brix too low or so: what the sugar in this pan consists of is not known."
)
_STALE_MIN, _APART_MIN = 15.0, 3.0


@dataclass(frozen=True)
class Estimate:
    """Brix by one instrument, with its standard deviation, at the time of the newest reading."""

    kind: str
    brix: Decimal
    sd_brix: Decimal
    event: Event


@dataclass(frozen=True)
class Rate:
    """Water lost in a minute [g/min]. told_by: THIS_COOK or THIS_PAN.

    is_turned_down: measured where the pan is thick and the fire is low, so it is not cut again.
    """

    g_per_min: Decimal
    told_by: str
    is_turned_down: bool = False


def combined(estimates: Sequence[Estimate]) -> tuple[float, float]:
    """One Brix and its sd from several, each weighing 1/sd^2.

    Readings that scatter more than their sds let expect widen it (Birge ratio).
    """
    found = combine(
        [
            OneReading(_METHODS[one.kind], as_float(one.brix), as_float(one.sd_brix))
            for one in estimates
        ]
    )
    return found.brix, found.widened_uncertainty


def rate_g_per_min(plan: StovePlan, events: Sequence[Event]) -> Rate | None:
    """Water lost in a minute: between the last two weighings, else as this pan does."""
    weights = [event for event in events if event.kind == WEIGHT]
    for first in reversed(weights[:-1]):
        last = weights[-1]
        minutes = minutes_between(first.at, last.at)
        if minutes < _APART_MIN:
            continue
        since = [event for event in events if first.at < event.at <= last.at]
        lost_g = net_g(first) + added_g(since, WATER) + added_g(since, SUGAR) - net_g(last)
        if lost_g > 0:
            rate = exact(as_float(lost_g) / minutes, step="0.1")
            return Rate(rate, THIS_COOK, _is_thick(plan, events, (net_g(first) + net_g(last)) / 2))
        break
    found = plan.evaporation_g_per_min
    return None if found is None or found <= 0 else Rate(found, THIS_PAN)


def _is_thick(plan: StovePlan, events: Sequence[Event], food_g: Decimal) -> bool:
    """Whether so much food stands past the Brix from which the fire is turned down."""
    solids = solids_with(plan, sugar_g=added_g(events, SUGAR))
    if solids is None:
        return False
    thick_g = as_float(solids.soluble_g) * 100 / BURN_ON_BRIX + as_float(solids.insoluble_g)
    return as_float(food_g) <= thick_g


def minutes_between(first: datetime, last: datetime) -> float:
    """Time from one moment to another [min]."""
    return (last - first).total_seconds() / 60


def estimates_of(
    plan: StovePlan, events: Sequence[Event], rate: Decimal | None, *, is_full_fire: bool = False
) -> tuple[tuple[Estimate, ...], tuple[str, ...]]:
    """The last reading of each instrument, carried to the time of the newest one.

    is_full_fire: the rate is that of a full fire, which is turned down once the pan is thick.
    """
    latest = {e.kind: e for e in events if e.kind in INSTRUMENT_NAMES}
    changes = [e for e in events if e.kind in (WATER, SUGAR)]
    solids = solids_with(plan, sugar_g=added_g(events, SUGAR))
    found: list[Estimate] = []
    notes: list[str] = []
    if not latest:
        return (), ()
    newest = max(event.at for event in latest.values())
    for kind, event in latest.items():
        put_in_since = [one for one in changes if one.at > event.at]
        if put_in_since or minutes_between(event.at, newest) > _STALE_MIN:
            notes.append(
                f"The last {INSTRUMENT_NAMES[kind]} reading is too old to count: read it again."
            )
            continue
        read = _read(plan, event, solids)
        if isinstance(read, str):
            notes.append(read)
            continue
        is_low = is_full_fire and read[0] >= BURN_ON_BRIX
        now_rate = rate * exact(BURN_ON_POWER_SHARE, step="0.01") if rate and is_low else rate
        if kind == REFRACTOMETER and sugar_scale_misses(read[0], solids) is None:
            notes.append(_ONLY_TEMPERATURE)
        brix, sd = _carried(read, solids, now_rate, minutes=minutes_between(event.at, newest))
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
    rough_k = next(sd_k for below, sd_k in _ROUGH_K if brix <= below)
    sd_k = math.hypot(rough_k, *temperature_sd_k(plan).values())
    return brix, sd_k * 0.5 / (near[1] - near[0])


def _by_refractometer(event: Event, solids: Solids | None) -> tuple[float, float] | str:
    try:
        brix = as_float(event.value)
        if event.sample_c is not None:
            brix = brix_at_20_c(reading_brix=brix, temperature_c=as_float(event.sample_c))
        brix += sugar_scale_misses(brix, solids) or 0.0
    except PhysicsError as refused:
        return str(refused)
    is_pulpy = (
        solids is not None
        and solids.insoluble_g > 0
        and as_float(solids.insoluble_g / (solids.soluble_g + solids.insoluble_g)) > _PULPY_SHARE
    )
    sd = _PULPY_BRIX if is_pulpy else _CLEAR_BRIX
    return brix, sd if event.sample_c is not None else math.hypot(sd, _NOT_CORRECTED_BRIX)


def sugar_scale_misses(brix: float, solids: Solids | None) -> float | None:
    """Brix that a refractometer's sugar scale does not show of invert sugar and acid.

    solids: of the pan, its inversion counted; None = nobody knows what the sugar consists of.
    """
    if solids is None or solids.soluble_g <= 0:
        return None
    made_of = composition_of(solids)
    whole = brix_with_invert_and_acid(
        brix_at_20_c=brix,
        invert_pct=brix * float(made_of.hexose),
        acid_pct=brix * float(made_of.acid),
    )
    return float(whole) - brix


def refractometer_shows(plan: StovePlan, brix: Decimal) -> Decimal | None:
    """What a refractometer shows when the pan is at this Brix; None = not known."""
    misses = sugar_scale_misses(as_float(brix), solids_with(plan))
    return None if misses is None else brix - exact(misses, step="0.01")


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
