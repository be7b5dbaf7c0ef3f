"""The drawing of a mould: to scale, complete, and told in words."""

import re
from decimal import Decimal

import pytest

from costing.models import Kitchen
from costing.reckoning.cutting import Piece, Tray, best_cutting
from costing.views.recipe_words import Pen
from costing.views.tray_picture import Depths, tray_picture

D = Decimal
BOX = re.compile(r"M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)H[\d.]+Z")


def draw(length=310, width=210, *, piece=(50, 45), kerf=0, trim=5, hot="30.9"):
    tray = Tray(D(length), D(width), trim_mm=D(trim))
    return tray_picture(
        best_cutting(tray, piece=Piece(D(piece[0]), D(piece[1])), kerf_mm=D(kerf)),
        depths=Depths(D(40), D(30), None if hot is None else D(hot)),
        piece_g=D("93.15"),
        pen=Pen(Kitchen(currency="EUR", number_format="en_IE")),
    )


def boxes(drawing, css):
    """Width and height in pixels of every rectangle of one kind."""
    path = dict(drawing.shapes).get(css, "")
    corners = [[float(one) for one in found] for found in BOX.findall(path)]
    return [(right - left, foot - top) for left, top, right, foot in corners]


def area(drawing, css):
    return sum(wide * high for wide, high in boxes(drawing, css))


@pytest.mark.parametrize("size", [0, 1])
def test_every_part_is_drawn_in_proportion(size):
    # 310 x 210, 5 mm trimmed: 6 x 4 pieces of 50 x 45, an offcut of 300 x 20 beside them
    drawing = draw().drawings[size][1]
    scale = (drawing.width - 2) / 310
    pieces = boxes(drawing, "tray-piece")
    assert len(pieces) == 24
    for wide, high in pieces:
        assert wide == pytest.approx(50 * scale, abs=0.11)  # places are told to a tenth of a pixel
        assert high == pytest.approx(45 * scale, abs=0.11)
    assert area(drawing, "tray-offcut") == pytest.approx(300 * 20 * scale**2, rel=0.01)
    trim_mm2 = 310 * 210 - 300 * 200
    assert area(drawing, "tray-trim") == pytest.approx(trim_mm2 * scale**2, rel=0.03)


def test_the_parts_cover_the_mould_with_a_kerf_too():
    drawing = draw(kerf=2, piece=(40, 40)).drawings[0][1]
    every = sum(area(drawing, f"tray-{kind}") for kind in ("piece", "offcut", "trim", "kerf"))
    assert every == pytest.approx(310 * 210 * (478 / 310) ** 2, rel=0.02)


def test_the_fill_is_drawn_to_the_same_scale():
    drawing = draw().drawings[0][1]
    scale = 478 / 310
    foot, top = re.match(r"M1 ([\d.]+)V([\d.]+)", dict(drawing.shapes)["tray-slab"]).groups()
    assert float(foot) - float(top) == pytest.approx(30 * scale, abs=0.11)
    hot = re.match(r"M1 ([\d.]+)H", dict(drawing.lines)["tray-hot"])[1]
    assert float(foot) - float(hot) == pytest.approx(30.9 * scale, abs=0.11)


def test_an_unknown_hot_height_is_not_drawn():
    picture = draw(hot=None)
    assert "tray-hot" not in dict(picture.drawings[0][1].lines)
    assert "hot" not in picture.description


def test_the_picture_is_told_in_words():
    said = draw().description.replace("\u00a0", " ")
    assert "24 pieces, 6 along the length and 4 across" in said
    assert "An offcut of 300 mm by 20 mm." in said
    assert "5 mm are trimmed off all round." in said
    assert "No offcuts." in draw(piece=(50, 50)).description


@pytest.mark.parametrize(("length", "width"), [(60, 900), (900, 60), (20, 20)])
def test_no_shape_of_mould_leaves_its_paper(length, width):
    for _, drawing in draw(length, width, piece=(10, 10)).drawings:
        for kind, path in (*drawing.shapes, *drawing.lines):
            for x, y in re.findall(r"([\d.]+) ([\d.]+)", path):
                assert float(x) <= drawing.width, kind
                assert float(y) <= drawing.height, kind


def test_words_stand_in_a_piece_only_where_there_is_room():
    roomy, tight = draw().drawings[0][1], draw(piece=(12, 12)).drawings[0][1]
    assert "on-dark" in {mark.css for mark in roomy.marks}
    assert "on-dark" not in {mark.css for mark in tight.marks}
