"""Rows of a packing as typed: shares of a sheet, rows in and out, a sentence at each mistake."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from costing.forms.packing import MOST_PARTS, TypedPart, TypedParts, read_share, share_as_typed
from costing.services.products import PackingInput
from costing.units import UnitsError


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("1/21", "0.04761905"),  # to eight decimals
        (" 2 / 3 ", "0.66666667"),
        ("1/4", "0.25"),
        ("2,5", "2.5"),
        ("2.5", "2.5"),
        ("1/2,5", "0.4"),
    ],
)
def test_a_quantity_may_be_a_share_of_a_sheet(typed, read):
    assert read_share(typed) == Decimal(read)


@pytest.mark.parametrize("typed", ["1/0", "1/-2", "1/2/3", "1/", "/21", "a/b", "<b>x</b>", "½", ""])
def test_what_is_no_share_is_refused_with_what_was_typed(typed):
    with pytest.raises(UnitsError) as refused:
        read_share(typed)
    assert "type" in str(refused.value).lower()


def test_the_sentence_quotes_the_whole_of_what_was_typed():
    with pytest.raises(UnitsError, match="“<b>x</b>”"):
        read_share("<b>x</b>")


@pytest.mark.parametrize("sheet", range(1, 200))
def test_a_share_reads_the_same_again_after_it_was_stored(sheet):
    stored = read_share(f"1/{sheet}")
    assert read_share(share_as_typed(stored)) == stored


@pytest.mark.parametrize(
    ("stored", "typed"),
    [("0.04761905", "1/21"), ("0.66666667", "2/3"), ("1.00000000", "1"), ("0.25000000", "0.25"),
     ("0.12345678", "0.12345678"), ("2.37500000", "2.3750")],
)  # fmt: skip
def test_a_stored_share_stands_as_somebody_would_type_it(stored, typed):
    assert share_as_typed(Decimal(stored)) == typed


def posted(*rows):
    data = {}
    for number, (item, quantity, loss) in enumerate(rows):
        data |= {
            f"part-{number}-item": item,
            f"part-{number}-quantity": quantity,
            f"part-{number}-loss": loss,
        }
    return TypedParts.posted(data)


def test_rows_are_read_and_empty_ones_passed_over():
    parts = posted(("7", "1/21", "5"), ("", "1", "0"), ("8", "2", ""))
    assert parts.read() == [
        PackingInput(7, Decimal("0.04761905"), Decimal(5)),
        PackingInput(8, Decimal(2), Decimal(0)),
    ]
    assert parts.is_readable


@pytest.mark.parametrize(
    ("row", "box", "told"),
    [
        (("", "2", "0"), "item", "Choose"),
        (("x", "1", "0"), "item", "Choose"),
        (("٣", "1", "0"), "item", "Choose"),  # an id is ours, not typed: no other digits
        (("7", "", "0"), "quantity", "1/21"),
        (("7", "0", "0"), "quantity", "more than 0"),
        (("7", "-1", "0"), "quantity", "more than 0"),
        (("7", "100000", "0"), "quantity", "at most 99999"),
        (("7", "0.000000001", "0"), "quantity", "decimals"),
        (("7", "1.250", "0"), "quantity", "one thousand two hundred and fifty"),
        (("7", "9" * 40, "0"), "quantity", "more than any kitchen has"),
        (("7", "1", "100"), "loss", "below 100 %"),
        (("7", "1", "-0,5"), "loss", "at least 0"),
        (("7", "1", "three"), "loss", "not a number"),
        (("7", "1", "0.123"), "loss", "decimals"),
    ],
)
def test_a_mistake_stands_at_its_box_and_what_was_typed_stays(row, box, told):
    parts = posted(("6", "1", "0"), row)
    assert len(parts.read()) == 1
    assert told in parts.rows[1].errors[box]
    assert not parts.is_readable
    mistake = parts.mistakes()[0]
    assert (mistake.label, mistake.anchor) == ("Part 2", f"part-1-{box}")
    assert (parts.rows[1].item, parts.rows[1].quantity, parts.rows[1].loss) == row


def test_the_most_and_the_finest_that_can_be_kept_are_taken():
    (part,) = posted(("7", "99999", "99.99")).read()
    assert (part.quantity, part.loss_pct) == (Decimal(99999), Decimal("99.99"))
    assert posted(("7", "0.00000001", "0")).read()[0].quantity == Decimal("1e-8")


def test_rows_come_and_go_without_losing_the_others():
    parts = posted(("1", "1", "0"), ("2", "a", "b"), ("3", "3", "0"))
    parts.change("add")
    assert len(parts.rows) == 4
    assert parts.rows[3].is_focus
    parts.change("out-0")
    assert [row.item for row in parts.rows] == ["2", "3", ""]
    assert parts.rows[0].quantity == "a"
    for nonsense in ("out-9", "out-x", "out--1", "out-" + "9" * 40, "out-٣", "away", ""):
        parts.change(nonsense)
    assert [row.item for row in parts.rows] == ["2", "3", ""]


def test_there_is_an_end_to_adding_rows():
    parts = posted(*[("1", "1", "0")] * (MOST_PARTS + 20))
    parts.change("add")
    assert len(parts.rows) == MOST_PARTS


def test_numbers_of_rows_may_have_gaps_and_other_names_are_left_alone():
    parts = TypedParts.posted({
        "part-9-item": "9", "part-2-item": "2", "part-2-colour": "x", "name": "y",
    })  # fmt: skip
    assert [row.item for row in parts.rows] == ["2", "9"]


def test_what_the_service_refuses_stands_at_the_row_it_means():
    parts = posted(("", "1", "0"), ("7", "1", "0"))  # the first is blank, so part 1 is row 2
    parts.read()
    parts.blame("Part 1 (Lid): say how many of it a piece takes.")
    parts.blame("A part is listed twice; add the two quantities up.")
    assert parts.rows[1].errors == {"item": "Say how many of it a piece takes."}
    assert parts.faults == ["A part is listed twice; add the two quantities up."]
    assert {mistake.anchor for mistake in parts.mistakes()} == {"packing", "part-1-item"}


def test_stored_parts_stand_as_they_would_be_typed():
    stored = SimpleNamespace(item_id=4, quantity=Decimal("0.04761905"), loss_pct=Decimal("5.00"))
    assert TypedParts.stored([stored]).rows == [TypedPart("4", "1/21", "5")]
