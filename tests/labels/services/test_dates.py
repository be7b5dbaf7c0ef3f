from datetime import date

import pytest

from labels.services.dates import keeps_until, lot_of


@pytest.mark.parametrize(
    ("made_on", "months", "days", "until"),
    [
        (date(2026, 3, 10), 9, None, date(2026, 12, 10)),
        (date(2026, 8, 31), 1, None, date(2026, 9, 30)),
        (date(2024, 2, 29), 12, None, date(2025, 2, 28)),
        (date(2023, 2, 28), 12, None, date(2024, 2, 28)),
        (date(2026, 12, 31), 2, None, date(2027, 2, 28)),
        (date(2026, 3, 1), None, 60, date(2026, 4, 30)),
        (date(2026, 1, 31), 1, 1, date(2026, 3, 1)),
        (date(2026, 1, 1), None, None, None),
        (date(2026, 1, 1), 0, 0, None),
    ],
)
def test_a_shelf_life_counts_calendar_months_and_never_invents_a_day(made_on, months, days, until):
    assert keeps_until(made_on, months=months, days=days) == until


def test_a_day_beyond_the_calendar_is_its_last_day():
    assert keeps_until(date(9999, 6, 1), months=9, days=None) == date.max
    assert keeps_until(date(9998, 12, 1), months=None, days=3650) == date.max


def test_a_lot_is_the_year_and_the_day_of_the_year():
    # 5 September 2027 is day 248 of its year: 31+28+31+30+31+30+31+31+5.
    assert lot_of(date(2027, 9, 5), prefix="DC") == "DC-27248"
    assert lot_of(date(2028, 12, 31), prefix="DC") == "DC-28366"
    assert lot_of(date(2027, 1, 1), prefix="") == "L27001"
