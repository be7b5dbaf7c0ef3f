"""Where the law of Great Britain reaches (extent of assimilated law, from memory)."""

import pytest

from tests.labels.law.gb.builders import a_label, by_rule

RULE = "the_food_is_sold_where_this_law_applies"


@pytest.mark.parametrize(("country", "is_told"), [("GB", False), ("", False), ("PT", True)])
def test_a_kitchen_that_sells_elsewhere_is_told_in_a_sentence(country, is_told):
    found = by_rule(RULE, a_label(country_of_sale=country))
    assert bool(found) is is_told
    assert all(f.level == "look at this" and "PT" in f.message for f in found)


@pytest.mark.parametrize(
    ("market", "nation"), [("gb-eng", "England"), ("gb-wls", "Wales"), ("gb-sct", "Scotland")]
)
def test_the_sentence_names_the_nation(market, nation):
    (found,) = by_rule(RULE, a_label(country_of_sale="PT", market=market))
    assert f"for {nation}" in found.message
