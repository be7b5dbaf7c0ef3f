"""The one border between Decimal and float: physics works on floats, everything else does not."""

import math
from decimal import ROUND_HALF_UP, Decimal


def as_float(value: Decimal) -> float:
    """A stored figure on its way into physics."""
    return float(value)


def exact(value: float, *, step: str) -> Decimal:
    """A figure that physics worked out, rounded half up to a step fit to be stored.

    >>> exact(66.12345, step="0.01")
    Decimal('66.12')
    """
    if not math.isfinite(value):
        raise ValueError(f"No figure came out of this sum ({value}).")
    return Decimal(repr(float(value))).quantize(Decimal(step), rounding=ROUND_HALF_UP)
