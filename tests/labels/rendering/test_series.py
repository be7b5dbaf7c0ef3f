"""Labels that differ in a line: what is common drawn once, and the same as one by one."""

import io
from dataclasses import replace
from decimal import Decimal

import pikepdf
import pypdfium2
import pytest
from PIL import ImageChops

from labels.rendering.layout import fit_label
from labels.rendering.series import fit_series, render_pdf_pages
from tests.labels.rendering.by_hand import (
    JAR,
    SLAB,
    STRIP,
    a_damson_cheese,
    a_tomato_chutney,
    particular,
)
from tests.labels.rendering.reading import (
    FILES,
    bare,
    fonts,
    page_sizes_mm,
    text_by_pdfium,
    text_by_pdfplumber,
)


def picture(pdf, *, page=0):
    document = pypdfium2.PdfDocument(pdf)
    image = document[page].render(scale=250 / 72).to_pil()
    document.close()
    return image


def assert_same_picture(pages, page, alone):
    """Nothing but the soft edges of letters may differ: ink and the maker's colour are 80 apart.

    A file tells distances of letters in thousandths of their size, so that what stands beside large
    figures may lie 0.02 mm off: a fifth of a dot at 250 dpi.
    """
    difference = ImageChops.difference(picture(pages, page=page), picture(alone))
    assert max(most for _, most in difference.getextrema()) <= 75


@pytest.mark.parametrize(
    ("layout", "box"), [("quiet", SLAB), ("two-panel", JAR), ("long", STRIP)], ids=str
)
def test_a_series_shows_each_label_as_if_it_had_been_set_alone(layout, box):
    faces = [a_damson_cheese(lot=f"DC-27248-{number:03d}", layout=layout) for number in range(5)]
    series = fit_series(faces, box=box)
    pages = render_pdf_pages(series)
    assert page_sizes_mm(pages) == [
        pytest.approx((float(box.width_mm), float(box.height_mm)), abs=0.01)
    ] * len(faces)
    for page in (0, 2, 4):
        alone = fit_label(faces[page], box=box)
        assert alone.arrangement == series[page].arrangement
        assert_same_picture(pages, page, alone.pdf)
        for read in (text_by_pdfium, text_by_pdfplumber):
            assert f"DC-27248-{page:03d}" in read(pages, page=page)
            assert bare("Damson cheese") in read(pages, page=page)


def test_what_is_common_to_a_series_is_in_the_file_once():
    faces = [a_damson_cheese(lot=f"DC-{number:03d}") for number in range(30)]
    with pikepdf.open(io.BytesIO(render_pdf_pages(fit_series(faces, box=SLAB)))) as document:
        assert len({page.Resources.XObject.Common.objgen for page in document.pages}) == 1
        assert all(len(page.Contents.read_bytes()) < 1500 for page in document.pages)


def test_plain_lines_of_neighbouring_labels_are_kept_apart():
    # Without a heading in another colour, the lines of two labels are drawn in one go.
    faces = []
    for number in range(6):
        face = a_damson_cheese()
        storage = particular("storage", f"Keep cool, jar {number} of 6.")
        faces.append(
            replace(
                face,
                particulars=tuple(
                    storage if each.kind == "storage" else each for each in face.particulars
                ),
            )
        )
    pages = render_pdf_pages(fit_series(faces, box=SLAB))
    for page in range(6):
        read = text_by_pdfium(pages, page=page)
        assert bare(f"jar {page} of 6.") in read
        assert read.count("jar") == 1


@pytest.mark.parametrize(
    ("layout", "box"), [("quiet", SLAB), ("two-panel", JAR), ("long", STRIP)], ids=str
)
def test_labels_that_differ_in_weight_share_a_drawing_and_look_as_if_set_alone(layout, box):
    faces = []
    for number, weight in enumerate(("111 g", "98 g", "104 g", "1004 g")):
        face = a_damson_cheese(lot=f"DC-{number}", layout=layout)
        quantity = particular(
            "net_quantity", weight, same_field=True, minimum_figure_height_mm=Decimal(3)
        )
        faces.append(
            replace(
                face,
                particulars=tuple(
                    quantity if each.kind == "net_quantity" else each for each in face.particulars
                ),
            )
        )
    series = fit_series(faces, box=box)
    pages = render_pdf_pages(series)
    with pikepdf.open(io.BytesIO(pages)) as document:
        assert len({page.Resources.XObject.Common.objgen for page in document.pages}) == 1
    for page, face in enumerate(faces):
        alone = fit_label(face, box=box)
        assert series[page].arrangement == alone.arrangement
        assert_same_picture(pages, page, alone.pdf)


@pytest.mark.parametrize("colour", ["#6b1f3a", "#0a5c2b"])
def test_names_that_differ_keep_the_colour_of_the_maker(colour):
    faces = [a_damson_cheese(name=f"Damson cheese {n}", colour=colour) for n in "ABC"]
    pages = render_pdf_pages(fit_series(faces, box=JAR))
    assert_same_picture(pages, 1, fit_label(faces[1], box=JAR).pdf)


def test_a_long_series_is_right_to_its_end():
    faces = [a_damson_cheese(lot=f"DC-{number:04d}") for number in range(260)]
    pages = render_pdf_pages(fit_series(faces, box=SLAB))
    for page in (0, 1, 127, 249, 250, 259):
        read = text_by_pdfium(pages, page=page)
        assert f"DC-{page:04d}" in read
        assert read.count("DC-") == 1


def test_a_series_tells_law_of_each_label():
    series = fit_series([a_damson_cheese(lot=f"L{n}") for n in range(3)], box=SLAB)
    assert [each.printed.block("lot").text for each in series] == ["Lot L0", "Lot L1", "Lot L2"]


def test_equal_labels_in_a_series_stay_equal_pages():
    pages = render_pdf_pages(fit_series([a_damson_cheese()] * 4, box=SLAB))
    assert [text_by_pdfium(pages, page=page).count("DC-27248") for page in range(4)] == [1] * 4


def test_labels_that_are_not_alike_are_drawn_each_for_itself():
    faces = [
        a_damson_cheese(lot="DC-1"),
        a_tomato_chutney(),
        a_damson_cheese(lot="DC-2", name="Quince cheese with a rather longer name than that"),
    ]
    pages = render_pdf_pages([fit_label(face, box=JAR) for face in faces])
    assert len(page_sizes_mm(pages)) == 3
    for page, face in enumerate(faces):
        for each in face.particulars:
            assert bare(each.text) in text_by_pdfium(pages, page=page)


def test_a_series_whose_texts_differ_much_is_still_right():
    faces = [
        replace(a_damson_cheese(lot="L" * length), tagline="By hand") for length in (1, 4, 20, 40)
    ]
    series = fit_series(faces, box=JAR)
    assert all(each.fits for each in series)
    pages = render_pdf_pages(series)
    for page, length in enumerate((1, 4, 20, 40)):
        assert bare(f"Lot {'L' * length}") in text_by_pdfium(pages, page=page)


def test_a_series_that_does_not_fit_names_what_does_not():
    faces = [a_damson_cheese(lot="9" * 700 + str(number)) for number in range(2)]
    assert [each.printed.does_not_fit for each in fit_series(faces, box=SLAB)] == [("lot",)] * 2


def test_markup_in_what_differs_is_printed_as_it_was_typed():
    lots = ["<b>1</b>", "{{ x }}", "&amp;", "</style>"]
    pages = render_pdf_pages(fit_series([a_damson_cheese(lot=lot) for lot in lots], box=JAR))
    for page, lot in enumerate(lots):
        assert bare(lot) in text_by_pdfium(pages, page=page)


def test_a_series_is_the_same_bytes_each_time_and_in_our_own_type():
    first, second = (
        render_pdf_pages(fit_series([a_damson_cheese(lot=f"L{n}") for n in range(4)], box=SLAB))
        for _ in range(2)
    )
    assert first == second
    assert fonts(first) <= set(FILES)


def test_labels_of_two_sizes_and_no_labels_at_all_are_refused():
    with pytest.raises(ValueError, match="different sizes cannot share a sheet"):
        render_pdf_pages([fit_label(a_damson_cheese(), box=box) for box in (SLAB, JAR)])
    with pytest.raises(ValueError, match="no label to draw"):
        render_pdf_pages([])
    with pytest.raises(ValueError, match="no label to set"):
        fit_series([], box=SLAB)


def test_light_and_heavy_pieces_share_a_drawing_each_and_keep_their_order():
    # Figures of 3 mm up to 200 g, of 4 mm above (Directive 76/211/EEC, Annex I, point 3.1).
    faces = []
    for number in range(10):
        is_heavy = number % 3 == 0
        quantity = particular(
            "net_quantity", f"{230 if is_heavy else 120} g", same_field=True,
            minimum_figure_height_mm=Decimal(4 if is_heavy else 3),
        )  # fmt: skip
        face = a_damson_cheese(lot=f"DC-{number}")
        kept = tuple(quantity if e.kind == "net_quantity" else e for e in face.particulars)
        faces.append(replace(face, particulars=kept))
    series = fit_series(faces, box=SLAB)
    pages = render_pdf_pages(series, title="Pieces")
    with pikepdf.open(io.BytesIO(pages)) as document:
        assert len({page.Resources.XObject.Common.objgen for page in document.pages}) == 2
        assert str(document.Root.Lang) == "en"
    for page in range(10):
        read = text_by_pdfium(pages, page=page)
        assert f"DC-{page}" in read
        assert bare("230 g" if page % 3 == 0 else "120 g") in read
    assert_same_picture(pages, 3, render_pdf_pages([series[3]]))
