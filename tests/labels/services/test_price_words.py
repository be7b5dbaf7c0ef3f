"""The price of a kilo in words: decimals of the market’s rounding, signs of the kitchen’s own."""

from decimal import Decimal

import pytest

from costing.models import Kitchen
from labels.facts import Act, Citation
from labels.mechanics.offers import UnitPrice
from labels.services.price_words import unit_price_text

CITED = Citation(Act("An act", "https://example.org/act"), "Art. 1")


@pytest.mark.parametrize(
    ("currency", "locale", "market", "amount", "unit", "text"),
    [
        # Forms of numbers by Unicode CLDR, through Babel.
        ("EUR", "en_IE", "eu", "19.8", "kg", "€19.80/kg"),
        ("EUR", "de_DE", "eu", "19.8", "kg", "19,80\xa0€/kg"),
        ("JPY", "ja_JP", "eu", "1980", "kg", "￥1,980/kg"),
        # Price Marking Order 2004 (SI 2004/102), arts 12 and 13.
        ("GBP", "en_GB", "gb-sct", "0.685", "kg", "68.5p per kg"),
        ("GBP", "en_GB", "gb-sct", "1", "kg", "£1.00 per kg"),
        ("EUR", "en_IE", "gb-nir", "0.68", "kg", "€0.68/kg"),
    ],
)
def test_a_unit_price_is_written_as_its_market_and_its_kitchen_write_it(
    currency, locale, market, amount, unit, text
):
    kitchen = Kitchen(currency=currency, number_format=locale)
    shown = UnitPrice(Decimal(amount), Decimal(amount), unit, CITED)
    assert unit_price_text(kitchen, shown, market=market) == text
