"""Supplier prices: worked out while typed, recorded for good, voided once."""

from datetime import date
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.utils import timezone

from costing.models import AuditEntry, SupplierPrice
from costing.selectors.purchases import prices_in_force
from costing.services.purchases import (
    PriceEntry,
    record_supplier_price,
    save_supplier,
    void_supplier_price,
    work_out,
)
from tests.builders import (
    TODAY,
    a_kitchen,
    a_price,
    a_supplier,
    an_ingredient,
    an_owner,
    packaging,
)

pytestmark = pytest.mark.django_db


def typed(pack="25 kg", price="23.75", **values):
    return PriceEntry(pack_text=pack, pack_price=Decimal(price), **{"valid_from": TODAY} | values)


def faults(entry, ingredient=None):
    with pytest.raises(ValidationError) as refused:
        work_out(entry, ingredient=ingredient or an_ingredient())
    return refused.value.message_dict


@pytest.mark.parametrize(
    ("pack", "price", "per_kg"),
    [
        ("25 kg", "23.75", "0.95"),  # 23.75 / 25
        ("6 x 1 kg", "12.00", "2"),  # case of six
        ("12 x 340 g", "8.16", "2"),  # 8.16 / 4.08 kg
        ("1 crate of 10 kg", "18.00", "1.8"),
        ("5 l", "9.25", "1.8316831683"),  # 9.25 / (5 x 1.01 kg)
        ("40 each", "12.00", "2.5"),  # 0.30 each, 120 g each
        ("2 lb", "9.0718474", "10"),  # a pound is 453.59237 g (NIST Handbook 44, Appendix C)
        ("2,5 kg", "5.00", "2"),
    ],
)
def test_a_pack_as_suppliers_write_it_gives_a_price_per_kilo(pack, price, per_kg):
    lemon_or_vinegar = an_ingredient(density_kg_per_l="1.01", each_g=120)
    working = work_out(typed(pack, price), ingredient=lemon_or_vinegar)
    assert round(working.per_kg, 10) == Decimal(per_kg)


def test_a_kilo_that_can_be_used_costs_more_than_one_that_was_bought():
    # 8.10 for 6 kg is 1.35; with 92 % usable 1.467391.
    working = work_out(typed("6 kg", "8.10"), ingredient=an_ingredient(usable_pct=92))
    assert working.per_kg == Decimal("1.35")
    assert round(working.per_usable_kg, 6) == Decimal("1.467391")
    assert working.sentence == (
        "€8.10 for 6 kg is €1.35 per kg as purchased; with 92 % of it usable, €1.47 per usable kg."
    )


@pytest.mark.parametrize(("recoverable", "cost"), [("100", "100"), ("0", "110"), ("50", "105")])
def test_tax_that_does_not_come_back_is_a_cost(recoverable, cost):
    entry = typed("100 kg", "100.00", tax_pct=Decimal(10), tax_recoverable_pct=Decimal(recoverable))
    assert work_out(entry, ingredient=an_ingredient()).cost_pack == Decimal(cost)


def test_tax_in_the_price_is_taken_out_before_it_is_asked_what_comes_back():
    entry = typed(
        "100 kg",
        "110.00",
        price_includes_tax=True,
        tax_pct=Decimal(10),
        tax_recoverable_pct=Decimal(100),
    )
    working = work_out(entry, ingredient=an_ingredient())
    assert working.cost_pack == Decimal(100)
    assert working.sentence == (
        "€110.00, with 10 % tax of which 100 % comes back, for 100 kg costs €100.00,"
        " which is €1.00 per kg as purchased."
    )


def test_delivery_is_part_of_what_a_pack_costs():
    # 86.40 and 6.504391 of the delivery for 240 jars: 0.387102 each.
    entry = typed("240 each", "86.40", delivery_per_pack=Decimal("6.5043"))
    working = work_out(entry, ingredient=packaging())
    assert round(working.per_each, 4) == Decimal("0.3871")
    assert working.per_kg is None


def test_packaging_is_priced_by_the_piece():
    working = work_out(typed("60 each", "21.60"), ingredient=packaging())  # 0.36
    assert working.per_each == Decimal("0.36")
    assert working.sentence == "€21.60 for 60 each is €0.3600 each."


def test_a_sheet_of_labels_is_one_piece():
    assert work_out(typed("100 sheets", "28.00"), ingredient=packaging()).per_each == Decimal(
        "0.28"
    )


@pytest.mark.parametrize(
    ("pack", "question"),
    [
        ("5 l", "what does one litre weigh?"),
        ("40 each", "what does one weigh?"),
    ],
)
def test_what_cannot_become_a_mass_is_refused_with_the_question_that_settles_it(pack, question):
    told = faults(typed(pack))
    assert list(told) == ["pack_text"]
    assert question in told["pack_text"][0]


def test_packaging_by_weight_is_asked_for_its_count():
    told = faults(typed("2 kg"), packaging(name="Wrap"))
    assert "how many pieces is that?" in told["pack_text"][0]


@pytest.mark.parametrize(
    "pack",
    ["", " ", "1.250 kg", "-5 kg", "0 kg", "25 km", "NaN kg", "1e12 kg", "🍐", "<b>25 kg</b>",
     "{{ 25 }} kg", "9" * 40 + " kg", "5 gallons", "٢٥ؠ kg"],
)  # fmt: skip
def test_a_pack_that_cannot_be_read_is_refused_in_a_sentence(pack):
    told = faults(typed(pack))
    assert list(told) == ["pack_text"]
    assert len(told["pack_text"][0]) > 20


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"price": "-0.01"}, "pack_price"),
        ({"price": "NaN"}, "pack_price"),
        ({"price": "Infinity"}, "pack_price"),
        ({"tax_pct": Decimal(101)}, "tax_pct"),
        ({"tax_recoverable_pct": Decimal(-1)}, "tax_recoverable_pct"),
        ({"delivery_per_pack": Decimal(-1)}, "delivery_per_pack"),
        ({"price": "99999999", "pack": "1 mg"}, "pack_text"),
    ],
)
def test_a_figure_that_cannot_be_is_refused_at_its_field(values, field):
    assert list(faults(typed(**values))) == [field]


def test_own_fruit_may_cost_nothing():
    assert work_out(typed(price="0"), ingredient=an_ingredient()).per_kg == 0


def recorded(ingredient, supplier=None, **values):
    kitchen = ingredient.kitchen
    return record_supplier_price(
        kitchen,
        by=values.pop("by", None),
        supplier=supplier or a_supplier(kitchen),
        ingredient=ingredient,
        entry=typed(**values),
    )


def test_a_price_is_recorded_as_typed_and_as_worked_out():
    vinegar = an_ingredient(density_kg_per_l="1.01")
    by = an_owner(vinegar.kitchen)
    price = recorded(vinegar, pack=" 5   l ", price="9.25", note=" new can ", by=by)
    price.refresh_from_db()
    assert (price.pack_text, price.pack_quantity, price.pack_unit) == ("5 l", 5000, "ml")
    assert price.per_kg == Decimal("1.83168317")
    assert (price.note, price.recorded_by, price.valid_from) == ("new can", by, TODAY)
    (entry,) = AuditEntry.objects.filter(subject="supplierprice", subject_id=price.pk)
    assert "5 l at 9.25" in entry.new


def test_what_is_worked_out_while_typing_is_what_is_recorded():
    ingredient = an_ingredient(usable_pct=75)
    entry = typed("3 x 7 kg", "19.99", tax_pct=Decimal("13.5"))
    working = work_out(entry, ingredient=ingredient)
    price = recorded(ingredient, pack="3 x 7 kg", price="19.99", tax_pct=Decimal("13.5"))
    assert price.per_kg == round(working.per_kg, 8)


def test_nothing_is_recorded_across_kitchens():
    ingredient = an_ingredient()
    with pytest.raises(ValidationError) as refused:
        recorded(ingredient, supplier=a_supplier())
    assert "not in this kitchen" in refused.value.message_dict["supplier"][0]
    assert not SupplierPrice.objects.exists()


def test_comma_and_point_are_stored_alike():
    ingredient = an_ingredient()
    comma, point = recorded(ingredient, pack="2,5 kg"), recorded(ingredient, pack="2.5 kg")
    assert comma.pack_quantity == point.pack_quantity == 2500
    assert comma.per_kg == point.per_kg


def test_a_void_price_no_longer_counts_and_stays_on_record():
    ingredient = an_ingredient()
    by = an_owner(ingredient.kitchen)
    right = recorded(ingredient, price="25", valid_from=date(2026, 9, 1))
    wrong = recorded(ingredient, right.supplier, price="2500")
    void_supplier_price(wrong, by=by, reason=" typed in cents ")

    in_force = prices_in_force(ingredient.kitchen, [ingredient.pk], on=TODAY)
    assert in_force[ingredient.pk].price_id == right.pk
    wrong.refresh_from_db()
    assert wrong.void_reason == "typed in cents"
    assert wrong.voided_at <= timezone.now()
    assert AuditEntry.objects.filter(by=by, field="void", new="typed in cents").count() == 1


@pytest.mark.parametrize("reason", ["", "   ", "x" * 201])
def test_a_price_is_voided_with_a_reason(reason):
    price = a_price()
    with pytest.raises(ValidationError) as refused:
        void_supplier_price(price, by=None, reason=reason)
    assert list(refused.value.message_dict) == ["void_reason"]
    price.refresh_from_db()
    assert price.voided_at is None


def test_a_price_is_voided_once():
    price = a_price()
    stale = SupplierPrice.objects.get(pk=price.pk)
    void_supplier_price(price, by=None, reason="first")
    with pytest.raises(ValidationError, match="void already: first"):
        void_supplier_price(stale, by=None, reason="second")


def test_a_supplier_is_saved_and_its_name_taken_once():
    kitchen = a_kitchen()
    supplier = save_supplier(kitchen, by=None, values={"name": " Costa Velada Citrus "})
    assert supplier.name == "Costa Velada Citrus"
    with pytest.raises(ValidationError) as refused:
        save_supplier(kitchen, by=None, values={"name": "costa velada citrus"})
    assert list(refused.value.message_dict) == ["name"]
    save_supplier(kitchen, by=None, supplier=supplier, values={"is_archived": True})
    assert supplier.is_archived
