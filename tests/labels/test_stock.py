"""Sheets of labels: every row adds up to its page, and nonsense is refused with its sum."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels.stock import SHEETS, LabelSheet, sheet

A4_3X7 = sheet("a4-3x7-63.5x38.1")


@pytest.mark.parametrize("row", SHEETS, ids=lambda row: row.code)
def test_every_sheet_adds_up_exactly_and_is_centred(row):
    across = 2 * row.margin_left_mm + (row.columns - 1) * row.pitch_x_mm + row.label_width_mm
    down = 2 * row.margin_top_mm + (row.rows - 1) * row.pitch_y_mm + row.label_height_mm
    assert across == row.page_width_mm
    assert down == row.page_height_mm


def test_a4_with_three_by_seven_labels():
    # 7.25 + 2 x 66.0 + 63.5 + 7.25 = 210.0 and 15.15 + 7 x 38.1 + 15.15 = 297.0
    assert A4_3X7.per_page == 21
    assert A4_3X7.position(0) == (Decimal("7.25"), Decimal("15.15"))
    # Label 5 of a reader is the second of the second row: 7.25 + 66.0, 15.15 + 38.1.
    assert A4_3X7.position(4) == (Decimal("73.25"), Decimal("53.25"))
    # The last one: 7.25 + 2 x 66.0 and 15.15 + 6 x 38.1.
    assert A4_3X7.position(20) == (Decimal("139.25"), Decimal("243.75"))


def test_inch_sheets_are_exact_in_millimetres():
    # 2 5/8 in = 2.625 x 25.4 = 66.675; side margin 3/16 in = 4.7625; step 2 3/4 in = 69.85
    row = sheet("letter-3x10-66.7x25.4")
    assert row.label_width_mm == Decimal("2.625") * Decimal("25.4")
    assert row.margin_left_mm == Decimal("0.1875") * Decimal("25.4")
    assert row.pitch_x_mm == Decimal("2.75") * Decimal("25.4")
    assert row.page_width_mm == Decimal("8.5") * Decimal("25.4")


def test_codes_and_names_are_unique_and_names_say_nothing_but_numbers():
    assert len({row.code for row in SHEETS}) == len({row.name for row in SHEETS}) == len(SHEETS)
    words = {word for row in SHEETS for word in row.name.replace(",", "").split() if word.isalpha()}
    plain = {"x", "mm", "US", "Letter", "One", "label", "a", "page", "margins", "to", "in"}
    assert words <= plain | {"strips", "side", "no"}


def test_the_box_has_the_label_size_and_keeps_clear_of_the_edge():
    box = A4_3X7.box()
    assert (box.width_mm, box.height_mm) == (Decimal("63.5"), Decimal("38.1"))
    assert box.inset_mm == Decimal("2.0")
    assert box.corner_radius_mm == Decimal("1.5")


def test_an_unknown_code_is_answered_with_the_known_ones():
    with pytest.raises(ValueError, match="a4-3x8-70x37"):
        sheet("no such sheet")


def test_there_is_no_label_after_the_last():
    with pytest.raises(ValueError, match="21 labels; there is no 22"):
        A4_3X7.position(21)
    with pytest.raises(ValueError, match="there is no 0"):
        A4_3X7.position(-1)


@pytest.mark.parametrize(
    ("margin_left", "is_even"),
    # The page leaves 14.50 mm beside the labels: 7.50 + 7.00 is 0.5 apart, 7.51 + 6.99 is 0.52.
    [("7.25", True), ("7.50", True), ("7.51", False), ("7.00", True), ("6.99", False)],
)
def test_margins_may_differ_by_half_a_millimetre_and_no_more(margin_left, is_even):
    if is_even:
        replace(A4_3X7, margin_left_mm=Decimal(margin_left))
        return
    with pytest.raises(ValueError, match=r"at the right, not the .* of the left"):
        replace(A4_3X7, margin_left_mm=Decimal(margin_left))


def test_a_sheet_that_is_not_centred_needs_its_other_margin_and_the_right_one():
    # 5.00 + 195.5 + 9.50 = 210.0
    off_centre = replace(A4_3X7, margin_left_mm=Decimal("5.00"), margin_right_mm=Decimal("9.50"))
    assert off_centre.position(0).x_mm == Decimal("5.00")
    with pytest.raises(ValueError, match=r"makes 210\.10 mm, and the page has 210 mm"):
        replace(off_centre, margin_right_mm=Decimal("9.60"))


def test_overlapping_labels_are_refused_in_a_sentence():
    with pytest.raises(
        ValueError, match=r"overlap across the page: each is 63\.5 mm, but the next"
    ):
        replace(A4_3X7, pitch_x_mm=Decimal("63.4"), margin_left_mm=Decimal("9.85"))
    with pytest.raises(ValueError, match="overlap down the page"):
        replace(A4_3X7, pitch_y_mm=Decimal("38.0"), margin_top_mm=Decimal("15.45"))


def test_labels_that_run_off_the_page_are_refused_with_the_sum():
    with pytest.raises(ValueError, match="rows do not fit down the page"):
        replace(A4_3X7, rows=8, margin_top_mm=Decimal(0))


@pytest.mark.parametrize(
    "change",
    [
        {"columns": 0},
        {"rows": -1},
        {"columns": 10_000},
        {"label_width_mm": Decimal(0)},
        {"label_width_mm": Decimal(-63)},
        {"margin_left_mm": Decimal(-1)},
        {"page_width_mm": Decimal("1e12")},
        {"page_width_mm": Decimal("NaN")},
        {"pitch_y_mm": Decimal("Infinity")},
        {"page_height_mm": Decimal("1" * 40)},
        {"corner_radius_mm": Decimal(20)},
        {"code": ""},
        {"name": ""},
    ],
    ids=str,
)
def test_nonsense_is_refused_in_one_sentence(change):
    with pytest.raises(ValueError, match=r"\w+.*\.$") as refusal:
        replace(A4_3X7, **change)
    assert "\n" not in str(refusal.value)
    assert len(str(refusal.value)) < 250


def test_a_single_label_a_page_needs_no_step():
    roll = LabelSheet(
        "roll", "Roll, 62 x 29 mm", Decimal(62), Decimal(29), 1, 1, Decimal(62), Decimal(29),
        Decimal(0), Decimal(0), Decimal(0), Decimal(0),
    )  # fmt: skip
    assert roll.per_page == 1
    assert roll.position(0) == (0, 0)
