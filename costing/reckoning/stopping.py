"""When a pan is done: the five ways a maker may say it, each turned into mass and Brix."""

from dataclasses import dataclass
from decimal import Decimal

from costing.physics import (
    Composition,
    PhysicsError,
    boiling_point_rise_k,
    brix_from_rise,
    reliability,
    standard_pressure_pa,
    water_boiling_point_c,
)
from costing.reckoning.book import (
    BRIX,
    READING,
    RISE,
    SHARE,
    STOP_FORMS,
    CookRecord,
    KitchenRecord,
    Solids,
)
from costing.reckoning.errors import ReckoningError
from costing.reckoning.pan import settled
from costing.units import as_float, exact

HUNDRED = Decimal(100)
HIGHEST_BRIX = Decimal(85)
SOUND_TO_BRIX = Decimal(80)
KEEPS_FROM_BRIX = Decimal(60)
NEEDS_SOLIDS = (READING, RISE, BRIX)

_SMALLEST_STOP = Decimal("0.000001")
_KELVIN_STEP = "0.0001"
_BRIX_STEP = "0.000001"
_THERMOMETER_IS_OFF_K = Decimal(1)
_NOT_BOILING_WATER_K = Decimal(10)


@dataclass(frozen=True)
class Stop:
    """The pan when the fire goes out. Temperatures are None where Brix or altitude is not known."""

    pot_g: Decimal
    brix: Decimal | None = None
    rise_k: Decimal | None = None
    true_c: Decimal | None = None
    reading_c: Decimal | None = None
    water_boils_c: Decimal | None = None
    reliability: str = ""
    cautions: tuple[str, ...] = ()


def stop_at(
    *, ingoing_g: Decimal, solids: Solids | None, cook: CookRecord, kitchen: KitchenRecord
) -> Stop:
    """Mass, Brix and temperatures of a pan boiled down to where its maker stops.

    solids: of the whole pan, inversion counted; None is allowed for a final weight or a share.
    Raises ReckoningError where the stop cannot be reached by boiling, or not by this pan.
    """
    if cook.stop_form not in STOP_FORMS:
        raise ReckoningError(
            f"“{cook.stop_form}” is not a way to say when to stop.", field="stop_form"
        )
    value = cook.stop_value
    if value is None or not value.is_finite() or value < _SMALLEST_STOP:
        raise ReckoningError("Say where to stop with a figure above zero.", field="stop_value")
    if cook.stop_form in NEEDS_SOLIDS:
        if solids is None:
            raise ReckoningError("The solids in the pan are not known.", field="stop_value")
        brix = _stated_brix(value, solids, cook, kitchen)
        pot_g = solids.soluble_g * HUNDRED / brix + solids.insoluble_g
        _refuse_thinner(pot_g, brix, ingoing_g=ingoing_g, solids=solids)
        pot_g = settled(pot_g)
    else:
        pot_g = _stated_mass(value, ingoing_g=ingoing_g, cook=cook)
        if solids is None or solids.soluble_g <= 0:
            return Stop(pot_g=pot_g)
        brix = _brix_of_mass(pot_g, solids)
    return _with_temperatures(pot_g, brix, solids=solids, cook=cook, kitchen=kitchen)


def _stated_brix(
    value: Decimal, solids: Solids, cook: CookRecord, kitchen: KitchenRecord
) -> Decimal:
    if solids.soluble_g <= 0:
        raise ReckoningError(
            "Nothing to concentrate: nothing in the pan has sugar or acid dissolved in it. Add "
            "fruit or sugar, or give the fruit its Brix.",
            field="lines",
        )
    if cook.stop_form == BRIX:
        _refuse_above_range(value, f"{_say(value)} Brix")
        return value
    rise_k = value if cook.stop_form == RISE else _rise_of_reading(value, cook, kitchen)
    try:
        brix = exact(
            brix_from_rise(
                rise_k=as_float(rise_k),
                pressure_pa=_pressure_pa(kitchen),
                composition=_composition(solids),
            ),
            step=_BRIX_STEP,
        )
    except PhysicsError as refused:
        if rise_k > 10:
            brix = HUNDRED  # hotter than the model reaches is certainly above its range
        else:
            raise ReckoningError(str(refused), field="altitude_m") from refused
    _refuse_above_range(brix, f"{_say(rise_k)} K above boiling water")
    if brix <= 0:
        raise ReckoningError(_NOT_ABOVE_WATER.format(rise=_say(rise_k)), field="stop_value")
    return brix


_NOT_ABOVE_WATER = (
    "A stop {rise} K above boiling water is no rise at all: the pan would still be water. Jams "
    "stop about 4 to 6 K above it."
)


def _rise_of_reading(value: Decimal, cook: CookRecord, kitchen: KitchenRecord) -> Decimal:
    water_c = _water_reading_c(cook, kitchen)
    if water_c is None:
        water_c = exact(_water_boils_c(kitchen), step=_KELVIN_STEP)
    if value <= water_c:
        raise ReckoningError(
            f"{_say(value)} °C is not above boiling water, which is {_say(water_c)} °C on this "
            "thermometer. Jams stop about 4 to 6 degrees above it; check the reading and the "
            "altitude of the kitchen.",
            field="stop_value",
        )
    return value - water_c


def _refuse_above_range(brix: Decimal, said: str) -> None:
    if brix > HIGHEST_BRIX:
        raise ReckoningError(
            f"{said} lies above {HIGHEST_BRIX} Brix, where this is hard candy and the sum no "
            "longer holds. Pastes and jams stop between 60 and 75 Brix.",
            field="stop_value",
        )


def _refuse_thinner(pot_g: Decimal, brix: Decimal, *, ingoing_g: Decimal, solids: Solids) -> None:
    if pot_g > ingoing_g:
        liquid_g = ingoing_g - solids.insoluble_g
        at_start = f"{solids.soluble_g * HUNDRED / liquid_g:.1f} Brix" if liquid_g > 0 else "dry"
        raise ReckoningError(
            f"As mixed, with nothing boiled off, the pan already stands at {at_start}; "
            f"{_say(brix)} Brix would need {pot_g - ingoing_g:.1f} g of water added. Stop higher, "
            "or add water to the recipe.",
            field="stop_value",
        )


def _stated_mass(value: Decimal, *, ingoing_g: Decimal, cook: CookRecord) -> Decimal:
    if cook.stop_form == SHARE:
        if value > HUNDRED:
            raise ReckoningError(
                f"{_say(value)} % of what went in cannot be left: boiling only takes away. Type 70 "
                "for 70 % left.",
                field="stop_value",
            )
        return settled(ingoing_g * value / HUNDRED)
    if value > ingoing_g:
        raise ReckoningError(
            f"A finished {_say(value)} g is more than the {_say(ingoing_g)} g that went in. Check "
            "the weight, the tare of the pan and the recipe.",
            field="stop_value",
        )
    return settled(value)


def _brix_of_mass(pot_g: Decimal, solids: Solids) -> Decimal:
    all_solids_g = solids.soluble_g + solids.insoluble_g
    if pot_g <= all_solids_g:
        raise ReckoningError(
            f"{_say(pot_g)} g left is less than the {_say(all_solids_g)} g of solids that went in: "
            "no water would be left. Check the weight and the Brix of the fruit.",
            field="stop_value",
        )
    brix = solids.soluble_g * HUNDRED / (pot_g - solids.insoluble_g)
    _refuse_above_range(brix, f"{_say(pot_g)} g left would be {brix:.1f} Brix and")
    return brix


def _with_temperatures(
    pot_g: Decimal, brix: Decimal, *, solids: Solids, cook: CookRecord, kitchen: KitchenRecord
) -> Stop:
    cautions = _brix_cautions(brix)
    try:
        boils_c = exact(_water_boils_c(kitchen), step=_KELVIN_STEP)
        rise = boiling_point_rise_k(
            brix=as_float(brix), pressure_pa=_pressure_pa(kitchen), composition=_composition(solids)
        )
    except PhysicsError as refused:
        return Stop(pot_g, brix, cautions=(*cautions, f"No temperature can be told: {refused}"))
    rise_k = exact(rise, step=_KELVIN_STEP)
    water_c = _water_reading_c(cook, kitchen)
    return Stop(
        pot_g=pot_g,
        brix=brix,
        rise_k=rise_k,
        true_c=boils_c + rise_k,
        reading_c=(boils_c if water_c is None else water_c) + rise_k,
        water_boils_c=boils_c,
        reliability=reliability(brix=as_float(brix)),
        cautions=(*cautions, *_water_cautions(water_c, boils_c, kitchen.altitude_m)),
    )


def _water_cautions(
    water_c: Decimal | None, boils_c: Decimal, altitude_m: Decimal
) -> tuple[str, ...]:
    """What to say of the reading in boiling water; refuses one that cannot be boiling water."""
    here = f"{boils_c:.1f} °C at {altitude_m:f} m"
    if water_c is None:
        return (
            (
                f"How your thermometer reads boiling water is not known; {here} is taken. Hold it "
                "in boiling water and type what it shows."
            ),
        )
    off_k = abs(water_c - boils_c)
    if off_k > _NOT_BOILING_WATER_K:
        raise ReckoningError(
            f"{_say(water_c)} °C in boiling water cannot be: water boils at {here}. Read the "
            "thermometer again, and check the altitude.",
            field="water_reading_c",
        )
    if off_k > _THERMOMETER_IS_OFF_K:
        return (
            (
                f"Your thermometer reads {_say(water_c)} °C in water that boils at {here}. The "
                "difference is taken into account; read it again on the day."
            ),
        )
    return ()


def _brix_cautions(brix: Decimal) -> tuple[str, ...]:
    if brix > SOUND_TO_BRIX:
        return (
            (
                f"Above {SOUND_TO_BRIX} Brix temperature and Brix are only indicative, give or "
                "take 1.5 K: finish by weight."
            ),
        )
    if brix < KEEPS_FROM_BRIX:
        return (
            (
                f"Below {KEEPS_FROM_BRIX} Brix sugar alone does not keep it (common practice): "
                "plan for the cold, or ask your food authority about a tested process."
            ),
        )
    return ()


def _water_reading_c(cook: CookRecord, kitchen: KitchenRecord) -> Decimal | None:
    return kitchen.water_reading_c if cook.water_reading_c is None else cook.water_reading_c


def _pressure_pa(kitchen: KitchenRecord) -> float:
    return standard_pressure_pa(altitude_m=as_float(kitchen.altitude_m))


def _water_boils_c(kitchen: KitchenRecord) -> float:
    return water_boiling_point_c(pressure_pa=_pressure_pa(kitchen))


def _composition(solids: Solids) -> Composition:
    return Composition.from_masses(
        sucrose_g=as_float(solids.sucrose_g),
        hexose_g=as_float(solids.hexose_g),
        acid_g=as_float(solids.acid_g),
    )


def _say(value: Decimal) -> str:
    """A figure for a sentence: two decimals at most, no trailing zeros."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
