"""The price book: a usable kilo, the change since last, the age; and what has no price."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from costing.models import Ingredient
from costing.selectors.ingredients import ingredients_of
from costing.selectors.price_book import price_book, without_price
from tests.builders import (
    TODAY,
    a_fruit,
    a_kitchen,
    a_price,
    a_supplier,
    packaging,
    sugar,
    water,
)

pytestmark = pytest.mark.django_db


def _line(ingredient, *, on=TODAY):
    return price_book(ingredient.kitchen, [ingredient], on=on)[0]


def test_a_usable_kilo_costs_more_than_a_kilo_as_bought():
    plums = a_fruit(usable_pct=75)
    a_price(plums, per_kg="1.80")
    line = _line(plums)
    # 1.80 / 0.75 = 2.40
    assert (line.per_kg, line.per_usable_kg) == (Decimal("1.80"), Decimal("2.40"))


def test_the_change_is_that_of_the_supplier_whose_price_is_newest():
    white = sugar()
    one, two = a_supplier(white.kitchen), a_supplier(white.kitchen)
    a_price(white, per_kg="0.95", supplier=one, valid_from=date(2026, 1, 1))
    a_price(white, per_kg="5.00", supplier=two, valid_from=date(2026, 5, 1))
    a_price(white, per_kg="1.19", supplier=one, valid_from=date(2026, 9, 1))
    line = _line(white)
    # 1.19 after 0.95 of the same shop; the 5.00 of another shop is no rise of this one.
    assert (line.before, line.after) == (Decimal("0.95"), Decimal("1.19"))
    assert line.age_days == 19


def test_a_price_that_was_a_mistake_and_one_of_tomorrow_do_not_count():
    white = sugar()
    shop = a_supplier(white.kitchen)
    a_price(white, per_kg="0.95", supplier=shop)
    a_price(white, per_kg="9.50", supplier=shop, valid_from=date(2026, 9, 1),
            voided_at=timezone.now(), void_reason="a slip")  # fmt: skip
    a_price(white, per_kg="7", supplier=shop, valid_from=TODAY + timedelta(days=1))
    line = _line(white)
    assert line.per_kg == Decimal("0.95")
    assert line.before is None


@pytest.mark.parametrize(("days", "is_old"), [(90, False), (91, True)])
def test_a_price_older_than_ninety_days_is_old(days, is_old):
    white = sugar()
    a_price(white, valid_from=TODAY - timedelta(days=days))
    assert _line(white).is_old is is_old


def test_packaging_is_priced_by_the_piece():
    jar = packaging()
    a_price(jar, per_each="0.42")
    line = _line(jar)
    assert (line.per_each, line.per_usable_kg) == (Decimal("0.42"), None)
    assert line.has_price


def test_what_has_no_price_is_said_so_and_not_priced_at_nought():
    line = _line(sugar())
    assert not line.has_price
    assert line.per_usable_kg is None


def test_those_without_a_price_are_found():
    kitchen = a_kitchen()
    a_price(sugar(kitchen))
    plums = a_fruit(kitchen)
    later = a_fruit(kitchen)
    a_price(later, valid_from=TODAY + timedelta(days=1))
    assert set(without_price(ingredients_of(kitchen), on=TODAY)) == {plums, later}


def test_tap_water_is_free_until_somebody_pays_for_it():
    tap = water()
    assert _line(tap).is_free
    assert not without_price(ingredients_of(tap.kitchen), on=TODAY).exists()
    a_price(tap, per_kg="0.02")
    assert not _line(tap).is_free
    assert not _line(sugar()).is_free


def test_another_kitchens_price_is_not_seen():
    mine, theirs = sugar(), sugar()
    a_price(theirs)
    assert not _line(mine).has_price


def test_the_number_of_queries_does_not_grow(django_assert_num_queries):
    kitchen = a_kitchen()
    for _ in range(12):
        a_price(a_fruit(kitchen))
    rows = list(Ingredient.objects.filter(kitchen=kitchen))
    with django_assert_num_queries(2):
        price_book(kitchen, rows, on=TODAY)
    with django_assert_num_queries(0):
        price_book(kitchen, [], on=TODAY)
