"""A price as typed: what is assumed, and what is asked."""

from datetime import date
from decimal import Decimal

import pytest

from costing.forms.purchases import PriceForm
from tests.builders import a_kitchen, a_supplier

pytestmark = pytest.mark.django_db
ON = date(2026, 9, 20)


def a_form(kitchen, seller, **typed):
    data = {
        "supplier": str(seller.pk), "pack_text": "25 kg", "pack_price": "23,75",
        "tax": "without", "tax_recoverable_pct": "100", "valid_from": "2026-09-15",
    }  # fmt: skip
    return PriceForm(data | typed, kitchen=kitchen, suppliers=[seller], on=ON)


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def supplier(kitchen):
    return a_supplier(kitchen)


def test_a_price_is_read_as_typed(kitchen, supplier):
    form = a_form(kitchen, supplier, delivery_per_pack="1,20", note="glut")
    assert form.is_valid(), form.errors
    entry = form.entry()
    assert (entry.pack_text, entry.pack_price) == ("25 kg", Decimal("23.75"))
    assert entry.delivery_per_pack == Decimal("1.20")
    assert entry.valid_from == date(2026, 9, 15)
    assert entry.price_includes_tax is False


def test_a_registered_kitchen_reads_prices_without_tax_and_others_with_it(kitchen):
    assert PriceForm(kitchen=kitchen, suppliers=[], on=ON)["tax"].value() == "without"
    other = a_kitchen(is_tax_registered=False, tax_recoverable_pct=0)
    form = PriceForm(kitchen=other, suppliers=[], on=ON)
    assert form["tax"].value() == "with"
    assert form["tax_recoverable_pct"].value() == "0"


def test_tax_on_top_that_does_not_come_back_is_asked_for(kitchen, supplier):
    # 23.75 plus a tax of unknown rate is not 23.75.
    form = a_form(kitchen, supplier, tax_recoverable_pct="0")
    assert "Type 0 if there is none" in form.errors["tax_pct"][0]
    assert a_form(kitchen, supplier, tax_recoverable_pct="0", tax_pct="0").is_valid()
    assert a_form(kitchen, supplier, tax_recoverable_pct="100").is_valid()


def test_tax_inside_a_price_is_asked_for_only_where_some_comes_back(kitchen, supplier):
    form = a_form(kitchen, supplier, tax="with", tax_recoverable_pct="100")
    assert "Which rate of tax is in this price?" in form.errors["tax_pct"][0]
    # None of it comes back: what was paid is the cost, whatever the rate.
    assert a_form(kitchen, supplier, tax="with", tax_recoverable_pct="0").is_valid()


def test_a_new_supplier_needs_a_name(kitchen, supplier):
    form = a_form(kitchen, supplier, supplier="new")
    assert form.errors["new_supplier"] == ["What is the supplier called?"]
    assert a_form(kitchen, supplier, supplier="new", new_supplier="Plum Cart").is_valid()


def test_a_supplier_of_another_kitchen_cannot_be_chosen(kitchen, supplier):
    assert "supplier" in a_form(kitchen, supplier, supplier=str(a_supplier().pk)).errors
