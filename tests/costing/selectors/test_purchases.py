"""Which price counts on a day: by policy, by supplier, and in one query for any history."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.db import connection

from costing.models import SupplierPrice
from costing.selectors.purchases import (
    newest_of_each_supplier,
    piece_prices_in_force,
    price_history,
    prices_in_force,
    prices_of_supplier,
    suppliers_of,
    suppliers_side_by_side,
)
from tests.builders import TODAY, a_kitchen, a_price, a_supplier, an_ingredient, packaging

pytestmark = pytest.mark.django_db

JAN, JUN, SEP = date(2026, 1, 1), date(2026, 6, 1), date(2026, 9, 1)


def two_suppliers(**of_kitchen):
    """Sugar: the cash-and-carry 0.95, then 1.19 from September; the mill 1.05 from June."""
    kitchen = a_kitchen(**of_kitchen)
    white = an_ingredient(kitchen, name="White sugar")
    carry, mill = a_supplier(kitchen, name="Carry"), a_supplier(kitchen, name="Mill")
    a_price(white, per_kg="0.95", supplier=carry, valid_from=JAN)
    a_price(white, per_kg="1.05", supplier=mill, valid_from=JUN)
    a_price(white, per_kg="1.19", supplier=carry, valid_from=SEP)
    return white


def in_force(ingredient, on=TODAY):
    return prices_in_force(ingredient.kitchen, [ingredient.pk], on=on)[ingredient.pk]


@pytest.mark.parametrize(
    ("policy", "on", "per_kg"),
    [
        ("latest", JAN, "0.95"),
        ("latest", JUN, "1.05"),
        ("latest", SEP - timedelta(days=1), "1.05"),
        ("latest", SEP, "1.19"),
        ("average", JAN, "0.95"),
        ("average", JUN, "1.00"),  # (0.95 + 1.05) / 2
        ("average", SEP, "1.12"),  # (1.19 + 1.05) / 2
        ("worst", JUN, "1.05"),
        ("worst", SEP, "1.19"),
    ],
)
def test_the_price_in_force_by_the_kitchens_policy(policy, on, per_kg):
    assert in_force(two_suppliers(price_policy=policy), on).per_kg == Decimal(per_kg)


@pytest.mark.parametrize(
    ("fixed_on", "on", "per_kg"),
    [
        (JUN, SEP, "1.05"),  # as on 1 June, whatever came after
        (JUN - timedelta(days=1), SEP, "0.95"),
        (SEP, JUN, "1.05"),  # before the day they were fixed, the price of the day
        (JAN - timedelta(days=1), SEP, "0.95"),  # nothing was known then: the first since
    ],
)
def test_prices_fixed_on_a_day(fixed_on, on, per_kg):
    white = two_suppliers(price_policy="fixed", prices_fixed_on=fixed_on)
    assert in_force(white, on).per_kg == Decimal(per_kg)


def test_a_price_says_where_it_comes_from():
    white = two_suppliers()
    price = in_force(white)
    newest = SupplierPrice.objects.get(per_kg=Decimal("1.19"))
    assert (price.price_id, price.supplier, price.pack, price.valid_from) == (
        newest.pk,
        "Carry",
        "1 kg",
        SEP,
    )


def test_of_two_prices_of_one_day_the_one_recorded_later_counts():
    white = an_ingredient()
    supplier = a_supplier(white.kitchen)
    a_price(white, per_kg="2", supplier=supplier, valid_from=JUN)
    a_price(white, per_kg="3", supplier=supplier, valid_from=JUN)
    assert in_force(white).per_kg == 3


def test_without_a_price_there_is_no_entry_rather_than_a_zero():
    ingredient = an_ingredient()
    assert prices_in_force(ingredient.kitchen, [ingredient.pk], on=TODAY) == {}
    a_price(ingredient, valid_from=TODAY + timedelta(days=1))
    assert prices_in_force(ingredient.kitchen, [ingredient.pk], on=TODAY) == {}


def test_another_kitchens_price_never_counts():
    ours, theirs = an_ingredient(), an_ingredient()
    a_price(theirs)
    assert prices_in_force(ours.kitchen, [theirs.pk], on=TODAY) == {}
    assert prices_in_force(ours.kitchen, None, on=TODAY) == {}


def test_a_supplier_who_was_given_up_counts_only_where_nobody_else_sells_it():
    white = two_suppliers(price_policy="worst")
    carry = white.prices.filter(supplier__name="Carry").first().supplier
    carry.is_archived = True
    carry.save()
    assert in_force(white).per_kg == Decimal("1.05")
    white.prices.exclude(supplier=carry).update(voided_at="2026-09-01T00:00Z", void_reason="x")
    assert in_force(white).per_kg == Decimal("1.19")


def test_packaging_has_its_price_by_the_piece():
    jar = packaging()
    a_price(jar, per_each="0.36")
    assert prices_in_force(jar.kitchen, [jar.pk], on=TODAY) == {}
    piece = piece_prices_in_force(jar.kitchen, [jar.pk], on=TODAY)[jar.pk]
    assert (piece.item_id, piece.per_each, piece.valid_from) == (jar.pk, Decimal("0.36"), JAN)


def test_the_history_is_newest_first_and_keeps_what_is_void():
    white = two_suppliers()
    white.prices.filter(per_kg=Decimal("1.05")).update(
        voided_at="2026-09-01T00:00Z", void_reason="x"
    )
    assert [p.valid_from for p in price_history(white)] == [SEP, JUN, JAN]
    assert [p.valid_from for p in price_history(white, with_void=False)] == [SEP, JAN]


def test_suppliers_stand_side_by_side_cheapest_usable_kilo_first():
    white = two_suppliers()
    white.usable_pct = Decimal(50)
    white.save()
    offers = suppliers_side_by_side(white, on=TODAY)
    assert [(o.price.supplier.name, o.per_usable_kg) for o in offers] == [
        ("Mill", Decimal("2.1")),
        ("Carry", Decimal("2.38")),
    ]
    assert [(o.is_cheapest, o.is_in_force) for o in offers] == [(True, False), (False, True)]


def test_suppliers_of_a_kitchen_and_what_they_charged():
    white = two_suppliers()
    assert [s.name for s in suppliers_of(white.kitchen)] == ["Carry", "Mill"]
    carry = suppliers_of(white.kitchen).first()
    assert [p.valid_from for p in prices_of_supplier(carry)] == [SEP, JAN]
    carry.is_archived = True
    carry.save()
    assert [s.name for s in suppliers_of(white.kitchen)] == ["Mill"]
    assert suppliers_of(white.kitchen, with_archived=True).count() == 2


@pytest.mark.parametrize("policy", ["latest", "average", "worst", "fixed"])
def test_one_query_whatever_the_policy(policy, django_assert_num_queries):
    white = two_suppliers(price_policy=policy, prices_fixed_on=JUN)
    with django_assert_num_queries(1):
        prices_in_force(white.kitchen, [white.pk], on=TODAY)


def a_long_history(*, ingredients, suppliers, days):
    """A price of 1 today, of 2 yesterday and so on, written by the database itself."""
    kitchen = a_kitchen()
    foods = [an_ingredient(kitchen) for _ in range(ingredients)]
    for _ in range(suppliers):
        a_supplier(kitchen)
    earlier = {"sqlite": "date(%s, '-' || n || ' days')", "postgresql": "%s::date - n"}
    with connection.cursor() as cursor:
        cursor.execute(
            f"""
            WITH RECURSIVE days(n) AS (SELECT 0 UNION ALL SELECT n + 1 FROM days WHERE n < %s)
            INSERT INTO costing_supplierprice (
                kitchen_id, ingredient_id, supplier_id, pack_text, pack_quantity, pack_unit,
                pack_price, price_includes_tax, tax_pct, tax_recoverable_pct, delivery_per_pack,
                per_kg, valid_from, note, recorded_at, void_reason)
            SELECT i.kitchen_id, i.id, s.id, '1 kg', 1000, 'g', 1 + n, %s, 0, 0, 0,
                1 + n, {earlier[connection.vendor]}, '', %s, ''
            FROM costing_ingredient i JOIN costing_supplier s ON s.kitchen_id = i.kitchen_id, days
            """,  # noqa: S608
            [days - 1, False, TODAY, datetime(2026, 9, 20, tzinfo=UTC)],
        )
        cursor.execute("ANALYZE")
    return kitchen, foods


def test_of_a_hundred_thousand_prices_only_the_newest_are_read(django_assert_num_queries):
    kitchen, foods = a_long_history(ingredients=100, suppliers=2, days=500)
    assert SupplierPrice.objects.count() == 100_000
    wanted = [food.pk for food in foods[:40]]

    with django_assert_num_queries(1):
        newest = newest_of_each_supplier(kitchen, wanted, on=TODAY)

    assert {price.per_kg for price in newest} == {1}
    assert len(newest) == 80
