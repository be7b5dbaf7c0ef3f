"""The picture on the screen: the size of the page in dots, and ink where the PDF has ink."""

import io

import pypdfium2
import pytest
from PIL import Image

from labels.rendering.layout import fit_label
from labels.rendering.preview import label_png, page_png
from labels.rendering.sheet import impose
from labels.stock import sheet
from tests.labels.rendering.by_hand import JAR, SLAB, a_damson_cheese
from tests.labels.rendering.reading import ink_box_mm


def picture(pdf, **more):
    return Image.open(io.BytesIO(page_png(pdf, **more)))


@pytest.mark.parametrize("box", [SLAB, JAR], ids=str)
@pytest.mark.parametrize("dots_per_mm", [6, 12])
def test_the_picture_has_so_many_dots_for_each_millimetre(box, dots_per_mm):
    image = picture(fit_label(a_damson_cheese(), box=box).pdf, dots_per_mm=dots_per_mm)
    assert image.format == "PNG"
    # 63.5 x 12 = 762; a dot that is only begun is drawn, so there may be one more.
    assert 0 <= image.width - float(box.width_mm) * dots_per_mm <= 1.001
    assert 0 <= image.height - float(box.height_mm) * dots_per_mm <= 1.001


def test_ink_is_where_the_label_has_ink():
    pdf = fit_label(a_damson_cheese(), box=SLAB).pdf
    dark = picture(pdf).convert("L").point(lambda level: 255 if level < 200 else 0)
    in_mm = [edge / 12 for edge in dark.getbbox()]
    # Against a raster of 600 dpi drawn for the tests; a dot of the picture is 0.083 mm.
    assert in_mm == pytest.approx(list(ink_box_mm(pdf)), abs=0.1)


def test_only_the_first_sheet_is_shown_and_free_places_stay_white():
    stock = sheet("a4-3x7-63.5x38.1")
    pdf = impose(
        fit_label(a_damson_cheese(), box=stock.box()).pdf, sheet=stock, copies=24, start_at=5
    )
    image = picture(pdf, dots_per_mm=4).convert("L")
    # 210 x 4 and 297 x 4, and a last row of dots that the page only begins.
    assert (image.width, image.height) == (840, 1189)
    # Labels 1 to 4 are the first row and the first of the second: all above 15.15 + 38.1 mm.
    assert image.crop((0, 0, 840, 53 * 4)).getextrema() == (255, 255)
    assert image.crop((293, 213, 840, 1188)).getextrema()[0] < 100


def test_what_is_not_a_pdf_is_refused():
    with pytest.raises(pypdfium2.PdfiumError, match="load document"):
        page_png(b"not a page")


def test_a_front_and_a_back_are_looked_at_side_by_side():
    pdf = fit_label(a_damson_cheese(layout="pair"), box=SLAB).pdf
    both = Image.open(io.BytesIO(label_png(pdf, dots_per_mm=10)))
    one = Image.open(io.BytesIO(page_png(pdf, dots_per_mm=10)))
    # 63.5 mm, 4 mm apart, 63.5 mm; a page is rounded up to whole dots
    assert both.size[0] == 2 * one.size[0] + 40
    assert max(both.getpixel((one.size[0] + 20, 100))) < 220
    assert both.getpixel((one.size[0] + 45, 5)) == (255, 255, 255)
