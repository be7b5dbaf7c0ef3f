"""The season as data: every name it uses is there, and every lot comes from who sells it."""

from costing.services import rookfold, rookfold_season
from costing.services.rookfold_season import COOKS, ON_THE_FIRE, PANS

EVERY = (*COOKS, ON_THE_FIRE)


def test_every_pan_recipe_product_supplier_and_cook_is_there():
    dishes = {dish.name: dish for dish in rookfold.DISHES}
    people = {row[0] for row in rookfold.PEOPLE}
    suppliers = {row[0] for row in rookfold.SUPPLIERS}
    goods = {good.name for good in rookfold.GOODS}
    for cook in EVERY:
        lines = {line.of for line in dishes[cook.dish].lines}
        assert {one.of for one in cook.inputs} <= lines, cook.key
        assert cook.pan in PANS
        assert cook.by in people
        assert {one.supplier for one in cook.inputs} - {""} <= suppliers
        assert {name for name, _ in cook.units} <= goods


def test_a_lot_comes_from_somebody_who_sells_it():
    sold = {(row[0], row[1]) for row in rookfold.PRICES}
    for cook in EVERY:
        for one in cook.inputs:
            if one.lot:
                assert (one.of, one.supplier) in sold, (cook.key, one)


def test_a_pan_is_filled_from_what_was_cooked_before_it():
    cooked = {}
    for cook in EVERY:
        for one in cook.inputs:
            if one.batch:
                assert cooked[one.batch] < cook.day, (cook.key, one.batch)
        cooked[cook.key] = cook.day
    assert len(cooked) == len(EVERY)
    assert [cook.day for cook in COOKS] == sorted(cook.day for cook in COOKS)


def test_everything_is_cooked_after_it_was_first_sold():
    first = {}
    for row in rookfold.PRICES:
        first[row[0]] = min(row[4], first.get(row[0], row[4]))
    for cook in EVERY:
        assert all(first.get(one.of, cook.day) <= cook.day for one in cook.inputs), cook.key
    assert rookfold_season.COOKS[-1].day <= rookfold.LAST_DAY
