"""The check of a label on paper: one page, the label drawn and no picture, provisions linked."""

import io
from dataclasses import replace

import pikepdf
import pypdfium2
import pytest

from labels.rendering.check_paper import (
    CheckedFinding,
    CheckedStatement,
    CheckSheet,
    check_pdf,
)
from labels.rendering.paper import PAPERS_MM

MM_PER_POINT = 25.4 / 72
ACT, LINK = "Regulation (EU) No 1169/2011", "https://eur-lex.europa.eu/eli/reg/2011/1169/oj"


def a_label(width_mm=63.5, height_mm=38.1, pages=1):
    """A drawing of that size: one rectangle, no picture."""
    book = pikepdf.new()
    for _ in range(pages):
        page = book.add_blank_page(page_size=(width_mm / MM_PER_POINT, height_mm / MM_PER_POINT))
        page.obj.Contents = book.make_stream(b"0 0 20 20 re f")
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


SHEET = CheckSheet(
    title="Damson cheese, 100 g piece",
    verdict="1 to mend",
    explained="There is a proof to look at.",
    facts=(("Kitchen", "Rookfold Kitchen"), ("Law as on", "25 November 2026")),
    statements=(
        CheckedStatement(1, "Net quantity", "100 g", "Art. 9(1)(e)", ACT, LINK, "x-height 2 mm"),
        CheckedStatement(2, "Lot", "L DC-1", "Art. 2", ACT, LINK, mark="second-hand"),
    ),
    findings=(
        CheckedFinding("Must mend", "The date is over.", "Print no more.", f"{ACT}, Art. 24"),
    ),
    not_checked=("Whether jam has set.",),
    asks=("Ask your local authority.",),
    marks=("“second-hand”: not read in the official text.",),
    label_pdf=a_label(),
)


def pages_of(pdf):
    return [
        " ".join(page.get_textpage().get_text_bounded().split())
        for page in pypdfium2.PdfDocument(pdf)
    ]


@pytest.mark.parametrize("paper", PAPERS_MM)
def test_one_page_of_the_kitchens_paper_says_everything(paper):
    pdf = check_pdf(SHEET, paper=paper)
    (text,) = pages_of(pdf)
    for words in (
        "Damson cheese, 100 g piece", "1 to mend", "Rookfold Kitchen", "25 November 2026",
        "Must mend: The date is over. Print no more.", "Art. 9(1)(e)", "x-height 2 mm",
        "(second-hand)", "not read in the official text", LINK, "Whether jam has set.",
        "Ask your local authority.", "1.5 times its size",
    ):  # fmt: skip
        assert words in text, words
    size_mm = [edge * MM_PER_POINT for edge in pypdfium2.PdfDocument(pdf)[0].get_size()]
    assert size_mm == pytest.approx(PAPERS_MM[paper], abs=0.1)


def test_every_provision_is_a_link_to_its_act():
    with pikepdf.open(io.BytesIO(check_pdf(SHEET))) as book:
        links = [str(each.A.URI) for each in book.pages[0].Annots]
        assert links == [LINK, LINK]
        assert book.Root.MarkInfo.Marked


def placed(label):
    """Each label on the first page as its edges from the top left [mm], read back by pdfium."""
    page = pypdfium2.PdfDocument(check_pdf(replace(SHEET, label_pdf=label)))[0]
    forms = [each for each in page.get_objects(max_depth=1) if each.type == 5]  # FPDF_PAGEOBJ_FORM
    return [tuple(edge * MM_PER_POINT for edge in each.get_bounds()) for each in forms], page


@pytest.mark.parametrize(("size", "pages"), [((63.5, 38.1), 1), ((210, 40), 1), ((40, 40), 2)])
def test_the_label_is_drawn_in_lines_and_letters_and_no_picture(size, pages):
    forms, page = placed(a_label(*size, pages=pages))
    assert len(forms) == pages
    assert not [each for each in page.get_objects() if each.type == 3]  # FPDF_PAGEOBJ_IMAGE
    for left, bottom, right, top in forms:
        assert 11.9 < left < right < 210 - 11
        assert 297 - 11 - 75 < bottom < top < 297 - 10


def test_without_a_label_the_sheet_still_says_everything():
    (text,) = pages_of(check_pdf(replace(SHEET, label_pdf=b"")))
    assert "times its size" not in text
    assert "Art. 9(1)(e)" in text


def test_what_is_too_much_for_a_page_goes_on_overleaf_uncut_and_says_so():
    many = tuple(replace(SHEET.statements[0], number=i, text="plum " * 120) for i in range(1, 26))
    pages = pages_of(check_pdf(replace(SHEET, statements=many)))
    assert len(pages) > 1
    assert sum(page.count("plum") for page in pages) == 25 * 120
    assert f"This sheet has {len(pages)} pages." in pages[0]


def test_what_our_type_cannot_draw_leaves_a_box_and_markup_is_only_text():
    (text,) = pages_of(check_pdf(replace(SHEET, title="<b>梅</b> cheese")))
    assert "<b>▯</b> cheese" in text


def test_the_same_sheet_gives_the_same_bytes():
    assert check_pdf(SHEET) == check_pdf(SHEET)
