"""The allergen sheet on paper: pages counted by pdfium, text read back, a long list too."""

from dataclasses import replace

import pypdfium2
import pytest

from labels.rendering.allergen_sheet import AllergenSheet, SheetCell, SheetRow, allergen_sheet_pdf

MM_PER_POINT = 25.4 / 72
GROUPS = (
    "Gluten", "Crustaceans", "Eggs", "Fish", "Peanuts", "Soya", "Milk", "Nuts", "Celery", "Mustard",
    "Sesame", "Sulphites", "Lupin", "Molluscs",
)  # fmt: skip
FREE = SheetCell("free", "not used")
ROW = SheetRow(
    "Walnut paste",
    (
        SheetCell("unknown", "NOT KNOWN"),
        *[FREE] * 6,
        SheetCell("contains", "contains", "walnuts"),
        *[FREE] * 3,
        SheetCell("may", "may contain", "hazelnuts"),
        *[FREE] * 2,
    ),
)
SHEET = AllergenSheet(
    kitchen="Rookfold Kitchen",
    day="20 September 2026",
    groups=GROUPS,
    rows=(ROW,),
    legend=(SheetCell("free", "not used", "as the suppliers answered."),),
    ask="An allergy or intolerance? Ask us before you taste.",
    sources=("Suppliers' specifications.",),
    cautions=("Not a promise.",),
)


def pages_of(pdf):
    return [
        " ".join(page.get_textpage().get_text_bounded().split())
        for page in pypdfium2.PdfDocument(pdf)
    ]


@pytest.mark.parametrize(("paper", "size_mm"), [("A4", (297, 210)), ("Letter", (279.4, 215.9))])
def test_it_lies_on_one_page_of_the_kitchens_paper_and_every_sign_has_its_word(paper, size_mm):
    # ISO 216 A4; 8.5 by 11 inches.
    pdf = allergen_sheet_pdf(SHEET, paper=paper)
    (page,) = pypdfium2.PdfDocument(pdf)
    assert page.get_size() == pytest.approx([mm / MM_PER_POINT for mm in size_mm], abs=0.5)
    (text,) = pages_of(pdf)
    for words in (
        *GROUPS, "Walnut paste", "NOT KNOWN", "contains walnuts", "may contain hazelnuts",
        "20 September 2026", "Ask us before you taste", "Not a promise",
    ):  # fmt: skip
        assert words in text
    assert text.count("not used") == 12


def test_fifteen_products_still_fit_one_page_and_none_is_cut_off():
    rows = tuple(replace(ROW, name=f"Product {n}") for n in range(15))
    (text,) = pages_of(allergen_sheet_pdf(replace(SHEET, rows=rows)))
    assert all(f"Product {n}" in text for n in range(15))
    assert "Not a promise" in text


def test_sixty_products_go_on_overleaf_with_the_heads_again():
    rows = tuple(replace(ROW, name=f"Product {n}") for n in range(60))
    pages = pages_of(allergen_sheet_pdf(replace(SHEET, rows=rows)))
    assert 1 < len(pages) <= 4
    assert all("Sulphites" in page for page in pages)
    assert all(f"Product {n}" in " ".join(pages) for n in range(60))


def test_names_that_would_be_markup_or_have_no_letters_here_are_drawn_as_text():
    row = replace(ROW, name="<b>Bold</b> 🍇")
    (text,) = pages_of(allergen_sheet_pdf(replace(SHEET, rows=(row,))))
    assert "<b>Bold</b>" in text
