"""Nutrition: there, or exempt. Regulation (EU) No 1169/2011, Art. 9(1)(l), Annex V [R]."""

from datetime import date

import pytest

from labels.law.eu.nutrition import is_exempt_by_size
from tests.labels.law.eu.builders import a_label, by_rule, findings

RULE = "nutrition_is_declared_or_exempt"


@pytest.mark.parametrize(("surface_cm2", "is_required"), [("25.0", True), ("24.9", False)])
def test_annex_v_18_a_pack_under_25_cm2_may_leave_nutrition_off(surface_cm2, is_required):
    facts = a_label(
        largest_surface_cm2=surface_cm2, nutrition_exemption="", is_sold_at_distance=True
    )
    found = by_rule(RULE, facts)
    assert bool(found) is is_required
    assert is_exempt_by_size(facts) is not is_required
    for finding in found:
        assert finding.stops_printing
        assert finding.citation.provision == "Art. 9(1)(l), Art. 16(3) and Annex V"


@pytest.mark.parametrize(
    ("changed", "stops"),
    [
        ({"nutrition_exemption": ""}, True),
        ({"nutrition_exemption": "small quantities"}, False),
        ({"nutrition_exemption": "because I say so"}, True),
        ({"nutrition_exemption": "small pack"}, True),
        ({"nutrition_exemption": "small pack", "largest_surface_cm2": None}, True),
        ({"nutrition_exemption": "small pack", "largest_surface_cm2": "24.9"}, False),
        ({"nutrition_exemption": "", "shows_nutrition": True}, False),
        ({"nutrition_exemption": "", "way_of_sale": "direct"}, False),
    ],
)
def test_an_exemption_is_stated_and_never_assumed(changed, stops):
    assert bool(by_rule(RULE, a_label(**changed))) is stops


@pytest.mark.parametrize(
    ("on", "is_asked"), [(date(2016, 12, 12), False), (date(2016, 12, 13), True)]
)
def test_art_55_nutrition_is_due_from_13_december_2016(on, is_asked):
    names = [f.rule for f in findings(a_label(nutrition_exemption=""), on=on)]
    assert (RULE in names) is is_asked


def test_what_is_small_is_left_to_the_country():
    found = by_rule("small_quantities_are_a_matter_of_the_country", a_label())
    assert [f.citation.provision for f in found] == ["Annex V, point 19"]
    assert "claim" in found[0].hint


def test_a_table_that_we_do_not_check_is_said_not_to_be_checked():
    found = by_rule("the_nutrition_table_is_looked_at", a_label(shows_nutrition=True))
    assert [f.level for f in found] == ["look at this"]
