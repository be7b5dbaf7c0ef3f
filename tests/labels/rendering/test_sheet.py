"""The plain-paper test page: what it draws is where the labels will be."""

import io

import pdfplumber
import pytest

from labels.rendering import sheet as sheets
from labels.stock import SHEETS, sheet
from tests.labels.rendering.reading import (
    FILES,
    MM,
    bare,
    fonts,
    ink_box_mm,
    page_sizes_mm,
    text_by_pdfium,
)

A4_3X7 = sheet("a4-3x7-63.5x38.1")


@pytest.mark.parametrize("row", SHEETS, ids=lambda row: row.code)
def test_every_sheet_has_a_test_page_of_its_size_in_our_type(row):
    pdf = sheets.test_page(row)
    assert page_sizes_mm(pdf) == [
        pytest.approx((float(row.page_width_mm), float(row.page_height_mm)), abs=0.01)
    ]
    assert fonts(pdf) <= set(FILES)
    assert "at100%" in text_by_pdfium(pdf)


@pytest.mark.parametrize(("right", "down"), [(0, 0), (0.8, -0.5)])
def test_the_outlines_lie_on_the_edges_of_the_labels(right, down):
    pdf = sheets.test_page(A4_3X7, offset_x_mm=right, offset_y_mm=down)
    # All ink: from the first label's left and top to the last one's right and bottom edge.
    left, top, right_edge, bottom = ink_box_mm(pdf, dpi=1200)
    assert left == pytest.approx(7.25 + right, abs=0.08)
    assert top == pytest.approx(15.15 + down, abs=0.08)
    assert right_edge == pytest.approx(210 - 7.25 + right, abs=0.08)
    assert bottom == pytest.approx(297 - 15.15 + down, abs=0.08)


def test_the_cross_marks_the_middle_of_a_label():
    # Label 1 from 7.25, 15.15: its middle lies at 7.25 + 31.75 = 39.00 and 15.15 + 19.05 = 34.20.
    pdf = sheets.test_page(A4_3X7)
    left, top, right, bottom = ink_box_mm(pdf, dpi=1200, region_mm=(30, 28, 48, 40))
    assert (left + right) / 2 == pytest.approx(39.00, abs=0.05)
    assert (top + bottom) / 2 == pytest.approx(34.20, abs=0.05)
    assert right - left == pytest.approx(6.0, abs=0.1)


def test_the_ruler_is_a_hundred_millimetres_long():
    pdf = sheets.test_page(A4_3X7)
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        rule = max(
            (line for line in document.pages[0].lines if line["linewidth"] > 0.3),
            key=lambda line: line["width"],
        )
    x, y = rule["x0"] * MM, rule["top"] * MM
    # The same ruler in a raster, cut just round it: from its first tick to its last.
    left, _, right, _ = ink_box_mm(pdf, dpi=1200, region_mm=(x - 1, y - 1, x + 102, y + 0.3))
    # Half a line of 0.123 mm stands out at either end.
    assert right - left == pytest.approx(100.123, abs=0.06)


def test_the_geometry_the_numbers_and_the_offset_stand_on_it_in_words():
    read = text_by_pdfium(sheets.test_page(A4_3X7, offset_x_mm=0.4, offset_y_mm=-1))
    for words in (
        "Print on plain paper at 100 %",
        "3 across, 7 down; each label 63.5 x 38.1 mm",
        "First label 7.25 mm from the left, 15.15 mm from the top",
        "Printer offset +0.4 mm to the right, -1.0 mm down",
        "100 mm",
    ):
        assert bare(words) in read
    for number in range(1, 22):
        assert str(number) in read


def test_the_test_page_is_the_same_bytes_each_time():
    assert sheets.test_page(A4_3X7) == sheets.test_page(A4_3X7)


def test_an_absurd_offset_is_refused():
    with pytest.raises(ValueError, match="either way"):
        sheets.test_page(A4_3X7, offset_y_mm=-12)
