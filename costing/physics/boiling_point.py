"""Brix and composition to the rise above boiling water, and back.

Store an endpoint as Brix or as a rise above that day's boiling water, never as a thermometer
reading: at 2000 m a pot at 105 C holds about 81 % solids instead of 66 %.
Boiling preserve is hotter than boiling water and sticks to skin.
"""

from typing import Literal, NoReturn, cast

import numpy as np

from costing.physics.air_pressure import (
    saturation_pressure,
    saturation_temperature,
    water_boiling_point_c,
)
from costing.physics.composition import Composition
from costing.physics.elementwise import FloatOrArray, Quantity, choose, is_everywhere, magnitude
from costing.physics.errors import OutsideValidRange, require
from costing.physics.water_activity import HIGHEST_BRIX, activity_of, brix_at_activity

LOWEST_PRESSURE_PA = 60_000.0
HIGHEST_PRESSURE_PA = 108_000.0
HIGHEST_RISE_K = 45.0

SOUND_TO_BRIX = 80.0
INDICATIVE_TO_BRIX = 85.0

# Each step shrinks the error at least tenfold, because aw hardly depends on temperature.
_FIXED_POINT_STEPS = 12
_SETTLED_K = 1e-11

Reliability = Literal["sound", "indicative", "explanation only"]


def boiling_temperature_c(
    *, brix: Quantity, pressure_pa: Quantity, composition: Composition
) -> Quantity:
    """True temperature at which a syrup or preserve boils: aw(B, T) psat(T) = p, solved for T.

    Within 0.3 K of sugar-industry tables to 80 Brix; 80-85 +-1.5 K; above, explanation only.

    brix: soluble solids in the liquid phase [% m/m].
    pressure_pa: pressure of the air on the pan, not reduced to sea level [Pa].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: boiling temperature [C].
    Raises: OutsideValidRange unless 0 <= brix <= 95 and 60 000 <= pressure <= 108 000.
    Source: Raoult's law with the activity of `water_activity`; IAPWS R7-97(2012), region 4.

    >>> from costing.physics.composition import PRESERVE
    >>> round(boiling_temperature_c(brix=66.0, pressure_pa=101_325.0, composition=PRESERVE), 1)
    105.0
    """
    _require_brix(brix)
    _require_pressure(pressure_pa)
    activity = activity_of(composition)
    temperature_c = saturation_temperature(pressure_pa)
    for _ in range(_FIXED_POINT_STEPS):
        previous_c = temperature_c
        temperature_c = saturation_temperature(pressure_pa / activity(brix, previous_c))
        if is_everywhere(magnitude(temperature_c - previous_c) < _SETTLED_K):
            break
    return cast("Quantity", temperature_c)


def boiling_point_rise_k(
    *, brix: Quantity, pressure_pa: Quantity, composition: Composition
) -> Quantity:
    """How far above boiling water a preserve boils; it hardly changes with altitude.

    brix: soluble solids in the liquid phase [% m/m].
    pressure_pa: pressure of the air on the pan, not reduced to sea level [Pa].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: rise above the boiling point of water under the same pressure [K].
    Raises: OutsideValidRange unless 0 <= brix <= 95 and 60 000 <= pressure <= 108 000.
    Source: difference of `boiling_temperature_c` and IAPWS R7-97(2012), region 4.

    >>> from costing.physics.composition import PRESERVE
    >>> round(boiling_point_rise_k(brix=66.0, pressure_pa=79_495.0, composition=PRESERVE), 1)
    4.8
    """
    boiling_c = boiling_temperature_c(brix=brix, pressure_pa=pressure_pa, composition=composition)
    return boiling_c - water_boiling_point_c(pressure_pa=pressure_pa)


def brix_from_temperature(
    *, temperature_c: Quantity, pressure_pa: Quantity, composition: Composition
) -> Quantity:
    """Brix of the liquid in a pan that boils at a TRUE temperature, thermometer error removed.

    At or below the boiling point of water the answer is 0 Brix: no rise, nothing dissolved.

    temperature_c: true temperature of the boiling pan [C].
    pressure_pa: pressure of the air on the pan, not reduced to sea level [Pa].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: soluble solids in the liquid phase [% m/m].
    Raises: OutsideValidRange unless 60 000 <= pressure <= 108 000, 0 <= temperature <= 160 and
        the Brix found is 95 or less.
    Source: inverse of `boiling_temperature_c` (`brix_at_activity`).

    >>> from costing.physics.composition import PRESERVE
    >>> round(brix_from_temperature(
    ...     temperature_c=105.0, pressure_pa=101_325.0, composition=PRESERVE), 1)
    66.1
    """
    _require_pressure(pressure_pa)
    require(
        temperature_c,
        what="The temperature",
        low=0,
        high=160,
        unit="C",
        next_step="Preserves boil between 100 and 110 C; check the thermometer and its unit.",
    )
    return cast("Quantity", _brix_boiling_at(temperature_c, pressure_pa, composition))


def brix_from_rise(
    *, rise_k: Quantity, pressure_pa: Quantity, composition: Composition
) -> Quantity:
    """Brix of the liquid in a pan that boils so many kelvin above boiling water.

    The way to use a kitchen thermometer: read boiling water in the same pan that day, then cook
    to "water plus n". Altitude, weather and the thermometer's own error drop out.

    rise_k: pan reading minus the reading in boiling water [K].
    pressure_pa: pressure of the air on the pan, or the standard one for the altitude [Pa].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: soluble solids in the liquid phase, 0 where there is no rise [% m/m].
    Raises: OutsideValidRange unless 60 000 <= pressure <= 108 000, -45 <= rise <= 45 and the
        Brix found is 95 or less.
    Source: inverse of `boiling_point_rise_k` (`brix_at_activity`).

    >>> from costing.physics.composition import PRESERVE
    >>> round(brix_from_rise(rise_k=5.0, pressure_pa=101_325.0, composition=PRESERVE))
    66
    """
    _require_pressure(pressure_pa)
    require(
        rise_k,
        what="The rise above boiling water",
        low=-HIGHEST_RISE_K,
        high=HIGHEST_RISE_K,
        unit="K",
        next_step="Jams finish about 4 to 6 K above boiling water; give the difference, "
        "not the reading.",
    )
    temperature_c = saturation_temperature(pressure_pa) + rise_k
    return cast("Quantity", _brix_boiling_at(temperature_c, pressure_pa, composition))


def reliability(*, brix: float) -> Reliability:
    """How far to trust a Brix and temperature pair, so that a page can say so.

    "sound" to 80 Brix, "indicative" to 85 (+-1.5 K), above it "explanation only".
    """
    _require_brix(brix)
    if brix <= SOUND_TO_BRIX:
        return "sound"
    return "indicative" if brix <= INDICATIVE_TO_BRIX else "explanation only"


def _brix_boiling_at(
    temperature_c: FloatOrArray, pressure_pa: FloatOrArray, composition: Composition
) -> FloatOrArray:
    activity = activity_of(composition)
    wanted = pressure_pa / saturation_pressure(temperature_c)
    # No rise means aw >= 1; floats may miss it by a hair at exactly the boiling point.
    has_rise = temperature_c > saturation_temperature(pressure_pa)
    thickest = activity(HIGHEST_BRIX, temperature_c)
    if not is_everywhere(thickest <= wanted):
        _refuse_too_hot(temperature_c, thickest, wanted)
    brix = brix_at_activity(wanted, temperature_c, composition)
    return choose(has_rise, brix, 0.0 * brix)


def _refuse_too_hot(
    temperature_c: FloatOrArray, thickest: FloatOrArray, wanted: FloatOrArray
) -> NoReturn:
    too_hot = np.broadcast_to(temperature_c, np.shape(thickest))[np.greater(thickest, wanted)]
    raise OutsideValidRange(
        what="The boiling temperature in C",
        value=float(np.ravel(too_hot)[0]),
        limit=f"one that is reached by {HIGHEST_BRIX:g} Brix under this air pressure",
        next_step="Preserves finish about 4 to 6 K above boiling water; check the thermometer.",
    )


def _require_brix(brix: FloatOrArray) -> None:
    require(
        brix,
        what="The Brix",
        low=0,
        high=HIGHEST_BRIX,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )


def _require_pressure(pressure_pa: FloatOrArray) -> None:
    require(
        pressure_pa,
        what="The air pressure",
        low=LOWEST_PRESSURE_PA,
        high=HIGHEST_PRESSURE_PA,
        unit="Pa",
        next_step="Give the local pressure in pascal (1 hPa = 100 Pa), or the altitude: "
        "up to about 4200 m can be worked out.",
    )
