"""Price tickets and cards for a shelf: name, price, price of a kilo; of loose food, allergens."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from costing.models import Kitchen, Product
from costing.money import format_money
from labels import law
from labels.facts import LabelFace, LabelFacts, Particular, TextRun
from labels.mechanics.offers import Offer, PriceAnswer
from labels.models import LabelDesign
from labels.rendering.imposition import impose_distinct
from labels.rendering.layout import TICKET, fit_label
from labels.rendering.pdf import render_pdf_pages
from labels.rulebook import check
from labels.services.designs import design_of, is_kept
from labels.services.facts import label_facts
from labels.services.price_words import unit_price_text
from labels.services.weighed import usual_price_per_kg
from labels.stock import LabelSheet

__all__ = ["Refused", "Ticket", "TicketWish", "make_tickets", "products_for_tickets", "tickets_pdf"]

LOOSE, PREPACKED = "loose", "prepacked"
_OF_LOOSE_FOOD = ("name", "allergens", "cross_contact")
_MOST_PRODUCTS = 200
_OF_PACKS = ("name", "net_quantity")


@dataclass(frozen=True)
class TicketWish:
    """A product, how many tickets of it, and whether it is sold loose."""

    product: Product
    copies: int = 1
    is_loose: bool = False


@dataclass(frozen=True)
class Ticket:
    """What a ticket says; notes: what the law leaves open or does not ask for."""

    wish: TicketWish
    face: LabelFace
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Refused:
    """A product that gets no ticket, and why, in sentences."""

    product: Product
    reasons: tuple[str, ...]


def products_for_tickets(kitchen: Kitchen) -> list[Product]:
    """The products that a ticket can be of, by name."""
    rows = Product.objects.filter(kitchen=kitchen, is_archived=False)
    return list(rows.select_related("recipe", "label_design").order_by("name")[:_MOST_PRODUCTS])


def make_tickets(
    kitchen: Kitchen, wishes: Iterable[TicketWish], *, on: date, market: str, place: str
) -> tuple[list[Ticket], list[Refused]]:
    """The tickets that can be, and the products that get none: no price, or allergens not known.

    market, place: where they are sold ("shop", "small shop", "stall"), whose law is asked.
    """
    made, refused = list[Ticket](), list[Refused]()
    for wish in wishes:
        wish.product.kitchen = kitchen
        ticket = _ticket(kitchen, wish, on=on, market=market, place=place)
        if isinstance(ticket, Ticket):
            made.append(ticket)
        else:
            refused.append(ticket)
    return made, refused


def _ticket(
    kitchen: Kitchen, wish: TicketWish, *, on: date, market: str, place: str
) -> Ticket | Refused:
    product = wish.product
    design = design_of(product)
    design.kitchen = kitchen
    offer = _offer(design, wish, place=place)
    if offer is None:
        return Refused(product, ("It has no price yet: decide one on its page.",))
    answer = law.prices(market, offer, on=on, country=kitchen.country)
    facts = _facts(design, wish, on=on, market=market)
    if reasons := _missing(facts, wish, on=on):
        return Refused(product, reasons)
    wanted = _OF_LOOSE_FOOD if wish.is_loose else _OF_PACKS
    told = [each for each in law.particulars(facts, on=on) if each.kind in wanted]
    face = LabelFace(
        particulars=(*told, *_prices(kitchen, offer, answer, market=market)),
        colour=design.colour,
        layout=TICKET,
        language=facts.language,
    )
    return Ticket(wish, face, tuple(note for note in (answer.not_needed, answer.ask) if note))


def _offer(design: LabelDesign, wish: TicketWish, *, place: str) -> Offer | None:
    product = wish.product
    if wish.is_loose:
        per_kg = usual_price_per_kg(product, design)
        return None if per_kg is None else Offer(price_per_kg=per_kg, place=place, is_loose=True)
    if not product.stall_price:
        return None
    return Offer(price=product.stall_price, net_quantity_g=product.net_quantity_g, place=place)


def _facts(design: LabelDesign, wish: TicketWish, *, on: date, market: str) -> LabelFacts:
    facts, _ = label_facts(
        design, on=on, lot="", made_on=on, best_before=None,
        quantified=None if is_kept(design) else (),
    )  # fmt: skip
    way = LOOSE if wish.is_loose else PREPACKED
    return replace(facts, market=market, way_of_sale=way, printed_on=on)


def _missing(facts: LabelFacts, wish: TicketWish, *, on: date) -> tuple[str, ...]:
    """What keeps a ticket from being printed: the name, and of loose food the allergens."""
    if not facts.name_of_food.strip():
        return ("Its label has no name of the food yet.",)
    if not wish.is_loose:
        return ()
    if not facts.ingredients:
        return ("What is in it is not known to the end, so its allergens are not either.",)
    found = check(law.rules_in_force(facts.market, on=on), facts, None, on=on)
    return tuple(
        each.message for each in found if each.stops_printing and each.where == "allergens"
    )


def _prices(
    kitchen: Kitchen, offer: Offer, answer: PriceAnswer, *, market: str
) -> tuple[Particular, ...]:
    """The price large, and beside it that of a kilo; of loose food the kilo's is the price."""
    shown = answer.unit_price
    if shown is None:
        raise ValueError("An offer with a price has a price of a kilo.")
    per_unit = unit_price_text(kitchen, shown, market=market)
    if not answer.shows_selling_price:
        return (Particular("price", (TextRun(per_unit),), shown.citation),)
    paid = offer.price or shown.exact
    price = format_money(paid, currency=kitchen.currency, locale=kitchen.number_format)
    selling = Particular("price", (TextRun(price),), shown.citation)
    if shown.exact == offer.price:
        return (selling,)
    return (selling, Particular("unit_price", (TextRun(per_unit),), shown.citation))


def tickets_pdf(tickets: Iterable[Ticket], *, sheet: LabelSheet, start_at: int = 1) -> bytes:
    """The tickets on sheets, each as often as it was wished for.

    Raises ValueError, a sentence, for one that has no room on its paper.
    """
    labels = []
    for ticket in tickets:
        fitted = fit_label(ticket.face, box=sheet.box())
        if not fitted.fits:
            raise ValueError(
                f"{ticket.wish.product}: there is no room on this paper for everything it must "
                "say. Choose a larger one."
            )
        labels += [fitted] * ticket.wish.copies
    pages = render_pdf_pages(labels, title="Price tickets")
    return impose_distinct(pages, sheet=sheet, start_at=start_at)
