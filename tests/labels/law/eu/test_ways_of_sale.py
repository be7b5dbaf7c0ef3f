"""Ways of sale: Regulation (EU) No 1169/2011, Art. 44 [R]; Germany, LMIDV § 4 [R, text of 2020]."""

import pytest

from tests.labels.law.eu.builders import a_label, by_rule, faults, statement


@pytest.mark.parametrize(
    ("way", "stops"),
    [("prepacked", False), ("direct", False), ("loose", False), ("on request", False),
     ("on the moon", True), ("", True)],
)  # fmt: skip
def test_art_44_a_way_of_selling_is_one_of_four(way, stops):
    found = by_rule("the_way_of_selling_is_known", a_label(way_of_sale=way))
    assert bool(found) is stops
    assert all(f.citation.provision == "Art. 44" for f in found)


@pytest.mark.parametrize("way", ["loose", "on request"])
def test_what_is_not_prepacked_needs_no_weight_date_or_address(way):
    bare = a_label(way_of_sale=way, net_quantity_g=None, best_before=None, operator_name="",
                   operator_address="", storage="", finished_g=None)  # fmt: skip
    assert faults(bare) == []
    assert statement("ingredients", bare) is None


@pytest.mark.parametrize(
    ("country", "way", "act"),
    [
        ("DE", "direct", "Lebensmittelinformations"), ("DE", "loose", "Lebensmittelinformations"),
        ("DE", "on request", "Lebensmittelinformations"), ("PT", "direct", "1169/2011"),
        ("", "loose", "1169/2011"),
    ],
)  # fmt: skip
def test_a_country_that_was_read_speaks_in_its_own_act(country, way, act):
    facts = a_label(country_of_sale=country, way_of_sale=way)
    (found,) = by_rule("national_rules_decide_what_is_not_prepacked", facts)
    assert act in found.citation.act.title
    assert ("Germany" in found.message) is (country == "DE")
    assert not found.stops_printing
