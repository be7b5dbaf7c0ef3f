"""Sucrose splits into glucose and fructose while it cooks with acid.

Each gram split binds 0.0526 g of water, so the soluble solids GROW: strict "solids in = solids
out" is about 1 % low for a preserve. It also keeps the preserve from graining.
"""

import math
from dataclasses import replace
from typing import cast

from costing.physics.air_pressure import ZERO_C_IN_K
from costing.physics.composition import SUCROSE_G_PER_MOL, WATER_G_PER_MOL, Composition
from costing.physics.density import sucrose_solution_kg_per_m3
from costing.physics.elementwise import FloatOrArray, Quantity, exp
from costing.physics.errors import require

DEFAULT_INVERTED_SHARE = 0.25
"""Share of the sucrose inverted in a preserve when nothing is known (judgement)."""

USUAL_INVERTED_SHARES = (0.10, 0.45)
"""Usual range (judgement); 0.05 to 0.59 was found in jellies: Tolman, Munson & Bigelow 1901."""

HIGHEST_INVERTED_SHARE = 0.95

WATER_BOUND_PER_SUCROSE = WATER_G_PER_MOL / SUCROSE_G_PER_MOL

# Vukov 1965: frequency factor per minute and activation energy over the gas constant.
_VUKOV_PER_MIN = 8.128e16
_VUKOV_K = 13055.7
_LN_10 = math.log(10)


def sucrose_left_g(*, sucrose_g: Quantity, inverted_share: Quantity) -> Quantity:
    """Sucrose that is still sucrose after cooking.

    sucrose_g: sucrose that went in: sugar, and the sucrose of the fruit [g].
    inverted_share: share of it that is split [-].
    Returns: sucrose left [g].
    Raises: OutsideValidRange unless sucrose >= 0 and 0 <= share <= 0.95.
    Source: stoichiometry of C12H22O11 + H2O -> 2 C6H12O6.

    >>> sucrose_left_g(sucrose_g=100.0, inverted_share=0.25)
    75.0
    """
    _require_sucrose(sucrose_g, inverted_share)
    return sucrose_g * (1 - inverted_share)


def water_bound_g(*, sucrose_g: Quantity, inverted_share: Quantity) -> Quantity:
    """Water taken up by the sugars, and so what the soluble solids gain.

    sucrose_g: sucrose that went in: sugar, and the sucrose of the fruit [g].
    inverted_share: share of it that is split [-].
    Returns: water that turned into soluble solids [g].
    Raises: OutsideValidRange unless sucrose >= 0 and 0 <= share <= 0.95.
    Source: stoichiometry, 18.015 g of water per 342.297 g of sucrose.

    >>> round(water_bound_g(sucrose_g=500.0, inverted_share=0.25), 1)
    6.6
    """
    _require_sucrose(sucrose_g, inverted_share)
    return sucrose_g * inverted_share * WATER_BOUND_PER_SUCROSE


def hexose_formed_g(*, sucrose_g: Quantity, inverted_share: Quantity) -> Quantity:
    """Glucose and fructose made from the sucrose that was split.

    sucrose_g: sucrose that went in: sugar, and the sucrose of the fruit [g].
    inverted_share: share of it that is split [-].
    Returns: glucose and fructose together [g].
    Raises: OutsideValidRange unless sucrose >= 0 and 0 <= share <= 0.95.
    Source: stoichiometry of C12H22O11 + H2O -> 2 C6H12O6.

    >>> round(hexose_formed_g(sucrose_g=100.0, inverted_share=0.25), 3)
    26.316
    """
    _require_sucrose(sucrose_g, inverted_share)
    return sucrose_g * inverted_share * (1 + WATER_BOUND_PER_SUCROSE)


def composition_after_inversion(
    *, composition: Composition, inverted_share: FloatOrArray
) -> Composition:
    """Shares of sucrose, hexose and acid once part of the sucrose is split.

    composition: sucrose, hexose and acid as shares before cooking [mass shares].
    inverted_share: share of the sucrose that is split [-].
    Returns: shares after cooking, of the grown soluble solids [mass shares].
    Raises: OutsideValidRange unless 0 <= share <= 0.95.
    Source: stoichiometry of C12H22O11 + H2O -> 2 C6H12O6.

    >>> from costing.physics.composition import SUCROSE
    >>> round(composition_after_inversion(composition=SUCROSE, inverted_share=0.5).hexose, 3)
    0.513
    """
    _require_share(inverted_share)
    split = composition.sucrose * inverted_share
    grown = 1 + split * WATER_BOUND_PER_SUCROSE
    sucrose = (composition.sucrose - split) / grown
    acid = composition.acid / grown
    return replace(composition, sucrose=sucrose, hexose=1 - sucrose - acid, acid=acid)


def inversion_rate_per_min(*, brix: Quantity, temperature_c: Quantity, ph: Quantity) -> Quantity:
    """How fast sucrose splits in a hot acid syrup; good to a factor of about two.

    brix: soluble solids in the liquid phase [% m/m].
    temperature_c: temperature of the syrup [C].
    ph: acidity measured with a meter on the cooled liquid [pH].
    Returns: rate constant, first order in sucrose [1/min].
    Raises: OutsideValidRange unless 0 <= brix <= 85, 20 <= temperature <= 130, 2 <= pH <= 7.
    Source: Vukov 1965, Int. Sugar J. 67:172-175, as given in Rein 2012, with water in g/mL
        (read second-hand).

    >>> round(inversion_rate_per_min(brix=55.0, temperature_c=103.0, ph=3.2), 4)
    0.0245
    """
    require(
        temperature_c,
        what="The temperature",
        low=20,
        high=130,
        unit="C",
        next_step="Preserves boil between 100 and 110 C; check the thermometer and its unit.",
    )
    require(
        ph,
        what="The pH",
        low=2,
        high=7,
        next_step="Measure it with a calibrated meter; preserves lie between 2.8 and 4.6.",
    )
    # 20 C for every pan: the law was written with concentrations measured cold.
    density = sucrose_solution_kg_per_m3(brix=brix, temperature_c=0 * brix + 20.0)
    water_g_per_ml = (1 - brix / 100) * density / 1000
    # 10^(-pH) and the heat of activation, joined in one exponent.
    speed = cast("Quantity", exp(-_VUKOV_K / (temperature_c + ZERO_C_IN_K) - ph * _LN_10))
    return _VUKOV_PER_MIN * water_g_per_ml * speed


def inverted_share_after(
    *, minutes: Quantity, brix: Quantity, temperature_c: Quantity, ph: Quantity
) -> Quantity:
    """Share of the sucrose split after boiling for a time; good to a factor of about two.

    minutes: time at that temperature [min].
    brix: soluble solids in the liquid phase, halfway through the boil [% m/m].
    temperature_c: temperature of the syrup [C].
    ph: acidity measured with a meter on the cooled liquid [pH].
    Returns: share inverted [-].
    Raises: OutsideValidRange unless 0 <= minutes <= 1440, 0 <= brix <= 85,
        20 <= temperature <= 130 and 2 <= pH <= 7.
    Source: first-order decay at the rate of Vukov 1965 (see `inversion_rate_per_min`).

    >>> round(inverted_share_after(minutes=10.0, brix=55.0, temperature_c=103.0, ph=3.2), 2)
    0.22
    """
    require(
        minutes,
        what="The boiling time",
        low=0,
        high=1440,
        unit="min",
        next_step="Give the minutes at the boil.",
    )
    rate = inversion_rate_per_min(brix=brix, temperature_c=temperature_c, ph=ph)
    return 1 - cast("Quantity", exp(-rate * minutes))


def _require_sucrose(sucrose_g: FloatOrArray, inverted_share: FloatOrArray) -> None:
    require(
        sucrose_g,
        what="The mass of sucrose",
        low=0,
        unit="g",
        next_step="Check the recipe for a negative amount.",
    )
    _require_share(inverted_share)


def _require_share(inverted_share: FloatOrArray) -> None:
    require(
        inverted_share,
        what="The share of sucrose inverted",
        low=0,
        high=HIGHEST_INVERTED_SHARE,
        next_step="Preserves lie between 0.10 and 0.45; 0.25 is usual.",
    )
