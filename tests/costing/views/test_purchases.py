"""Entering a price: worked out while typed, recorded once, and bad input never lost."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from django.utils.html import escape

from costing.models import Supplier, SupplierPrice
from tests.builders import (
    a_fruit,
    a_kitchen,
    a_price,
    a_recipe,
    a_supplier,
    an_accountant,
    an_owner,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def plums(kitchen):
    return a_fruit(kitchen, name="Plums", usable_pct=75)


@pytest.fixture
def owner(client, kitchen):
    user = an_owner(kitchen)
    client.force_login(user)
    return user


def _address(name, row):
    return reverse(name, args=[row.kitchen_id, row.pk])


def _typed(**changes):
    return {
        "supplier": "new", "new_supplier": "Hollowmere Orchard", "pack_text": "1 crate of 10 kg",
        "pack_price": "18,00", "tax": "without", "tax_recoverable_pct": "100",
        "valid_from": "2026-09-01",
    } | changes  # fmt: skip


def test_a_price_is_recorded_with_its_new_supplier(client, owner, plums):
    a_recipe(plums.kitchen, lines=[(plums, 1)])  # past the first steps
    answer = client.post(_address("price_new", plums), _typed(), follow=True)
    price = SupplierPrice.objects.get()
    # 18.00 for 10 kg is 1.80 a kilo; with 75 % usable, 1.80 / 0.75 = 2.40.
    assert price.per_kg == Decimal("1.80")
    assert price.supplier.name == "Hollowmere Orchard"
    assert price.recorded_by == owner
    page = answer.content.decode()
    assert "€2.40" in page
    assert "€1.80 a kilo as bought" in page


def test_on_the_way_to_a_first_cost_the_start_page_says_what_is_next(client, owner, plums):
    answer = client.post(_address("price_new", plums), _typed())
    assert answer.url == reverse("today", args=[plums.kitchen_id])


def test_while_typing_it_is_worked_out_and_nothing_is_saved(client, owner, plums):
    answer = client.post(
        _address("price_new", plums), _typed(new_supplier=""), headers={"hx-request": "true"}
    )
    page = answer.content.decode()
    assert "€2.40" in page
    assert "€1.80 a kilo as bought" in page
    assert "<html" not in page
    assert not SupplierPrice.objects.exists()
    assert not Supplier.objects.exists()


def test_half_typed_is_no_mistake_yet(client, owner, plums):
    page = client.post(
        _address("price_new", plums),
        _typed(pack_price="", new_supplier=""),
        headers={"hx-request": "true"},
    ).content.decode()
    assert "line-error" not in page
    assert "appears here" in page


BAD_PACKS = [
    ("", "required"), ("-5 kg", "more than nothing"), ("0 kg", "more than nothing"),
    ("1000000000000 kg", "more than any kitchen"), ("9" * 40 + " kg", "more than any kitchen"),
    ("1.250 kg", "one and a quarter"), ("🍓", "not a number"), ("5 m", "measures a length"),
    ("10 %", "not a percentage"), ("<script>alert(1)</script>", ""),
    ("{{ 7*7 }}", "not a number"), ("5 l", "what does one litre weigh"),
    ("40 each", "what does one weigh"), ("1e5 kg", ""), ("nan kg", ""), ("x", ""), ("кг", ""),
    ("5 kg\x00", ""), ("a" * 300, "at most 60"),
]  # fmt: skip
BAD_PRICES = [
    ("", "required"), ("-1", "at least 0"), ("1.250", "one and a quarter"),
    ("1000000000000", "more than any kitchen"), ("9" * 40, "more than any kitchen"),
    ("one", "not a number"), ("🍓", "not a number"), ("<b>5</b>", "not a number"),
    ("{% now 'Y' %}", "not a number"), ("1e5", "not a number"), ("0.00001", "at most 4"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [("pack_text", *row) for row in BAD_PACKS] + [("pack_price", *row) for row in BAD_PRICES],
)
def test_bad_input_gets_a_sentence_and_is_kept(client, owner, plums, field, typed, words):
    answer = client.post(_address("price_new", plums), _typed(**{field: typed}))
    page = answer.content.decode()
    assert answer.status_code == 200
    assert f'href="#id_{field}"' in page, "the summary leads to the field"
    assert "line-error" in page
    assert words in page
    assert escape(typed.replace("\x00", "")) in page.replace("\x00", "")
    assert "<script>alert" not in page
    assert not SupplierPrice.objects.exists()
    assert not Supplier.objects.exists(), "no supplier is left behind by a refused price"
    live = client.post(
        _address("price_new", plums), _typed(**{field: typed}), headers={"hx-request": "true"}
    )
    assert live.status_code == 200


@pytest.mark.parametrize("day", ["2026-02-30", "yesterday", "99999-01-01", "0001-01-01"])
def test_a_day_that_is_none_is_refused(client, owner, plums, day):
    answer = client.post(_address("price_new", plums), _typed(valid_from=day))
    assert answer.status_code in {200, 302}
    if day != "0001-01-01":
        assert "Type it as 2026-09-15" in answer.content.decode()


def test_digits_of_another_script_are_read(client, owner, plums):
    client.post(_address("price_new", plums), _typed(pack_price="١٨"))
    assert SupplierPrice.objects.get().pack_price == 18


def test_a_price_to_come_says_so_and_is_not_taken_for_the_last_one(client, owner, plums):
    today = timezone.localdate()
    a_price(plums, per_kg=2, pack_text="10 kg", valid_from=today - timedelta(days=9))
    soon = today + timedelta(days=30)
    answer = client.post(
        _address("price_new", plums), _typed(valid_from=soon.isoformat()), follow=True
    )
    assert "It counts from" in answer.content.decode()
    page = " ".join(client.get(_address("price_new", plums)).content.decode().split())
    assert "Last: 10 kg" in page
    assert "Still to come: 1 crate of 10 kg" in page


def test_one_price_after_another(client, owner, kitchen, plums):
    quinces = a_fruit(kitchen, name="Quinces")
    answer = client.post(_address("price_new", plums), _typed(then="next"))
    assert answer.url == _address("price_new", quinces)
    page = client.get(answer.url).content.decode()
    supplier = Supplier.objects.get()
    assert f'<option value="{supplier.pk}" selected>' in page, "the same supplier is proposed"


def test_a_mistake_is_taken_out_with_its_reason_and_stays_on_record(client, owner, plums):
    price = a_price(plums, per_kg="180")
    address = _address("price_void", price)
    assert "required" in client.post(address, {"reason": " "}).content.decode()
    page = client.post(address, {"reason": "typed 180 for 1.80"}, follow=True).content.decode()
    price.refresh_from_db()
    assert price.voided_at is not None
    assert "typed 180 for 1.80" in page
    assert "not known yet" in page, "without it there is no price again"
    assert "void already" not in page
    again = client.post(address, {"reason": "once more"}).content.decode()
    assert "typed 180 for 1.80" in again


def test_a_supplier_is_made_changed_and_shown(client, owner, kitchen):
    client.post(reverse("supplier_new", args=[kitchen.pk]), {"name": "Plum Cart"})
    supplier = Supplier.objects.get()
    client.post(
        _address("supplier_edit", supplier),
        {"name": "Plum Cart", "contact": "Tel 7\nask for Ada", "delivery_charge": "4,50"},
    )
    page = client.get(_address("supplier", supplier)).content.decode()
    assert "ask for Ada" in page
    assert "€4.50" in page


def test_two_suppliers_of_one_name_are_refused_at_the_field(client, owner, kitchen):
    a_supplier(kitchen, name="Plum Cart")
    page = client.post(
        reverse("supplier_new", args=[kitchen.pk]), {"name": "plum cart"}
    ).content.decode()
    assert "There is already a supplier of that name." in page
    assert 'href="#id_name"' in page


@pytest.mark.parametrize("name", ["suppliers", "supplier"])
def test_the_accountant_reads_suppliers_and_is_offered_no_change(client, kitchen, plums, name):
    price = a_price(plums)
    client.force_login(an_accountant(kitchen))
    args = [kitchen.pk] if name == "suppliers" else [kitchen.pk, price.supplier_id]
    page = client.get(reverse(name, args=args)).content.decode()
    assert price.supplier.name in page
    assert "/edit/" not in page
    assert "/new/" not in page


def _queries(client, address):
    with CaptureQueriesContext(
        connection,
    ) as caught:
        assert client.get(address).status_code == 200
    return len(caught)


@pytest.mark.parametrize("name", ["suppliers", "supplier", "price_new", "ingredient"])
def test_pages_ask_the_database_as_often_for_200_rows_as_for_10(client, owner, kitchen, name):
    plums = a_fruit(kitchen)
    sellers = [a_supplier(kitchen) for _ in range(5)]

    def more(count):
        today = timezone.localdate()
        for number in range(count):
            a_price(plums, supplier=sellers[number % 5],
                    valid_from=today - timedelta(days=number))  # fmt: skip
            a_supplier(kitchen)

    row = sellers[0] if name == "supplier" else plums
    address = reverse(name, args=[kitchen.pk] + ([] if name == "suppliers" else [row.pk]))
    more(10)
    client.get(address)
    few = _queries(client, address)
    more(190)
    assert _queries(client, address) == few
