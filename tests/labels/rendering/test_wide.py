"""Columns, the label around a jar and the pair: read back from the PDF by libraries not ours."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels.facts import LabelBox
from labels.rendering.arrangement import arrange
from labels.rendering.blocks import Setting
from labels.rendering.layout import fit_label
from labels.rendering.pdf import label_pdf
from labels.rendering.sheet import impose
from labels.stock import sheet
from tests.labels.rendering.by_hand import SLAB, STRIP, a_damson_cheese, a_tomato_chutney
from tests.labels.rendering.reading import (
    MM,
    bare,
    characters,
    font_name,
    ink_box_mm,
    os2_x_ratio,
    page_sizes_mm,
    text_by_pdfium,
    text_by_pdfplumber,
)

# A jar of 63 mm is pi x 63 = 197.9 mm around: of 210 mm of paper 12.1 mm are lapped, and a third
# of the way around, 66 mm, is seen from one place.
AROUND = LabelBox(Decimal(210), Decimal(45), seen_mm=Decimal(66), lap_mm=Decimal("12.1"))
BROAD = LabelBox(Decimal(150), Decimal(40))


def _x_heights_mm(pdf):
    """The x-height of every letter: its size in the PDF times sxHeight of its font's OS/2 table."""
    pages = range(len(page_sizes_mm(pdf)))
    letters = [
        each for page in pages for each in characters(pdf, page=page) if each["text"].strip()
    ]
    return [each["size"] * MM * os2_x_ratio(font_name(each)) for each in letters]


@pytest.mark.parametrize("minimum_mm", ["1.2", "0.9"])
@pytest.mark.parametrize(
    ("layout", "box"), [("wrap", AROUND), ("pair", SLAB), ("columns", BROAD)], ids=str
)
def test_no_letter_is_lower_than_the_pack_may_have(layout, box, minimum_mm):
    # Regulation (EU) No 1169/2011, Art. 13(2) and (3): 1.2 mm, or 0.9 mm under 80 cm2.
    face = a_tomato_chutney(layout=layout)
    lower = tuple(
        replace(each, minimum_x_height_mm=Decimal(minimum_mm)) for each in face.particulars
    )
    fitted = fit_label(replace(face, particulars=lower), box=box)
    assert fitted.fits
    assert min(_x_heights_mm(fitted.pdf)) >= float(minimum_mm)
    assert min(_x_heights_mm(fitted.pdf)) == pytest.approx(
        float(fitted.printed.x_height_mm), abs=0.01
    )


@pytest.mark.parametrize("box", [AROUND, STRIP, LabelBox(Decimal(277), Decimal(45))], ids=str)
def test_around_a_jar_name_and_quantity_are_seen_from_one_place(box):
    # Art. 13(5) with Art. 2(2)(k). Where the jar is not known, the paper goes around it once.
    face = a_tomato_chutney(layout="wrap")
    fitted = fit_label(face, box=box)
    large = fitted.printed.block("name"), fitted.printed.block("net_quantity")
    assert {block.panel for block in large} == {"front"}
    smallest = min(each["size"] for each in characters(fitted.pdf)) * 1.15
    edges = [
        edge * MM for each in characters(fitted.pdf) if each["size"] > smallest
        for edge in (each["x0"], each["x1"])
    ]  # fmt: skip
    assert max(edges) - min(edges) <= float(box.seen_mm or box.width_mm / 3)
    middle = float(box.width_mm + box.lap_mm) / 2
    assert (max(edges) + min(edges)) / 2 == pytest.approx(middle, abs=1)


def test_what_the_other_end_covers_stays_bare():
    left, _, right, _ = ink_box_mm(fit_label(a_tomato_chutney(layout="wrap"), box=AROUND).pdf)
    assert left >= float(AROUND.lap_mm + AROUND.inset_mm) - 0.06
    assert right <= float(AROUND.width_mm - AROUND.inset_mm) + 0.06


@pytest.mark.parametrize("make", [a_damson_cheese, a_tomato_chutney])
@pytest.mark.parametrize("width_mm", [63, 99, 150, 277])
@pytest.mark.parametrize("layout", ["wrap", "pair"])
def test_no_column_is_left_empty(make, layout, width_mm):
    box = LabelBox(Decimal(width_mm), Decimal(45))
    arrangement = arrange(make(layout=layout), box=box, setting=Setting(1.3))
    assert all(column.blocks for column in arrangement.columns)


def test_a_pair_has_name_and_quantity_on_the_one_paper_and_the_facts_on_the_other():
    fitted = fit_label(a_tomato_chutney(layout="pair"), box=SLAB)
    for pdf in (fitted.pdf, label_pdf(fitted)):
        assert page_sizes_mm(pdf) == [pytest.approx((63.5, 38.1), abs=0.01)] * 2
        for read in (text_by_pdfplumber, text_by_pdfium):
            front, back = read(pdf, page=0), read(pdf, page=1)
            assert front == bare("ROOKFOLD KITCHEN Tomato chutney 230 g")
            for each in fitted.face.particulars:
                assert (bare(each.text) in back) is (each.kind not in {"name", "net_quantity"})


def test_the_front_of_a_pair_keeps_to_what_is_seen_of_a_jar():
    # Regulation (EU) No 1169/2011, Art. 13(5) with Art. 2(2)(k): seen from one place.
    curved = replace(BROAD, seen_mm=Decimal(66))
    fitted = fit_label(a_tomato_chutney(layout="pair"), box=curved)
    assert {fitted.printed.block(kind).panel for kind in ("name", "net_quantity")} == {"front"}
    left, _, right, _ = ink_box_mm(fitted.pdf)
    assert right - left <= 66
    assert (left + right) / 2 == pytest.approx(75, abs=1)


def test_a_pair_takes_two_labels_of_a_sheet_one_after_the_other():
    pdf = fit_label(a_damson_cheese(layout="pair"), box=SLAB).pdf
    printed = impose(pdf, sheet=sheet("a4-3x7-63.5x38.1"), copies=2, start_at=3)
    # Fronts on places 3 and 5, backs on 4 and 6: they begin at 139.25, 73.25, 7.25 and 139.25 mm.
    letters = [each for each in characters(printed) if each["text"].strip()]
    largest = max(each["size"] for each in letters if each["text"] == "D")
    fronts = [e["x0"] * MM for e in letters if e["text"] == "D" and e["size"] == largest]
    backs = [e["x0"] * MM for e in letters if e["text"] == "B"]  # of "Best before"
    assert [x_mm // 66 for x_mm in fronts] == [2, 1]
    assert [x_mm // 66 for x_mm in backs] == [0, 2]


def test_less_room_brings_the_narrow_cut_and_then_the_name_of_what_has_none():
    face = a_tomato_chutney(layout="pair")
    small = LabelBox(Decimal(50), Decimal(30))
    assert not fit_label(face, box=SLAB).is_condensed
    assert fit_label(face, box=small).is_condensed
    tiny = fit_label(face, box=LabelBox(Decimal(40), Decimal(20)))
    assert tiny.printed.does_not_fit
    assert "name" not in tiny.printed.does_not_fit
