"""A pot along its cook: the curve to draw beside the readings, and the minutes still to go."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from costing.physics.air_pressure import water_boiling_point_c
from costing.physics.boiling_point import boiling_temperature_c
from costing.physics.composition import Composition
from costing.physics.elementwise import Quantity
from costing.physics.errors import require
from costing.physics.mass_balance import pot_mass_g, water_to_boil_off_g

CURVE_POINTS = 200

Array = NDArray[np.float64]


@dataclass(frozen=True)
class CookDownCurve:
    """The pot from start to finish in equal steps of water boiled off, which is nearly of time.

    brix [% m/m], rise_k [K above boiling water], boiling_c [C, true], pot_mass_g and
    water_boiled_off_g [g]: one array each.
    """

    brix: Array
    rise_k: Array
    boiling_c: Array
    pot_mass_g: Array
    water_boiled_off_g: Array


def cook_down_curve(
    *,
    ingoing_g: float,
    soluble_solids_g: float,
    insoluble_solids_g: float,
    finishing_brix: float,
    pressure_pa: float,
    composition: Composition,
    points: int = CURVE_POINTS,
) -> CookDownCurve:
    """Brix, temperature and pot weight along a cook; inversion is counted from the start.

    Refuses, as the formulas do, what is past its finish already and Brix above 85.
    """
    smooth = "200 points draw a smooth curve."
    require(points, what="The number of points", low=2, high=100_000, next_step=smooth)
    finished_g = pot_mass_g(
        soluble_solids_g=soluble_solids_g,
        insoluble_solids_g=insoluble_solids_g,
        brix=finishing_brix,
    )
    water_g = water_to_boil_off_g(
        pot_mass_g=ingoing_g,
        soluble_solids_g=soluble_solids_g,
        insoluble_solids_g=insoluble_solids_g,
        finishing_brix=finishing_brix,
    )
    gone_g = np.linspace(0.0, water_g, points)
    mass_g = finished_g + (water_g - gone_g)
    brix = 100 * soluble_solids_g / (mass_g - insoluble_solids_g)
    boiling_c = boiling_temperature_c(
        brix=brix, pressure_pa=np.full(1, pressure_pa), composition=composition
    )
    return CookDownCurve(
        brix=brix,
        rise_k=boiling_c - water_boiling_point_c(pressure_pa=pressure_pa),
        boiling_c=boiling_c,
        pot_mass_g=mass_g,
        water_boiled_off_g=gone_g,
    )


def minutes_left(*, water_to_boil_off_g: Quantity, evaporation_g_per_min: Quantity) -> Quantity:
    """Time still to boil at the rate this pan shows now; longer once the power is cut.

    water_to_boil_off_g: water still to leave the pot [g].
    evaporation_g_per_min: measured from two weighings, or worked out from net power [g/min].
    Returns: time at that rate [min].
    Raises: OutsideValidRange unless water >= 0 and rate > 0.
    Source: definition.

    >>> minutes_left(water_to_boil_off_g=300.0, evaporation_g_per_min=25.0)
    12.0
    """
    require(
        water_to_boil_off_g,
        what="The water to boil off",
        low=0,
        unit="g",
        next_step="The pot is past its finish: thin it with water or keep it as it is.",
    )
    require(
        evaporation_g_per_min,
        what="The rate of evaporation",
        low=0,
        low_is_allowed=False,
        unit="g/min",
        next_step="Weigh the boiling pot twice, some minutes apart.",
    )
    return water_to_boil_off_g / evaporation_g_per_min
