"""The drawing of a jar: its fill line to scale, and told in words."""

import re
from decimal import Decimal

import pytest

from costing.models import Kitchen
from costing.views.jar_picture import jar_picture
from costing.views.recipe_words import Pen

D = Decimal


def draw(full="91.19", hot=None, height=None, ml="282"):
    return jar_picture(
        brimful_ml=D(ml), full_pct=D(full), hot_pct=None if hot is None else D(hot),
        height_mm=None if height is None else D(height),
        pen=Pen(Kitchen(currency="EUR", number_format="en_IE")),
    )  # fmt: skip


def wall(picture):
    """Top, foot and width of the glass."""
    left, top, foot, right = map(
        float,
        re.match(r"M([\d.]+) ([\d.]+)V([\d.]+)H([\d.]+)V", _path(picture, "tray-edge")).groups(),
    )
    return top, foot, right - left


def _path(picture, css):
    return dict(picture.shapes)[css]


def level(picture, css):
    return float(re.search(r"M[\d.]+ ([\d.]+)", _path(picture, css))[1])


@pytest.mark.parametrize("full", ["20", "91.19", "100"])
def test_the_fill_line_is_where_it_belongs(full):
    picture = draw(full)
    top, foot, _ = wall(picture)
    assert (foot - level(picture, "jar-line")) / (foot - top) == pytest.approx(
        float(full) / 100, abs=0.002
    )


def test_a_jar_of_known_height_has_its_own_proportions():
    # 282 ml and 95 mm: 4 x 282000 / (3.14159 x 95) = 3779.6, its root 61.48 mm across
    top, foot, wide = wall(draw(height="95"))
    assert (foot - top) / wide == pytest.approx(95 / 61.48, rel=0.002)
    # 8.81 % of 95 mm stay free
    assert "8.4 mm under the brim" in draw(height="95").description


def test_a_flat_jar_stays_on_its_paper():
    picture = draw(height="20", ml="800")
    assert wall(picture)[2] <= picture.width / 2


def test_hot_it_stands_higher_and_above_the_brim_is_not_drawn():
    picture = draw(hot="94")
    assert level(picture, "tray-hot") < level(picture, "jar-line")
    assert "hot it stands at 94 %" in picture.description
    assert "tray-hot" not in dict(draw("99", hot="101").shapes)
