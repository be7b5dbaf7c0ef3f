"""What a kilo costs as purchased, and which price counts on a day."""

from datetime import date
from decimal import Decimal

import pytest

from costing.reckoning.errors import ReckoningError
from costing.reckoning.purchases import (
    StockLot,
    SupplierPriceRecord,
    choose_price,
    first_in_first_out,
    moving_average,
    per_usable_kg,
    share_delivery,
    unit_cost,
    use_at_average,
)

D = Decimal
OCTOBER = date(2027, 10, 1)


def a_price(price_id, supplier, per_kg, since, *, order=0):
    return SupplierPriceRecord(price_id, 8, supplier, D(per_kg), since, order, pack="25 kg")


JANUARY = a_price(1, "Sable & Finch", "0.95", date(2027, 1, 1))
SEPTEMBER = a_price(2, "Sable & Finch", "1.19", date(2027, 9, 15))
OTHER = a_price(3, "Tansy Row", "1.25", date(2027, 3, 1))
COMING = a_price(4, "Tansy Row", "9.99", date(2027, 10, 2))
ALL = (COMING, SEPTEMBER, OTHER, JANUARY)


@pytest.mark.parametrize(
    ("policy", "per_kg", "note"),
    [
        ("latest", "1.19", "latest: Sable & Finch, from 15 Sep 2027"),
        ("average", "1.22", "average of 2 suppliers' newest prices"),  # (1.19 + 1.25) / 2
        ("worst", "1.25", "dearest of 2: Tansy Row, from 1 Mar 2027"),
        ("fixed", "0.95", "fixed as on 1 Feb 2027: Sable & Finch, from 1 Jan 2027"),
    ],
)
def test_each_policy_takes_its_price_and_says_which(policy, per_kg, note):
    price = choose_price(ALL, policy=policy, on=OCTOBER, fixed_on=date(2027, 2, 1))
    assert (price.per_kg, price.note, price.ingredient_id) == (D(per_kg), note, 8)


# Pair: a price counts from its day, not the day before.
@pytest.mark.parametrize(("day", "per_kg"), [(14, "0.95"), (15, "1.19")])
def test_a_price_counts_from_its_day_on(day, per_kg):
    price = choose_price([JANUARY, SEPTEMBER], policy="latest", on=date(2027, 9, day))
    assert price.per_kg == D(per_kg)


def test_of_two_prices_from_the_same_day_the_later_recorded_counts():
    again = a_price(9, "Sable & Finch", "1.10", date(2027, 9, 15), order=1)
    for prices in ((SEPTEMBER, again), (again, SEPTEMBER)):
        assert choose_price(prices, policy="latest", on=OCTOBER).price_id == 9


def test_no_price_by_then_is_none_and_not_zero():
    assert choose_price([COMING], policy="latest", on=OCTOBER) is None
    assert choose_price([], policy="average", on=OCTOBER) is None


def test_what_was_first_priced_after_the_fixed_day_says_so():
    price = choose_price([SEPTEMBER], policy="fixed", on=OCTOBER, fixed_on=date(2027, 1, 1))
    assert price.per_kg == D("1.19")
    assert price.note.startswith("no price on 1 Jan 2027, so the first since")


def test_an_average_over_one_supplier_names_it():
    price = choose_price([JANUARY, SEPTEMBER], policy="average", on=OCTOBER)
    assert price.per_kg == D("1.19")
    assert price.note == "average of 1 supplier: Sable & Finch, from 15 Sep 2027"


def test_policies_that_are_none_or_lack_their_day_are_refused():
    with pytest.raises(ReckoningError, match="take one of latest, average, worst, fixed"):
        choose_price(ALL, policy="cheapest", on=OCTOBER)
    with pytest.raises(ReckoningError, match="on which day the prices were fixed"):
        choose_price(ALL, policy="fixed", on=OCTOBER)


def test_delivery_and_tax_that_stays_are_part_of_the_cost():
    # (100 + 20) x (1 + 10 % x 0.5) = 126 for 12 kg: 10.50.
    cost = unit_cost(
        price=D(100),
        pack_g=D(12000),
        tax_rate_pct=D(10),
        recoverable_share_pct=D(50),
        delivery_share=D(20),
    )
    assert (cost.ex_tax_pack, cost.cost_pack, cost.per_kg) == (120, 126, D("10.5"))
    assert cost.per_each is None


@pytest.mark.parametrize(
    ("terms", "field"),
    [
        ({"price": D(-1), "pack_g": D(1)}, "pack_price"),
        ({"price": D(1), "pack_g": D(1), "delivery_share": D(-1)}, "delivery_per_pack"),
        ({"price": D(1), "pack_g": D(1), "tax_rate_pct": D(101)}, "tax_pct"),
        ({"price": D(1), "pack_g": D(1), "recoverable_share_pct": D(-1)}, "tax_recoverable_pct"),
        ({"price": D(1)}, "pack_text"),
        ({"price": D(1), "pack_g": D(0)}, "pack_text"),
        ({"price": D(1), "pack_each": D(-1)}, "pack_text"),
    ],
)
def test_purchases_that_cannot_be_are_refused(terms, field):
    with pytest.raises(ReckoningError) as refused:
        unit_cost(**terms)
    assert refused.value.field == field


@pytest.mark.parametrize("usable", ["0", "-1", "100.1"])
def test_more_than_was_bought_is_never_usable(usable):
    with pytest.raises(ReckoningError, match="Weigh what you buy"):
        per_usable_kg(D(1), usable_pct=D(usable))
    assert per_usable_kg(D(1), usable_pct=D(100)) == 1


def test_delivery_may_be_shared_equally():
    assert share_delivery(D(4), weights=[D(1)] * 3) == (D("1.34"), D("1.33"), D("1.33"))


def test_stock_cannot_give_more_than_it_holds():
    lots = [StockLot(D(10), D(1))]
    assert first_in_first_out(lots, quantity=D(10)).left_quantity == 0
    for take in (first_in_first_out, use_at_average):
        with pytest.raises(ReckoningError, match="Count the stock"):
            take(lots, quantity=D("10.001"))
    with pytest.raises(ReckoningError, match="Nothing is in stock"):
        moving_average([])


def test_the_season_of_sugar_by_two_methods():
    # Constructed: 42.9 at 0.95 and 25 at 1.19 average 1.038365; of what closes at 36.7, first in
    # first out leaves 25 x 1.19 + 11.7 x 0.95 = 40.865, the average 38.1080.
    lots = [StockLot(D("42.9"), D("0.95")), StockLot(D(25), D("1.19"))]
    assert round(moving_average(lots), 6) == D("1.038365")
    used = D("67.9") - D("36.7")
    assert first_in_first_out(lots, quantity=used).left_value == D("40.865")
    assert round(use_at_average(lots, quantity=used).left_value, 4) == D("38.1080")


# Pair: a price from the fixed day itself counts, one from the day after does not.
@pytest.mark.parametrize(("day", "per_kg"), [(15, "1.19"), (14, "0.95")])
def test_a_price_from_the_fixed_day_itself_counts(day, per_kg):
    fixed_on = date(2027, 9, day)
    price = choose_price([JANUARY, SEPTEMBER], policy="fixed", on=OCTOBER, fixed_on=fixed_on)
    assert price.per_kg == D(per_kg)


def test_tax_is_a_cost_unless_it_is_said_to_be_recovered():
    # 10.00 + 10 % for 1 kg: 11.00, because nobody said that it comes back.
    cost = unit_cost(price=D(10), pack_g=D(1000), tax_rate_pct=D(10))
    assert (cost.ex_tax_pack, cost.per_kg) == (10, 11)
