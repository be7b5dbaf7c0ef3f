"""The picture of a pack, measured: one scale for the pack, its label and the 2 cm beside it."""

import re
from decimal import Decimal

import pytest

from labels.packs import Pack
from labels.stock import sheet
from labels.views.pack_picture import pack_picture

SMALL, STRIP = sheet("a4-3x7-63.5x38.1"), sheet("a4-1x4-277x45")


def _box(*sides):
    length, width, height = map(Decimal, sides)
    return Pack("box", length_mm=length, width_mm=width, height_mm=height)


def _jar(diameter, height):
    return Pack("jar", diameter_mm=Decimal(diameter), height_mm=Decimal(height))


def _across(picture, css):
    """Width of a shape by the first level stroke or arc of its path."""
    path = next(path for name, path in picture.shapes if name == css)
    found = re.search(r"h([\d.]+)", path) or re.search(r"0 0 0 ([\d.]+) 0", path)
    return float(found.group(1))


@pytest.mark.parametrize(
    ("pack", "width_mm"), [(_box(90, 20, 60), 90), (_box(300, 200, 100), 300), (_jar(63, 70), 63)]
)
def test_the_pack_and_the_measure_have_one_scale(pack, width_mm):
    picture = pack_picture(pack, sheet=SMALL)
    scale = _across(picture, "pack-measure") / 20
    assert _across(picture, "pack-face") / scale == pytest.approx(width_mm, rel=0.01)
    if width_mm != 63:
        assert _across(picture, "pack-label") / scale == pytest.approx(63.5, rel=0.01)


def test_a_picture_waits_for_every_side():
    assert pack_picture(Pack("jar", diameter_mm=Decimal(63)), sheet=SMALL) is None


@pytest.mark.parametrize(
    ("pack", "label", "words"),
    [
        (_box(90, 60, 20), SMALL, "fits on the shaded face"),
        (_box(60, 90, 20), SMALL, "fits on the shaded face"),
        (_box(60, 40, 20), SMALL, "larger than the shaded face"),
        (_jar(63, 38), SMALL, "higher|only 38 mm"),
        # pi x 80 = 251.3: 277 - 251.3 = 25.7 mm
        (_jar(80, 60), STRIP, "laps over itself by 26 mm"),
        # pi x 90 = 282.7: 277 / 282.7 = 98 %
        (_jar(90, 60), STRIP, "covers 98 %"),
    ],
)
def test_how_the_label_lies_on_the_pack_is_said_in_words(pack, label, words):
    picture = pack_picture(pack, sheet=label)
    assert re.search(words, picture.note)
    assert picture.note in picture.description
