"""Figures a maker typed: refused in a sentence when they cannot be, and written short."""

from decimal import Decimal

from costing.reckoning.errors import ReckoningError

LARGEST = Decimal(10) ** 9


def more_than_nothing(value: Decimal, *, what: str, field: str, unit: str = "") -> Decimal:
    """The value itself when it is above zero and no mistyped giant.

    what: how a sentence about it begins ("The length of the tray").
    Raises ReckoningError, with the field, for zero, less, no number, or 10^9 and more.
    """
    _refuse_no_number(value, what=what, field=field)
    if value <= 0:
        raise ReckoningError(f"{what} must be more than 0{_tail(unit)}.", field=field)
    return _not_too_large(value, what=what, field=field, unit=unit)


def nothing_or_more(value: Decimal, *, what: str, field: str, unit: str = "") -> Decimal:
    """The value itself when it is zero or above and no mistyped giant; see above."""
    _refuse_no_number(value, what=what, field=field)
    if value < 0:
        raise ReckoningError(f"{what} cannot be below 0{_tail(unit)}.", field=field)
    return _not_too_large(value, what=what, field=field, unit=unit)


def say(value: Decimal, *, places: int = 2) -> str:
    """A figure for a sentence: so many decimals at most, no trailing zeros.

    >>> say(Decimal("12.3457"), places=2), say(Decimal("1200.0"))
    ('12.35', '1200')
    """
    written = f"{value:.{places}f}"
    return written.rstrip("0").rstrip(".") if "." in written else written


def _refuse_no_number(value: Decimal, *, what: str, field: str) -> None:
    if not value.is_finite():
        raise ReckoningError(f"{what} is not a number. Type one such as 30 or 2.5.", field=field)


def _not_too_large(value: Decimal, *, what: str, field: str, unit: str) -> Decimal:
    if value >= LARGEST:
        raise ReckoningError(
            f"{what} is larger than any kitchen has: {value:.4g}{_tail(unit)}. Check the zeros and "
            "the unit.",
            field=field,
        )
    return value


def _tail(unit: str) -> str:
    return f" {unit}" if unit else ""
