"""Where a pan stops, on the maker's own thermometer and scale, with how sure each figure is."""

import math
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from costing.physics import (
    DrawnCook,
    PhysicsError,
    Spread,
    boiling_point_rise_k,
    brix_from_rise,
    brix_per_k,
)
from costing.reckoning.book import (
    BOIL_DOWN,
    BRIX,
    COOK_LOSS,
    FINAL_WEIGHT,
    READING,
    RISE,
    SHARE,
)
from costing.reckoning.stove_draws import (
    SD_90,
    End,
    drawn,
    drawn_rise,
    moved_alone,
    usual_end,
)
from costing.reckoning.stove_plan import (
    HUNDRED,
    Ask,
    Band,
    StovePlan,
    banded,
    composition_of,
    has_vinegar,
    pressure_pa,
    say,
    solids_with,
    temperature_sd_k,
    water_boils_c,
    water_reads_c,
)
from costing.reckoning.stove_time import minutes_to_boil_off
from costing.units import as_float

HIGHEST_BRIX = 85.0

_SMALL_RISE_K = 2.5
_NOT_BOILING_WATER_K = Decimal(10)
_STEP_G, _STEP_BRIX, _STEP_K, _STEP_MIN = "0.1", "0.01", "0.01", "0.1"


@dataclass(frozen=True)
class Target:
    """Where to stop, each figure with its 5 to 95 % band; None where it cannot be told.

    reading_c: on this thermometer. rise_k: above its boiling water. gross_g: on the scale, pan
        included; None without the pan's tare. water_g: to boil off from the start. minutes: at
        the boil, at this pan's rate, the fire turned down once it is thick.
    weakest: what limits the accuracy and what to measure. asks: what is needed and not known.
    """

    reading_c: Band | None = None
    rise_k: Band | None = None
    brix: Band | None = None
    pot_g: Band | None = None
    gross_g: Band | None = None
    finished_g: Band | None = None
    water_g: Band | None = None
    minutes: Band | None = None
    water_reads_c: Decimal | None = None
    weakest: str = ""
    asks: tuple[Ask, ...] = ()
    cautions: tuple[str, ...] = ()


@lru_cache(maxsize=128)
def target(plan: StovePlan) -> Target:
    """Where this pan stops. Nothing is raised: what is missing stands in `asks`."""
    form, value = _stop(plan)
    if value is None:
        return Target(asks=(_ask_stop(plan),))
    try:
        if (ask := _ask_water(plan)) is not None:
            return Target(asks=(ask,))
        if plan.solids is None or plan.solids.soluble_g <= 0:
            return _without_solids(plan, form, value)
        return _with_solids(plan, form, value)
    except PhysicsError as refused:
        return Target(asks=(Ask(str(refused), "stop"),))


def target_brix(plan: StovePlan) -> Decimal | None:
    """Brix of the liquid where this pan stops; None where it cannot be told."""
    found = target(plan).brix
    return None if found is None else found.value


def _stop(plan: StovePlan) -> tuple[str, float | None]:
    cook = plan.recipe.cook
    if cook.kind == COOK_LOSS and cook.cook_loss_pct is not None:
        return SHARE, as_float(HUNDRED - cook.cook_loss_pct)
    if cook.kind != BOIL_DOWN or cook.stop_value is None or cook.stop_value <= 0:
        return BRIX, None
    if cook.stop_form != READING:
        return cook.stop_form, as_float(cook.stop_value)
    # A reading belongs to the thermometer and the weather of the recipe: keep its rise.
    then = cook.water_reading_c or plan.kitchen.water_reading_c
    rise_k = cook.stop_value - (water_boils_c(plan) if then is None else then)
    return RISE, as_float(rise_k) if rise_k > 0 else None


def _ask_water(plan: StovePlan) -> Ask | None:
    """Asks about a reading in boiling water that cannot be one."""
    read_c, boils_c = plan.water_reading_c, water_boils_c(plan)
    if read_c is None or abs(read_c - boils_c) <= _NOT_BOILING_WATER_K:
        return None
    is_fahrenheit = abs((read_c - 32) / Decimal("1.8") - boils_c) <= _NOT_BOILING_WATER_K
    guess = " Is that Fahrenheit? Type degrees Celsius." if is_fahrenheit else ""
    return Ask(
        f"{say(read_c)} °C in boiling water cannot be: here it boils at {say(boils_c)} °C.{guess} "
        "Read it again at a full boil, and check the altitude.",
        "water",
    )


def _ask_stop(plan: StovePlan) -> Ask:
    return Ask(
        f"Where does {plan.recipe.name} stop? Give its recipe a Brix, a rise above boiling water, "
        "a weight or a share; a reading must lie above boiling water.",
        "stop",
    )


def _without_solids(plan: StovePlan, form: str, value: float) -> Target:
    """Only the thermometer helps where the Brix of something is not known."""
    ask = Ask(
        "The Brix of something in this pan is not known, so neither weight nor yield can be told. "
        "Put a cooled drop of its juice on a refractometer.",
        "brix",
    )
    if form not in (BRIX, RISE):
        pot_g = value if form == FINAL_WEIGHT else as_float(plan.ingoing_g) * value / 100
        tare = plan.pan_tare_g
        return Target(
            pot_g=banded(pot_g, pot_g, pot_g, step=_STEP_G),
            gross_g=_moved(banded(pot_g, pot_g, pot_g, step=_STEP_G), tare),
            water_reads_c=water_reads_c(plan),
            asks=(ask,),
        )
    composition, pressure = composition_of(None), pressure_pa(plan)
    off = SD_90 * math.hypot(*temperature_sd_k(plan).values())
    if form == RISE:
        brix = brix_from_rise(rise_k=value, pressure_pa=pressure, composition=composition)
        rise, off_rise, off_brix = value, 0.0, off * _slope(brix, plan)
    else:
        brix, off_rise, off_brix = value, off, 0.0
        rise = boiling_point_rise_k(brix=brix, pressure_pa=pressure, composition=composition)
    rise_band = banded(rise, rise - off_rise, rise + off_rise, step=_STEP_K)
    return Target(
        reading_c=_moved(rise_band, water_reads_c(plan)),
        rise_k=rise_band,
        brix=banded(brix, brix - off_brix, brix + off_brix, step=_STEP_BRIX),
        water_reads_c=water_reads_c(plan),
        weakest="The usual make-up of a preserve is taken, because the Brix of what went in is "
        "not known: measure it.",
        asks=(ask,),
    )


def _slope(brix: float, plan: StovePlan) -> float:
    return brix_per_k(
        brix=brix, pressure_pa=pressure_pa(plan), composition=composition_of(solids_with(plan))
    )


def _with_solids(plan: StovePlan, form: str, value: float) -> Target:
    end = usual_end(plan, form, value)
    if not 0 < end.brix <= HIGHEST_BRIX or end.pot_g > as_float(plan.ingoing_g) * 1.0000001:
        return Target(asks=(_unreachable(plan, end),))
    cook = drawn(plan, form, value, end=end)
    spread = cook.summary()

    def band(usual: float, name: str, step: str) -> Band:
        return banded(usual, spread[name].p5, spread[name].p95, step=step)

    pot = band(end.pot_g, "pot_mass_g", _STEP_G)
    rise = _rise(plan, form, end, cook)
    water_g = max(as_float(plan.ingoing_g) - end.pot_g, 0.0)
    return Target(
        reading_c=_moved(rise, water_reads_c(plan)),
        rise_k=rise,
        brix=band(end.brix, "brix", _STEP_BRIX),
        pot_g=pot,
        gross_g=_moved(pot, plan.pan_tare_g),
        finished_g=band(end.finished_g, "delivered_g", _STEP_G),
        water_g=band(water_g, "water_boiled_off_g", _STEP_G),
        minutes=_minutes(plan, end, spread["water_boiled_off_g"]),
        water_reads_c=water_reads_c(plan),
        weakest=_weakest(plan, form, value, end),
        asks=_missing(plan),
        cautions=_cautions(plan, end),
    )


def _rise(plan: StovePlan, form: str, end: End, cook: DrawnCook) -> Band:
    """A stated rise is what the maker stops at: its doubt shows in Brix and mass, not in itself."""
    if form == RISE:
        return banded(end.rise_k, end.rise_k, end.rise_k, step=_STEP_K)
    spread = drawn_rise(plan, cook)
    off_k = SD_90 * math.hypot(*temperature_sd_k(plan).values())
    return banded(
        end.rise_k,
        end.rise_k - math.hypot(off_k, max(end.rise_k - spread.p5, 0.0)),
        end.rise_k + math.hypot(off_k, max(spread.p95 - end.rise_k, 0.0)),
        step=_STEP_K,
    )


def _moved(band: Band, by: Decimal | None) -> Band | None:
    if by is None:
        return None
    return Band(band.value + by, band.low + by, band.high + by)


def _minutes(plan: StovePlan, end: End, water: Spread) -> Band | None:
    solids, rate = solids_with(plan), plan.evaporation_g_per_min
    if rate is None or rate <= 0 or solids is None:
        return None
    ingoing_g = as_float(plan.ingoing_g)

    def boil(to_g: float) -> float:
        return minutes_to_boil_off(
            solids, from_g=ingoing_g, to_g=to_g, rate=as_float(rate), is_turned_down=False
        )

    usual = boil(end.pot_g)
    by_rate = SD_90 * usual * as_float(plan.spreads.rate_pct) / 100
    less, more = boil(ingoing_g - water.p5), boil(ingoing_g - water.p95)
    return banded(
        usual,
        max(usual - math.hypot(by_rate, usual - less), 0.0),
        usual + math.hypot(by_rate, more - usual),
        step=_STEP_MIN,
    )


_ADVICE = {
    "thermometer": "Your thermometer is the weakest link: read it in boiling water today, stir "
    "before reading, or finish by weighing the pot.",
    "weather": "The air pressure of today is the weakest link: read your thermometer in boiling "
    "water, and altitude and weather drop out.",
    "model": "The boiling point itself is only known to a third of a degree: finish by weighing "
    "the pot.",
    "fruit": "The Brix of the fruit is the weakest link: put a cooled, strained drop of it on a "
    "refractometer before it goes in.",
    "fibre": "The fibre of the fruit is the weakest link: a finer sieve, or weighing the pot and "
    "reading its Brix once at the end, tells it.",
    "inversion": "How much sugar inverts is the weakest link: read a cooled drop on a "
    "refractometer at the end and note it with the weight; your next pans know better.",
    "residue": "What sticks to the pan is the weakest link: weigh the scraped pan once.",
}


def _weakest(plan: StovePlan, form: str, value: float, end: End) -> str:
    """The unknown that moves the finished mass, or where that is set the Brix, most."""
    is_mass_set = form in (FINAL_WEIGHT, SHARE)
    moved = moved_alone(plan, form, value, end=end)
    name = max(moved, key=lambda one: moved[one])
    if name == "thermometer" and plan.water_reading_c is not None:
        advice = (
            "Your thermometer is the weakest link, though checked: stir before reading and finish "
            "by weighing the pot."
        )
    else:
        advice = _ADVICE[name]
    unit = "Brix" if is_mass_set else "g"
    return (
        f"{advice} It alone is worth ± {say(moved[name], places=1 if is_mass_set else 0)} {unit}."
    )


def _missing(plan: StovePlan) -> tuple[Ask, ...]:
    asks = []
    if plan.pan_tare_g is None:
        asks.append(
            Ask("What does the empty pan weigh, spoon and thermometer with it? Weigh it once.",
                "tare")
        )  # fmt: skip
    if plan.evaporation_g_per_min is None:
        asks.append(
            Ask(
                "How fast does this pan lose water? Weigh it twice, ten minutes of boiling apart, "
                "and the minutes can be told.",
                "rate",
            )
        )
    return tuple(asks)


def _unreachable(plan: StovePlan, end: End) -> Ask:
    if end.pot_g > as_float(plan.ingoing_g):
        return Ask(
            f"This pan is thicker than its stop already: it would weigh {say(end.pot_g, places=0)} "
            f"g there, and only {say(plan.ingoing_g, places=0)} g go in. Check the recipe, or add "
            "water.",
            "stop",
        )
    return Ask(
        f"The stop of this recipe lies at {say(end.brix)} Brix, beyond what a preserve can be. "
        "Check where the recipe stops and the Brix of the fruit.",
        "stop",
    )


def _cautions(plan: StovePlan, end: End) -> tuple[str, ...]:
    said = []
    boils_c = water_boils_c(plan)
    if plan.water_reading_c is not None and abs(plan.water_reading_c - boils_c) > 1:
        said.append(
            f"Your thermometer shows {say(plan.water_reading_c)} °C in water that boils at "
            f"{say(boils_c)} °C here. The difference is taken into account; if that surprises "
            "you, check the altitude and read it again at a full boil."
        )
    cook = plan.recipe.cook
    if cook.stop_form == READING and cook.kind == BOIL_DOWN and plan.kitchen.altitude_m > 150:
        said.append(
            "The recipe states a reading in °C, which belongs to one altitude and one "
            "thermometer: state the rise above boiling water instead."
        )
    if has_vinegar(plan):
        said.append(
            "With vinegar, and with salt, the temperature does not tell the Brix: finish by weight."
        )
    if end.rise_k < _SMALL_RISE_K:
        said.append(
            f"A rise of {say(end.rise_k)} degrees is too small for a kitchen thermometer: finish "
            "by weight."
        )
    if end.brix > 80:
        said.append("Above 80 Brix temperature is only indicative, ± 1.5 K: finish by weight.")
    return tuple(said)
