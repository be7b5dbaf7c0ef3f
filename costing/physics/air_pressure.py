"""From altitude and weather to the pressure on the pan, and to where water boils under it."""

from typing import cast

from costing.physics.elementwise import FloatOrArray, Quantity, sqrt
from costing.physics.errors import require

STANDARD_PRESSURE_PA = 101_325.0
ZERO_C_IN_K = 273.15

# ISO 2533: sea-level temperature, lapse rate in the troposphere, and g M / (R L).
_SEA_LEVEL_K = 288.15
_LAPSE_K_PER_M = 0.0065
_EXPONENT = 5.25588

# IAPWS R7-97(2012), Table 34, coefficients n1 to n10 of the saturation line (region 4).
_N1, _N2, _N3 = 1167.0521452767, -724213.16703206, -17.073846940092
_N4, _N5, _N6 = 12020.82470247, -3232555.0322333, 14.91510861353
_N7, _N8, _N9 = -4823.2657361591, 405113.40542057, -0.23855557567849
_N10 = 650.17534844798

_TRIPLE_POINT_PA = 611.213  # region 4 at 273.15 K
_CRITICAL_PA = 22.064e6
_CRITICAL_C = 647.096 - ZERO_C_IN_K
_PA_PER_MPA = 1e6


def standard_pressure_pa(*, altitude_m: Quantity) -> Quantity:
    """Usual air pressure at an altitude, when no barometer or weather report is at hand.

    altitude_m: height of the kitchen above sea level [m].
    Returns: pressure of the standard atmosphere [Pa].
    Raises: OutsideValidRange unless -430 <= altitude <= 11 000.
    Source: ISO 2533:1975, Standard Atmosphere (troposphere, geopotential height).

    >>> round(standard_pressure_pa(altitude_m=1000.0))
    89875
    """
    require(
        altitude_m,
        what="The altitude",
        low=-430,
        high=11_000,
        unit="m",
        next_step="Look up the height of the kitchen above sea level, in metres.",
    )
    return STANDARD_PRESSURE_PA * _share_of_sea_level(altitude_m)


def local_pressure_pa(*, sea_level_pressure_pa: Quantity, altitude_m: Quantity) -> Quantity:
    """Pressure on the pan from a weather report, which is always reduced to sea level.

    sea_level_pressure_pa: pressure as the forecast states it, 1013 hPa = 101 300 [Pa].
    altitude_m: height of the kitchen above sea level [m].
    Returns: pressure of the air in the kitchen [Pa].
    Raises: OutsideValidRange unless 87 000 <= report <= 108 500 and -430 <= altitude <= 11 000.
    Source: ISO 2533:1975, the ratio to sea level taken from the standard atmosphere.

    >>> round(local_pressure_pa(sea_level_pressure_pa=100_325.0, altitude_m=1000.0))
    88988
    """
    require(
        sea_level_pressure_pa,
        what="The reported sea-level pressure",
        low=87_000,
        high=108_500,
        unit="Pa",
        next_step="Take it from today's forecast in hPa (about 1013) times 100.",
    )
    return sea_level_pressure_pa * (
        standard_pressure_pa(altitude_m=altitude_m) / STANDARD_PRESSURE_PA
    )


def saturation_pressure_pa(*, temperature_c: Quantity) -> Quantity:
    """Pressure at which plain water boils at a temperature.

    temperature_c: temperature of the water [C].
    Returns: vapour pressure of water [Pa].
    Raises: OutsideValidRange unless 0 <= temperature <= 373.946.
    Source: IAPWS R7-97(2012), industrial formulation IF97, region 4, equation 30.

    >>> round(saturation_pressure_pa(temperature_c=100.0))
    101418
    """
    require(
        temperature_c,
        what="The temperature",
        low=0,
        high=_CRITICAL_C,
        unit="C",
        next_step="Check the thermometer and its unit.",
    )
    return cast("Quantity", saturation_pressure(temperature_c))


def water_boiling_point_c(*, pressure_pa: Quantity) -> Quantity:
    """Temperature at which plain water boils under a pressure.

    pressure_pa: pressure of the air on the pan, not reduced to sea level [Pa].
    Returns: boiling temperature of water [C].
    Raises: OutsideValidRange unless 611.213 <= pressure <= 22 064 000.
    Source: IAPWS R7-97(2012), industrial formulation IF97, region 4, equation 31.

    >>> round(water_boiling_point_c(pressure_pa=101_325.0), 2)
    99.97
    """
    require(
        pressure_pa,
        what="The pressure",
        low=_TRIPLE_POINT_PA,
        high=_CRITICAL_PA,
        unit="Pa",
        next_step="Give the local air pressure in pascal (1 hPa = 100 Pa).",
    )
    return cast("Quantity", saturation_temperature(pressure_pa))


def saturation_pressure(temperature_c: FloatOrArray) -> FloatOrArray:
    """The sum behind `saturation_pressure_pa`, for callers that checked the range already."""
    t_k = temperature_c + ZERO_C_IN_K
    theta = t_k + _N9 / (t_k - _N10)
    a = (theta + _N1) * theta + _N2
    b = (_N3 * theta + _N4) * theta + _N5
    c = (_N6 * theta + _N7) * theta + _N8
    return (2 * c / (sqrt(b * b - 4 * a * c) - b)) ** 4 * _PA_PER_MPA


def saturation_temperature(pressure_pa: FloatOrArray) -> FloatOrArray:
    """The sum behind `water_boiling_point_c`, for callers that checked the range already."""
    beta = sqrt(sqrt(pressure_pa / _PA_PER_MPA))
    e = (beta + _N3) * beta + _N6
    f = (_N1 * beta + _N4) * beta + _N7
    g = (_N2 * beta + _N5) * beta + _N8
    d = 2 * g / (-f - sqrt(f * f - 4 * e * g))
    root = sqrt((_N10 + d) ** 2 - 4 * (_N9 + _N10 * d))
    return (_N10 + d - root) / 2 - ZERO_C_IN_K


def _share_of_sea_level(altitude_m: Quantity) -> Quantity:
    share: Quantity = (1 - _LAPSE_K_PER_M * altitude_m / _SEA_LEVEL_K) ** _EXPONENT
    return share
