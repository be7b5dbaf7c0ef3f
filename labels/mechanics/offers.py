"""Goods offered at a price, and what a law answers about the price of a kilo."""

from dataclasses import dataclass
from decimal import Decimal

from labels.facts import Citation

THOUSAND = Decimal(1000)


@dataclass(frozen=True)
class Offer:
    """Goods as they are offered to a consumer, with their price in the money of the country.

    price: of the pack; None where goods are sold loose. price_per_kg: of those.
    net_quantity_g: in the pack, drained where that is declared; None where loose.
    place: "shop", "small shop", "stall" or "vending machine".
    kind: what the goods are, where a law's units go by kind ("preserves", "confectionery").
    is_loose: weighed or cut when the buyer asks. why_waived: "markdown" or "assortment", or "".
    """

    price: Decimal | None = None
    price_per_kg: Decimal | None = None
    net_quantity_g: Decimal | None = None
    place: str = "shop"
    kind: str = "preserves"
    is_loose: bool = False
    why_waived: str = ""


@dataclass(frozen=True)
class UnitPrice:
    """The unit price, exact and as it is shown, of which quantity, and who asks for it."""

    exact: Decimal
    amount: Decimal
    unit: str
    citation: Citation


@dataclass(frozen=True)
class PriceAnswer:
    """What a law says of the prices of an offer.

    unit_price: as it is shown; None where there is nothing to make it of.
    not_needed: why it need not be shown, as a sentence; "" where it must be.
    ask: what the country decides for itself, as a sentence; "" if nothing.
    shows_selling_price: whether a price for the pack is asked for.
    """

    unit_price: UnitPrice | None
    not_needed: str = ""
    ask: str = ""
    shows_selling_price: bool = True


def exact_price(offer: Offer, *, of_g: Decimal) -> Decimal | None:
    """The price of so many grams, not rounded; None where there is no price or no weight.

    Raises ValueError for a weight that is not above nought, or a price below it.

    >>> exact_price(Offer(price=Decimal("3.40"), net_quantity_g=Decimal(340)), of_g=THOUSAND)
    Decimal('10.00')
    """
    if offer.price_per_kg is not None:
        return offer.price_per_kg * of_g / THOUSAND
    if offer.price is None or offer.net_quantity_g is None:
        return None
    if offer.net_quantity_g <= 0 or offer.price < 0:
        raise ValueError("A unit price needs a weight above nought and a price.")
    return offer.price * of_g / offer.net_quantity_g
