"""Who answers for the food: Regulation (EU) No 1169/2011, Art. 8(1), with SI 2021/632, reg. 6 [R].

That addresses in the Union were accepted to 31 December 2023: official advice as restated [2].
"""

from datetime import date

import pytest

from labels.law.gb.operator import is_in_the_british_islands
from tests.labels.law.gb.builders import a_label, by_rule, faults, text_of

RULE = "the_address_is_in_the_british_islands"
ABROAD = "2 Mill Lane, 4990-100 Ponte"


@pytest.mark.parametrize(
    ("address", "is_there"),
    [
        ("2 Mill Lane, Ludlow SY8 1AA", True), ("1 Quay, St Helier JE2 3XX", True),
        ("1 Quay, Guernsey", True), ("Castletown, Isle of Man IM9 1LA", True),
        ("4 Shore Road, Belfast BT15 3PR", True), ("2 Mill Lane, ludlow sy8 1aa", True),
        (ABROAD, False), ("12 rue du Moulin, 75001 Paris", False), ("", False),
    ],
)  # fmt: skip
def test_the_british_islands_are_the_kingdom_the_channel_islands_and_man(address, is_there):
    assert is_in_the_british_islands(address) is is_there


@pytest.mark.parametrize(
    ("on", "is_refused"), [(date(2023, 12, 31), False), (date(2024, 1, 1), True)]
)
def test_an_address_abroad_is_refused_from_2024_on(on, is_refused):
    facts = a_label(operator_address=ABROAD, country_of_sale="PT", printed_on=on)
    assert (RULE in faults(facts, on=on)) is is_refused


def test_at_home_a_missing_postcode_is_looked_at():
    found = by_rule(RULE, a_label(operator_address="2 Mill Lane, Ludlow"))
    assert [f.level for f in found] == ["look at this"]


@pytest.mark.parametrize("way_of_sale", ["direct", "loose", "on request"])
def test_sold_by_the_maker_no_address_is_asked_for(way_of_sale):
    facts = a_label(operator_name="", operator_address="", way_of_sale=way_of_sale)
    assert not [f for f in faults(facts) if f.endswith(("address", "islands"))]


@pytest.mark.parametrize(
    ("changed", "count"),
    [({}, 0), ({"operator_name": " "}, 1), ({"operator_address": "tel 0123"}, 1),
     ({"operator_name": "", "operator_address": ""}, 2)],
)  # fmt: skip
def test_art_8_1_name_and_address_are_there(changed, count):
    assert len(by_rule("the_operator_is_named_with_an_address", a_label(**changed))) == count


def test_it_is_printed_on_one_line():
    facts = a_label(operator_address="2 Mill Lane,\nLudlow SY8 1AA")
    assert text_of("operator", facts) == "Sloe Bank Kitchen, 2 Mill Lane, Ludlow SY8 1AA"
