"""Size of print and field of vision: Regulation (EU) No 1169/2011, Art. 13 and Annex IV [R]."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels import law
from labels.mechanics.sizes import points_for_x_height, straight_wall_surface_cm2
from tests.labels.law.eu.builders import FIC_URL, TODAY, a_label, as_printed, by_rule, findings


@pytest.mark.parametrize(
    ("surface_cm2", "x_height_mm"),
    [("80.0", "1.2"), ("79.9", "0.9"), (None, "1.2")],
)
def test_art_13_the_x_height_hangs_on_the_largest_surface(surface_cm2, x_height_mm):
    facts = a_label(largest_surface_cm2=surface_cm2)
    assert law.minimum_x_height_mm(facts, on=TODAY) == Decimal(x_height_mm)
    assert {p.minimum_x_height_mm for p in law.particulars(facts, on=TODAY)} == {
        Decimal(x_height_mm)
    }


@pytest.mark.parametrize(
    ("surface_cm2", "x_height_mm", "is_legal"),
    [("80", "1.2", True), ("80", "1.19", False), ("79.9", "0.9", True), ("79.9", "0.89", False)],
)
def test_art_13_small_print_is_legible(surface_cm2, x_height_mm, is_legal):
    facts = a_label(largest_surface_cm2=surface_cm2)
    found = by_rule("small_print_is_legible", facts, as_printed(facts, x_height_mm=x_height_mm))
    assert (not found) is is_legal
    for finding in found:
        assert finding.stops_printing
        assert finding.citation.provision == "Art. 13(2) and (3), Annex IV"
        assert finding.citation.act.url == FIC_URL


def test_every_statement_that_is_too_small_is_named():
    facts = a_label()
    printed = as_printed(facts)
    small = tuple(
        replace(b, x_height_mm=Decimal("1.1")) if b.kind in {"date", "lot"} else b
        for b in printed.blocks
    )
    found = by_rule("small_print_is_legible", facts, replace(printed, blocks=small))
    assert [f.where for f in found] == ["date", "lot"]


def test_without_type_nothing_is_said_of_type():
    assert by_rule("small_print_is_legible", a_label()) == []


@pytest.mark.parametrize(
    ("height_cm", "surface_cm2", "x_height_mm"),
    # pi x 5.0 x 5.0 = 78.54; pi x 5.0 x 5.2 = 81.68
    [("5.0", "78.5", "0.9"), ("5.2", "81.7", "1.2")],
)
def test_a_jar_counts_by_its_straight_wall(height_cm, surface_cm2, x_height_mm):
    # Art. 13(3) [R]; area of a jar: decision of the German official food chemists (ALS) [2]
    area = straight_wall_surface_cm2(diameter_cm=Decimal("5.0"), height_cm=Decimal(height_cm))
    assert round(area, 1) == Decimal(surface_cm2)
    facts = a_label(largest_surface_cm2=area)
    assert law.minimum_x_height_mm(facts, on=TODAY) == Decimal(x_height_mm)


@pytest.mark.parametrize(
    ("mm", "em", "points"),
    # 1.2 mm is 3.402 pt; 3.402 / 0.519 = 6.554. 1 mm is 2.835 pt; twice that is 5.67.
    [("1.2", "0.519", "6.6"), ("1", "0.5", "5.7"), ("0.9", "0.519", "5.0")],
)
def test_the_point_size_is_rounded_up_never_down(mm, em, points):
    assert points_for_x_height(Decimal(mm), x_height_em=Decimal(em)) == Decimal(points)


@pytest.mark.parametrize(
    ("panels", "is_legal"),
    [({}, True), ({"net_quantity": "back"}, False), ({"ingredients": "back"}, True)],
)
def test_art_13_5_name_and_net_quantity_share_a_field_of_vision(panels, is_legal):
    facts = a_label()
    found = by_rule("name_and_net_quantity_are_seen_together", facts, as_printed(facts, **panels))
    assert (not found) is is_legal
    assert all(f.citation.provision == "Art. 13(5)" and f.stops_printing for f in found)


@pytest.mark.parametrize(("surface_cm2", "is_waived"), [("9.9", True), ("10.0", False)])
def test_art_13_6_a_tiny_pack_is_excused_from_the_same_field(surface_cm2, is_waived):
    facts = a_label(largest_surface_cm2=surface_cm2)
    printed = as_printed(facts, net_quantity="back")
    found = by_rule("name_and_net_quantity_are_seen_together", facts, printed)
    assert (not found) is is_waived


def test_a_character_without_a_drawing_stops_the_label():
    facts = a_label()
    printed = replace(as_printed(facts), missing_glyphs="🍑")
    found = by_rule("every_character_can_be_read", facts, printed)
    assert [f.stops_printing for f in found] == [True]
    assert "🍑" in found[0].message


def test_a_label_set_as_asked_has_nothing_to_mend():
    facts = a_label()
    assert [f.message for f in findings(facts, as_printed(facts)) if f.stops_printing] == []
