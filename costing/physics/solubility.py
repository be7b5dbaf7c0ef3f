"""How much sucrose stays dissolved, and whether a preserve will grain."""

from costing.physics.elementwise import Quantity
from costing.physics.errors import require

CAN_GRAIN_ABOVE = 1.0
EXPECT_GRAIN_ABOVE = 1.1


def sucrose_solubility_pct(*, temperature_c: Quantity) -> Quantity:
    """Sucrose in a saturated solution in plain water.

    temperature_c: temperature of the solution [C].
    Returns: sucrose at saturation [% m/m].
    Raises: OutsideValidRange unless 0 <= temperature <= 100.
    Source: Charles 1960, Int. Sugar J. 62:126-131 (coefficients from memory).

    >>> round(sucrose_solubility_pct(temperature_c=20.0), 1)
    66.6
    """
    require(
        temperature_c,
        what="The temperature",
        low=0,
        high=100,
        unit="C",
        next_step="Give the temperature at which the preserve is kept, about 20 C.",
    )
    t = temperature_c
    return 64.397 + t * (0.07251 + t * (0.0020569 - t * 9.035e-6))


def saturation_ratio(
    *, brix: Quantity, sucrose_share: Quantity, temperature_c: Quantity
) -> Quantity:
    """Sucrose per water in the preserve over sucrose per water at saturation.

    Above 1 it can crystallise, above 1.1 expect it. Glucose, which also grains, is not judged.

    brix: soluble solids in the liquid phase [% m/m].
    sucrose_share: sucrose, not inverted, as a share of the soluble solids [-].
    temperature_c: temperature at which the preserve is kept [C].
    Returns: saturation ratio [-].
    Raises: OutsideValidRange unless 0 <= brix <= 95, 0 <= share <= 1, 0 <= temperature <= 100.
    Source: definition, with the solubility of Charles 1960 (from memory).

    >>> round(saturation_ratio(brix=70.0, sucrose_share=1.0, temperature_c=20.0), 2)
    1.17
    """
    require(
        brix,
        what="The Brix",
        low=0,
        high=95,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
    require(
        sucrose_share,
        what="The share of sucrose",
        low=0,
        high=1,
        next_step="Give it as a share of the soluble solids: 0.6 for 60 %.",
    )
    saturated_pct = sucrose_solubility_pct(temperature_c=temperature_c)
    at_saturation = saturated_pct / (100 - saturated_pct)
    return sucrose_share * brix / (100 - brix) / at_saturation
