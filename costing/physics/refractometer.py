"""From what the refractometer shows to Brix at 20 C.

Never put a hot sample on the prism: it scalds, and steam leaving it falsifies the reading. Cool a
covered drop to 18-25 C first.
"""

from typing import cast

from costing.physics.elementwise import Quantity, choose
from costing.physics.errors import require

# Least-squares fit to the tables named below: powers 0 to 2 of the reading, for d and d^2.
_PER_K = (6.31494e-2, 5.36275e-4, -4.73182e-6)
_PER_K2 = (1.01596e-3, -1.57021e-5, 6.702e-8)


def brix_at_20_c(*, reading_brix: Quantity, temperature_c: Quantity) -> Quantity:
    """Corrects a refractometer WITHOUT automatic temperature compensation to 20 C.

    Fitted to 10-75 Brix and 10-22 C, residual at most 0.006; 23-30 C is extrapolated. It is for
    sugar; much acid or fibre blurs the line: strain the sample.

    reading_brix: reading on the sugar scale [% m/m].
    temperature_c: temperature of the sample on the prism [C].
    Returns: Brix at 20 C [% m/m].
    Raises: OutsideValidRange unless 0 <= reading <= 85 and 10 <= temperature <= 30.
    Source: fit to OIV-MA-AS2-02, Table I, and to the table of ISO 2173 for 21-22 C.

    >>> round(brix_at_20_c(reading_brix=60.0, temperature_c=15.0), 2)
    59.62
    """
    require(
        reading_brix,
        what="The refractometer reading",
        low=0,
        high=85,
        unit="Brix",
        next_step="Thin a stronger sample with its own weight of water and double the reading.",
    )
    require(
        temperature_c,
        what="The temperature of the sample",
        low=10,
        high=30,
        unit="C",
        next_step="Cool a covered drop to 18-25 C and read again.",
    )
    d = temperature_c - 20
    b = reading_brix
    per_k = _PER_K[0] + b * (_PER_K[1] + b * _PER_K[2])
    per_k2 = _PER_K2[0] + b * (_PER_K2[1] + b * _PER_K2[2])
    return b + d * (per_k + d * per_k2)


def brix_with_invert_and_acid(
    *, brix_at_20_c: Quantity, invert_pct: Quantity, acid_pct: Quantity
) -> Quantity:
    """Adds what a sugar scale misses where part of the solids is invert sugar or fruit acid.

    brix_at_20_c: reading corrected for temperature [% m/m].
    invert_pct: glucose and fructose in the sample, not in its solids [% m/m].
    acid_pct: fruit acid in the sample, as citric acid [% m/m].
    Returns: soluble solids of the liquid phase [% m/m].
    Raises: OutsideValidRange unless 0 <= Brix <= 85, 0 <= invert <= 85 and 0 <= acid <= 10.
    Source: + 0.022 per % invert: AOAC syrup method (from memory); + 0.012 + 0.193 A - 0.0004 A^2:
        Stevens & Baier 1939, Ind. Eng. Chem. Anal. Ed. 11:447 (from memory).

    >>> round(brix_with_invert_and_acid(brix_at_20_c=65.0, invert_pct=23.0, acid_pct=1.0), 1)
    65.7
    """
    for value, what, high in (
        (brix_at_20_c, "The Brix at 20 C", 85),
        (invert_pct, "The invert sugar in the sample", 85),
        (acid_pct, "The acid in the sample", 10),
    ):
        require(
            value,
            what=what,
            low=0,
            high=high,
            unit="%",
            next_step="Give it in 100 g of the sample, not of its solids.",
        )
    for_acid = 0.012 + acid_pct * (0.193 - acid_pct * 0.0004)
    # The constant belongs to the fit; without acid there is nothing to correct.
    return (
        brix_at_20_c
        + 0.022 * invert_pct
        + cast("Quantity", choose(acid_pct > 0, for_acid, 0 * acid_pct))
    )
