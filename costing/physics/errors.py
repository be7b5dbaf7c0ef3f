"""What physics says when it is asked for something it cannot answer."""

import math

import numpy as np

from costing.physics.elementwise import FloatOrArray


class PhysicsError(ValueError):
    """Boiling, weighing or measuring cannot give what was asked for."""


class OutsideValidRange(PhysicsError):
    """A figure lies outside the range in which a formula was checked.

    `what`, `value`, `limit` and `next_step` are kept apart, so that a page can put the sentence
    beside the field it belongs to.
    """

    def __init__(self, *, what: str, value: float, limit: str, next_step: str) -> None:
        self.what = what
        self.value = value
        self.limit = limit
        self.next_step = next_step
        super().__init__(f"{what} is {value:.6g}; it must be {limit}. {next_step}")


def require(
    value: FloatOrArray,
    *,
    what: str,
    next_step: str,
    low: float = -math.inf,
    high: float = math.inf,
    low_is_allowed: bool = True,
    unit: str = "",
) -> None:
    """Refuse a value, or the first bad one of an array, outside low..high or not a number."""
    if isinstance(value, (int, float)):
        if _fits(value, value, low=low, high=high, low_is_allowed=low_is_allowed):
            return
        worst = float(value)
    else:
        array = np.asarray(value, dtype=float)
        # Two passes settle it where all is well; "not a number" makes both ends not a number.
        if array.size and _fits(
            float(array.min()),
            float(array.max()),
            low=low,
            high=high,
            low_is_allowed=low_is_allowed,
        ):
            return
        above_all = array >= low if low_is_allowed else array > low
        fits = above_all & (array <= high) & np.isfinite(array)
        if bool(fits.all()):
            return
        worst = float(array[~fits].flat[0])
    limit = _limit_in_words(low=low, high=high, low_is_allowed=low_is_allowed, unit=unit)
    raise OutsideValidRange(what=what, value=worst, limit=limit, next_step=next_step)


def _fits(least: float, most: float, *, low: float, high: float, low_is_allowed: bool) -> bool:
    # Written so that "not a number" fails too: every comparison with it is false.
    above = low <= least if low_is_allowed else low < least
    return above and most <= high and math.isfinite(least) and math.isfinite(most)


def _limit_in_words(*, low: float, high: float, low_is_allowed: bool, unit: str) -> str:
    tail = f" {unit}" if unit else ""
    if math.isinf(low) and math.isinf(high):
        return "a number"
    if math.isinf(high):
        return f"{low:g}{tail} or more" if low_is_allowed else f"more than {low:g}{tail}"
    if math.isinf(low):
        return f"{high:g}{tail} or less"
    if low_is_allowed:
        return f"from {low:g} to {high:g}{tail}"
    return f"more than {low:g} and at most {high:g}{tail}"
