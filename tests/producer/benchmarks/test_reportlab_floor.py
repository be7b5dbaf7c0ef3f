"""The floor does the same work: as many labels, the same text, the same type, in the same box."""

import io
import re
from collections import Counter

import pdfplumber
import pytest

from producer.benchmarks.label_runs import faces_of, found_setting, run_of
from producer.benchmarks.label_samples import SHEET, paste_face

POINTS_PER_MM = 72 / 25.4
COUNT = 24  # a whole sheet of 21, and three on the next


@pytest.fixture(scope="module")
def setting():
    return found_setting()


def letters(pdf):
    """The letters of each page, spaces left out; a ligature counts as its letters."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return [
            Counter(letter for char in page.chars for letter in char["text"] if letter.strip())
            for page in document.pages
        ]


def words(pdf):
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return "".join(re.sub(r"\s", "", page.extract_text()) for page in document.pages)


def cuts(pdf):
    """The cuts of type used, whatever the family is called in the file: "Bold", "Italic"."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        names = {char["fontname"] for page in document.pages for char in page.chars}
    found = {re.sub(r".*(LabelSans|Label-Sans|FiraSans)-?", "", name) for name in names}
    return {cut.replace("-", "") or "Regular" for cut in found}


@pytest.mark.parametrize("kind", ["same", "numbered", "weighed"])
def test_floor_and_ours_print_the_same_letters_on_the_same_pages(kind, setting):
    ours = letters(run_of("ours", kind, count=COUNT, setting=setting, series=3)())
    floor = letters(run_of("floor", kind, count=COUNT, setting=setting, series=3)())
    assert len(ours) == 2
    assert ours == floor


def test_the_floor_has_as_many_labels_as_ours(setting):
    lot = "FW-26003"
    for side in ("ours", "floor", "floor once"):
        pdf = run_of(side, "same", count=COUNT, setting=setting, series=3)()
        assert words(pdf).count(lot) == COUNT, side


def test_the_floor_uses_the_very_cuts_that_ours_uses(setting):
    ours = cuts(run_of("ours", "same", count=1, setting=setting)())
    floor = cuts(run_of("floor", "same", count=1, setting=setting)())
    assert ours == floor == {"Regular", "Italic", "Medium", "SemiBold", "Bold"}


def test_the_floor_stays_in_the_box_of_each_label(setting):
    pdf = run_of("floor", "numbered", count=21, setting=setting)()
    boxes = [SHEET.position(place) for place in range(21)]
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        for char in document.pages[0].chars:
            x, y = char["x0"] / POINTS_PER_MM, char["top"] / POINTS_PER_MM
            right, low = char["x1"] / POINTS_PER_MM, char["bottom"] / POINTS_PER_MM
            assert any(
                float(left) < x and right < float(left + SHEET.label_width_mm)
                and float(top) < y and low < float(top + SHEET.label_height_mm)
                for left, top in boxes
            ), char["text"]  # fmt: skip


def test_the_walnuts_are_set_apart_on_both_sides(setting):
    for side in ("ours", "floor"):
        pdf = run_of(side, "same", count=1, setting=setting)()
        with pdfplumber.open(io.BytesIO(pdf)) as document:
            chars = document.pages[0].chars
        bold = "".join(c["text"] for c in chars if re.search(r"-?Bold$", c["fontname"])
                       and "Semi" not in c["fontname"])  # fmt: skip
        assert bold.strip() == "walnuts", side


def test_the_labels_of_a_run_differ_as_it_says():
    for kind in ("numbered", "weighed"):
        assert len(set(faces_of(kind, count=40))) == 40
    assert set(faces_of("same", count=40, series=1)) == {paste_face(lot="FW-26001")}
    weights = {
        next(each.text for each in face.particulars if each.kind == "net_quantity")
        for face in faces_of("weighed", count=40)
    }
    assert len(weights) == 40


def test_another_series_has_no_label_of_the_first():
    first, second = (set(faces_of("numbered", count=5, series=n)) for n in (1, 2))
    assert not first & second
