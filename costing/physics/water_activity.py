"""How much of the water is free: it sets where a syrup boils and whether a preserve keeps.

A computed water activity is a planning figure (about +-0.02), never evidence that a food is
safe: measure it, and ask the local food authority where safety depends on it.
"""

import math
from collections.abc import Callable
from typing import cast

from costing.physics.air_pressure import ZERO_C_IN_K
from costing.physics.composition import (
    CITRIC_ACID_G_PER_MOL,
    HEXOSE_G_PER_MOL,
    SUCROSE_G_PER_MOL,
    WATER_G_PER_MOL,
    Composition,
)
from costing.physics.elementwise import (
    FloatOrArray,
    Quantity,
    at_most,
    exp,
    is_everywhere,
    log,
    magnitude,
    not_negative,
    sqrt,
)
from costing.physics.errors import require

GAS_CONSTANT_J_PER_MOL_K = 8.314462618
HIGHEST_BRIX = 95.0
"""Above 80 the answers are indicative, above 85 for explanation only: see `reliability`."""

# Starzak & Peacock 1997: energy of mixing of sucrose in water and its two shape terms.
_SUCROSE_J_PER_MOL = 17638.0
_SUCROSE_A, _SUCROSE_B = 1.0038, 0.24653
# Norrish constants at 25 C (from memory), made to fall with 1/T like the sucrose term.
_HEXOSE_K, _ACID_K = 2.25, 6.17
_NORRISH_K_AT_K = 298.15

_SUCROSE_K = _SUCROSE_J_PER_MOL / GAS_CONSTANT_J_PER_MOL_K
_HEXOSE_ROOT = math.sqrt(_HEXOSE_K * _NORRISH_K_AT_K)
_ACID_ROOT = math.sqrt(_ACID_K * _NORRISH_K_AT_K)

# A step of 1e-8 leaves the next one nothing to do: each squares the error.
_SETTLED = 1e-8
_NEWTON_STEPS = 30


def water_activity(
    *, brix: Quantity, temperature_c: Quantity, composition: Composition
) -> Quantity:
    """Water activity of the liquid phase, by the extended Norrish equation.

    ln aw = ln xw - (sqrt(ks) xs + sqrt(kh) xh + sqrt(kc) xc)^2, with ks falling as the syrup
    thickens. One formula for boiling and for shelf life. Checked against data to 80 Brix.

    brix: soluble solids in the liquid phase [% m/m].
    temperature_c: temperature of the liquid [C].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: water activity, 1 for plain water [-].
    Raises: OutsideValidRange unless 0 <= brix <= 95 and 0 <= temperature <= 160.
    Source: Norrish 1966, J. Food Technol. 1:25 (mixing rule and K from memory); Starzak & Peacock
        1997, Zuckerindustrie 122:380-387 (sucrose term; form of the equation from memory).

    >>> from costing.physics.composition import PRESERVE
    >>> round(water_activity(brix=66.0, temperature_c=20.0, composition=PRESERVE), 2)
    0.83
    """
    _require_checked(brix=brix, temperature_c=temperature_c)
    return cast("Quantity", activity_of(composition)(brix, temperature_c))


def norrish_water_activity(*, solute_mole_fraction: Quantity, norrish_k: Quantity) -> Quantity:
    """Water activity of a solution of one solute, by the Norrish equation.

    solute_mole_fraction: moles of solute per mole of solute and water together [-].
    norrish_k: constant of the solute: sucrose 6.47, glucose and fructose 2.25 [-].
    Returns: water activity [-].
    Raises: OutsideValidRange unless 0 <= mole fraction <= 1 and 0 <= constant <= 20.
    Source: Norrish 1966, J. Food Technol. 1:25 (constants from memory).

    >>> round(norrish_water_activity(solute_mole_fraction=0.1, norrish_k=6.47), 4)
    0.8436
    """
    require(
        solute_mole_fraction,
        what="The mole fraction",
        low=0,
        high=1,
        next_step="Divide moles of solute by moles of solute and water together.",
    )
    require(
        norrish_k,
        what="The Norrish constant",
        low=0,
        high=20,
        next_step="Give its size without the minus sign.",
    )
    pull = norrish_k * solute_mole_fraction * solute_mole_fraction
    return (1 - solute_mole_fraction) * cast("Quantity", exp(-pull))


def ross_water_activity(
    *, brix: Quantity, temperature_c: Quantity, composition: Composition
) -> Quantity:
    """Water activity by the Ross product: each solute alone in all the water, multiplied.

    For mixtures it reads 0.01 to 0.02 above the extended Norrish value. Where a decision touches
    safety, take the higher of the two, or better a measurement.

    brix: soluble solids in the liquid phase [% m/m].
    temperature_c: temperature of the liquid [C].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: water activity, 1 for plain water [-].
    Raises: OutsideValidRange unless 0 <= brix <= 95 and 0 <= temperature <= 160.
    Source: Ross 1975, Food Technol. 29(3):26-34, with the binary equations of `water_activity`.

    >>> from costing.physics.composition import PRESERVE
    >>> round(ross_water_activity(brix=66.0, temperature_c=20.0, composition=PRESERVE), 2)
    0.85
    """
    _require_checked(brix=brix, temperature_c=temperature_c)
    water = 100.0 - brix
    product: FloatOrArray = 1.0
    for name in ("sucrose", "hexose", "acid"):
        solute = brix * getattr(composition, name)
        alone = Composition(**{n: float(n == name) for n in ("sucrose", "hexose", "acid")})
        product = product * activity_of(alone)(100 * solute / (solute + water), temperature_c)
    return cast("Quantity", product)


def activity_of(
    composition: Composition,
) -> Callable[[FloatOrArray, FloatOrArray], FloatOrArray]:
    """Water activity as a function of Brix and temperature, the composition worked in once.

    Range checks are the caller's. Solving for a boiling point asks several times.
    """
    sucrose_mol, solute_mol, hexose_and_acid = _moles_of(composition)

    def activity(brix: FloatOrArray, temperature_c: FloatOrArray) -> FloatOrArray:
        temperature_k = temperature_c + ZERO_C_IN_K
        water_mol = (100.0 - brix) / WATER_G_PER_MOL
        total_mol = brix * solute_mol + water_mol
        x_solutes = brix * solute_mol / total_mol
        shape = 1 - (_SUCROSE_A + _SUCROSE_B * x_solutes) * x_solutes
        sucrose_k = _SUCROSE_K * not_negative(shape)
        # Every constant carries 1/T, so the root of T is taken once, outside the sum.
        pull = (sqrt(sucrose_k) * sucrose_mol + hexose_and_acid) * brix / total_mol
        return water_mol / total_mol * exp(-pull * pull / temperature_k)

    return activity


def brix_at_activity(
    activity: FloatOrArray, temperature_c: FloatOrArray, composition: Composition
) -> FloatOrArray:
    """The Brix, from 0 to 95, that has a water activity: the way back from `activity_of`.

    Range checks are the caller's. ln aw falls ever faster with the mole fraction of what is
    dissolved, so Newton's rule settles in about five steps, for one pan or for ten thousand.
    """
    sucrose_mol, solute_mol, hexose_and_acid = _moles_of(composition)
    sucrose, others = sucrose_mol / solute_mol * sqrt(_SUCROSE_K), hexose_and_acid / solute_mol
    temperature_k = temperature_c + ZERO_C_IN_K
    highest_mol = HIGHEST_BRIX * solute_mol
    highest = highest_mol / (highest_mol + (100.0 - HIGHEST_BRIX) / WATER_G_PER_MOL)
    wanted = log(activity)
    x_solutes = at_most(not_negative(-wanted), highest)
    for _ in range(_NEWTON_STEPS):
        bend = _SUCROSE_B * x_solutes
        shape = sqrt(1 - (_SUCROSE_A + bend) * x_solutes)
        each = sucrose * shape + others
        pull = each * x_solutes / temperature_k
        # d(shape)/dx = -(A + 2 B x) / (2 shape), and pull^2 T = (each x)^2 / T.
        slope = 1 / (1 - x_solutes) + 2 * pull * (
            each - sucrose * x_solutes * (_SUCROSE_A / 2 + bend) / shape
        )
        too_high = log(1 - x_solutes) - pull * each * x_solutes - wanted
        step = too_high / slope
        x_solutes = at_most(not_negative(x_solutes + step), highest)
        if is_everywhere(magnitude(step) < _SETTLED):
            break
    # From moles back to mass: water weighs W a mole, the solutes 1 / solute_mol.
    return 100.0 * x_solutes / (x_solutes + solute_mol * WATER_G_PER_MOL * (1 - x_solutes))


def _moles_of(composition: Composition) -> tuple[FloatOrArray, FloatOrArray, FloatOrArray]:
    """Moles in a gram of solids: of sucrose, of all, and of hexose and acid by their pull."""
    sucrose_mol = composition.sucrose / SUCROSE_G_PER_MOL
    hexose_mol = composition.hexose / HEXOSE_G_PER_MOL
    acid_mol = composition.acid / CITRIC_ACID_G_PER_MOL
    hexose_and_acid = _HEXOSE_ROOT * hexose_mol + _ACID_ROOT * acid_mol
    return sucrose_mol, sucrose_mol + hexose_mol + acid_mol, hexose_and_acid


def _require_checked(*, brix: FloatOrArray, temperature_c: FloatOrArray) -> None:
    require(
        brix,
        what="The Brix",
        low=0,
        high=HIGHEST_BRIX,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
    require(
        temperature_c,
        what="The temperature",
        low=0,
        high=160,
        unit="C",
        next_step="Check the thermometer and its unit.",
    )
