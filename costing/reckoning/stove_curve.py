"""The cook-down curve as figures: the planned line, what was read, and where it stops."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from costing.physics import Composition, PhysicsError, boiling_point_rise_k
from costing.reckoning.book import Solids
from costing.reckoning.stove_checks import check
from costing.reckoning.stove_now import now
from costing.reckoning.stove_plan import (
    INSTRUMENTS,
    Event,
    StovePlan,
    composition_of,
    pressure_pa,
    solids_with,
    water_reads_c,
)
from costing.reckoning.stove_target import Target, target
from costing.reckoning.stove_time import minutes_to_boil_off
from costing.units import as_float, exact

STEPS = 40


@dataclass(frozen=True)
class CurvePoint:
    """One moment: minutes from the start of the boil, None where no rate is known."""

    minutes: Decimal | None
    pot_g: Decimal
    brix: Decimal
    reading_c: Decimal | None = None
    kind: str = "plan"


@dataclass(frozen=True)
class CurveRecords:
    """What the picture draws: the plan from raw to done, each reading, and the stop."""

    plan: tuple[CurvePoint, ...] = ()
    readings: tuple[CurvePoint, ...] = ()
    target: Target | None = None


def curve(plan: StovePlan, events: Sequence[Event]) -> CurveRecords:
    """Points for the picture; empty lines where the solids or the stop are not known."""
    goal = target(plan)
    solids = solids_with(plan)
    if solids is None or goal.pot_g is None or goal.brix is None:
        return CurveRecords(target=goal)
    kept = check(plan, events).events
    start = plan.started_at or (kept[0].at if kept else None)
    points = []
    composition, pressure = composition_of(solids), pressure_pa(plan)
    span_g = plan.ingoing_g - goal.pot_g.value
    for step in range(STEPS + 1):
        lost_g = span_g * step / STEPS
        pot_g = plan.ingoing_g - lost_g
        liquid_g = pot_g - solids.insoluble_g
        brix = solids.soluble_g * 100 / liquid_g
        points.append(
            CurvePoint(
                minutes=_after(plan, solids, pot_g),
                pot_g=pot_g.quantize(Decimal("0.1")),
                brix=brix.quantize(Decimal("0.01")),
                reading_c=_reading(plan, brix, pressure, composition),
            )
        )
    return CurveRecords(tuple(points), _readings(plan, kept, start), goal)


def _after(plan: StovePlan, solids: Solids, pot_g: Decimal) -> Decimal | None:
    """Minutes of boiling until so much is left, the fire turned down once it is thick."""
    rate = plan.evaporation_g_per_min
    if rate is None or rate <= 0:
        return None
    minutes = minutes_to_boil_off(
        solids,
        from_g=as_float(plan.ingoing_g),
        to_g=as_float(pot_g),
        rate=as_float(rate),
        is_turned_down=False,
    )
    return exact(minutes, step="0.1")


def _reading(
    plan: StovePlan, brix: Decimal, pressure: float, composition: Composition
) -> Decimal | None:
    try:
        rise = boiling_point_rise_k(
            brix=as_float(brix), pressure_pa=pressure, composition=composition
        )
    except PhysicsError:
        return None
    return water_reads_c(plan) + exact(rise, step="0.01")


def _readings(
    plan: StovePlan, events: Sequence[Event], start: datetime | None
) -> tuple[CurvePoint, ...]:
    """Each reading by itself, where it stands alone; what was put in before it is counted."""
    found = []
    for position, event in enumerate(events):
        if event.kind not in INSTRUMENTS:
            continue
        before = [one for one in events[:position] if one.kind not in INSTRUMENTS]
        alone = now(plan, [*before, event], at=event.at)
        if alone.brix is None or alone.pot_g is None or start is None:
            continue
        minutes = exact((event.at - start).total_seconds() / 60, step="0.1")
        reading_c = event.value if event.kind == "temperature" else None
        found.append(
            CurvePoint(minutes, alone.pot_g.value, alone.brix.value, reading_c, event.kind)
        )
    return tuple(found)
