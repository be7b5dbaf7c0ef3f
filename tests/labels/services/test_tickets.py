"""Price tickets: what they say in each market, and who gets none."""

from datetime import date
from decimal import Decimal

import pypdfium2
import pytest

from costing.models import AllergenAnswer, Ingredient
from labels.services.tickets import TicketWish, make_tickets, tickets_pdf
from labels.stock import sheet
from tests.labels.services.test_batch_labels import a_printable

pytestmark = pytest.mark.django_db
ON = date(2026, 11, 25)


@pytest.fixture
def product():
    product = a_printable().product
    product.stall_price = Decimal("2.20")  # for 100 g
    product.save()
    return product


def made(product, *, on=ON, market="eu", place="shop", **wish):
    tickets, refused = make_tickets(
        product.kitchen, [TicketWish(product, **wish)], on=on, market=market, place=place
    )
    return (tickets or refused)[0]


def said(ticket):
    return {each.kind: each.text for each in ticket.face.particulars}


def test_a_pack_is_told_with_its_price_and_the_price_of_a_kilo(product):
    # Directive 98/6/EC, Art. 3(1): selling price and unit price. 2.20 for 100 g: 22.00 a kilo.
    assert said(made(product)) == {
        "name": "Damson cheese", "net_quantity": "100 g", "price": "€2.20",
        "unit_price": "€22.00/kg",
    }  # fmt: skip


def test_great_britain_writes_less_than_a_pound_in_pence(product):
    # Price Marking Order 2004 (SI 2004/102), art. 13 as amended: to the nearest 0.1p under £1.
    product.kitchen.currency, product.kitchen.number_format = "GBP", "en_GB"
    product.stall_price, product.net_quantity_g = Decimal("0.30"), Decimal(438)
    ticket = made(product, market="gb-eng")
    assert said(ticket)["unit_price"] == "68.5p per kg"
    product.stall_price, product.net_quantity_g = Decimal("2.20"), Decimal(100)
    assert said(made(product, market="gb-eng"))["unit_price"] == "£22.00 per kg"


@pytest.mark.parametrize(("place", "needed"), [("stall", False), ("shop", True)])
def test_where_british_law_asks_for_no_unit_price_that_is_told(product, place, needed):
    # Art. 5(3)(d): an itinerant trader's stall; the ticket shows it all the same.
    ticket = made(product, market="gb-eng", place=place)
    assert any("need none" in note for note in ticket.notes) is not needed
    assert "unit_price" in said(ticket)


def test_a_pack_of_a_kilo_says_its_price_once(product):
    product.net_quantity_g, product.stall_price = Decimal(1000), Decimal("19.80")
    assert "unit_price" not in said(made(product))


def test_loose_food_has_the_price_of_a_kilo_alone_and_its_allergens(product):
    # Art. 3(3) of the directive: only the unit price; Regulation (EU) No 1169/2011, Art. 44(1)(a).
    fruit = Ingredient.objects.filter(kitchen=product.kitchen, name__icontains="sugar").first()
    AllergenAnswer.objects.filter(ingredient=fruit, group="nuts").update(
        answer=AllergenAnswer.Answer.CONTAINS, named_as="walnuts"
    )
    told = said(made(product, is_loose=True))
    assert told["price"] == "€22.00/kg"
    assert "unit_price" not in told
    assert "walnuts" in told["allergens"]


def test_a_product_without_a_price_is_named_and_gets_no_ticket(product):
    product.stall_price = None
    for is_loose in (False, True):
        refused = made(product, is_loose=is_loose)
        assert (refused.product, refused.reasons) == (
            product, ("It has no price yet: decide one on its page.",)
        )  # fmt: skip


def test_loose_food_with_an_allergen_not_known_gets_no_ticket_but_its_pack_does(product):
    AllergenAnswer.objects.filter(kitchen=product.kitchen, group="milk").delete()
    assert any("milk" in reason.lower() for reason in made(product, is_loose=True).reasons)
    assert said(made(product))["price"] == "€2.20"


def test_tickets_come_on_any_sheet_as_often_as_wished_from_the_first_free_one(product):
    ticket = made(product, copies=3)
    pdf = tickets_pdf([ticket], sheet=sheet("a4-2x4-99.1x67.7"), start_at=7)
    pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]
    assert [text.count("€22.00/kg") for text in pages] == [2, 1]
