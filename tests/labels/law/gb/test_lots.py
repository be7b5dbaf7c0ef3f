"""Lots: Food (Lot Marking) Regulations 1996, SI 1996/1502 [R]. Cases 82, 83 and 84."""

from datetime import date

import pytest

from labels.law.gb.lots import is_lot_needed, lot_text
from tests.labels.law.gb.builders import a_label, by_rule, faults, statement, text_of, used

RULE = "the_lot_is_there_unless_the_date_shows_the_day"
MADE = date(2026, 3, 1)


@pytest.mark.parametrize(
    ("changed", "is_needed"),
    [
        # 60 days, "30 April": day and month stand in for the lot (reg. 4(g))
        ({"best_before": date(2026, 4, 30)}, False),
        # "end November 2026"
        ({"best_before": date(2026, 12, 10)}, True),
        ({"best_before": date(2026, 12, 10), "date_form": "full"}, False),
        ({"best_before": date(2026, 12, 10), "date_style": "use by"}, False),
        ({"best_before": None, "date_style": "none"}, True),
        # reg. 4(c), and the ways of sale
        ({"best_before": date(2026, 12, 10), "largest_surface_cm2": "9.9"}, False),
        ({"best_before": date(2026, 12, 10), "largest_surface_cm2": "10"}, True),
        ({"best_before": date(2026, 12, 10), "way_of_sale": "direct"}, False),
        ({"best_before": date(2026, 12, 10), "way_of_sale": "loose"}, False),
        ({"best_before": date(2026, 12, 10), "way_of_sale": "on request"}, False),
    ],
)
def test_reg_4g_a_date_with_day_and_month_stands_in_for_the_lot(changed, is_needed):
    facts = a_label(made_on=MADE, lot="", **changed)
    assert is_lot_needed(facts) is is_needed
    found = by_rule(RULE, facts)
    assert bool(found) is is_needed
    for finding in found:
        assert finding.stops_printing
        assert finding.citation.provision == "reg. 3 and reg. 4(c) and (g)"
        assert finding.citation.act.url == "https://www.legislation.gov.uk/uksi/1996/1502"


def test_boiled_sweets_without_a_date_need_a_lot():
    sweets = used("sugar", 900, category="sugar"), used("mint flavouring", 2)
    facts = a_label(
        *sweets, name_of_food="Boiled sweets", finished_g=880, lot="", date_style="none",
        no_date_reason="confectionery of flavoured or coloured sugar", best_before=None,
    )  # fmt: skip
    assert faults(facts) == [RULE]


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("L 26-324", "L 26-324"), ("L26324", "L26324"), ("l 7", "l 7"), ("Lot 12", "Lot 12"),
        ("DC-27262A", "L DC-27262A"), ("Lemon 12", "L Lemon 12"), ("  324\n ", "L 324"),
        ("2027", "L 2027"), ("L-DC 5", "L-DC 5"), ("   ", ""),
    ],
)  # fmt: skip
def test_reg_3_2_the_letter_l_comes_first_unless_it_is_there(typed, printed):
    assert lot_text(typed) == printed
    assert text_of("lot", a_label(lot=typed)) == printed


def test_a_lot_that_is_given_is_printed_even_where_none_is_needed():
    facts = a_label(made_on=MADE, best_before=date(2026, 4, 30), lot="7")
    found = statement("lot", facts)
    assert (found.text, found.citation.provision) == ("L 7", "regs 3 and 4")


@pytest.mark.parametrize(
    ("lot", "is_fine"), [("26-324/B", True), ("🍑", False), ("x" * 30, True), ("x" * 31, False)]
)
def test_a_lot_can_be_read_back(lot, is_fine):
    found = by_rule("the_lot_can_be_read_back", a_label(lot=lot))
    assert (not found) is is_fine
    assert not any(f.stops_printing for f in found)


@pytest.mark.parametrize("lot", ["", "  ", "\u200b", "--"])
def test_a_lot_of_nothing_that_can_be_read_is_no_lot(lot):
    found = by_rule("the_lot_is_there_unless_the_date_shows_the_day", a_label(lot=lot))
    assert [f.level for f in found] == ["must mend"]
