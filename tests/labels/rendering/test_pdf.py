"""The single label as an accessible file, and the proof that cannot be taken for a label."""

import io

import pikepdf
import pytest

from labels.rendering.layout import fit_label
from labels.rendering.pdf import label_pdf
from tests.labels.rendering.by_hand import (
    CHUTNEY_ALLERGENS,
    JAR,
    LARGE,
    SLAB,
    STRIP,
    a_damson_cheese,
    a_tomato_chutney,
)
from tests.labels.rendering.reading import (
    FILES,
    bare,
    bold_text,
    characters,
    font_name,
    fonts,
    ink_box_mm,
    is_upright,
    page_sizes_mm,
    text_by_pdfium,
    x_heights_mm,
)

MARK = bare("PROOF – not for sale")


def upright_text(pdf):
    return bare("".join(each["text"] for each in characters(pdf) if is_upright(each)))


def slanted_text(pdf):
    return bare("".join(each["text"] for each in characters(pdf) if not is_upright(each)))


def test_the_single_label_declares_pdf_ua_with_title_language_and_tags():
    pdf = label_pdf(fit_label(a_damson_cheese(language="en"), box=SLAB))
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert document.open_metadata().get("pdfuaid:part") == "1"
        assert str(document.Root.Lang) == "en"
        assert document.Root.MarkInfo.Marked
        assert "/StructTreeRoot" in document.Root
        assert document.docinfo["/Title"] == "Damson cheese"


def test_title_and_language_may_be_given():
    fitted = fit_label(a_damson_cheese(), box=SLAB)
    with pikepdf.open(io.BytesIO(label_pdf(fitted, title="Zwetschge & Co", language="de"))) as file:
        assert file.docinfo["/Title"] == "Zwetschge & Co"
        assert str(file.Root.Lang) == "de"


def test_two_renders_are_the_same_bytes_and_hold_no_clock():
    first, second = (
        label_pdf(fit_label(a_tomato_chutney(), box=JAR), proof=proof) for proof in (False, False)
    )
    assert first == second
    proofs = [label_pdf(fit_label(a_tomato_chutney(), box=JAR), proof=True) for _ in range(2)]
    assert proofs[0] == proofs[1] != first
    for pdf in (first, proofs[0]):
        with pikepdf.open(io.BytesIO(pdf)) as document:
            assert "/CreationDate" not in document.docinfo
            assert "/ModDate" not in document.docinfo


def test_the_accessible_label_and_the_plain_drawing_say_and_measure_the_same():
    fitted = fit_label(a_tomato_chutney(), box=JAR)
    pdf = label_pdf(fitted)
    assert text_by_pdfium(pdf) == text_by_pdfium(fitted.pdf)
    assert bold_text(pdf) == bare("".join(CHUTNEY_ALLERGENS))
    assert x_heights_mm(pdf) == x_heights_mm(fitted.pdf)


@pytest.mark.parametrize(
    ("face", "box"),
    [
        (a_damson_cheese(), SLAB),
        (a_tomato_chutney(layout="two-panel"), LARGE),
        (a_tomato_chutney(layout="long"), STRIP),
    ],
    ids=["slab", "large", "strip"],
)
def test_a_proof_is_marked_large_and_hides_none_of_the_text(face, box):
    fitted = fit_label(face, box=box)
    pdf = label_pdf(fitted, proof=True)
    assert slanted_text(pdf) == MARK
    assert upright_text(pdf) == bare("".join(each["text"] for each in characters(fitted.pdf)))
    mark = [each for each in characters(pdf) if not is_upright(each)]
    # The mark runs over two thirds of the width at the least, behind the text and paler than it.
    across_mm = (max(e["x1"] for e in mark) - min(e["x0"] for e in mark)) * 25.4 / 72
    assert across_mm > 0.65 * float(box.width_mm - 2 * box.inset_mm)
    assert min(mark[0]["non_stroking_color"]) > 0.8
    everything = [each["text"] for each in characters(pdf)]
    assert bare("".join(everything[:20])) == MARK  # drawn first: everything is above
    assert {font_name(each) for each in mark} <= set(FILES)
    assert x_heights_mm(pdf) == x_heights_mm(fitted.pdf)


def test_a_proof_keeps_inside_the_inset_and_a_label_is_never_marked():
    fitted = fit_label(a_damson_cheese(), box=SLAB)
    proof = label_pdf(fitted, proof=True)
    left, top, right, bottom = ink_box_mm(proof)
    assert left >= 1.94
    assert top >= 1.94
    assert right <= 63.5 - 1.94
    assert bottom <= 38.1 - 1.94
    assert page_sizes_mm(proof)[0] == pytest.approx((63.5, 38.1), abs=0.01)
    assert MARK not in text_by_pdfium(label_pdf(fitted))
    assert MARK not in text_by_pdfium(fitted.pdf)


def test_the_files_hold_only_our_own_type():
    for proof in (False, True):
        pdf = label_pdf(fit_label(a_tomato_chutney(tagline="In small pans"), box=SLAB), proof=proof)
        assert fonts(pdf) <= set(FILES)
