"""Will it keep: the two water activities of a preserve, and the official limits as figures.

Numbers only. A computed water activity is never evidence that a food is safe: for a decision use
the higher figure, or better a measurement, and ask the local food authority.
"""

from dataclasses import dataclass
from typing import cast

from costing.physics.composition import Composition
from costing.physics.elementwise import Quantity, choose
from costing.physics.errors import require
from costing.physics.water_activity import HIGHEST_BRIX, ross_water_activity, water_activity

STATED_WITHIN = 0.02
"""Error to state with every computed water activity."""

COOL_ROOM_C = 20.0

SOUND_HEXOSE_TO_BRIX = 78.0
"""Above it the model reads too low where glucose and fructose prevail (0.53 for 0.57)."""


@dataclass(frozen=True)
class KeepingLimit:
    """One published limit; a figure is None where the source sets none.

    A food is within it at or below the figures given. `is_from_memory`: the source was recalled,
    not read again; say so where it is printed.
    """

    code: str
    meaning: str
    source: str
    is_from_memory: bool
    water_activity: float | None = None
    ph: float | None = None


KEEPING_LIMITS: tuple[KeepingLimit, ...] = (
    KeepingLimit(
        code="low-acid water activity",
        meaning="Above this and above pH 4.6 a food is low-acid: regulated heat treatment (US).",
        source="21 CFR 114.3",
        is_from_memory=False,
        water_activity=0.85,
    ),
    KeepingLimit(
        code="low-acid water activity, canned",
        meaning="The same limit in the rules for low-acid canned food (US).",
        source="21 CFR 113.3",
        is_from_memory=True,
        water_activity=0.85,
    ),
    KeepingLimit(
        code="acid boundary",
        meaning="Up to this a food is acid or acidified (US); part 114 excludes jams and jellies.",
        source="21 CFR 114.3",
        is_from_memory=False,
        ph=4.6,
    ),
    KeepingLimit(
        code="saturated sugar",
        meaning="As dry as sugar alone makes it; moulds and sugar-loving yeasts still grow.",
        source="FAO, fruit processing text, section 8.6",
        is_from_memory=False,
        water_activity=0.848,
    ),
    KeepingLimit(
        code="common moulds",
        meaning="About where common moulds stop: spoilage, not poisoning.",
        source="ICMSF",
        is_from_memory=True,
        water_activity=0.80,
    ),
    KeepingLimit(
        code="driest growth",
        meaning="About where the last moulds and sugar-loving yeasts stop.",
        source="ICMSF",
        is_from_memory=True,
        water_activity=0.61,
    ),
    KeepingLimit(
        code="no time and temperature control, packed hot",
        meaning="At any pH, heat-treated and then packed, a food needs no cold chain for safety.",
        source="US FDA Food Code, interaction table A",
        is_from_memory=True,
        water_activity=0.92,
    ),
    KeepingLimit(
        code="no time and temperature control, not packed",
        meaning="Below this figure, at any pH, an unpacked food needs no cold chain for safety.",
        source="US FDA Food Code, interaction table B",
        is_from_memory=True,
        water_activity=0.88,
    ),
)


@dataclass(frozen=True)
class KeepingActivity:
    """Water activity at one temperature, by both equations.

    planning: extended Norrish, to state with `STATED_WITHIN`. ross: the other equation. cautious:
    the higher of the two, the one for any decision. is_indicative: outside the checked range.
    """

    temperature_c: float
    planning: float
    ross: float
    cautious: float
    is_indicative: bool

    @property
    def low(self) -> float:
        """Lower end of what to state."""
        return max(0.0, self.planning - STATED_WITHIN)

    @property
    def high(self) -> float:
        """Upper end of what to state; never below the cautious figure."""
        return min(1.0, max(self.planning + STATED_WITHIN, self.cautious))


def cautious_water_activity(
    *, brix: Quantity, temperature_c: Quantity, composition: Composition
) -> Quantity:
    """The higher of the extended Norrish and the Ross figure: the one for any decision.

    brix: soluble solids in the liquid phase [% m/m].
    temperature_c: temperature at which the preserve is kept [C].
    composition: sucrose, hexose and acid as shares of the soluble solids [mass shares].
    Returns: water activity, 1 for plain water [-].
    Raises: OutsideValidRange unless 0 <= brix <= 95 and 0 <= temperature <= 160.
    Source: larger of `water_activity` and `ross_water_activity`.

    >>> from costing.physics.composition import PRESERVE
    >>> round(cautious_water_activity(brix=66.0, temperature_c=20.0, composition=PRESERVE), 2)
    0.85
    """
    norrish = water_activity(brix=brix, temperature_c=temperature_c, composition=composition)
    ross = ross_water_activity(brix=brix, temperature_c=temperature_c, composition=composition)
    return cast("Quantity", choose(ross > norrish, ross, norrish))


def keeping_activity(
    *, brix: float, composition: Composition, temperature_c: float = COOL_ROOM_C
) -> KeepingActivity:
    """Both water activities of a preserve on the shelf, 0 to 40 C, and whether to trust them."""
    require(
        temperature_c,
        what="The temperature of the shelf",
        low=0,
        high=40,
        unit="C",
        next_step="20 C is a cool room, 25 C a warm one.",
    )
    require(
        brix,
        what="The Brix",
        low=0,
        high=HIGHEST_BRIX,
        unit="Brix",
        next_step="Preserves finish between 40 and 80 Brix.",
    )
    state = {"brix": brix, "temperature_c": temperature_c}
    sound_to = SOUND_HEXOSE_TO_BRIX if float(composition.hexose) > 0.5 else 80.0
    return KeepingActivity(
        temperature_c=temperature_c,
        planning=water_activity(composition=composition, **state),
        ross=ross_water_activity(composition=composition, **state),
        cautious=cautious_water_activity(composition=composition, **state),
        is_indicative=brix > sound_to,
    )
