"""Who answers for the food: Regulation (EU) No 1169/2011, Art. 8(1) and 9(1)(h) [R]."""

import pytest

from tests.labels.law.eu.builders import a_label, by_rule, text_of

RULE = "the_operator_is_named_with_an_address"


@pytest.mark.parametrize(
    ("changed", "where_it_stops"),
    [
        ({}, 0),
        ({"operator_name": " "}, 1),
        ({"operator_address": ""}, 1),
        ({"operator_name": "", "operator_address": ""}, 2),
        ({"operator_name": "", "operator_address": "", "way_of_sale": "loose"}, 0),
    ],
)
def test_name_and_address_are_both_asked_for_at_once(changed, where_it_stops):
    found = [f for f in by_rule(RULE, a_label(**changed)) if f.stops_printing]
    assert len(found) == where_it_stops
    assert all(f.citation.provision == "Art. 9(1)(h) and Art. 8(1)" for f in found)


@pytest.mark.parametrize(
    ("address", "level"),
    [
        ("www.sloebank.example", "must mend"), ("maud@sloebank.example", "must mend"),
        ("+351 210 000 000", "must mend"), ("\u200b", "must mend"),
        ("tel. 123456, maud@sloebank.example", "must mend"),
        ("2 Mill Lane, Ponte, maud@sloebank.example", None), ("2 Mill Lane, Ponte", None),
    ],
)  # fmt: skip
def test_a_web_page_is_no_address(address, level):
    found = by_rule(RULE, a_label(operator_address=address))
    assert [f.level for f in found] == ([level] if level else [])


def test_the_statement_is_one_line_and_leaves_out_what_is_missing():
    assert text_of("operator", a_label(operator_address="2 Mill Lane,\n Ponte")) == (
        "Sloe Bank Kitchen, 2 Mill Lane, Ponte"
    )
    assert text_of("operator", a_label(operator_address="")) == "Sloe Bank Kitchen"
    assert text_of("operator", a_label(operator_address="", operator_name="")) == ""
