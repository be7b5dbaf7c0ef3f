"""A date as a label states it: in how short a form, and the last day it then stands for."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from labels.mechanics.days import last_whole_month, last_whole_year, months_after


@dataclass(frozen=True)
class StatedDate:
    """A date as the label states it. last_day: the last day it stands for."""

    heading: str
    text: str
    last_day: date
    has_day: bool


def shortest_form(
    *, made_on: date | None, best_before: date, day_up_to_months: int, month_up_to_months: int
) -> str:
    """What is enough for this life: "day", "month" or "year"; "full" if the life is not known.

    A life of just so many months still counts to the shorter one.
    """
    if made_on is None:
        return "full"
    if best_before <= months_after(made_on, day_up_to_months):
        return "day"
    if best_before <= months_after(made_on, month_up_to_months):
        return "month"
    return "year"


def form_to_print(enough: str, *, asked: str) -> str:
    """The form that is enough, or the longer one that was asked for; never a shorter.

    >>> form_to_print("year", asked="month"), form_to_print("day", asked="month")
    ('month', 'day')
    """
    if asked == "full" or (asked == "month" and enough == "year"):
        return asked
    return enough


def stated(
    day: date, *, form: str, heading: str, heading_end: str, text: Callable[[date, str], str]
) -> StatedDate:
    """A date in a form; without its day it is the end of the last whole month or year before it.

    heading_end: what stands before a date without its day. text: a day in words, by form.
    """
    if form in {"day", "full"}:
        return StatedDate(heading, text(day, form), day, True)
    end = last_whole_month(day) if form == "month" else last_whole_year(day)
    said = text(end, form) if form == "month" else str(end.year)
    return StatedDate(heading_end, said, end, False)
