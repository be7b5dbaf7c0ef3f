"""The price of a quantity, by the rule of three."""

from decimal import Decimal

import pytest

from labels.mechanics.offers import Offer, exact_price

KILO = Decimal(1000)


def test_the_price_of_a_kilo_and_of_a_hundred_grams():
    # 4.50 / 227 g: 19.824 for 1 000 g, 1.982 for 100 g
    jar = Offer(price=Decimal("4.50"), net_quantity_g=Decimal(227))
    assert round(exact_price(jar, of_g=KILO), 3) == Decimal("19.824")
    assert round(exact_price(jar, of_g=Decimal(100)), 3) == Decimal("1.982")


def test_loose_goods_have_their_price_per_kilo():
    assert exact_price(Offer(price_per_kg=Decimal(24)), of_g=Decimal(100)) == Decimal("2.4")


def test_nothing_comes_of_nothing():
    assert exact_price(Offer(price=Decimal(4)), of_g=KILO) is None
    assert exact_price(Offer(net_quantity_g=Decimal(4)), of_g=KILO) is None
    with pytest.raises(ValueError, match="above nought"):
        exact_price(Offer(price=Decimal(4), net_quantity_g=Decimal(0)), of_g=KILO)
    with pytest.raises(ValueError, match="above nought"):
        exact_price(Offer(price=Decimal(-4), net_quantity_g=Decimal(9)), of_g=KILO)
