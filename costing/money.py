"""Money: rounded once, half up; shared so that it adds back; written as the locale writes it."""

from collections.abc import Sequence
from copy import copy
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal, localcontext
from fractions import Fraction

from babel.core import Locale
from babel.numbers import NumberPattern, get_currency_precision


def round_money(amount: Decimal, *, places: int = 2) -> Decimal:
    """Round half up, ties away from zero: 0.005 becomes 0.01 and -0.005 becomes -0.01.

    Only for display or when money changes hands; sums run on unrounded figures.

    >>> round_money(Decimal("0.005"))
    Decimal('0.01')
    """
    with localcontext() as context:
        context.prec = max(context.prec, amount.adjusted() + places + 2)
        return amount.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def currency_places(currency: str) -> int:
    """Decimals of the smallest amount that changes hands in a currency.

    >>> currency_places("EUR"), currency_places("JPY"), currency_places("KWD")
    (2, 0, 3)
    """
    return get_currency_precision(currency)


def split_to_cents(
    amount: Decimal, *, weights: Sequence[Decimal], places: int = 2
) -> tuple[Decimal, ...]:
    """Share an amount in proportion to weights so that the parts add back to it exactly.

    The cents left over after rounding down go to the largest remainders, the earlier part first
    among equals. Raises ValueError for no weights, negative ones, or none above zero.

    >>> split_to_cents(Decimal("10.00"), weights=[Decimal(1)] * 3)
    (Decimal('3.34'), Decimal('3.33'), Decimal('3.33'))
    """
    total_weight = sum((Fraction(weight) for weight in weights), Fraction(0))
    if any(weight < 0 for weight in weights) or total_weight <= 0:
        raise ValueError("An amount is shared by weights of zero or more, at least one above zero.")
    cent = Decimal(1).scaleb(-places)
    cents = int((abs(round_money(amount, places=places)) / cent).to_integral_value(ROUND_FLOOR))
    # Fractions, because two equal remainders must stay equal after division.
    exact = [cents * Fraction(weight) / total_weight for weight in weights]
    parts = [int(share) for share in exact]
    by_remainder = sorted(range(len(parts)), key=lambda i: (parts[i] - exact[i], i))
    for index in by_remainder[: cents - sum(parts)]:
        parts[index] += 1
    sign = -1 if amount < 0 else 1
    return tuple(sign * part * cent for part in parts)


def format_money(amount: Decimal, *, currency: str, locale: str, places: int | None = None) -> str:
    """An amount as people in that locale write it, rounded half up.

    places: decimals shown; None takes those the currency has (two for EUR, none for JPY).

    >>> format_money(Decimal("1234.565"), currency="EUR", locale="en_IE")
    '€1,234.57'
    """
    if places is None:
        places = currency_places(currency)
    return _formatted(amount, locale=locale, places=places, currency=currency)


def format_number(value: Decimal, *, locale: str, places: int) -> str:
    """A plain number as people in that locale write it, rounded half up.

    >>> format_number(Decimal("1234.5"), locale="de_DE", places=2)
    '1.234,50'
    """
    return _formatted(value, locale=locale, places=places, currency=None)


def _formatted(value: Decimal, *, locale: str, places: int, currency: str | None) -> str:
    where = Locale.parse(locale.replace("-", "_"))
    formats = where.currency_formats["standard"] if currency else where.decimal_formats[None]
    pattern: NumberPattern = copy(formats)
    pattern.frac_prec = (places, places)
    # Rounded here, because Babel would round half to even.
    rounded = round_money(value, places=places) + 0  # "+ 0" turns -0.00 into 0.00
    written: str = pattern.apply(rounded, where, currency=currency, currency_digits=False)
    return written
