"""The numbers of a nutrition declaration in Great Britain: factors, rounding, tolerances.

Factors and reference intakes are law; rounding and tolerances are guidance (European Commission,
December 2012, second-hand; in Great Britain still the guidance in use, from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from labels.law.gb.words import figure
from labels.mechanics.rounding import nearest

KJ, KCAL = 0, 1
FACTORS = {
    "carbohydrate": (Decimal(17), Decimal(4)),
    "polyols": (Decimal(10), Decimal("2.4")),
    "erythritol": (Decimal(0), Decimal(0)),
    "protein": (Decimal(17), Decimal(4)),
    "fat": (Decimal(37), Decimal(9)),
    "salatrims": (Decimal(25), Decimal(6)),
    "ethanol": (Decimal(29), Decimal(7)),
    "organic acid": (Decimal(13), Decimal(3)),
    "fibre": (Decimal(8), Decimal(2)),
}
"""kJ and kcal for 1 g (Annex XIV). "carbohydrate" is what is not polyol."""

SALT_PER_SODIUM = Decimal("2.5")
"""Salt = sodium x 2.5 (Annex I, point 11)."""

REFERENCE_INTAKES = {
    "energy_kj": Decimal(8400), "energy_kcal": Decimal(2000), "fat": Decimal(70),
    "saturates": Decimal(20), "carbohydrate": Decimal(260), "sugars": Decimal(90),
    "protein": Decimal(50), "salt": Decimal(6),
}  # fmt: skip
"""Of an average adult for a day (Annex XIII, Part B)."""
REFERENCE_SENTENCE = "Reference intake of an average adult (8 400 kJ/2 000 kcal)"

OF_FAT_KIND = ("saturates", "monounsaturates", "polyunsaturates")


@dataclass(frozen=True)
class RoundingRow:
    """How one kind of nutrient is shown: from where whole, or by tenths, and what is nearly none.

    fine_step: below `coarse_from`; nil_up_to: at this or less it is shown as none.
    """

    coarse_from: Decimal
    coarse_step: Decimal
    fine_step: Decimal
    nil_up_to: Decimal
    nil: str


COMMON = RoundingRow(Decimal(10), Decimal(1), Decimal("0.1"), Decimal("0.5"), "<0.5 g")
FATTY = RoundingRow(Decimal(10), Decimal(1), Decimal("0.1"), Decimal("0.1"), "<0.1 g")
SALT = RoundingRow(Decimal(1), Decimal("0.1"), Decimal("0.01"), Decimal("0.0125"), "<0.01 g")


def energy(grams: Mapping[str, Decimal]) -> tuple[Decimal, Decimal]:
    """Energy of 100 g [kJ, kcal], each summed by its own factors; one is not turned into the other.

    grams: by the names of FACTORS, for 100 g. Raises KeyError for another name.
    Source: assimilated Regulation (EU) No 1169/2011, Annex XIV.
    """
    kj = sum((amount * FACTORS[name][KJ] for name, amount in grams.items()), start=Decimal(0))
    kcal = sum((amount * FACTORS[name][KCAL] for name, amount in grams.items()), start=Decimal(0))
    return kj, kcal


def energy_shown(grams: Mapping[str, Decimal]) -> str:
    """Energy as printed: kJ, then kcal, each to the nearest one.

    >>> energy_shown({"carbohydrate": Decimal(50), "polyols": Decimal(10)})
    '950 kJ / 224 kcal'
    """
    kj, kcal = (value.quantize(Decimal(1), ROUND_HALF_UP) for value in energy(grams))
    return f"{kj} kJ / {kcal} kcal"


def salt_g(sodium_mg: Decimal) -> Decimal:
    """Salt that stands for an amount of sodium [g]."""
    return sodium_mg / 1000 * SALT_PER_SODIUM


def row_of(nutrient: str) -> RoundingRow:
    """The rounding that guidance gives a nutrient."""
    if nutrient == "salt":
        return SALT
    return FATTY if nutrient in OF_FAT_KIND else COMMON


def shown(nutrient: str, grams: Decimal) -> str:
    """An amount for 100 g as printed.

    >>> shown("sugars", Decimal("64.6")), shown("salt", Decimal("1.24"))
    ('65 g', '1.2 g')
    """
    row = row_of(nutrient)
    if grams <= row.nil_up_to:
        return row.nil if grams > 0 else "0 g"
    step = row.coarse_step if grams >= row.coarse_from else row.fine_step
    return f"{figure(nearest(grams, step))} g"


def share_of_intake_pct(nutrient: str, amount: Decimal) -> Decimal:
    """Share of the reference intake that a portion holds [%], to the nearest one."""
    return nearest(amount * 100 / REFERENCE_INTAKES[nutrient], Decimal(1))


def control_range_g(nutrient: str, labelled_g: Decimal) -> tuple[Decimal, Decimal]:
    """Between which amounts an official control lets the label stand [g]; never below nought.

    Source: European Commission guidance of December 2012 (second-hand; of salt, from memory).
    """
    off = _tolerance_g(nutrient, labelled_g)
    return max(labelled_g - off, Decimal(0)), labelled_g + off


def _tolerance_g(nutrient: str, labelled_g: Decimal) -> Decimal:
    fifth = labelled_g / 5
    if nutrient == "salt":
        return Decimal("0.375") if labelled_g < Decimal("1.25") else fifth
    if nutrient in OF_FAT_KIND:
        return Decimal("0.8") if labelled_g < 4 else fifth
    if labelled_g < 10:
        return Decimal("1.5") if nutrient == "fat" else Decimal(2)
    return fifth if labelled_g <= 40 else Decimal(8)
