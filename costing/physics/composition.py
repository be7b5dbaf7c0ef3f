"""What the dissolved solids consist of: it shifts the boiling point as much as a degree does."""

from dataclasses import dataclass

from costing.physics.elementwise import FloatOrArray, is_everywhere, magnitude
from costing.physics.errors import PhysicsError, require

SUCROSE_G_PER_MOL = 342.2965
HEXOSE_G_PER_MOL = 180.156
CITRIC_ACID_G_PER_MOL = 192.124
WATER_G_PER_MOL = 18.01528

_ROUNDING = 1e-9


@dataclass(frozen=True)
class Composition:
    """Shares, by mass, of the soluble solids; they must add up to 1.

    sucrose: table sugar not yet inverted. hexose: glucose and fructose (sorbitol and the few
    minerals of fruit are counted here). acid: fruit acids, as citric acid.
    A share may be an array when many pans are drawn at once.
    """

    sucrose: FloatOrArray
    hexose: FloatOrArray
    acid: FloatOrArray

    def __post_init__(self) -> None:
        for name in ("sucrose", "hexose", "acid"):
            require(
                getattr(self, name),
                what=f"The share of {name} in the soluble solids",
                low=0,
                high=1,
                next_step="Give sucrose, hexose and acid as shares of 1.",
            )
        total = self.sucrose + self.hexose + self.acid
        if not is_everywhere(magnitude(total - 1) <= _ROUNDING):
            raise PhysicsError(
                f"Sucrose, hexose and acid add up to {total}; as shares of the soluble solids "
                "they must add up to 1. Correct one of the three."
            )

    @classmethod
    def from_masses(
        cls, *, sucrose_g: FloatOrArray, hexose_g: FloatOrArray, acid_g: FloatOrArray
    ) -> "Composition":
        """Shares from the grams of each in the pan; refuses a pan without soluble solids."""
        for name, mass_g in (("sucrose", sucrose_g), ("hexose", hexose_g), ("acid", acid_g)):
            require(
                mass_g,
                what=f"The mass of {name} in the pan",
                low=0,
                unit="g",
                next_step="Check the recipe for a negative amount.",
            )
        total_g = sucrose_g + hexose_g + acid_g
        require(
            total_g,
            what="The soluble solids in the pan",
            low=0,
            low_is_allowed=False,
            unit="g",
            next_step="Add fruit or sugar, or give the fruit its Brix.",
        )
        return cls(sucrose=sucrose_g / total_g, hexose=hexose_g / total_g, acid=acid_g / total_g)


SUCROSE = Composition(sucrose=1.0, hexose=0.0, acid=0.0)
"""A plain sugar syrup."""

INVERT = Composition(sucrose=0.0, hexose=1.0, acid=0.0)
"""All sugar inverted to glucose and fructose."""

PRESERVE = Composition(sucrose=0.60, hexose=0.37, acid=0.03)
"""A cooked jam or paste when nothing else is known. Judgement, not measurement."""

FRUIT = Composition(sucrose=0.15, hexose=0.75, acid=0.10)
"""Soluble solids of fruit when nothing else is known. Judgement: override it per fruit."""
