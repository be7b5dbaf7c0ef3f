"""Codes on labels, read back by a decoder that had no part in drawing them (zxing-cpp)."""

import io
from dataclasses import replace

import pikepdf
import pypdfium2
import pytest
import zxingcpp

from labels.facts import LabelBox
from labels.rendering.codes import ean13, have_room, qr, reserved_mm
from labels.rendering.layout import fit_label
from labels.rendering.pdf import label_pdf
from labels.rendering.series import fit_series, render_pdf_pages
from tests.labels.rendering.by_hand import JAR, SLAB, STRIP, a_damson_cheese
from tests.labels.rendering.reading import bare, text_by_pdfium

GTIN = "4006381333931"
ADDRESS = "https://example.org/damson?lot=DC-27248"


def read(pdf, *, page=0, dpi=300):
    document = pypdfium2.PdfDocument(pdf)
    picture = document[page].render(scale=dpi / 72).to_pil()
    document.close()
    return {(each.format.name, each.text) for each in zxingcpp.read_barcodes(picture)}


@pytest.mark.parametrize(
    ("codes", "box", "expected"),
    [
        ((ean13(GTIN),), SLAB, {("EAN13", GTIN)}),
        ((qr(ADDRESS),), SLAB, {("QRCode", ADDRESS)}),
        ((ean13(GTIN), qr(ADDRESS)), JAR, {("EAN13", GTIN), ("QRCode", ADDRESS)}),
    ],
    ids=["turned bars", "squares", "both"],
)
def test_a_code_on_a_label_is_read_as_what_it_says(codes, box, expected):
    fitted = fit_label(replace(a_damson_cheese(), codes=codes), box=box)
    assert fitted.fits
    pdf = label_pdf(fitted)
    assert read(pdf) == expected
    # Drawn as shapes: there is no picture in the file.
    with pikepdf.open(io.BytesIO(pdf)) as book:
        assert not book.pages[0].get_images()
    assert bare("Damson cheese") in text_by_pdfium(pdf)


def test_every_label_of_a_series_has_the_code_in_its_common_drawing():
    faces = [replace(a_damson_cheese(lot=f"DC-{n}"), codes=(ean13(GTIN),)) for n in range(3)]
    pages = render_pdf_pages(fit_series(faces, box=SLAB))
    assert [read(pages, page=page) for page in range(3)] == [{("EAN13", GTIN)}] * 3


def test_bars_have_the_size_of_the_standard_at_eighty_per_cent():
    # GS1 General Specifications, 5.2: nominal X 0.33 mm, 113 modules with both quiet zones.
    code = ean13(GTIN)
    assert float(code.width_mm) == pytest.approx(113 * 0.33 * 0.8)
    assert float(code.height_mm) == pytest.approx(22.85 * 0.8)


def test_words_do_not_stand_in_the_box_of_a_code():
    face = replace(a_damson_cheese(), codes=(ean13(GTIN),))
    fitted = fit_label(face, box=SLAB)
    right = max(column.x_mm + column.width_mm for column in fitted.arrangement.columns)
    free = float(SLAB.width_mm - 2 * SLAB.inset_mm) - reserved_mm(face.codes, box=SLAB)
    assert right <= free + 1e-6


def test_a_code_without_room_is_named_and_left_out_and_the_words_stay():
    face = replace(a_damson_cheese(), codes=(ean13(GTIN),))
    for box in (STRIP, LabelBox(width_mm=40, height_mm=25, inset_mm=2)):
        if not have_room(face.codes, box=box):
            fitted = fit_label(face, box=box)
            assert fitted.printed.does_not_fit[-1] == "code"
            assert read(label_pdf(fitted)) == set()
            assert fitted.printed.block("name")


def test_a_text_too_long_for_a_small_code_is_refused():
    with pytest.raises(ValueError, match="301 letters are too many"):
        qr("x" * 301)
    assert qr("x" * 300).text
