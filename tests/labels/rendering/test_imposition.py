"""Labels on sheets: the right places, to a twentieth of a millimetre, and one drawing for all."""

import io
import re
from itertools import chain

import pikepdf
import pytest

from labels.rendering.imposition import impose, impose_distinct, sheet_plan
from labels.rendering.layout import fit_label
from labels.rendering.series import render_pdf_pages
from labels.stock import SHEETS, sheet
from tests.labels.rendering.by_hand import JAR, a_damson_cheese, a_tomato_chutney
from tests.labels.rendering.reading import (
    bare,
    ink_box_mm,
    page_sizes_mm,
    text_by_pdfium,
    text_by_pdfplumber,
)

A4_3X7 = sheet("a4-3x7-63.5x38.1")
CLOSE_MM = 0.05


@pytest.fixture(scope="module")
def slab():
    return fit_label(a_damson_cheese(), box=A4_3X7.box()).pdf


def placed_mm(pdf):
    """Top left corner of each label, page by page, from the matrices in the file."""
    pages = []
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for page in document.pages:
            height = float(page.mediabox[3])
            corners = []
            for instruction in pikepdf.parse_content_stream(page):
                if str(instruction.operator) == "cm":
                    a, b, c, d, x, y = (float(each) for each in instruction.operands)
                    assert (a, b, c, d) == (1, 0, 0, 1)  # neither scaled nor turned
                    corners.append((x * 25.4 / 72, (height - y) * 25.4 / 72))
            pages.append(corners)
    return pages


def test_forty_labels_from_the_fifth_on_take_17_21_and_2():
    # 21 - 4 = 17 on the first sheet; 40 - 17 = 23 = 21 + 2.
    plan = sheet_plan(A4_3X7, 40, start_at=5)
    assert [len(places) for places in plan.pages] == [17, 21, 2]
    assert plan.pages[0][0] == 5
    assert plan.pages[2] == (1, 2)
    assert (plan.sheets, plan.copies, plan.next_free) == (3, 40, 3)


@pytest.mark.parametrize(("copies", "sheets"), [(17, 1), (18, 2), (1, 1), (38, 2), (39, 3)])
def test_a_sheet_is_started_only_when_the_one_before_is_full(copies, sheets):
    assert sheet_plan(A4_3X7, copies, start_at=5).sheets == sheets


def test_spoilt_places_are_passed_over_on_the_first_sheet_only():
    plan = sheet_plan(A4_3X7, 20, start_at=3, skip=(4, 10))
    assert plan.pages[0] == (3, *range(5, 10), *range(11, 22))
    assert plan.pages[1] == (1, 2, 3)


def test_a_first_sheet_without_a_free_place_is_not_used():
    assert sheet_plan(A4_3X7, 2, start_at=21, skip=(21,)).pages == ((1, 2),)


@pytest.mark.parametrize(
    ("copies", "start_at", "skip", "message"),
    [
        (0, 1, (), "0 labels: print between 1 and 20,000"),
        (-3, 1, (), "-3 labels"),
        (10**12, 1, (), "1,000,000,000,000 labels"),
        (1, 0, (), "labels 1 to 21"),
        (1, 22, (), "Label 22 to start at: this sheet has labels 1 to 21"),
        (1, 1, (0,), "Labels to skip: 0"),
        (1, 1, (22,), "Labels to skip: 22; this sheet has labels 1 to 21"),
    ],
)
def test_a_plan_that_cannot_be_is_refused_in_words(copies, start_at, skip, message):
    with pytest.raises(ValueError, match=re.escape(message)):
        sheet_plan(A4_3X7, copies, start_at, skip=skip)


@pytest.mark.parametrize("row", SHEETS, ids=lambda row: row.code)
def test_on_every_sheet_every_label_is_where_the_geometry_has_it(row):
    label = fit_label(a_damson_cheese(layout="long" if row.rows == 10 else "quiet"), box=row.box())
    pdf = impose(label.pdf, sheet=row, copies=row.per_page)
    assert page_sizes_mm(pdf) == [
        pytest.approx((float(row.page_width_mm), float(row.page_height_mm)), abs=0.01)
    ]
    corners = placed_mm(pdf)[0]
    for index, (x, below) in enumerate(corners):
        # The matrix names the bottom left corner; the label stands on it.
        wanted = row.position(index)
        assert x == pytest.approx(float(wanted.x_mm), abs=0.001)
        assert below == pytest.approx(float(wanted.y_mm + row.label_height_mm), abs=0.001)
    assert len(corners) == row.per_page


@pytest.mark.parametrize("place", [1, 11, 21])
def test_the_ink_itself_lies_where_the_label_lies(slab, place):
    # 1200 dpi: a pixel is 0.021 mm. The ink of the single label, shifted by the label's place.
    alone = ink_box_mm(slab, dpi=1200)
    x, y = (float(each) for each in A4_3X7.position(place - 1))
    sheets = impose(slab, sheet=A4_3X7, copies=21)
    region = (x, y, x + 63.5, y + 38.1)
    found = ink_box_mm(sheets, dpi=1200, region_mm=region)
    shifted = (alone[0] + x, alone[1] + y, alone[2] + x, alone[3] + y)
    assert found == pytest.approx(shifted, abs=CLOSE_MM)


@pytest.mark.parametrize(("right", "down"), [(0.7, -1.3), (-0.1, 0.1), (0, 10)])
def test_the_printer_offset_moves_every_label_by_exactly_that(slab, right, down):
    plain = placed_mm(impose(slab, sheet=A4_3X7, copies=30))
    moved = placed_mm(impose(slab, sheet=A4_3X7, copies=30, offset_x_mm=right, offset_y_mm=down))
    for before, after in zip(chain(*plain), chain(*moved), strict=True):
        assert after[0] - before[0] == pytest.approx(right, abs=0.001)
        assert after[1] - before[1] == pytest.approx(down, abs=0.001)


@pytest.mark.parametrize("offset", [10.1, -11, float("nan")])
def test_an_offset_that_no_printer_has_is_refused(slab, offset):
    with pytest.raises(ValueError, match="at most 10 mm either way"):
        impose(slab, sheet=A4_3X7, copies=1, offset_x_mm=offset)


def test_the_label_is_in_the_file_once_however_many_are_printed(slab):
    few, many = (impose(slab, sheet=A4_3X7, copies=copies) for copies in (1, 500))
    # 500 labels add a line each and a page object for 24 sheets, no drawing.
    assert len(many) - len(few) < 20_000
    with pikepdf.open(io.BytesIO(many)) as document:
        assert len(document.pages) == 24
        drawings = {page.Resources.XObject.L0.objgen for page in document.pages}
        assert len(drawings) == 1


def test_every_copy_is_read_back_by_two_readers(slab):
    pdf = impose(slab, sheet=A4_3X7, copies=24, start_at=3)
    name, lot = bare("Damson cheese"), bare("DC-27248")
    for read in (text_by_pdfium, text_by_pdfplumber):
        assert [read(pdf, page=page).count(name) for page in (0, 1)] == [19, 5]
        assert read(pdf, page=0).count(lot) == 19


def test_sheets_are_the_same_bytes_each_time_and_ask_not_to_be_scaled(slab):
    first, second = (impose(slab, sheet=A4_3X7, copies=30, start_at=4) for _ in range(2))
    assert first == second
    with pikepdf.open(io.BytesIO(first)) as document:
        assert document.Root.ViewerPreferences.PrintScaling == pikepdf.Name.None_


def test_a_label_of_another_size_is_refused_with_both_sizes():
    jar = fit_label(a_tomato_chutney(), box=JAR).pdf
    with pytest.raises(ValueError, match=r"99\.1 x 57\.0 mm, but this sheet has labels of 63\.5 x"):
        impose(jar, sheet=A4_3X7, copies=1)


def test_different_labels_go_to_the_sheet_in_their_order():
    labels = [fit_label(a_damson_cheese(lot=f"L-{n:02d}"), box=A4_3X7.box()) for n in range(23)]
    pdf = impose_distinct(render_pdf_pages(labels), sheet=A4_3X7, start_at=20)
    first, second = (text_by_pdfium(pdf, page=page) for page in (0, 1))
    assert re.findall(r"L-\d\d", first) == ["L-00", "L-01"]
    assert re.findall(r"L-\d\d", second) == [f"L-{n:02d}" for n in range(2, 23)]
    corners = placed_mm(pdf)
    assert corners[0][0][0] == pytest.approx(float(A4_3X7.position(19).x_mm), abs=0.001)
    assert corners[1][0][0] == pytest.approx(7.25, abs=0.001)
