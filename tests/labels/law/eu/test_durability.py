"""Dates: Regulation (EU) No 1169/2011, Art. 24 and Annex X [R]."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labels.law.eu.durability import shortest_form, stated_date
from labels.mechanics.days import months_after
from tests.labels.law.eu.builders import a_label, by_rule, faults, statement, text_of, used


def dated(made_on, best_before, **changed):
    return a_label(made_on=made_on, best_before=best_before, **changed)


@pytest.mark.parametrize(
    ("made_on", "best_before", "text"),
    [
        # 60 days: day and month are enough
        (date(2026, 3, 1), date(2026, 4, 30), "Best before 30 April"),
        # 9 months: the last whole month inside the life [calc]
        (date(2026, 3, 10), date(2026, 12, 10), "Best before end November 2026"),
        # 24 months: the year is enough
        (date(2026, 1, 15), date(2028, 1, 15), "Best before end 2027"),
        # exactly 3 months, "not more than 3 months"; and a day more
        (date(2026, 3, 10), date(2026, 6, 10), "Best before 10 June"),
        (date(2026, 3, 10), date(2026, 6, 11), "Best before end May 2026"),
        # exactly 18 months, and a day more
        (date(2026, 3, 10), date(2027, 9, 10), "Best before end August 2027"),
        (date(2026, 3, 10), date(2027, 9, 11), "Best before end 2026"),
        # the last day of a month or year belongs to it
        (date(2026, 3, 10), date(2026, 11, 30), "Best before end November 2026"),
        (date(2026, 3, 10), date(2026, 11, 29), "Best before end October 2026"),
        (date(2026, 1, 15), date(2027, 12, 31), "Best before end 2027"),
        (date(2026, 1, 15), date(2027, 12, 30), "Best before end 2026"),
        # 29 February
        (date(2027, 12, 1), date(2028, 2, 29), "Best before 29 February"),
        (date(2027, 6, 1), date(2028, 2, 29), "Best before end February 2028"),
        (date(2027, 6, 1), date(2028, 2, 28), "Best before end January 2028"),
        (date(2028, 2, 29), date(2028, 5, 29), "Best before 29 May"),
        # 30 November and 3 months end on the last day of February
        (date(2026, 11, 30), date(2027, 2, 28), "Best before 28 February"),
        (date(2026, 11, 30), date(2027, 3, 1), "Best before end February 2027"),
        # the life is not known: in full
        (None, date(2026, 12, 10), "Best before 10 December 2026"),
    ],
)
def test_annex_x_1_c_the_form_follows_the_life(made_on, best_before, text):
    found = statement("date", dated(made_on, best_before))
    assert found.text == text
    assert found.citation.provision == "Art. 9(1)(f), Art. 24 and Annex X"


@pytest.mark.parametrize(
    ("date_form", "text"),
    [
        ("full", "Best before 15 January 2028"),
        ("month", "Best before end December 2027"),
        ("shortest", "Best before end 2027"),
    ],
)
def test_a_more_exact_form_is_always_allowed(date_form, text):
    facts = dated(date(2026, 1, 15), date(2028, 1, 15), date_form=date_form)
    assert text_of("date", facts) == text


def test_the_nine_month_date_may_also_be_given_in_full():
    facts = dated(date(2026, 3, 10), date(2026, 12, 10), date_form="full")
    assert text_of("date", facts) == "Best before 10 December 2026"


@pytest.mark.parametrize(
    ("day", "months", "expected"),
    [
        (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2026, 8, 31), 1, date(2026, 9, 30)),
        (date(2026, 12, 31), 2, date(2027, 2, 28)),
        (date(9999, 12, 1), 3, date.max),
    ],
)
def test_a_month_later_is_the_same_day_or_the_last(day, months, expected):
    assert months_after(day, months) == expected


days = st.dates(date(2000, 1, 1), date(2090, 12, 31))


@settings(deadline=None)
@given(days, st.integers(min_value=1, max_value=3650))
def test_no_form_ever_promises_a_day_more_than_the_maker_did(made_on, life):
    facts = dated(made_on, made_on + timedelta(days=life))
    stated = stated_date(facts)
    assert stated.last_day <= facts.best_before
    assert stated.last_day >= made_on
    assert stated.has_day is (
        shortest_form(made_on=made_on, best_before=facts.best_before) == "day"
    )


# --- Use by, no date -----------------------------------------------------------------------------


def test_annex_x_2_a_use_by_date_has_its_day_whatever_the_life():
    facts = dated(date(2026, 11, 20), date(2027, 11, 20), date_style="use by")
    assert text_of("date", facts) == "Use by 20 November 2027"


@pytest.mark.parametrize(("storage", "is_lawful"), [("", False), ("Keep below 5 °C", True)])
def test_annex_x_2_b_a_use_by_date_comes_with_storage(storage, is_lawful):
    facts = dated(date(2026, 11, 20), date(2026, 12, 1), date_style="use by", storage=storage)
    found = by_rule("a_use_by_date_comes_with_how_to_keep_it", facts)
    assert (not found) is is_lawful
    assert all(f.citation.provision == "Annex X, point 2(b)" and f.stops_printing for f in found)


SWEETS = (
    used("sugar", 900, category="sugar"), used("glucose syrup", 300),
    used("lemon flavouring", 2), used("curcumin", "0.5", additive_class="colour"),
)  # fmt: skip
REASON = "confectionery of flavoured or coloured sugar"


def test_annex_x_1_d_boiled_sweets_need_no_date():
    facts = a_label(*SWEETS, name_of_food="Boiled sweets", finished_g=1000, date_style="none",
                    no_date_reason=REASON, best_before=None)  # fmt: skip
    assert text_of("date", facts) == ""
    assert faults(facts) == []


@pytest.mark.parametrize(
    ("changed", "stops"),
    [
        ({"no_date_reason": REASON}, True),  # fruit paste is not almost solely sugar
        ({"no_date_reason": ""}, True),
        ({"no_date_reason": "keeps for ever"}, True),
        ({"no_date_reason": "vinegar"}, False),
    ],
)
def test_annex_x_1_d_fruit_paste_needs_a_date(changed, stops):
    facts = a_label(date_style="none", best_before=None, **changed)
    found = by_rule("a_label_without_a_date_has_a_lawful_reason", facts)
    assert bool(found) is stops
    assert all(f.citation.provision == "Annex X, point 1(d)" for f in found)


@pytest.mark.parametrize(
    ("changed", "stops"),
    [
        ({"best_before": None}, True),
        ({"date_style": "sell by"}, True),
        ({"way_of_sale": "loose", "best_before": None}, False),
        ({}, False),
    ],
)
def test_a_missing_date_stops_the_label(changed, stops):
    found = by_rule("the_food_has_a_date", a_label(**changed))
    assert bool(found) is stops
    assert all(f.citation.provision == "Art. 9(1)(f) and Art. 24" for f in found)


# --- The day of printing -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("best_before", "on", "is_lawful"),
    [
        (date(2026, 12, 20), date(2026, 12, 20), True),
        (date(2026, 12, 20), date(2026, 12, 21), False),
        # printed as "end November 2027"
        (date(2027, 12, 10), date(2027, 11, 30), True),
        (date(2027, 12, 10), date(2027, 12, 1), False),
    ],
)
def test_a_date_already_over_is_not_printed(best_before, on, is_lawful):
    facts = dated(date(2026, 11, 20), best_before)
    found = by_rule("the_date_is_not_past_when_printed", facts, on=on)
    assert (not found) is is_lawful
    assert all(f.stops_printing for f in found)


def test_a_date_before_the_day_of_making_is_a_mistake():
    found = by_rule(
        "the_form_of_the_date_suits_the_life", dated(date(2026, 11, 20), date(2026, 11, 19))
    )
    assert any(f.stops_printing for f in found)


def test_the_maker_is_told_how_much_life_the_short_form_gives_away():
    found = by_rule(
        "the_form_of_the_date_suits_the_life", dated(date(2026, 3, 10), date(2026, 12, 10))
    )
    # 30 November to 10 December
    assert "10 days before" in found[0].message
    assert found[0].level == "for information"


@pytest.mark.parametrize(("day", "is_told"), [(24, False), (25, False), (26, True)])
def test_a_day_of_making_after_the_day_of_printing_is_pointed_out(day, is_told):
    facts = a_label(made_on=date(2026, 11, day), printed_on=date(2026, 11, 25))
    found = by_rule("the_form_of_the_date_suits_the_life", facts)
    assert any(f.level == "look at this" for f in found) is is_told
