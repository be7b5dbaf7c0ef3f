"""How much a figure at one point of the boil can be off, to first order.

A whole cook, with all that varies in it, is drawn in `drawn_cook`.
"""

from typing import cast

from costing.physics.boiling_point import boiling_temperature_c
from costing.physics.composition import Composition
from costing.physics.elementwise import FloatOrArray, Quantity, choose, sqrt
from costing.physics.errors import require
from costing.physics.mass_balance import brix_from_pot_mass, pot_mass_g

# Half a step of 0.02 Brix: rounding stays below 1e-6 of the slope, curvature below 1e-5.
_HALF_STEP_BRIX = 0.01


def brix_per_k(*, brix: Quantity, pressure_pa: Quantity, composition: Composition) -> Quantity:
    """Brix that one kelvin stands for at a point of the boil: 3.9 near the end of a preserve.

    brix: soluble solids in the liquid phase [% m/m].
    pressure_pa: pressure of the air on the pan, not reduced to sea level [Pa].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: slope of Brix over boiling temperature [Brix/K].
    Raises: OutsideValidRange unless 0 <= brix <= 94.9 and 60 000 <= pressure <= 108 000.
    Source: central difference of `boiling_temperature_c`.

    >>> from costing.physics.composition import PRESERVE
    >>> round(brix_per_k(brix=66.1, pressure_pa=101_325.0, composition=PRESERVE), 1)
    3.9
    """
    require(
        brix,
        what="The Brix",
        low=0,
        high=94.9,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
    # Nothing lies below plain water, so there the step goes upwards only.
    lower = cast("Quantity", choose(brix > _HALF_STEP_BRIX, brix - _HALF_STEP_BRIX, 0 * brix))
    upper = brix + _HALF_STEP_BRIX
    cooler_c, hotter_c = (
        boiling_temperature_c(brix=point, pressure_pa=pressure_pa, composition=composition)
        for point in (lower, upper)
    )
    return (upper - lower) / (hotter_c - cooler_c)


def temperature_uncertainty_k(
    *, thermometer_k: Quantity, stirring_k: Quantity, model_k: Quantity
) -> Quantity:
    """Standard uncertainty of the end temperature: the three parts added in quadrature.

    thermometer_k: of the reading; 0.25 after a check in boiling water, else 0.5 to 1 [K].
    stirring_k: of an unevenly hot pot; 0.2 is usual [K].
    model_k: of the boiling-point model and the composition; 0.3 is usual [K].
    Returns: combined standard uncertainty [K].
    Raises: OutsideValidRange unless all three are 0 or more.
    Source: JCGM 100:2008 (GUM), 5.1.2, independent parts; the usual sizes are judgement.

    >>> round(temperature_uncertainty_k(thermometer_k=0.25, stirring_k=0.2, model_k=0.3), 2)
    0.44
    """
    _require_uncertainties(thermometer_k, stirring_k, model_k, unit="K")
    squares = thermometer_k * thermometer_k + stirring_k * stirring_k + model_k * model_k
    return cast("Quantity", sqrt(squares))


def pot_mass_uncertainty_g(
    *,
    soluble_solids_g: Quantity,
    brix: Quantity,
    brix_uncertainty: Quantity,
    soluble_solids_uncertainty_g: Quantity,
    insoluble_solids_uncertainty_g: Quantity,
    pan_loss_uncertainty_g: Quantity,
) -> Quantity:
    """Standard uncertainty of the mass at an end point, to first order.

    u^2 = (u(S) 100/B)^2 + (S 100/B^2 u(B))^2 + u(fibre)^2 + u(pan loss)^2. For a pot stopped by
    thermometer u(B) is `brix_per_k` times `temperature_uncertainty_k`.

    soluble_solids_g: sugars and acids from every ingredient, inversion counted [g].
    brix: soluble solids in the liquid phase at the end point [% m/m].
    brix_uncertainty: standard uncertainty of that Brix [% m/m].
    soluble_solids_uncertainty_g: standard uncertainty of the soluble solids [g].
    insoluble_solids_uncertainty_g: standard uncertainty of the fibre [g].
    pan_loss_uncertainty_g: of what stays on pan and spoon; 0 for the mass in the pot [g].
    Returns: standard uncertainty of the mass [g].
    Raises: OutsideValidRange unless soluble solids > 0, 0 < brix <= 85 and uncertainties >= 0.
    Source: JCGM 100:2008 (GUM), 5.1.2, on the solids balance.

    >>> round(pot_mass_uncertainty_g(soluble_solids_g=1667.81, brix=65.84, brix_uncertainty=1.0,
    ...     soluble_solids_uncertainty_g=0.0, insoluble_solids_uncertainty_g=0.0,
    ...     pan_loss_uncertainty_g=0.0), 1)
    38.5
    """
    per_solids = (
        pot_mass_g(
            soluble_solids_g=soluble_solids_g,
            insoluble_solids_g=0 * soluble_solids_g,
            brix=brix,
        )
        / soluble_solids_g
    )
    _require_uncertainties(brix_uncertainty, unit="Brix")
    _require_uncertainties(
        soluble_solids_uncertainty_g,
        insoluble_solids_uncertainty_g,
        pan_loss_uncertainty_g,
        unit="g",
    )
    by_solids = soluble_solids_uncertainty_g * per_solids
    by_brix = soluble_solids_g * per_solids / brix * brix_uncertainty
    squares = (
        by_solids * by_solids
        + by_brix * by_brix
        + insoluble_solids_uncertainty_g * insoluble_solids_uncertainty_g
        + pan_loss_uncertainty_g * pan_loss_uncertainty_g
    )
    return cast("Quantity", sqrt(squares))


def brix_from_pot_uncertainty(
    *,
    pot_mass_g: Quantity,
    soluble_solids_g: Quantity,
    insoluble_solids_g: Quantity,
    pot_mass_uncertainty_g: Quantity,
    soluble_solids_uncertainty_g: Quantity,
    insoluble_solids_uncertainty_g: Quantity,
) -> Quantity:
    """Standard uncertainty of a Brix found by weighing the pot, to first order.

    (u/B)^2 = (u(M)/(M-I))^2 + (u(S)/S)^2 + (u(I)/(M-I))^2

    pot_mass_g: food in the pot, pan and spoon taken off [g].
    soluble_solids_g: sugars and acids from every ingredient, inversion counted [g].
    insoluble_solids_g: fibre, skins and pips [g].
    pot_mass_uncertainty_g: standard uncertainty of the weighing [g].
    soluble_solids_uncertainty_g: standard uncertainty of the soluble solids [g].
    insoluble_solids_uncertainty_g: standard uncertainty of the fibre [g].
    Returns: standard uncertainty of the Brix [% m/m].
    Raises: OutsideValidRange unless the pot holds its solids and uncertainties are 0 or more.
    Source: JCGM 100:2008 (GUM), 5.1.2, on the solids balance.

    >>> round(brix_from_pot_uncertainty(pot_mass_g=950.0, soluble_solids_g=627.0,
    ...     insoluble_solids_g=0.0, pot_mass_uncertainty_g=5.0,
    ...     soluble_solids_uncertainty_g=0.0, insoluble_solids_uncertainty_g=0.0), 2)
    0.35
    """
    brix = brix_from_pot_mass(
        pot_mass_g=pot_mass_g,
        soluble_solids_g=soluble_solids_g,
        insoluble_solids_g=insoluble_solids_g,
    )
    _require_uncertainties(
        pot_mass_uncertainty_g,
        soluble_solids_uncertainty_g,
        insoluble_solids_uncertainty_g,
        unit="g",
    )
    liquid_g = pot_mass_g - insoluble_solids_g
    by_mass = pot_mass_uncertainty_g / liquid_g
    by_solids = soluble_solids_uncertainty_g / soluble_solids_g
    by_fibre = insoluble_solids_uncertainty_g / liquid_g
    squares = by_mass * by_mass + by_solids * by_solids + by_fibre * by_fibre
    return brix * cast("Quantity", sqrt(squares))


def _require_uncertainties(*values: FloatOrArray, unit: str) -> None:
    for value in values:
        require(
            value,
            what="The standard uncertainty",
            low=0,
            unit=unit,
            next_step="Give its size; 0 where it is known exactly.",
        )
