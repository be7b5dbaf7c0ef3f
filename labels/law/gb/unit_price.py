"""The price of a kilo beside the price of the pack: when it is asked for, and how it is written.

Price Marking Order 2004, SI 2004/102, as changed by SI 2024/1055 from 6 April 2026 (SI 2025/592,
art. 2(2)). Prices are in pounds.
"""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from labels.law.gb.acts import PMO, PMO_2024_APPLIES, PMO_APPLIES
from labels.mechanics.offers import THOUSAND, Offer, PriceAnswer, UnitPrice, exact_price
from labels.mechanics.rounding import nearest
from labels.mechanics.text import one_line
from labels.rulebook import Citation, Dated

SMALL_SHOP_M2 = Decimal(280)
"""A shop of up to so much floor is a small shop."""
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


def as_text(price: UnitPrice) -> str:
    """A unit price as written on a ticket: "£19.82 per kg"; under a pound "68.5p per kg"."""
    if price.amount < POUND:
        return f"{(price.amount * 100).normalize():f}p per {price.unit}"
    return f"£{price.amount.quantize(PENNY)} per {price.unit}"


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

    Raises ValueError for a weight that is not above nought, or a price below it.
    """
    unit = unit_of(offer.kind, on=on)
    exact = exact_price(offer, of_g=_GRAMS[unit])
    if exact is None:
        return None
    return UnitPrice(exact, rounded(exact), unit, Citation(PMO, "art. 1(2), art. 5 and art. 13"))


def why_no_unit_price(offer: Offer, *, on: date) -> str:
    """Why none need be shown, as a sentence; "" where it must be."""
    if offer.is_loose:
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
    return not offer.is_loose


def answer(offer: Offer, *, on: date, country: str = "GB") -> PriceAnswer:
    """What the Order says of the prices of an offer on a day; it holds in all of Great Britain."""
    if on < PMO_APPLIES:
        return PriceAnswer(None, not_needed=f"No order was read for {country} on that day.")
    return PriceAnswer(
        unit_price=unit_price(offer, on=on),
        not_needed=why_no_unit_price(offer, on=on),
        shows_selling_price=shows_selling_price(offer),
    )
