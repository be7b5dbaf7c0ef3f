"""One Brix from up to three readings: the scale, the thermometer, the refractometer.

Each is an estimate of the same figure with its own uncertainty. Readings that do not agree are
not averaged away in silence: `Combined` says how far apart they are, and which two.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from costing.physics.boiling_point import Reliability, brix_from_rise, reliability
from costing.physics.composition import Composition
from costing.physics.errors import PhysicsError, require
from costing.physics.mass_balance import brix_from_pot_mass
from costing.physics.refractometer import brix_at_20_c, brix_with_invert_and_acid
from costing.physics.uncertainty import brix_from_pot_uncertainty, brix_per_k

Method = Literal["weight", "temperature", "refractometer"]

USUAL_BRIX_UNCERTAINTY = {
    "weight": (1.0, 1.5),
    "temperature": (1.2, 1.8),
    "refractometer, clear": (0.5, 1.0),
    "refractometer, pulpy": (1.0, 2.0),
}
"""Standard uncertainties usual near the end of a preserve (judgement); thermometer self-checked."""

REFRACTOMETER_CLEAR_BRIX = 0.75
REFRACTOMETER_PULPY_BRIX = 1.5
"""Middle of the usual ranges: pulp blurs the line."""

DISAGREE_ABOVE = 2.0
"""Two sound readings lie further apart than twice their joint uncertainty once in twenty."""

HIGHEST_READ_BRIX = 95.0


@dataclass(frozen=True)
class Estimate:
    """Brix by one way of measuring, its standard uncertainty [% m/m], and how far to trust it."""

    method: Method
    brix: float
    uncertainty: float
    reliability: Reliability = "sound"

    def __post_init__(self) -> None:
        require(
            self.uncertainty,
            what="The standard uncertainty of the Brix",
            low=0,
            low_is_allowed=False,
            unit="Brix",
            next_step="No reading is exact; 0.5 to 2 Brix is usual.",
        )


@dataclass(frozen=True)
class Combined:
    """The best single Brix [% m/m] from all estimates, and whether they agree.

    chi_square: squared distances from the mean over their uncertainties; about `freedom` where
    all is well. apart_brix and apart_normalised: difference of the two that disagree most, and
    the same over their joint uncertainty. uncertainty holds for readings that agree; see
    `agree`, and `widened_uncertainty` where they do not.
    """

    brix: float
    uncertainty: float
    chi_square: float
    freedom: int
    most_apart: tuple[Method, Method] | None
    apart_brix: float
    apart_normalised: float
    reliability: Reliability

    @property
    def agree(self) -> bool:
        """Whether no two readings are further apart than their uncertainties let expect."""
        return self.apart_normalised <= DISAGREE_ABOVE

    @property
    def widened_uncertainty(self) -> float:
        """Uncertainty enlarged to what the readings themselves scatter (Birge ratio)."""
        if not self.freedom:
            return self.uncertainty
        return self.uncertainty * max(1.0, math.sqrt(self.chi_square / self.freedom))


def estimate_from_weight(
    *,
    pot_mass_g: float,
    soluble_solids_g: float,
    insoluble_solids_g: float,
    pot_mass_uncertainty_g: float,
    soluble_solids_uncertainty_g: float,
    insoluble_solids_uncertainty_g: float,
) -> Estimate:
    """Brix of a pot on the scale; refuses a pot lighter than its solids can be (tare, spillage)."""
    solids_g = {"soluble_solids_g": soluble_solids_g, "insoluble_solids_g": insoluble_solids_g}
    brix = brix_from_pot_mass(pot_mass_g=pot_mass_g, **solids_g)
    _require_readable(brix, next_step="So little water is not left in a pot: check the tare.")
    uncertainty = brix_from_pot_uncertainty(
        pot_mass_g=pot_mass_g,
        pot_mass_uncertainty_g=pot_mass_uncertainty_g,
        soluble_solids_uncertainty_g=soluble_solids_uncertainty_g,
        insoluble_solids_uncertainty_g=insoluble_solids_uncertainty_g,
        **solids_g,
    )
    return Estimate("weight", brix, uncertainty, reliability(brix=brix))


def estimate_from_rise(
    *, rise_k: float, temperature_uncertainty_k: float, pressure_pa: float, composition: Composition
) -> Estimate:
    """Brix of a pot boiling so many kelvin above boiling water; refuses a pot not boiling.

    Uncertainty is the slope times that of the temperature: wide below 50 Brix, where little
    sugar moves the boiling point, so that other readings then count for more by themselves.
    """
    require(
        rise_k,
        what="The rise above boiling water",
        low=0,
        low_is_allowed=False,
        unit="K",
        next_step="A pot below boiling water is not at the boil: wait, or check the thermometer.",
    )
    brix = brix_from_rise(rise_k=rise_k, pressure_pa=pressure_pa, composition=composition)
    _require_readable(brix, next_step="Preserves finish 4 to 6 K above boiling water.", slack=0.1)
    slope = brix_per_k(brix=brix, pressure_pa=pressure_pa, composition=composition)
    return Estimate("temperature", brix, slope * temperature_uncertainty_k, reliability(brix=brix))


def estimate_from_refractometer(
    *,
    reading_brix: float,
    sample_c: float | None,
    composition: Composition,
    uncertainty_brix: float = REFRACTOMETER_PULPY_BRIX,
) -> Estimate:
    """Brix of a cooled drop, corrected for its temperature, for invert sugar and for acid.

    sample_c: temperature of the drop [C]; None for an instrument that compensates itself, whose
    sample must still be cooled. composition: of the soluble solids, inversion counted.
    """
    brix = brix_at_20_c(
        reading_brix=reading_brix, temperature_c=20.0 if sample_c is None else sample_c
    )
    brix = brix_with_invert_and_acid(
        brix_at_20_c=brix,
        invert_pct=float(brix * composition.hexose),
        acid_pct=float(brix * composition.acid),
    )
    return Estimate("refractometer", brix, uncertainty_brix, reliability(brix=brix))


def combine(estimates: Sequence[Estimate]) -> Combined:
    """Mean weighted by inverse variance: B = sum(B / u^2) / sum(1 / u^2).

    See Bevington & Robinson, Data Reduction and Error Analysis, chapter 4 (from memory).
    """
    if not estimates:
        raise PhysicsError("There is no reading to go by. Weigh the pot or read the thermometer.")
    weights = [1 / (one.uncertainty * one.uncertainty) for one in estimates]
    total = sum(weights)
    brix = sum(w * one.brix for w, one in zip(weights, estimates, strict=True)) / total
    chi_square = sum(w * (one.brix - brix) ** 2 for w, one in zip(weights, estimates, strict=True))
    worst = max(combinations(estimates, 2), key=_apart_normalised, default=None)
    return Combined(
        brix=brix,
        uncertainty=math.sqrt(1 / total),
        chi_square=chi_square,
        freedom=len(estimates) - 1,
        most_apart=(worst[0].method, worst[1].method) if worst else None,
        apart_brix=abs(worst[0].brix - worst[1].brix) if worst else 0.0,
        apart_normalised=_apart_normalised(worst) if worst else 0.0,
        reliability=reliability(brix=min(max(brix, 0.0), HIGHEST_READ_BRIX)),
    )


def _apart_normalised(pair: tuple[Estimate, Estimate]) -> float:
    one, other = pair
    return abs(one.brix - other.brix) / math.hypot(one.uncertainty, other.uncertainty)


def _require_readable(brix: float, *, next_step: str, slack: float = 0.0) -> None:
    require(
        brix,
        what="The Brix found",
        low=0,
        high=HIGHEST_READ_BRIX - slack,
        unit="Brix",
        next_step=next_step,
    )
