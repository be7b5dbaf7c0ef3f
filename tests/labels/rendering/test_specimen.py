"""Texts put together from a specimen: letters and places as the type setter itself sets them."""

import io
from dataclasses import replace

import pdfplumber
import pikepdf
import pytest

from labels.rendering.engine import type_setter
from labels.rendering.series import fit_series, render_pdf_pages
from labels.rendering.specimen import Look, NotLearnt, learn
from tests.labels.rendering.by_hand import JAR, a_damson_cheese, particular

MM = 25.4 / 72
LOOK = Look("fact", "p", "font-family: 'Label Sans'; font-size: 3.000mm; line-height: 4.000mm")


def letters(pdf, *, page=0):
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        found = [each for each in document.pages[page].chars if each["text"].strip()]
    return sorted((each["text"], round(each["top"] * MM, 1), each["x0"] * MM) for each in found)


def with_storage(text):
    face = a_damson_cheese()
    own = particular("storage", text)
    kept = tuple(own if each.kind == "storage" else each for each in face.particulars)
    return replace(face, particulars=kept)


def test_every_letter_of_a_series_stands_where_it_would_if_set_alone():
    # Kerned pairs (AV, To, F.), a ligature (ffi), figures: read back by pdfplumber.
    words = ["AVA To F. 11", "Coffin Ty. 47", "Office AW 10", "L’Ecluse 7,5"]
    faces = [with_storage(f"{word} jar") for word in words]
    series = fit_series(faces, box=JAR)
    pages = render_pdf_pages(series)
    with pikepdf.open(io.BytesIO(pages)) as document:
        assert len({page.Resources.XObject.Common.objgen for page in document.pages}) == 1
    for page in range(len(faces)):
        alone = letters(render_pdf_pages([series[page]]))
        for ours, theirs in zip(letters(pages, page=page), alone, strict=True):
            assert ours[0] == theirs[0]
            assert ours[1:] == pytest.approx(theirs[1:], abs=0.03)


def test_a_text_with_a_pair_of_letters_that_was_not_set_is_not_guessed():
    with type_setter() as setter:
        learnt = learn({LOOK: ["12 g", "21 g"]}, setter=setter).looks[LOOK]
    assert learnt.put_together("212 g")[1] > learnt.put_together("12 g")[1] > 0
    for text in ("13 g", "11 g"):
        with pytest.raises(NotLearnt, match=text):
            learnt.put_together(text)


def test_a_series_says_its_language_and_title():
    faces = [replace(a_damson_cheese(lot=f"L{n}"), language="de") for n in range(3)]
    pages = render_pdf_pages(fit_series(faces, box=JAR), title="Damson cheese")
    with pikepdf.open(io.BytesIO(pages)) as document:
        assert str(document.Root.Lang) == "de"
        assert document.open_metadata()["dc:title"] == "Damson cheese"
