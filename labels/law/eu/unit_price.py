"""The price of a kilo beside the price of the pack: Directive 98/6/EC.

The directive says when it is shown; each country may add its units and its waivers, so what is not
known of a country is asked and not assumed.
"""

from dataclasses import dataclass
from decimal import Decimal

from labels.law.eu.acts import PRICE_DIR
from labels.mechanics.rounding import nearest
from labels.rulebook import Citation

THOUSAND = Decimal(1000)
CENT = Decimal("0.01")
PER_KG, PER_100_G = "kg", "100 g"
_GRAMS = {PER_KG: THOUSAND, PER_100_G: Decimal(100)}

SHOP, SMALL_SHOP, STALL = "shop", "small shop", "stall"
MAY_BE_WAIVED = frozenset((SMALL_SHOP, STALL))
"""Where a country may let the unit price go (Art. 6)."""
ONLY_PER_KG = frozenset(("DE",))
"""Where 100 g is no unit any more (price-indication ordinance § 5(1), second-hand)."""


@dataclass(frozen=True)
class Offer:
    """Goods as they are offered to a consumer, with their price in the money of the country.

    price: of the pack; None where goods are sold loose. price_per_kg: of those.
    net_quantity_g: in the pack, drained where that is declared; None where loose.
    place: "shop", "small shop" or "stall". is_advert: in an advertisement that shows a price.
    """

    price: Decimal | None = None
    price_per_kg: Decimal | None = None
    net_quantity_g: Decimal | None = None
    place: str = SHOP
    is_loose: bool = False


@dataclass(frozen=True)
class UnitPrice:
    """The unit price, exact and to the cent, and who asks for it."""

    exact: Decimal
    amount: Decimal
    unit: str
    citation: Citation


def units(*, country: str) -> tuple[str, ...]:
    """The units that may be used: the kilogram, and 100 g where that is customary (Art. 2(b)).

    Where the country is not known to have ended it, 100 g is left to be asked about.
    """
    return (PER_KG,) if country in ONLY_PER_KG else (PER_KG, PER_100_G)


def unit_price(offer: Offer, *, unit: str = PER_KG) -> UnitPrice | None:
    """The unit price; None where there is no price or no weight to make it of.

    The directive sets no rounding: to the cent, half up, is common practice.
    Raises ValueError for a weight or price that is not above nought.
    """
    if offer.price_per_kg is not None:
        exact = offer.price_per_kg * _GRAMS[unit] / THOUSAND
    elif offer.price is None or offer.net_quantity_g is None:
        return None
    elif offer.net_quantity_g <= 0 or offer.price < 0:
        raise ValueError("A unit price needs a weight above nought and a price.")
    else:
        exact = offer.price * _GRAMS[unit] / offer.net_quantity_g
    return UnitPrice(exact, nearest(exact, CENT), unit, Citation(PRICE_DIR, "Art. 3(1)"))


def why_no_unit_price(offer: Offer) -> str:
    """Why none need be shown, as a sentence; "" where it must be, as far as the directive goes."""
    shown = unit_price(offer)
    if not offer.is_loose and shown is not None and shown.exact == offer.price:
        return "It would say the same as the selling price (Art. 3(1))."
    return ""


def what_to_ask(offer: Offer) -> str:
    """What the country decides here, as a sentence to ask the authority; "" if nothing."""
    if offer.is_loose or offer.place not in MAY_BE_WAIVED:
        return ""
    return (
        f"A country may let packs in a {offer.place} go without a unit price (Art. 6): ask the "
        "local authority, and show it until you know."
    )


def shows_selling_price(offer: Offer) -> bool:
    """Whether a price for the pack is asked for; goods sold loose have only the unit's.

    Source: Directive 98/6/EC, Art. 3(3).
    """
    return not offer.is_loose
