"""What is known at the stove: the plan of a pan, what was read of it, and how sure each is."""

import math
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from costing.physics import (
    PRESERVE,
    Composition,
    PhysicsError,
    local_pressure_pa,
    standard_pressure_pa,
    water_boiling_point_c,
)
from costing.reckoning.book import KitchenRecord, RecipeRecord, Solids
from costing.reckoning.pan import inverted
from costing.units import as_float, exact

HUNDRED = Decimal(100)
WEIGHT, TEMPERATURE, REFRACTOMETER, WATER, SUGAR, STRUCK = (
    "weight",
    "temperature",
    "brix",
    "water",
    "sugar",
    "struck",
)
INSTRUMENTS = (WEIGHT, TEMPERATURE, REFRACTOMETER)

# Fruit brings little sucrose: what is hexose or acid before the fire came with the fruit.
_HEXOSE_AND_ACID_OF_FRUIT = Decimal("0.85")
_PA_PER_HPA = 100.0


@dataclass(frozen=True)
class Spreads:
    """How sure each figure is; all are judgement until a kitchen's own batches say better.

    fruit_pct: most that the fruit's solids may be off, either way, in percent of them; None = 12
        for a usual value (11 to 14 for 12.5 Brix), 4 where the Brix was measured.
    fibre_pct: the same for fibre. inverted_below_pct, inverted_above_pct: how far the share of
        inverted sugar may lie from the plan. thermometer_k: sd; None = 0.25 when it was read in
        boiling water that day, else 0.75. weather_k: sd of the boiling point of water where
        neither boiling water nor air pressure was read (8 hPa). stirring_k, model_k: sd.
        weighing_g: sd of pot less pan. rate_pct: sd of the water lost in a minute.
    residue_g: sd of what sticks to the pan, by the kitchen's own batches; None = from half the
        figure to double.
    """

    fruit_pct: Decimal | None = None
    fibre_pct: Decimal = Decimal(33)
    inverted_below_pct: Decimal = Decimal(15)
    inverted_above_pct: Decimal = Decimal(20)
    thermometer_k: Decimal | None = None
    weather_k: Decimal = Decimal("0.22")
    stirring_k: Decimal = Decimal("0.2")
    model_k: Decimal = Decimal("0.3")
    weighing_g: Decimal = Decimal(5)
    rate_pct: Decimal = Decimal(10)
    residue_g: Decimal | None = None


@dataclass(frozen=True)
class StovePlan:
    """A pan about to be cooked, or on the fire.

    recipe: as scaled for this pan; its cook says where it stops. solids: of all that goes in,
        before any sugar inverts; None = something's Brix is not known.
    water_reading_c: what this thermometer shows in boiling water today.
    report_hpa: air pressure of a weather report, reduced to sea level as reports are.
    fruit_soluble_g: the part of the soluble solids that came with fruit; None = told from its
        hexose and acid. names: of what goes in, for the question about acidity.
    """

    recipe: RecipeRecord
    kitchen: KitchenRecord
    ingoing_g: Decimal
    solids: Solids | None
    pan_tare_g: Decimal | None = None
    pan_residue_g: Decimal | None = None
    evaporation_g_per_min: Decimal | None = None
    water_reading_c: Decimal | None = None
    report_hpa: Decimal | None = None
    started_at: datetime | None = None
    fruit_soluble_g: Decimal | None = None
    fruit_brix_is_measured: bool = False
    names: tuple[str, ...] = ()
    spreads: Spreads = field(default_factory=Spreads)


@dataclass(frozen=True)
class Event:
    """Something read or added. kind "weight" [g on the scale], "temperature" [C on this
    thermometer], "brix" [refractometer], "water" or "sugar" [g put in after the start].

    tare_g: what of the weight is pan; None = the scale was set to zero with the empty pan.
    sample_c: temperature of the drop on a refractometer that does not correct for it.
    """

    kind: str
    value: Decimal
    at: datetime
    tare_g: Decimal | None = None
    sample_c: Decimal | None = None


@dataclass(frozen=True)
class Ask:
    """A question about something read, which until answered is left out of the sums.

    about: "tare", "fahrenheit", "below water", "too hot", "below solids", "above ingoing",
        "heavier", "read hot", "range", "stop", "brix", "rate", "pressure", "water", "ph" or
        "again".
    event: what it is about. suggestion: the same event as it was probably meant.
    """

    sentence: str
    about: str
    event: Event | None = None
    suggestion: Event | None = None


@dataclass(frozen=True)
class Band:
    """A figure with the range that holds it nine times in ten (5 to 95 %)."""

    value: Decimal
    low: Decimal
    high: Decimal


def banded(value: float, low: float, high: float, *, step: str) -> Band:
    """A band from floats, its own value never outside it."""
    return Band(
        exact(value, step=step),
        exact(min(low, value), step=step),
        exact(max(high, value), step=step),
    )


def say(value: Decimal | float, *, places: int = 1) -> str:
    """A figure for a sentence: so many decimals at most, no trailing zeros."""
    written = f"{value:.{places}f}"
    return written.rstrip("0").rstrip(".") if "." in written else written


def pressure_pa(plan: StovePlan) -> float:
    """Air pressure on the pan: from the weather report, else standard for the altitude [Pa]."""
    altitude_m = as_float(plan.kitchen.altitude_m)
    if plan.report_hpa is not None:
        try:
            return local_pressure_pa(
                sea_level_pressure_pa=as_float(plan.report_hpa) * _PA_PER_HPA,
                altitude_m=altitude_m,
            )
        except PhysicsError:
            pass  # `air_pressure` asks about it; the altitude alone is the next best
    return standard_pressure_pa(altitude_m=altitude_m)


def water_boils_c(plan: StovePlan) -> Decimal:
    """True boiling point of water at this pan today, as far as air pressure tells [C]."""
    return exact(water_boiling_point_c(pressure_pa=pressure_pa(plan)), step="0.0001")


def water_reads_c(plan: StovePlan) -> Decimal:
    """What this thermometer shows, or should show, in boiling water today [C]."""
    return water_boils_c(plan) if plan.water_reading_c is None else plan.water_reading_c


def solids_with(plan: StovePlan, *, sugar_g: Decimal = Decimal(0)) -> Solids | None:
    """Solids of the pan after inversion, sugar added on the way counted; None = not known."""
    if plan.solids is None:
        return None
    before = plan.solids
    grown = Solids(
        before.soluble_g + sugar_g,
        before.insoluble_g,
        before.sucrose_g + sugar_g,
        before.hexose_g,
        before.acid_g,
    )
    return inverted(grown, inverted_pct=plan.recipe.cook.inverted_pct)


def composition_of(solids: Solids | None) -> Composition:
    """What the dissolved solids consist of; the usual preserve where nothing is known."""
    if solids is None or solids.soluble_g <= 0:
        return PRESERVE
    return Composition.from_masses(
        sucrose_g=as_float(solids.sucrose_g),
        hexose_g=as_float(solids.hexose_g),
        acid_g=as_float(solids.acid_g),
    )


def fruit_soluble_g(plan: StovePlan) -> Decimal:
    """Soluble solids that came with fruit, whose Brix is never quite known [g]."""
    if plan.solids is None:
        return Decimal(0)
    if plan.fruit_soluble_g is not None:
        return min(plan.fruit_soluble_g, plan.solids.soluble_g)
    told = (plan.solids.hexose_g + plan.solids.acid_g) / _HEXOSE_AND_ACID_OF_FRUIT
    return min(told, plan.solids.soluble_g)


def fruit_off_share(plan: StovePlan) -> float:
    """Most that the fruit's solids may be off, as a share of them."""
    stated = plan.spreads.fruit_pct
    if stated is None:
        stated = Decimal(4) if plan.fruit_brix_is_measured else Decimal(12)
    return as_float(stated) / 100


def has_vinegar(plan: StovePlan) -> bool:
    """Whether vinegar goes in, whose acid boils off: then heat does not tell Brix."""
    return any("vinegar" in name.casefold() for name in plan.names)


def temperature_sd_k(plan: StovePlan) -> dict[str, float]:
    """Standard deviations of a rise read at the pan, by where they come from [K]."""
    spreads = plan.spreads
    is_checked = plan.water_reading_c is not None
    thermometer = spreads.thermometer_k
    if thermometer is None:
        thermometer = Decimal("0.25") if is_checked else Decimal("0.75")
    is_weather_known = is_checked or plan.report_hpa is not None
    return {
        "thermometer": math.hypot(as_float(thermometer), as_float(spreads.stirring_k)),
        "weather": 0.0 if is_weather_known else as_float(spreads.weather_k),
        "model": as_float(spreads.model_k),
    }
