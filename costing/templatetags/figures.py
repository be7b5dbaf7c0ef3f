"""Figures on a page: the kitchen's own format, the unit smaller and lighter than the number.

Load with {% load figures %}; each takes the kitchen last, as in {{ price|money:kitchen }}.
"""

from decimal import Decimal
from typing import Any

from babel.numbers import get_currency_symbol
from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from costing.models import Kitchen
from costing.money import format_money, format_number, round_money

register = template.Library()
NOT_KNOWN = mark_safe('<span class="not-known">not known yet</span>')


@register.filter
def money(amount: Decimal | None, kitchen: Kitchen) -> str | SafeString:
    """An amount of money as the kitchen writes it, or the words that it is not known."""
    if amount is None:
        return NOT_KNOWN
    return format_money(amount, currency=kitchen.currency, locale=kitchen.number_format)


@register.filter
def per_kg(amount: Decimal | None, kitchen: Kitchen) -> SafeString:
    """Money a kilo, with the unit small beside it."""
    return _with_unit(amount, kitchen, "/kg")


@register.filter
def per_each(amount: Decimal | None, kitchen: Kitchen) -> SafeString:
    """Money for one, with as many decimals as a paper wrap at 0.038 needs."""
    if amount is None:
        return NOT_KNOWN
    return format_html(
        '<span class="figure">{} <span class="unit">each</span></span>',
        fine_money(amount, kitchen),
    )


@register.filter
def fine_money(amount: Decimal | None, kitchen: Kitchen) -> str | SafeString:
    """Money with three figures where it is small, for the price of one wrap."""
    if amount is None:
        return NOT_KNOWN
    places = _fine(amount) if 0 < abs(amount) < 1 else 2
    return format_money(
        amount, currency=kitchen.currency, locale=kitchen.number_format, places=places
    )


@register.filter
def plain_money(amount: Decimal | None, kitchen: Kitchen) -> str:
    """The figure alone with two decimals, for a big answer that names its currency beside it."""
    if amount is None:
        return ""
    return format_number(amount, locale=kitchen.number_format, places=2)


@register.filter
def currency_sign(kitchen: Kitchen) -> str:
    """The sign of the kitchen's currency, as its number format writes it."""
    return str(get_currency_symbol(kitchen.currency, locale=kitchen.number_format))


@register.filter
def number(value: Decimal | None, kitchen: Kitchen) -> str | SafeString:
    """A stored figure without noughts at its end, in the kitchen's format."""
    if value is None:
        return NOT_KNOWN
    exponent = value.normalize().as_tuple().exponent
    places = max(0, -exponent) if isinstance(exponent, int) else 0
    return format_number(value, locale=kitchen.number_format, places=places)


@register.filter
def percent(value: Decimal | None, kitchen: Kitchen) -> SafeString:
    """A percentage without noughts at its end, at most one decimal."""
    if value is None:
        return NOT_KNOWN
    places = 0 if value == value.to_integral_value() else 1
    written = format_number(value, locale=kitchen.number_format, places=places)
    return format_html('<span class="figure">{}<span class="unit"> %</span></span>', written)


@register.filter
def fine_percent(value: Decimal | None, kitchen: Kitchen) -> SafeString:
    """A percentage with two decimals, where a sum is shown to the last of them."""
    if value is None:
        return NOT_KNOWN
    written = format_number(value, locale=kitchen.number_format, places=2)
    return format_html('<span class="figure">{}<span class="unit"> %</span></span>', written)


@register.filter
def sum_money(amount: Decimal | None, kitchen: Kitchen) -> str | SafeString:
    """Money with four decimals, where the parts of a sum are shown before they are rounded."""
    if amount is None:
        return NOT_KNOWN
    return format_money(amount, currency=kitchen.currency, locale=kitchen.number_format, places=4)


@register.filter
def mass(grams: Decimal | None, kitchen: Kitchen) -> SafeString:
    """A mass in grams below a kilo, in kilos above, to three figures or so."""
    if grams is None:
        return NOT_KNOWN
    value, unit = (grams, "g") if abs(grams) < 1000 else (grams / 1000, "kg")
    places = 0 if unit == "g" and (abs(value) >= 20 or value == value.to_integral_value()) else 2
    if unit == "g" and 0 < abs(value) < 20 and places:
        places = 1
    written = format_number(value, locale=kitchen.number_format, places=places)
    return format_html('<span class="figure">{} <span class="unit">{}</span></span>', written, unit)


@register.simple_tag
def change(before: Decimal | None, after: Decimal | None, kitchen: Kitchen) -> SafeString:
    """The change from one price to the next in per cent, with its word; nothing without both."""
    if before is None or after is None or before <= 0:
        return mark_safe("")
    difference = 100 * (after - before) / before
    if abs(difference) < Decimal("0.05"):
        return mark_safe('<span class="unit">unchanged</span>')
    written = format_number(abs(difference), locale=kitchen.number_format, places=1)
    css, word = ("change-up", "dearer") if difference > 0 else ("change-down", "cheaper")
    return format_html(
        '<span class="{} figure">{}<span class="unit"> % {}</span></span>', css, written, word
    )


@register.filter
def days_ago(days: int) -> str:
    """How long ago, in words that need no sum."""
    if days == 0:
        return "today"
    if days == 1:
        return "yesterday"
    if days < 0:
        return f"in {-days} days" if days < -1 else "tomorrow"
    if days < 60:
        return f"{days} days ago"
    if days < 730:
        return f"{round(days / 30.44)} months ago"
    return f"{days // 365} years ago"


@register.filter
def get(mapping: Any, key: Any) -> Any:
    """What a mapping has under a key, nothing when it has none."""
    return mapping.get(key) if mapping else None


def _with_unit(amount: Decimal | None, kitchen: Kitchen, unit: str) -> SafeString:
    if amount is None:
        return NOT_KNOWN
    written = format_money(amount, currency=kitchen.currency, locale=kitchen.number_format)
    return format_html('<span class="figure">{}<span class="unit">{}</span></span>', written, unit)


def _fine(amount: Decimal) -> int:
    """Decimals for a small amount: three figures, but no noughts beyond the second decimal."""
    most = min(6, 2 - amount.adjusted())
    exponent = round_money(amount, places=most).normalize().as_tuple().exponent
    return max(2, -exponent) if isinstance(exponent, int) else 2
