"""Weights as they come from a scale: one a line, typed or pasted."""

import re
from dataclasses import dataclass
from decimal import Decimal

from costing.units import MASS, UnitsError, base_factor, read_amount

__all__ = ["MOST_PIECES", "WeightFault", "read_weights"]

MOST_PIECES = 5000
_HEAVIEST_G = Decimal(50_000)
_THREE_PLACES = re.compile(r"(?P<number>\d{1,3}[.,]\d{3})\s*(?P<unit>[^\W\d_]*)")
_TENTH_G = Decimal("0.1")


@dataclass(frozen=True)
class WeightFault:
    """A line that is no weight, and why, as a sentence."""

    line: int
    sentence: str


def read_weights(
    text: str, *, unit: str, tare_g: Decimal = Decimal(0)
) -> tuple[list[Decimal], list[WeightFault]]:
    """The net weight of each line [g], and the lines that could not be read.

    unit: of a line that names none. In kilograms, three digits after a mark are grams: scales write
    1.250, and no piece weighs a tonne. Empty lines are passed over.
    """
    weights, faults = list[Decimal](), list[WeightFault]()
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.strip():
            continue
        try:
            weights.append(_net_g(line.strip(), unit=unit, tare_g=tare_g))
        except (UnitsError, ValueError) as problem:
            faults.append(WeightFault(number, f"Line {number}: {problem}"))
    if len(weights) > MOST_PIECES:
        faults.append(WeightFault(
            MOST_PIECES + 1,
            f"{len(weights)} weights: at most {MOST_PIECES} at a time; print the rest after.",
        ))  # fmt: skip
    return weights, faults


def _net_g(line: str, *, unit: str, tare_g: Decimal) -> Decimal:
    found = _THREE_PLACES.fullmatch(line)
    if found and (found["unit"] or unit).lower() == "kg":
        line = f"{found['number']}0 kg"
    amount = read_amount(line, default_unit=unit)
    if amount.dimension != MASS:
        raise ValueError(f"“{line[:40]}” is not a weight; type it in g or kg.")
    gross_g = amount.quantity * base_factor(amount.unit)
    if gross_g > _HEAVIEST_G:
        raise ValueError(f"“{line[:40]}” is over 50 kg. Is it in grams?")
    net_g = gross_g.quantize(_TENTH_G) - tare_g
    if net_g <= 0:
        raise ValueError(f"“{line[:40]}” less the tare of {tare_g.normalize():f} g leaves nothing.")
    return net_g
