"""Origin: Regulations (EU) No 1169/2011, Art. 26(3), and 2018/775, as assimilated [R]."""

from datetime import date

import pytest

from labels.law.gb.origin import primary_ingredients
from tests.labels.law.gb.builders import a_label, by_rule, findings, text_of, used

RULE = "the_main_ingredient_does_not_hide_behind_an_origin"


def paste(damsons_from, origin="Made in Portugal"):
    return a_label(
        used("damson puree", 5000, origin=damsons_from), used("sugar", 4000), origin=origin
    )


@pytest.mark.parametrize(
    ("damsons_from", "text", "is_looked_at"),
    [
        ("Spain", "Made in Portugal. damson puree: Spain", True),
        ("Portugal", "Made in Portugal", False),
        ("", "Made in Portugal", True),
    ],
)
def test_art_26_3_a_main_ingredient_from_elsewhere_is_told(damsons_from, text, is_looked_at):
    facts = paste(damsons_from)
    assert text_of("origin", facts) == text
    found = by_rule(RULE, facts)
    assert bool(found) is is_looked_at
    for finding in found:
        assert finding.level == "look at this"
        assert finding.citation.act.title == "Assimilated Regulation (EU) 2018/775"


def test_no_origin_given_none_asked_for():
    assert by_rule(RULE, paste("Spain", origin="")) == []
    assert text_of("origin", paste("Spain", origin="")) == ""


@pytest.mark.parametrize(("on", "applies"), [(date(2020, 3, 31), False), (date(2020, 4, 1), True)])
def test_the_rule_on_main_ingredients_applies_from_1_april_2020(on, applies):
    assert (RULE in [f.rule for f in findings(paste("Spain"), on=on)]) is applies


@pytest.mark.parametrize(("grams", "is_primary"), [("500.1", False), ("500.2", True)])
def test_over_half_is_primary(grams, is_primary):
    facts = a_label(
        used("pear", grams), used("quince", "500.1"), name_of_food="Preserve", finished_g=900
    )
    assert ("pear" in [i.name for i in primary_ingredients(facts)]) is is_primary
