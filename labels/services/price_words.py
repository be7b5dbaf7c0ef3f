"""The price of a kilo as it stands on a label or a ticket."""

from costing.models import Kitchen
from costing.money import currency_places, format_money
from labels import law
from labels.mechanics.offers import UnitPrice

__all__ = ["unit_price_text"]


def unit_price_text(kitchen: Kitchen, shown: UnitPrice, *, market: str) -> str:
    """A unit price with the decimals it was rounded to; in pounds as British law writes it."""
    if kitchen.currency == "GBP" and (words := law.price_in_words(market, shown)):
        return words
    exponent = shown.amount.normalize().as_tuple().exponent
    has = -exponent if isinstance(exponent, int) else 0
    money = format_money(
        shown.amount, currency=kitchen.currency, locale=kitchen.number_format,
        places=max(has, currency_places(kitchen.currency)),
    )  # fmt: skip
    return f"{money}/{shown.unit}"
