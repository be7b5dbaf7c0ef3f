"""The calendar, held to the standard library's own and to leap years."""

from datetime import date

from labels.mechanics.days import last_whole_month, last_whole_year, months_after


def test_a_month_on_is_the_same_day_or_the_last_of_the_month():
    assert months_after(date(2026, 1, 31), 1) == date(2026, 2, 28)
    assert months_after(date(2028, 1, 31), 1) == date(2028, 2, 29)
    assert months_after(date(2028, 2, 29), 12) == date(2029, 2, 28)
    assert months_after(date(9999, 12, 1), 1) == date.max


def test_the_last_whole_month_is_the_one_before_unless_the_day_ends_it():
    assert last_whole_month(date(2026, 12, 10)) == date(2026, 11, 30)
    assert last_whole_month(date(2026, 11, 30)) == date(2026, 11, 30)


def test_the_last_whole_year_is_the_one_before_unless_the_day_ends_it():
    assert last_whole_year(date(2027, 12, 30)) == date(2026, 12, 31)
    assert last_whole_year(date(2027, 12, 31)) == date(2027, 12, 31)
