"""The pack behind a design: what it measures, what it is spared, and the paper on its wall."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from labels.facts import LabelFacts
from labels.models import LabelDesign
from labels.services.packs import (
    layout_of,
    pack_of,
    pack_sight,
    paper_of,
    papers_of,
    surface_cm2,
)
from labels.stock import sheet

ON = date(2026, 3, 2)
WRAP = sheet("a4-1x4-277x45")


def _jar(height_mm="50", diameter_mm="50", **more):
    return LabelDesign(
        pack_shape="jar",
        pack_height_mm=Decimal(height_mm),
        pack_diameter_mm=Decimal(diameter_mm),
        **more,
    )


def _sight(design):
    facts = LabelFacts(largest_surface_cm2=surface_cm2(design), market=design.market)
    return pack_sight(design, facts=facts, on=ON)


def test_a_measured_pack_speaks_before_a_typed_surface_and_is_not_rounded():
    # pi x 5.0 x 5.0 = 78.5398 cm2
    assert float(surface_cm2(_jar(largest_surface_cm2=Decimal(90)))) == pytest.approx(78.53982)
    assert surface_cm2(LabelDesign(largest_surface_cm2=Decimal("24.9"))) == Decimal("24.9")
    assert surface_cm2(LabelDesign()) is None
    assert pack_of(LabelDesign()) is None


@pytest.mark.parametrize(
    ("surface", "spared"),
    # Regulation (EU) No 1169/2011, Art. 13(3), Annex V point 18, Art. 16(2) and 13(6)
    [("80.0", []), ("79.9", [80]), ("25.0", [80]), ("24.9", [80, 25]), ("10.0", [80, 25]),
     ("9.9", [80, 25, 10, 10])],
)  # fmt: skip
def test_what_a_pack_is_spared_hangs_on_its_largest_surface(surface, spared):
    sight = _sight(LabelDesign(largest_surface_cm2=Decimal(surface)))
    assert [each.under_cm2 for each in sight.spared] == spared
    assert len(sight.spared) + len(sight.kept_to) == 4
    assert sight.x_height_mm == (Decimal("1.2") if surface == "80.0" else Decimal("0.9"))


def test_an_unknown_surface_is_spared_nothing_and_says_what_to_measure():
    sight = _sight(LabelDesign(pack_shape="jar", pack_diameter_mm=Decimal(50)))
    assert sight.area_cm2 is None
    assert sight.spared == ()
    assert sight.x_height_mm == Decimal("1.2")
    assert sight.missing == ("height of the straight wall",)


@pytest.mark.parametrize(
    ("number", "height_mm", "x_height_mm"), [(7, "50", "0.9"), (8, "52", "1.2")]
)
def test_cases_7_and_8_the_same_jar_two_millimetres_higher(number, height_mm, x_height_mm):
    # Art. 13(3) [R]; the wall of a jar by decision of the ALS, 125th meeting [2]
    sight = _sight(_jar(height_mm))
    assert sight.x_height_mm == Decimal(x_height_mm), number
    assert sight.surface.mark == "second-hand"


@pytest.mark.parametrize(
    ("diameter_mm", "lap_mm"),
    # pi x 80 = 251.3 of 277 mm: 25.7 lapped; pi x 90 = 282.7: it does not meet itself
    [("80", 25.67), ("90", 0)],
)
def test_paper_longer_than_once_around_is_bare_where_it_laps(diameter_mm, lap_mm):
    box = paper_of(_jar(diameter_mm=diameter_mm), WRAP)
    assert float(box.lap_mm) == pytest.approx(lap_mm, abs=0.01)
    # A third of the way around is seen from one place (common practice).
    assert float(box.seen_mm) == pytest.approx(float(diameter_mm) * 3.14159265 / 3, abs=0.01)


def test_paper_on_a_flat_face_is_the_label_of_the_sheet():
    flat = LabelDesign(pack_shape="box", pack_length_mm=90, pack_width_mm=60, pack_height_mm=20)
    assert paper_of(flat, WRAP) == WRAP.box()
    assert paper_of(LabelDesign(), WRAP) == WRAP.box()


def test_a_jar_too_thin_for_any_paper_still_has_a_box():
    assert paper_of(_jar(diameter_mm="1"), WRAP).lap_mm == 0


def test_a_pair_takes_two_labels_but_a_weighed_piece_has_one():
    pair = LabelDesign(layout="pair")
    assert (papers_of(pair), layout_of(pair)) == (2, "pair")
    assert layout_of(pair, is_weighed=True) == "two-panel"
    quiet = LabelDesign(layout="quiet")
    assert (papers_of(quiet), layout_of(quiet, is_weighed=True)) == (1, "quiet")


def test_facts_of_another_market_are_told_by_its_own_law():
    design = _jar()
    facts = LabelFacts(largest_surface_cm2=Decimal(9), market="gb-eng")
    spared = pack_sight(design, facts=replace(facts), on=ON).spared
    assert len(spared) == 4
    assert "1169/2011" in spared[0].citation.act.title
