"""A cook drawn many times over, with everything that varies in it: the band of what comes out.

A finished mass is never one number. Show the 5th to 95th percentile, and name what widens the
band most: that is what is worth measuring.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from costing.physics.boiling_point import (
    HIGHEST_PRESSURE_PA,
    LOWEST_PRESSURE_PA,
    brix_from_rise,
    brix_from_temperature,
)
from costing.physics.composition import FRUIT, Composition
from costing.physics.errors import PhysicsError, require
from costing.physics.inversion import composition_after_inversion, water_bound_g
from costing.physics.mass_balance import (
    HIGHEST_FINISHING_BRIX,
    brix_from_pot_mass,
    delivered_g,
    pot_mass_g,
    soluble_solids_g,
    water_to_boil_off_g,
)

DEFAULT_DRAWS = 10_000
DRAWS_FOR_CONTRIBUTIONS = 2_000

Array = NDArray[np.float64]

_PERCENTILES = (5.0, 50.0, 95.0)


@dataclass(frozen=True)
class Triangular:
    """A figure known by its lowest, usual and highest value."""

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        # Written so that "not a number" fails too.
        if not self.low <= self.usual <= self.high:
            raise PhysicsError(
                f"Lowest {self.low:g}, usual {self.usual:g} and highest {self.high:g} must come "
                "in that order. Correct one of the three."
            )

    def drawn(self, generator: np.random.Generator, draws: int) -> Array:
        """So many independent values; a figure without spread is simply repeated."""
        if self.low == self.high:
            return np.full(draws, self.usual)
        return generator.triangular(self.low, self.usual, self.high, draws)


@dataclass(frozen=True)
class Normal:
    """A measured figure and its standard uncertainty."""

    usual: float
    sd: float

    def __post_init__(self) -> None:
        require(
            self.sd,
            what="The standard uncertainty",
            low=0,
            next_step="Give its size; 0 where it is known exactly.",
        )

    def drawn(self, generator: np.random.Generator, draws: int) -> Array:
        """So many independent values."""
        return generator.normal(self.usual, self.sd, draws)


@dataclass(frozen=True)
class UncertainFruit:
    """One fruit or puree: its mass [g] is weighed, its Brix and fibre [% m/m] vary."""

    mass_g: float
    brix: Triangular
    insoluble_pct: Triangular
    composition: Composition = FRUIT


@dataclass(frozen=True)
class StopAtRise:
    """The pot is stopped so many kelvin above that day's boiling water, read in the same pan."""

    rise_k: Normal
    pressure_pa: float


@dataclass(frozen=True)
class StopAtTemperature:
    """The pot is stopped at a reading [C]; weather and the thermometer's own error stay in."""

    temperature_c: Normal
    pressure_pa: Normal


@dataclass(frozen=True)
class StopAtBrix:
    """The pot is stopped by refractometer [% m/m]."""

    brix: Normal


@dataclass(frozen=True)
class StopAtPotMass:
    """The pot is stopped on the scale: food in the pot, pan and spoon taken off [g]."""

    pot_mass_g: Normal


Stop = StopAtRise | StopAtTemperature | StopAtBrix | StopAtPotMass


@dataclass(frozen=True)
class UncertainCook:
    """Everything that goes in, and how well each figure is known.

    ingoing_g: everything in the pot at the start, added water too [g].
    sucrose_g, hexose_g, acid_g: what sugar, juice and the like bring besides the fruits [g].
    insoluble_solids_g: fibre of those others [g].
    inverted_share: of all sucrose, split by the end of the cook [-].
    pan_loss_g: left on pan and spoon [g]. handling_loss_share: lost after that [-].
    """

    ingoing_g: float
    fruits: tuple[UncertainFruit, ...]
    sucrose_g: float
    inverted_share: Triangular
    pan_loss_g: Triangular
    stop: Stop
    hexose_g: float = 0.0
    acid_g: float = 0.0
    insoluble_solids_g: float = 0.0
    handling_loss_share: float = 0.0


@dataclass(frozen=True)
class Spread:
    """How one figure is spread: the 5th, 50th and 95th percentile, mean and standard deviation."""

    p5: float
    p50: float
    p95: float
    mean: float
    sd: float

    @classmethod
    def of(cls, drawn: Array) -> "Spread":
        """Spread of values drawn."""
        p5, p50, p95 = (float(value) for value in np.percentile(drawn, _PERCENTILES))
        return cls(p5=p5, p50=p50, p95=p95, mean=float(drawn.mean()), sd=float(drawn.std()))


@dataclass(frozen=True)
class DrawnCook:
    """One array for each figure, a value for each draw; the same seed gives the same draws.

    composition: of the soluble solids of each draw, inversion counted.
    share_at_limits: share of draws held at the Brix the pot began with or at 85 Brix; where it
    is not small, the ends of the band are indicative only.
    """

    seed: int
    soluble_solids_g: Array
    insoluble_solids_g: Array
    inverted_share: Array
    brix: Array
    pot_mass_g: Array
    water_boiled_off_g: Array
    delivered_g: Array
    composition: Composition
    share_at_limits: float

    def summary(self) -> dict[str, Spread]:
        """Spread of each figure, by the name of its array."""
        return {
            name: Spread.of(getattr(self, name))
            for name in (
                "soluble_solids_g",
                "insoluble_solids_g",
                "inverted_share",
                "brix",
                "pot_mass_g",
                "water_boiled_off_g",
                "delivered_g",
            )
        }


@dataclass(frozen=True)
class Contribution:
    """What one input alone does to the delivered mass: its standard deviation [g].

    what: "fruit_brix", "insoluble_solids", "inverted_share", "pan_loss", "pressure", or the way
    of stopping: "rise", "temperature", "brix", "pot_mass". fruit: place in the list of fruits.
    """

    what: str
    sd_g: float
    fruit: int | None = None


# What an input is called and, for fruit, which one it is.
_Key = tuple[str, int | None]


def draw_cook(cook: UncertainCook, *, seed: int, draws: int = DEFAULT_DRAWS) -> DrawnCook:
    """Draw a whole cook many times: what is in the pot at its end and what can be sold.

    Refuses, as the formulas do, a cook whose usual figures are impossible. Single draws that
    fall outside are held at the limit and counted.
    """
    _require_draws(draws)
    known = _distributions(cook)
    _boiled_down(cook, _usual(known, 1), seed=seed, is_plan=True)
    generator = np.random.default_rng(seed)
    drawn = {key: figure.drawn(generator, draws) for key, figure in known.items()}
    return _boiled_down(cook, drawn, seed=seed, is_plan=False)


def contributions(
    cook: UncertainCook, *, seed: int, draws: int = DRAWS_FOR_CONTRIBUTIONS
) -> tuple[Contribution, ...]:
    """What each input alone does to the delivered mass, the largest first.

    One input is drawn while the others keep their usual value.
    """
    _require_draws(draws)
    known = _distributions(cook)
    usual = _usual(known, draws)
    _boiled_down(cook, _usual(known, 1), seed=seed, is_plan=True)
    found = []
    for key, figure in known.items():
        drawn = figure.drawn(np.random.default_rng(seed), draws)
        alone = _boiled_down(cook, {**usual, key: drawn}, seed=seed, is_plan=False)
        sd_g = float(alone.delivered_g.std())
        found.append(Contribution(what=key[0], sd_g=sd_g, fruit=key[1]))
    return tuple(sorted(found, key=lambda contribution: -contribution.sd_g))


def _distributions(cook: UncertainCook) -> dict[_Key, Triangular | Normal]:
    known: dict[_Key, Triangular | Normal] = {}
    for place, fruit in enumerate(cook.fruits):
        known["fruit_brix", place] = fruit.brix
        known["insoluble_solids", place] = fruit.insoluble_pct
    known["inverted_share", None] = cook.inverted_share
    match cook.stop:
        case StopAtRise(rise_k=rise_k):
            known["rise", None] = rise_k
        case StopAtTemperature(temperature_c=temperature_c, pressure_pa=pressure_pa):
            known["temperature", None] = temperature_c
            known["pressure", None] = pressure_pa
        case StopAtBrix(brix=brix):
            known["brix", None] = brix
        case StopAtPotMass(pot_mass_g=mass_g):
            known["pot_mass", None] = mass_g
    known["pan_loss", None] = cook.pan_loss_g
    return known


def _usual(known: dict[_Key, Triangular | Normal], draws: int) -> dict[_Key, Array]:
    return {key: np.full(draws, figure.usual) for key, figure in known.items()}


def _boiled_down(
    cook: UncertainCook, figures: dict[_Key, Array], *, seed: int, is_plan: bool
) -> DrawnCook:
    """One cook for each value; a plan is refused where draws are held at a limit."""
    pan = _pan(cook, figures)
    soluble_g, fibre_g = pan.soluble_g, pan.insoluble_g
    brix = _brix_at_stop(cook.stop, figures, pan)
    start_brix = brix_from_pot_mass(
        pot_mass_g=np.full_like(soluble_g, cook.ingoing_g),
        soluble_solids_g=soluble_g,
        insoluble_solids_g=fibre_g,
    )
    held = brix if is_plan else np.clip(brix, start_brix, HIGHEST_FINISHING_BRIX)
    mass_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g, brix=held)
    return DrawnCook(
        seed=seed,
        soluble_solids_g=soluble_g,
        insoluble_solids_g=fibre_g,
        inverted_share=figures["inverted_share", None],
        brix=held,
        pot_mass_g=mass_g,
        water_boiled_off_g=water_to_boil_off_g(
            pot_mass_g=np.full_like(mass_g, cook.ingoing_g),
            soluble_solids_g=soluble_g,
            insoluble_solids_g=fibre_g,
            finishing_brix=held,
        ),
        delivered_g=delivered_g(
            pot_mass_g=mass_g,
            pan_loss_g=figures["pan_loss", None],
            handling_loss_share=np.full_like(mass_g, cook.handling_loss_share),
        ),
        composition=pan.composition,
        share_at_limits=float(np.mean(held != brix)),
    )


@dataclass(frozen=True)
class _Pan:
    """What is in the pan at the end, inversion counted."""

    soluble_g: Array
    insoluble_g: Array
    composition: Composition


def _pan(cook: UncertainCook, figures: dict[_Key, Array]) -> _Pan:
    inverted = figures["inverted_share", None]
    zero = 0 * inverted
    sucrose_g, hexose_g = cook.sucrose_g + zero, cook.hexose_g + zero
    acid_g, insoluble_g = cook.acid_g + zero, cook.insoluble_solids_g + zero
    for place, fruit in enumerate(cook.fruits):
        fibre_g = fruit.mass_g * figures["insoluble_solids", place] / 100
        solids_g = soluble_solids_g(
            fruit_g=fruit.mass_g + zero,
            brix=figures["fruit_brix", place],
            insoluble_solids_g=fibre_g,
        )
        sucrose_g = sucrose_g + fruit.composition.sucrose * solids_g
        hexose_g = hexose_g + fruit.composition.hexose * solids_g
        acid_g = acid_g + fruit.composition.acid * solids_g
        insoluble_g = insoluble_g + fibre_g
    before = Composition.from_masses(sucrose_g=sucrose_g, hexose_g=hexose_g, acid_g=acid_g)
    bound_g = water_bound_g(sucrose_g=sucrose_g, inverted_share=inverted)
    return _Pan(
        soluble_g=sucrose_g + hexose_g + acid_g + bound_g,
        insoluble_g=insoluble_g,
        composition=composition_after_inversion(composition=before, inverted_share=inverted),
    )


def _brix_at_stop(stop: Stop, figures: dict[_Key, Array], pan: _Pan) -> Array:
    match stop:
        case StopAtRise(pressure_pa=pressure_pa):
            rise_k = figures["rise", None]
            return brix_from_rise(
                rise_k=rise_k,
                pressure_pa=np.full_like(rise_k, pressure_pa),
                composition=pan.composition,
            )
        case StopAtTemperature():
            return brix_from_temperature(
                temperature_c=figures["temperature", None],
                # Weather drawn beyond any seen is held at the end of the range.
                pressure_pa=np.clip(
                    figures["pressure", None], LOWEST_PRESSURE_PA, HIGHEST_PRESSURE_PA
                ),
                composition=pan.composition,
            )
        case StopAtBrix():
            return figures["brix", None]
    # A draw below its own solids is held at the limit like any other, so nothing is refused.
    liquid_g = np.maximum(figures["pot_mass", None] - pan.insoluble_g, 1e-9 * pan.soluble_g)
    return 100 * pan.soluble_g / liquid_g


def _require_draws(draws: int) -> None:
    require(
        draws,
        what="The number of draws",
        low=100,
        high=1_000_000,
        next_step="10 000 draws settle the ends of the band to about 2 % of its width.",
    )
