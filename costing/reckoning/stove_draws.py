"""What a pan ends as, drawn many times over what is not quite known of it.

The draws are seeded: the same pan always shows the same range.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from costing.physics import Composition, boiling_point_rise_k, brix_from_rise
from costing.physics.inversion import HIGHEST_INVERTED_SHARE, WATER_BOUND_PER_SUCROSE
from costing.reckoning.book import BRIX, FINAL_WEIGHT, RISE, SHARE
from costing.reckoning.pan import NO_SOLIDS
from costing.reckoning.stove_plan import (
    StovePlan,
    fruit_off_share,
    fruit_soluble_g,
    pressure_pa,
    temperature_sd_k,
)
from costing.units import as_float

DRAWS = 1000
SEED = 20

_FRUIT = (0.15, 0.75, 0.10)
_LOW, _HIGH = 0.05, 0.95


@dataclass(frozen=True)
class Draw:
    """One way the unknowns may lie. rise_off_k: true rise less the rise read."""

    fruit: float = 1.0
    fibre: float = 1.0
    inverted: float = 0.25
    rise_off_k: float = 0.0
    residue: float = 1.0
    rate: float = 1.0


@dataclass(frozen=True)
class End:
    """A pan when the fire goes out, for one draw of what is not known."""

    brix: float
    pot_g: float
    rise_k: float
    finished_g: float


class PanModel:
    """What a pan ends as, for one way its unknowns may lie."""

    def __init__(self, plan: StovePlan, form: str, value: float) -> None:
        solids = NO_SOLIDS if plan.solids is None else plan.solids
        self.parts = tuple(map(as_float, (solids.sucrose_g, solids.hexose_g, solids.acid_g)))
        self.fibre_g = as_float(solids.insoluble_g)
        self.fruit_g = as_float(fruit_soluble_g(plan))
        self.pressure = pressure_pa(plan)
        self.form, self.value = form, value
        self.ingoing_g = as_float(plan.ingoing_g)
        cook = plan.recipe.cook
        self.handling = as_float(cook.handling_loss_pct) / 100
        self.residue_share = as_float(cook.pan_residue_pct) / 100
        self.residue_g = as_float(cook.pan_residue_g)
        if plan.pan_residue_g is not None:
            self.residue_share, self.residue_g = 0.0, as_float(plan.pan_residue_g)
        self._start: tuple[float, float] | None = None

    def end(self, draw: Draw) -> End:
        soluble_g, composition = self._solids(draw)
        fibre_g = self.fibre_g * draw.fibre
        if self.form in (FINAL_WEIGHT, SHARE):
            share = self.value / 100
            pot_g = self.value if self.form == FINAL_WEIGHT else self.ingoing_g * share
            brix = 100 * soluble_g / max(pot_g - fibre_g, 1e-9)
        else:
            brix = self.value if self.form == BRIX else self._brix(draw, composition)
            pot_g = 100 * soluble_g / brix + fibre_g
        if self.form == RISE:
            rise_k = self.value
        else:
            within = min(max(brix, 0.0), 95.0)
            rise_k = self._rise(within, composition) - draw.rise_off_k
        residue_g = (pot_g * self.residue_share + self.residue_g) * draw.residue
        finished_g = max(pot_g - residue_g, 0.0) * (1 - self.handling)
        return End(brix, pot_g, rise_k, finished_g)

    def _solids(self, draw: Draw) -> tuple[float, Composition]:
        more_g = (draw.fruit - 1) * self.fruit_g
        sucrose, hexose, acid = (
            max(part + more_g * share, 0.0) for part, share in zip(self.parts, _FRUIT, strict=True)
        )
        split = sucrose * draw.inverted
        bound = split * WATER_BOUND_PER_SUCROSE
        composition = Composition.from_masses(
            sucrose_g=sucrose - split, hexose_g=hexose + split + bound, acid_g=acid
        )
        return sucrose + hexose + acid + bound, composition

    def _rise(self, brix: float, composition: Composition) -> float:
        return boiling_point_rise_k(brix=brix, pressure_pa=self.pressure, composition=composition)

    def _brix(self, draw: Draw, composition: Composition) -> float:
        """Brix of the rise, by Newton's steps from the first pan's; half a bisection's time."""
        rise_k = max(self.value + draw.rise_off_k, 0.01)
        if self._start is None:
            brix = brix_from_rise(rise_k=rise_k, pressure_pa=self.pressure, composition=composition)
            self._start = (brix, brix_per_k(brix, self.pressure, composition))
            return brix
        brix, slope = self._start
        for _ in range(3):
            brix += slope * (rise_k - self._rise(brix, composition))
            brix = min(max(brix, 1.0), 95.0)
        return brix


def brix_per_k(brix: float, pressure: float, composition: Composition) -> float:
    """Brix per kelvin at a Brix."""
    low, high = max(brix - 0.25, 0.0), min(brix + 0.25, 95.0)
    rises = [
        boiling_point_rise_k(brix=one, pressure_pa=pressure, composition=composition)
        for one in (low, high)
    ]
    return (high - low) / (rises[1] - rises[0])


def draws_of(plan: StovePlan) -> list[Draw]:
    """What is not known of a pan, drawn many times over; the same pan gives the same draws."""
    chance = random.Random(SEED)  # noqa: S311  # a spread, not a secret
    spreads, most = plan.spreads, fruit_off_share(plan)
    fibre = as_float(spreads.fibre_pct) / 100
    share, low, high = inverted_range(plan)
    sd_k = math.hypot(*temperature_sd_k(plan).values())
    rate = as_float(spreads.rate_pct) / 100
    return [
        Draw(
            fruit=chance.triangular(1 - most, 1 + most, 1.0),
            fibre=chance.triangular(1 - fibre, 1 + fibre, 1.0),
            inverted=chance.triangular(low, high, share),
            rise_off_k=chance.gauss(0.0, sd_k),
            residue=chance.triangular(0.5, 2.0, 1.0),
            rate=max(chance.gauss(1.0, rate), 0.2),
        )
        for _ in range(DRAWS)
    ]


def inverted_range(plan: StovePlan) -> tuple[float, float, float]:
    """Share of the sucrose inverted: likely, least and most."""
    share = as_float(plan.recipe.cook.inverted_pct) / 100
    low = share - as_float(plan.spreads.inverted_below_pct) / 100
    high = share + as_float(plan.spreads.inverted_above_pct) / 100
    return share, max(low, 0.0), min(high, HIGHEST_INVERTED_SHARE)


def between(values: Sequence[float]) -> tuple[float, float]:
    """The band that holds nine in ten of the values."""
    ordered = sorted(values)
    last = len(ordered) - 1
    return ordered[round(last * _LOW)], ordered[round(last * _HIGH)]
