"""One formula for one pan or for ten thousand: a float gives a float, an array an array.

Single numbers go through the standard library, which is about ten times faster than numpy for
one value; a page that recalculates on every keystroke uses that path.
"""

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

FloatOrArray = float | NDArray[np.float64]
"""Anything a formula can work on."""

Quantity = TypeVar("Quantity", float, NDArray[np.float64])
"""What goes in comes out: float or array. Both may be mixed when running; arrays then win."""


def exp(value: FloatOrArray) -> FloatOrArray:
    """e to the power of the value."""
    return math.exp(value) if isinstance(value, (int, float)) else np.exp(value)


def log(value: FloatOrArray) -> FloatOrArray:
    """Natural logarithm."""
    return math.log(value) if isinstance(value, (int, float)) else np.log(value)


def sqrt(value: FloatOrArray) -> FloatOrArray:
    """Square root."""
    return math.sqrt(value) if isinstance(value, (int, float)) else np.sqrt(value)


def magnitude(value: FloatOrArray) -> FloatOrArray:
    """Size without the sign."""
    return abs(value) if isinstance(value, (int, float)) else np.abs(value)


def not_negative(value: FloatOrArray) -> FloatOrArray:
    """The value, or zero where it is below."""
    return max(value, 0.0) if isinstance(value, (int, float)) else np.maximum(value, 0.0)


def at_most(value: FloatOrArray, highest: FloatOrArray) -> FloatOrArray:
    """The value, or the highest allowed where it is above."""
    if isinstance(value, (int, float)) and isinstance(highest, (int, float)):
        return min(value, highest)
    return np.minimum(value, highest)


def choose(condition: object, if_true: FloatOrArray, if_false: FloatOrArray) -> FloatOrArray:
    """`if_true` where the condition holds, else `if_false`, for one value or for each."""
    if isinstance(condition, np.ndarray):
        return np.where(condition, if_true, if_false)
    return if_true if condition else if_false


def is_everywhere(condition: object) -> bool:
    """Whether a condition holds for the one value, or for each."""
    return bool(condition.all()) if isinstance(condition, np.ndarray) else bool(condition)
