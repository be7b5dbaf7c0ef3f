"""The numbers of a nutrition declaration in the Union: energy, rounding, intakes, tolerances.

Factors, salt and reference intakes are law. Rounding and tolerances are guidance of the European
Commission's services (December 2012, sections 2 and 6), read second-hand; the tolerances of salt
and by which figure a band is chosen are from memory.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from labels.law.eu.words import figure
from labels.mechanics.rounding import nearest

KJ_PER_G = {
    "carbohydrate": Decimal(17),
    "polyols": Decimal(10),
    "erythritol": Decimal(0),
    "protein": Decimal(17),
    "fat": Decimal(37),
    "salatrims": Decimal(25),
    "alcohol": Decimal(29),
    "organic acids": Decimal(13),
    "fibre": Decimal(8),
}
KCAL_PER_G = {
    "carbohydrate": Decimal(4),
    "polyols": Decimal("2.4"),
    "erythritol": Decimal(0),
    "protein": Decimal(4),
    "fat": Decimal(9),
    "salatrims": Decimal(6),
    "alcohol": Decimal(7),
    "organic acids": Decimal(3),
    "fibre": Decimal(2),
}
"""Energy of a gram (Annex XIV). The factor of carbohydrate is for carbohydrate except polyols."""

SALT_PER_SODIUM = Decimal("2.5")
"""Annex I, point 11."""

INTAKE_KJ, INTAKE_KCAL = Decimal(8400), Decimal(2000)
INTAKE_G = {
    "fat": Decimal(70),
    "saturates": Decimal(20),
    "carbohydrate": Decimal(260),
    "sugars": Decimal(90),
    "protein": Decimal(50),
    "salt": Decimal(6),
}
"""What an average adult takes in a day (Annex XIII, Part B). Fibre has none."""

PARTS_OF = {"saturates": "fat", "sugars": "carbohydrate", "polyols": "carbohydrate"}
"""What is a part of what (Annex I, points 3, 7, 8 and 9)."""


@dataclass(frozen=True)
class Rounding:
    """How guidance has an amount in 100 g shown [g].

    whole_from: from here in `coarse` steps, below it in `fine` steps.
    none_up_to: at this or less it may be shown as "0 g", or as less than `less_than`.
    """

    whole_from: Decimal
    coarse: Decimal
    fine: Decimal
    none_up_to: Decimal
    less_than: Decimal

    @property
    def in_words(self) -> str:
        """The rule as the record tells it."""
        return (
            f"from {self.whole_from} g to the nearest {self.coarse} g, below it to {self.fine} g; "
            f"{self.none_up_to} g or less is nearly none"
        )


_MOST = Rounding(Decimal(10), Decimal(1), Decimal("0.1"), Decimal("0.5"), Decimal("0.5"))
_FATTY_ACIDS = Rounding(Decimal(10), Decimal(1), Decimal("0.1"), Decimal("0.1"), Decimal("0.1"))
_SALT = Rounding(Decimal(1), Decimal("0.1"), Decimal("0.01"), Decimal("0.0125"), Decimal("0.01"))


def rounding_of(nutrient: str) -> Rounding:
    """The row of the guidance for a nutrient."""
    if nutrient == "salt":
        return _SALT
    return _FATTY_ACIDS if nutrient == "saturates" else _MOST


def energy(grams: Mapping[str, Decimal]) -> tuple[Decimal, Decimal]:
    """Energy of an amount of food [kJ, kcal], each by its own factors, unrounded.

    grams: as a declaration has them: carbohydrate with its polyols; what has no factor is passed
        over only if it is a part of another ("saturates", "sugars") or holds no energy ("salt").
    Raises KeyError for any other name.
    Source: Regulation (EU) No 1169/2011, Annex XIV.
    """
    counted = {name: g for name, g in grams.items() if name not in {"saturates", "sugars", "salt"}}
    if "polyols" in counted and "carbohydrate" in counted:
        counted["carbohydrate"] -= counted["polyols"]
    kj = sum((g * KJ_PER_G[name] for name, g in counted.items()), Decimal(0))
    kcal = sum((g * KCAL_PER_G[name] for name, g in counted.items()), Decimal(0))
    return kj, kcal


def energy_shown(grams: Mapping[str, Decimal]) -> str:
    """Energy as printed: kilojoules, then kilocalories, each to the nearest one.

    >>> energy_shown({"carbohydrate": Decimal(60), "polyols": Decimal(10)})
    '950 kJ/224 kcal'
    """
    kj, kcal = (value.quantize(Decimal(1), ROUND_HALF_UP) for value in energy(grams))
    return f"{kj} kJ/{kcal} kcal"


def salt_g(*, sodium_mg: Decimal) -> Decimal:
    """Salt equivalent of sodium [g]: sodium times 2.5.

    Source: Regulation (EU) No 1169/2011, Annex I, point 11.
    """
    return sodium_mg * SALT_PER_SODIUM / 1000


def shown(nutrient: str, grams: Decimal, *, language: str = "en") -> str:
    """An amount as printed, by the guidance on rounding; "<0.5 g" where there is nearly none.

    >>> shown("sugars", Decimal("64.6")), shown("salt", Decimal("0.075")), shown("fat", Decimal(0))
    ('65 g', '0.08 g', '0 g')
    """
    if grams <= 0:
        return "0 g"
    is_nearly_none = grams <= rounding_of(nutrient).none_up_to
    text = figure(labelled_g(nutrient, grams), language=language)
    return f"<{text} g" if is_nearly_none else f"{text} g"


def labelled_g(nutrient: str, grams: Decimal) -> Decimal:
    """The amount that the label gives [g]; where there is nearly none, what it is said to be under.

    Source: guidance of the European Commission's services, December 2012 (second-hand).
    """
    row = rounding_of(nutrient)
    if grams <= 0:
        return Decimal(0)
    if grams <= row.none_up_to:
        return row.less_than
    return nearest(grams, row.coarse if grams >= row.whole_from else row.fine)


def share_of_intake_pct(nutrient: str, grams: Decimal) -> Decimal:
    """Share of a day's reference intake [%], to the nearest one. Raises KeyError without one."""
    return nearest(grams * 100 / INTAKE_G[nutrient], Decimal(1))


def share_of_energy_pct(kj: Decimal) -> Decimal:
    """Share of a day's energy [%], to the nearest one."""
    return nearest(kj * 100 / INTAKE_KJ, Decimal(1))


def tolerance_g(nutrient: str, labelled_g: Decimal) -> Decimal:
    """By how much an official control may find more or less than the label says [g].

    Source: guidance of the European Commission's services, December 2012 (second-hand).
    """
    fifth = labelled_g / 5
    if nutrient == "salt":
        return Decimal("0.375") if labelled_g < Decimal("1.25") else fifth
    if nutrient == "saturates":
        return Decimal("0.8") if labelled_g < 4 else fifth
    if labelled_g < 10:
        return Decimal("1.5") if nutrient == "fat" else Decimal(2)
    return fifth if labelled_g <= 40 else Decimal(8)


def control_range_g(nutrient: str, labelled_g: Decimal) -> tuple[Decimal, Decimal]:
    """The least and the most that an official control lets stand [g]; never below nought."""
    off = tolerance_g(nutrient, labelled_g)
    return max(labelled_g - off, Decimal(0)), labelled_g + off
