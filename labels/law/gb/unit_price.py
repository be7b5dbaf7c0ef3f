"""The price of a kilo beside the price of the pack: when it is asked for, and how it is written.

Price Marking Order 2004, SI 2004/102, as changed by SI 2024/1055 from 6 April 2026 (SI 2025/592,
art. 2(2)). Prices are in pounds.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labels.law.gb.acts import PMO, PMO_2024_APPLIES
from labels.mechanics.rounding import nearest
from labels.mechanics.text import one_line
from labels.rulebook import Citation, Dated

SMALL_SHOP_M2 = Decimal(280)
"""A shop of up to so much floor is a small shop."""
THOUSAND = Decimal(1000)
POUND = Decimal(1)
TENTH_OF_A_PENNY, PENNY = Decimal("0.001"), Decimal("0.01")

PER_KG, PER_100_G = "kg", "100 g"
_GRAMS = {PER_KG: THOUSAND, PER_100_G: Decimal(100)}

# Schedule 1 of 2004 had rows that went by 100 g, preserves among them; SI 2024/1055 took the whole
# Schedule away. Of confectionery and the rest of our kinds the row is from memory.
_BY_100_G: frozenset[str] = frozenset({"preserves", "confectionery"})
UNITS: Mapping[str, Dated[str]] = {
    kind: Dated(PER_100_G, {PMO_2024_APPLIES: PER_KG}) for kind in _BY_100_G
}

SHOP, SMALL_SHOP, STALL, VENDING = "shop", "small shop", "stall", "vending machine"
WAIVED_PLACES = frozenset((SMALL_SHOP, STALL, VENDING))
"""Where a pack of constant weight needs no unit price (art. 5(3)(d)); a stall is an itinerant
trader's."""
WAIVED_BECAUSE = {
    "markdown": "The price was cut because the goods are damaged or near their date (Sch. 2).",
    "assortment": "The items of the assortment differ in price or weight (Sch. 2).",
}
"""The waivers of Sch. 2 that a small kitchen meets, each as a sentence (para. 2 and following)."""


@dataclass(frozen=True)
class Offer:
    """Goods as they are offered for sale to a consumer, with their price in pounds.

    price: of the pack; None where goods are weighed when asked for. price_per_kg: of those.
    net_quantity_g: what is in the pack, drained where that is declared; None where weighed.
    place: "shop" (over 280 m2), "small shop", "stall" or "vending machine".
    why_waived: "markdown" or "assortment", or "".
    """

    price: Decimal | None = None
    price_per_kg: Decimal | None = None
    net_quantity_g: Decimal | None = None
    place: str = SHOP
    kind: str = "preserves"
    is_weighed_on_request: bool = False
    why_waived: str = ""


@dataclass(frozen=True)
class UnitPrice:
    """The unit price as it is shown, exact and rounded, and who asks for it."""

    exact: Decimal
    amount: Decimal
    unit: str
    citation: Citation

    @property
    def text(self) -> str:
        """As written on a ticket: "£19.82 per kg", "68.5p per kg".

        Under a pound it is written in pence.
        """
        if self.amount < POUND:
            pence = (self.amount * 100).normalize()
            return f"{pence:f}p per {self.unit}"
        return f"£{self.amount.quantize(PENNY)} per {self.unit}"


def place_of(*, floor_m2: Decimal) -> str:
    """A shop by its floor: small up to 280 m2."""
    return SMALL_SHOP if floor_m2 <= SMALL_SHOP_M2 else SHOP


def rounded(price: Decimal) -> Decimal:
    """A unit price as it may be shown: under a pound to 0.1p, above to the penny; half goes up.

    Above a pound 0.1p would be lawful too. Source: SI 2004/102, arts 12 and 13.

    >>> str(rounded(Decimal("0.6845"))), str(rounded(Decimal("0.6844")))
    ('0.685', '0.684')
    """
    return nearest(price, TENTH_OF_A_PENNY if price < POUND else PENNY)


def unit_of(kind: str, *, on: date) -> str:
    """The quantity that a unit price is of, on a day: a kilogram, or 100 g before April 2026."""
    return UNITS[kind].on(on) if kind in UNITS else PER_KG


def unit_price(offer: Offer, *, on: date) -> UnitPrice | None:
    """The unit price as shown; None where there is no price or no weight to make it of.

    Raises ValueError for a weight or price that is not above nought.
    """
    unit = unit_of(offer.kind, on=on)
    if offer.price_per_kg is not None:
        exact = offer.price_per_kg * _GRAMS[unit] / THOUSAND
    elif offer.price is None or offer.net_quantity_g is None:
        return None
    elif offer.net_quantity_g <= 0 or offer.price < 0:
        raise ValueError("A unit price needs a weight above nought and a price.")
    else:
        exact = offer.price * _GRAMS[unit] / offer.net_quantity_g
    citation = Citation(PMO, "art. 1(2), art. 5 and art. 13")
    return UnitPrice(exact, rounded(exact), unit, citation)


def why_no_unit_price(offer: Offer, *, on: date) -> str:
    """Why none need be shown, as a sentence; "" where it must be."""
    if offer.is_weighed_on_request:
        return ""
    waived = one_line(offer.why_waived)
    if waived in WAIVED_BECAUSE:
        return WAIVED_BECAUSE[waived]
    if offer.place in WAIVED_PLACES:
        return f"Packs of constant weight in a {offer.place} need none (art. 5(3)(d))."
    shown = unit_price(offer, on=on)
    if shown is not None and shown.exact == offer.price:
        return "It would say the same as the selling price (art. 5(3)(b))."
    return "It would come to 0.0p (art. 5(3))." if shown and shown.amount == 0 else ""


def shows_selling_price(offer: Offer) -> bool:
    """Whether a price for the pack is asked for; goods weighed on request have only the unit's.

    Source: SI 2004/102, art. 4(2)(a).
    """
    return not offer.is_weighed_on_request
