"""Cost of a piece, and prices that do not contradict themselves."""

from dataclasses import replace
from decimal import Decimal

import pytest

from costing.reckoning.book import NATURES, PACKAGING, KitchenRecord
from costing.reckoning.errors import ReckoningError
from costing.reckoning.pricing import (
    ENDING,
    MARGIN,
    MARKUP,
    NO_ROUNDING,
    STEP,
    PackagingPart,
    PiecePrice,
    cost_piece,
    ladder,
    ladder_back,
    margin_of,
    markup_of,
    price_decided,
    price_for_margin,
    price_for_markup,
    price_holding_margin,
    price_piece,
    round_up_to_ending,
    round_up_to_step,
    with_tax,
)
from costing.reckoning.recipes import cost_recipe
from tests.costing.reckoning.builders import DAMSONS, R1, ROOKFOLD, a_book, rookfold

D = Decimal


def test_packing_with_a_share_of_a_carton_and_a_loss():
    # Two dots at 0.004 and a twelfth of a carton of 0.60, one carton in ten spoilt.
    dots = PackagingPart("dot", D("0.004"), quantity=D(2))
    carton = PackagingPart("carton", D("0.60"), quantity=1 / D(12), loss_pct=D(10))
    piece = cost_piece(
        cost_recipe(rookfold(), R1), fill_g=D(100), parts=[dots, carton], kitchen=ROOKFOLD
    )
    # 0.008 + 0.05 / 0.9 = 0.063556.
    assert round(piece.packaging, 6) == D("0.063556")
    assert piece.breakdown[PACKAGING] == piece.packaging
    assert set(piece.breakdown) == set(NATURES)


def test_what_a_piece_lacks_is_asked_for():
    book = rookfold()
    book = replace(book, prices={k: v for k, v in book.prices.items() if k != DAMSONS})
    piece = cost_piece(
        cost_recipe(book, R1),
        fill_g=D(100),
        parts=[PackagingPart("paste wrap", None)],
        packing_minutes=None,
        kitchen=ROOKFOLD,
    )
    assert not piece.is_complete
    assert [(q.about, q.name) for q in piece.questions] == [
        ("price", "Damsons"),
        ("price", "paste wrap"),
        ("minutes", ""),
    ]
    assert piece.total > 0  # a lower bound


def test_a_packing_rate_that_is_not_known_is_asked_once():
    sheet = cost_recipe(rookfold(), R1)
    piece = cost_piece(sheet, fill_g=D(100), packing_minutes=D(1), kitchen=KitchenRecord())
    assert [q.about for q in piece.questions] == ["labour rate", "overhead rate"]
    bare = cost_recipe(rookfold(kitchen=KitchenRecord()), R1)
    piece = cost_piece(bare, fill_g=D(100), packing_minutes=D(1), kitchen=KitchenRecord())
    assert [q.about for q in piece.questions].count("labour rate") == 1


def test_a_piece_of_unknown_content_has_no_total():
    sheet = replace(cost_recipe(rookfold(), R1), balance=None, cost_per_kg_finished=None)
    piece = cost_piece(sheet, fill_g=D(100), kitchen=ROOKFOLD)
    assert (piece.content, piece.total) == (None, None)


@pytest.mark.parametrize(
    ("terms", "field"),
    [
        ({"fill_g": D(0)}, "fill_g"),
        ({"fill_g": D(1), "packing_minutes": D(-1)}, "packing_minutes"),
        ({"fill_g": D(1), "parts": [PackagingPart("x", D(1), loss_pct=D(100))]}, "loss_pct"),
        ({"fill_g": D(1), "parts": [PackagingPart("x", D(1), quantity=D(0))]}, "quantity"),
    ],
)
def test_pieces_that_cannot_be_are_refused(terms, field):
    with pytest.raises(ReckoningError) as refused:
        cost_piece(cost_recipe(rookfold(), R1), kitchen=ROOKFOLD, **terms)
    assert refused.value.field == field


# Pair: 99.9 % is dear, 100 % is impossible.
def test_a_margin_of_a_hundred_percent_is_refused_in_words():
    assert price_for_margin(D(1), margin_pct=D("99.9")) == 1000
    for margin in ("100", "150", "NaN"):
        with pytest.raises(ReckoningError, match="that is a markup") as refused:
            price_for_margin(D(1), margin_pct=D(margin))
        assert refused.value.field == "aim_pct"
    assert price_for_markup(D(1), markup_pct=D(150)) == D("2.5")


def test_margin_and_markup_differ_by_what_they_are_a_share_of():
    as_margin = price_piece(D("2.50"), aim=MARGIN, aim_pct=D(40), tax_pct=D(0))
    as_markup = price_piece(D("2.50"), aim=MARKUP, aim_pct=D(40), tax_pct=D(0))
    assert (as_margin.inc_tax, as_markup.inc_tax) == (D("4.17"), D("3.50"))


def test_a_price_shows_tax_unit_price_and_what_is_left():
    # 3.00 for 100 g is 30.00 a kg; 3.00 / 1.1 = 2.7273; less 1.2753.
    price = price_decided(D("1.2753"), inc_tax=D("3.00"), tax_pct=D(10), net_quantity_g=D(100))
    assert price.per_kg == 30
    assert round(price.left, 4) == D("1.4520")
    assert round(price.tax, 4) == D("0.2727")
    # 5.20 for 340 g is 15.29 a kg.
    jar = price_decided(D(2), inc_tax=D("5.20"), tax_pct=D(10), net_quantity_g=D(340))
    assert round(jar.per_kg, 2) == D("15.29")


def test_a_price_below_cost_shows_its_loss():
    price = price_decided(D(3), ex_tax=D(2), tax_pct=D(0))
    assert (price.margin_pct, price.left) == (-50, -1)


@pytest.mark.parametrize(
    "change",
    [{"tax": D("0.50")}, {"tax_pct": D(20)}, {"margin_pct": D(40)}, {"ex_tax": D(2)}],
)
def test_a_price_that_contradicts_itself_is_refused(change):
    sound = price_decided(D(1), inc_tax=D("3.30"), tax_pct=D(10))
    assert isinstance(sound, PiecePrice)
    with pytest.raises(ReckoningError, match="contradicts itself"):
        replace(sound, **change)


@pytest.mark.parametrize(
    ("price", "step", "rounded"),
    [("4.5833", "0.10", "4.60"), ("4.60", "0.10", "4.60"), ("4.601", "0.10", "4.70"),
     ("4.01", "0.50", "4.50"), ("4.01", "1", "5")],
)  # fmt: skip
def test_up_to_a_step(price, step, rounded):
    assert round_up_to_step(D(price), step=D(step)) == D(rounded)


@pytest.mark.parametrize(
    ("price", "ending", "rounded"),
    [("4.5833", "0.95", "4.95"), ("4.95", "0.95", "4.95"), ("4.951", "0.95", "5.95"),
     ("4.2", "0.50", "4.50"), ("0.10", "0.95", "0.95"), ("4.01", "0", "5")],
)  # fmt: skip
def test_up_to_an_ending(price, ending, rounded):
    assert round_up_to_ending(D(price), ending=D(ending)) == D(rounded)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: round_up_to_step(D(1), step=D(0)), "rounding_value"),
        (lambda: round_up_to_ending(D(1), ending=D(1)), "rounding_value"),
        (lambda: with_tax(D(1), tax_pct=D(-1)), "sales_tax_pct"),
        (lambda: with_tax(D(1), tax_pct=D(101)), "sales_tax_pct"),
        (lambda: margin_of(D(0), cost=D(1)), "price"),
        (lambda: markup_of(D(1), cost=D(0)), "cost"),
        (lambda: price_for_markup(D(1), markup_pct=D(-100)), "aim_pct"),
        (lambda: price_piece(D(1), aim="profit", aim_pct=D(1), tax_pct=D(0)), "aim"),
        (
            lambda: price_piece(
                D(1), aim=MARGIN, aim_pct=D(1), tax_pct=D(0), rounding="down"
            ),
            "rounding",
        ),
        (lambda: price_decided(D(1), tax_pct=D(0)), "price"),
        (lambda: price_decided(D(1), inc_tax=D(1), ex_tax=D(1), tax_pct=D(0)), "price"),
        (lambda: price_decided(D(1), inc_tax=D(1), tax_pct=D(0), net_quantity_g=D(0)),
         "net_quantity_g"),
        (lambda: ladder(D(1), sellers=[("shop", D(100))], tax_pct=D(0)), "aim_pct"),
        (lambda: ladder_back(D(1), sellers=[("shop", D(100))], tax_pct=D(0)), "aim_pct"),
        (lambda: price_holding_margin(D(1), old_cost=D(0), new_cost=D(1)), "cost"),
    ],
)  # fmt: skip
def test_prices_that_cannot_be_are_refused_with_their_field(call, field):
    with pytest.raises(ReckoningError) as refused:
        call()
    assert refused.value.field == field


def test_a_gift_has_no_markup():
    price = price_decided(D(0), inc_tax=D("1.00"), tax_pct=D(0))
    assert (price.margin_pct, price.markup_pct) == (100, None)


def test_rounding_words_are_those_stored():
    assert (STEP, ENDING, NO_ROUNDING) == ("step", "ending", "none")
    assert a_book().kitchen is ROOKFOLD


# Pair: a loss of nearly all is a price, of all is none.
def test_a_negative_markup_sells_at_a_loss_but_never_for_nothing():
    assert price_for_markup(D(2), markup_pct=D("-99.5")) == D("0.01")
    with pytest.raises(ReckoningError, match="gives it away"):
        price_for_markup(D(2), markup_pct=D(-100))
