"""Rows of a finished pan as typed: pieces at their fill or as weighed, and what really went in."""

from decimal import Decimal

import pytest

from costing.forms.cook_rows import (
    TypedInput,
    ask_about_stock,
    counted,
    inputs_given,
    row_mistakes,
    typed_yields,
    yields_given,
)
from costing.models import Batch, BatchInput, BatchYield, Ingredient, Product, Recipe, Supplier

D = Decimal
PIECE = Product(pk=3, name="Damson 100 g", fill_g=D("103.5"))
MILL = Supplier(pk=8, name="Mill")
TUB = Batch(pk=7, lot="QD-1", net_g=D(18000))
SUGAR = Ingredient(pk=2, name="White sugar")
PUREE = Recipe(pk=5, name="Damson puree")


def pieces(typed, *, told=()):
    (row,) = typed_yields([PIECE], None if typed is None else {"units-3": typed}, told=told)
    return row


def test_pieces_weigh_their_fill_until_they_were_weighed_and_a_new_number_is_reckoned_again():
    # 110 x 103.5 = 11 385 g; in the record 11 420 g were weighed.
    record = BatchYield(product=PIECE, units=110, mass_g=D(11420))
    assert pieces("110").mass_g == D(11385)
    assert (pieces("110", told=[record]).mass_g, pieces("110", told=[record]).is_changed) == (
        D(11420),
        False,
    )
    fewer = pieces("100", told=[record])
    assert (fewer.mass_g, fewer.is_changed) == (D(10350), True)
    assert pieces(None, told=[record]).typed == "110"


def test_only_what_there_is_goes_to_the_record():
    rows = [pieces("110"), pieces("0"), pieces("")]
    assert [one.units for one in counted(rows)] == [110]
    given = yields_given(rows, offcuts=[("Offcuts, kept", D(100)), ("Thrown", D(0))])
    assert [(one.units, one.mass_g, one.what) for one in given] == [
        (110, D(11385), ""),
        (None, D(100), "Offcuts, kept"),
    ]


@pytest.mark.parametrize("typed", ["1.5", "many", "-3", "100000"])
def test_a_number_of_pieces_that_cannot_be_stands_in_the_summary(typed):
    row = pieces(typed)
    (mistake,) = row_mistakes([row])
    assert row.units is None
    assert (mistake.label, mistake.anchor) == ("Damson 100 g", "id_units-3")


def went_in(data, **record):
    row = BatchInput(**{"position": 1, "ingredient": SUGAR, "weighed_g": D(8100)} | record)
    found = TypedInput(row, str(row.position), suppliers=[MILL], sources=[TUB], left_g={7: D(3200)})
    found.read(data)
    return found


def test_what_is_not_in_the_form_stays_as_it_stands():
    row = went_in({}, supplier=MILL, supplier_lot="SF-9")
    assert (row.typed, row.lot, row.supplier) == ("8.1", "SF-9", "8")
    assert not row.is_changed
    assert inputs_given([row]) == []


@pytest.mark.parametrize(
    ("typed", "what", "value"),
    [
        ({"weighed-1": "8,2"}, "weighed_g", D(8200)),
        ({"weighed-1": ""}, "weighed_g", None),
        ({"supplier-1": "8"}, "supplier", MILL),
        ({"lot-1": " SF-10 "}, "supplier_lot", "SF-10"),
        ({"brix-1": "12,5"}, "measured_brix", D("12.5")),
        ({"source-1": "7"}, "from_batch", TUB),
    ],
)
def test_each_box_goes_to_its_column(typed, what, value):
    (given,) = inputs_given([went_in(typed)])
    assert getattr(given, what) == value


@pytest.mark.parametrize(
    "typed", [{"weighed-1": "x"}, {"brix-1": "96"}, {"supplier-1": "9"}, {"source-1": "9"}]
)
def test_what_cannot_be_read_is_given_to_nobody(typed):
    row = went_in(typed)
    assert row.given is None
    assert len(row_mistakes([row])) == 1


def test_more_than_is_left_is_asked_unless_it_was_looked_at_or_stands_so_already():
    typed = {"weighed-0": "4", "source-0": "7"}
    puree = {"position": 0, "ingredient": None, "preparation": PUREE}
    row = went_in(typed, **puree)
    assert "there are 3.2 kg left; you typed 4 kg" in ask_about_stock([row], is_looked_at=False)[0]
    assert "weighed" in row.errors
    again = went_in(typed, **puree)
    assert ask_about_stock([again], is_looked_at=True) == []
    assert not again.errors
    kept = went_in(typed, **puree | {"weighed_g": D(4000), "from_batch": TUB})
    assert ask_about_stock([kept], is_looked_at=False) == []
