"""Why a kilo cost more or less than planned: one cause at a time, and all of it."""

from decimal import Decimal

import pytest

from costing.services.batch_costs import what_happened
from costing.services.batch_differences import beside_plan
from costing.services.batch_plans import book_of
from costing.services.batches import InputGiven, against_plan, batch_cost, planned_cost
from tests.builders import (
    a_damson_paste,
    a_finished_batch,
    a_kitchen,
    a_price,
    a_recipe,
    an_ingredient,
    sugar,
)

pytestmark = pytest.mark.django_db


def puree_of(paste):
    return paste.versions.get().lines.get(preparation__isnull=False).preparation


def rounded(value, places=4):
    return round(value, places)


def parts_of(batch):
    parts = against_plan(batch)
    planned = planned_cost(book_of(batch.plan), batch.recipe_id).cost_per_kg_finished
    actual = batch_cost(batch).cost_per_kg_finished
    assert abs(sum(part.per_kg for part in parts) - (actual - planned)) < Decimal("1e-20")
    return {part.kind: part.per_kg for part in parts}


def is_nothing(value):
    return abs(value) < Decimal("1e-7")


def test_over_boiling_alone_is_all_evaporation():
    # The pan of the plan holds 9.2412 / 75 % = 12.3216 kg; this one was boiled down to 12.0 kg and
    # lost 3.5 % as planned.
    parts = parts_of(a_finished_batch(net_g=11580, pot_g=12000))
    assert parts["evaporation"] > 0
    assert all(is_nothing(parts[kind]) for kind in ("price", "trim", "residue", "time"))


def test_more_left_in_the_pan_alone_is_all_residue():
    # 12.3216 kg in the pan as planned, 500 g instead of 431 g of it lost.
    parts = parts_of(a_finished_batch(net_g="11821.6", pot_g="12321.6"))
    assert parts["residue"] > 0
    assert all(is_nothing(parts[kind]) for kind in ("price", "trim", "time"))
    assert is_nothing(parts["evaporation"])


def test_dearer_puree_alone_is_all_price():
    # Plan 9.1271 (see test_recipe_costs); 9 kg of puree at 79.2571 / 17.7 instead of / 18 costs
    # 0.671670 more, over 11.8903 kg: 0.056489.
    paste = a_damson_paste()
    puree = a_finished_batch(puree_of(paste), net_g=17700)
    parts = parts_of(
        a_finished_batch(
            paste,
            inputs=[InputGiven(0, Decimal(9000), from_batch=puree)],
            net_g="11890.3",
            pot_g="12321.6",
        )
    )
    assert rounded(parts["price"], 5) == Decimal("0.05649")
    assert abs(sum(parts.values()) - parts["price"]) < Decimal("0.0001")


def test_a_sieve_that_keeps_more_back_is_all_trim():
    # 79.2571 / 17.7 - 79.2571 / 18 = 0.074630.
    parts = parts_of(a_finished_batch(puree_of(a_damson_paste()), net_g=17700))
    assert rounded(parts["trim"], 6) == Decimal("0.074630")
    assert all(is_nothing(value) for kind, value in parts.items() if kind != "trim")


def test_longer_at_the_pan_is_all_time():
    # 30 minutes at 15 + 8 an hour = 11.50, over 11.8903 kg.
    parts = parts_of(a_finished_batch(net_g="11890.3", pot_g="12321.6", attended_minutes=180))
    assert rounded(parts["time"], 4) == rounded(Decimal("11.5") / Decimal("11.8903"), 4)


def test_everything_at_once_still_adds_up():
    paste = a_damson_paste()
    puree = a_finished_batch(puree_of(paste), net_g=18300, end_brix=13)
    white = sugar(paste.kitchen, name="Raw sugar")
    a_price(white, per_kg=2)
    parts = parts_of(
        a_finished_batch(
            paste,
            inputs=[
                InputGiven(0, Decimal(8700), from_batch=puree),
                InputGiven(0, Decimal(300)),
                InputGiven(1, Decimal(8200)),
                InputGiven(3, Decimal(40), ingredient=white),
            ],
            net_g=11700,
            pot_g=12250,
            attended_minutes=140,
        )
    )
    assert parts["time"] < 0
    assert all(not is_nothing(value) for value in parts.values())


def beside(batch):
    happened = what_happened(batch)
    planned, actual = planned_cost(happened.book, batch.recipe_id), happened.sheet()
    rows = beside_plan(
        batch, planned=planned, actual=actual, ingoing_g=happened.filling().ingoing_g
    )
    return {row.kind: (row.planned, row.actual) for row in rows}


def test_plan_and_batch_stand_side_by_side():
    # 9 kg puree + 8.1 kg sugar + 0.18 kg lemon = 17.28 kg; 9.2412 kg of solids at 75 % = 12.3216 kg
    # in the pan, 3.5 % of it lost: 11.8903 kg. The batch: 17.28 - 12.2 = 5.08 kg of steam,
    # 11.7 / 17.28 = 67.708 %.
    rows = beside(a_finished_batch(net_g=11700, pot_g=12200, end_brix="75.5", attended_minutes=165))
    assert rows["ingoing"] == (17280, 17280)
    assert rounded(rows["pot"][0], 0) == Decimal(12322)
    assert rounded(rows["finished"][0], 0) == Decimal(11890)
    assert rows["evaporated"][1] == Decimal(5080)
    assert [rounded(one, 3) for one in rows["yield"]] == [Decimal("68.810"), Decimal("67.708")]
    assert rows["brix"] == (75, Decimal("75.5"))
    assert rows["minutes"] == (150, 165)
    assert rows["cost"][1] > rows["cost"][0]


def test_what_nobody_measured_is_not_taken_from_the_plan():
    rows = beside(a_finished_batch(net_g=11700))
    assert [rows[kind][1] for kind in ("pot", "evaporated", "brix", "minutes")] == [None] * 4


def test_a_cost_that_is_not_whole_is_compared_with_nothing():
    kitchen = a_kitchen()
    quinces = an_ingredient(kitchen, name="Quinces")
    rows = beside(a_finished_batch(a_recipe(kitchen, lines=[(quinces, 1)]), net_g=900))
    assert rows["cost"] == (None, None)
