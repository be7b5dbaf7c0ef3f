"""Dates as stated, counted on a calendar; 3 and 18 months stand for what a law passes in."""

from datetime import date

import pytest

from labels.mechanics.stated_dates import form_to_print, shortest_form, stated

MADE = date(2026, 1, 31)


@pytest.mark.parametrize(
    ("until", "form"),
    [
        (date(2026, 4, 30), "day"),  # three months on: April has no 31st
        (date(2026, 5, 1), "month"),
        (date(2027, 7, 31), "month"),  # eighteen months on
        (date(2027, 8, 1), "year"),
    ],
)
def test_the_longer_the_life_the_less_of_the_date_is_enough(until, form):
    terms = {"best_before": until, "day_up_to_months": 3, "month_up_to_months": 18}
    assert shortest_form(made_on=MADE, **terms) == form
    assert shortest_form(made_on=None, **terms) == "full"


@pytest.mark.parametrize(
    ("enough", "asked", "form"),
    [
        ("day", "full", "full"),
        ("year", "full", "full"),
        ("year", "month", "month"),
        ("day", "month", "day"),
        ("full", "month", "full"),
        ("month", "", "month"),
    ],
)
def test_more_may_be_asked_for_but_never_less_than_is_enough(enough, asked, form):
    assert form_to_print(enough, asked=asked) == form


@pytest.mark.parametrize(
    ("day", "form", "heading", "text", "last_day"),
    [
        (date(2027, 6, 15), "full", "by", "full 15", date(2027, 6, 15)),
        (date(2027, 6, 15), "day", "by", "day 15", date(2027, 6, 15)),
        (date(2027, 6, 15), "month", "end", "month 31", date(2027, 5, 31)),
        (date(2027, 6, 30), "month", "end", "month 30", date(2027, 6, 30)),
        (date(2027, 6, 15), "year", "end", "2026", date(2026, 12, 31)),
        (date(2027, 12, 31), "year", "end", "2027", date(2027, 12, 31)),
    ],
)
def test_without_its_day_a_date_is_the_end_of_the_last_whole_month_or_year(
    day, form, heading, text, last_day
):
    said = stated(
        day, form=form, heading="by", heading_end="end", text=lambda d, form: f"{form} {d.day}"
    )
    assert (said.heading, said.text, said.last_day) == (heading, text, last_day)
    assert said.has_day is (form in {"day", "full"})
