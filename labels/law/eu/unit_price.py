"""The price of a kilo beside the price of the pack: Directive 98/6/EC.

The directive says when it is shown; each country may add its units and its waivers, so what is not
known of a country is asked and not assumed.
"""

from datetime import date
from decimal import Decimal

from labels.law.eu.acts import PRICE_APPLIES, PRICE_DIR
from labels.mechanics.offers import THOUSAND, Offer, PriceAnswer, UnitPrice, exact_price
from labels.mechanics.rounding import nearest
from labels.rulebook import Citation

CENT = Decimal("0.01")
PER_KG, PER_100_G = "kg", "100 g"
_GRAMS = {PER_KG: THOUSAND, PER_100_G: Decimal(100)}

SHOP, SMALL_SHOP, STALL = "shop", "small shop", "stall"
MAY_BE_WAIVED = frozenset((SMALL_SHOP, STALL))
"""Where a country may let the unit price go (Art. 6)."""
ONLY_PER_KG = frozenset(("DE",))
"""Where 100 g is no unit any more (price-indication ordinance § 5(1), second-hand)."""


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
    exact = exact_price(offer, of_g=_GRAMS[unit])
    if exact is None:
        return None
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


def answer(offer: Offer, *, on: date, country: str = "") -> PriceAnswer:
    """What the directive says of the prices of an offer on a day, and what the country decides."""
    if on < PRICE_APPLIES:
        return PriceAnswer(None, ask=f"The law of {country or 'that day'} was not read; ask.")
    return PriceAnswer(
        unit_price=unit_price(offer),
        not_needed=why_no_unit_price(offer),
        ask=what_to_ask(offer),
        shows_selling_price=shows_selling_price(offer),
    )
