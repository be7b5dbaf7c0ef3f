"""The kitchen sheet on one page: pages counted by pdfium, text read back, long recipes too."""

from dataclasses import replace

import pypdfium2
import pytest

from labels.rendering.paper import (
    PAPERS_MM,
    PaperRow,
    PaperSheet,
    PaperStop,
    PaperWeight,
    kitchen_sheet_pdf,
)

MM_PER_POINT = 25.4 / 72
FIRST_AID = "Burnt by boiling sugar? Cool running water for 20 minutes, at once."
SHEET = PaperSheet(
    title="Damson cheese",
    lot="DC-26263",
    about="20 September 2026, copper pan, empty 3.00 kg",
    stops=(
        PaperStop("This thermometer", "105.3", "°C", "104.9 to 105.8"),
        PaperStop("Scale, pan and all", "15.42", "kg", "15.10 to 15.73"),
        PaperStop("Refractometer", "68.0", "Brix"),
    ),
    rise="5.9",
    water="99.4",
    weights=(PaperWeight("Damson puree", "9.00 kg"), PaperWeight("Sugar", "8.10 kg", "up by 3 g")),
    readings=(PaperRow("12:20", temperature="101.2"), PaperRow("12:40", scale="17.30")),
    setting=("Cut 6 to 8 h after pouring, pack 12 to 24 h after.",),
    notes=("The thermometer limits the accuracy: read it in boiling water again.",),
    cautions=("Boiling fruit and sugar sticks to skin and burns deep.",),
    first_aid=FIRST_AID,
)


def pages_of(pdf):
    return [
        " ".join(page.get_textpage().get_text_bounded().split())
        for page in pypdfium2.PdfDocument(pdf)
    ]


def long(lines):
    name = "Preserved lemons, rinsed, halved and chopped by hand"
    weights = tuple(PaperWeight(f"{name} {i}", "1.25 kg", "up by 2.4 g") for i in range(lines))
    return replace(SHEET, weights=weights)


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_one_page_of_the_kitchens_paper_says_everything(paper):
    pdf = kitchen_sheet_pdf(SHEET, paper=paper)
    (text,) = pages_of(pdf)
    for words in (
        "Damson cheese", "DC-26263", "105.3 °C", "15.42 kg", "68.0 Brix", "104.9 to 105.8",
        "99.4 °C", "5.9 degrees above", "8.10 kg", "up by 3 g", "12:20 101.2", "17.30",
        "Cut 6 to 8 h", "limits the accuracy", FIRST_AID, "burns deep",
    ):  # fmt: skip
        assert words in text, words
    size_mm = [edge * MM_PER_POINT for edge in pypdfium2.PdfDocument(pdf)[0].get_size()]
    assert size_mm == pytest.approx(PAPERS_MM[paper], abs=0.1)


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_a_recipe_of_25_lines_stays_on_one_page_with_first_aid_and_every_weight(paper):
    (text,) = pages_of(kitchen_sheet_pdf(long(25), paper=paper))
    assert FIRST_AID in text
    assert text.count("1.25 kg") == 25


def test_a_recipe_beyond_the_smallest_type_goes_on_overleaf_uncut():
    pages = pages_of(kitchen_sheet_pdf(long(70)))
    assert len(pages) > 1
    assert sum(page.count("1.25 kg") for page in pages) == 70


def test_before_the_fire_there_is_a_box_for_the_lot_and_nothing_is_read():
    blank = replace(SHEET, lot="", water="", readings=(), stops=())
    (text,) = pages_of(kitchen_sheet_pdf(blank))
    assert "DC-26263" not in text
    assert "reads today °C; the pan is done 5.9 degrees above that" in text


def test_what_our_type_cannot_draw_leaves_a_box_and_markup_is_only_text():
    odd = replace(SHEET, title="<b>梅</b> cheese")
    (text,) = pages_of(kitchen_sheet_pdf(odd))
    assert "<b>▯</b> cheese" in text


def test_the_same_sheet_gives_the_same_bytes():
    assert kitchen_sheet_pdf(SHEET) == kitchen_sheet_pdf(SHEET)
