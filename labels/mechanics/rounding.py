"""Numbers rounded to a step, half up or always up."""

from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal


def nearest(value: Decimal, step: Decimal) -> Decimal:
    """The multiple of a step that lies nearest; half goes up.

    >>> nearest(Decimal("68.45"), Decimal("0.1")), nearest(Decimal("4.6"), Decimal("0.5"))
    (Decimal('68.5'), Decimal('4.5'))
    """
    return (value / step).quantize(Decimal(1), ROUND_HALF_UP) * step


def up_to(value: Decimal, step: Decimal) -> Decimal:
    """The next multiple of a step that is not below the value.

    >>> up_to(Decimal("5.085"), Decimal("0.1")), up_to(Decimal("4.5"), Decimal("0.1"))
    (Decimal('5.1'), Decimal('4.5'))
    """
    return (value / step).quantize(Decimal(1), ROUND_CEILING) * step


def digits_kept(value: Decimal, *, digits: int) -> Decimal:
    """A number to so many significant figures, half up; nought stays nought.

    >>> digits_kept(Decimal("0.0237"), digits=1), digits_kept(Decimal("12.34"), digits=3)
    (Decimal('0.02'), Decimal('12.3'))
    """
    if value == 0:
        return value
    return value.quantize(Decimal(1).scaleb(value.adjusted() - digits + 1), ROUND_HALF_UP)
