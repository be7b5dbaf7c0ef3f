"""Days as a calendar counts them."""

import calendar
from datetime import date


def months_after(day: date, months: int) -> date:
    """The same day so many months on, or the last day of that month where there is none.

    >>> months_after(date(2028, 2, 29), 12), months_after(date(2026, 11, 30), 3)
    (datetime.date(2029, 2, 28), datetime.date(2027, 2, 28))
    """
    whole = day.year * 12 + day.month - 1 + months
    year, index = divmod(whole, 12)
    if year > date.max.year:
        return date.max
    last = calendar.monthrange(year, index + 1)[1]
    return date(year, index + 1, min(day.day, last))


def last_whole_month(day: date) -> date:
    """Last day of the last month that lies wholly within a life ending that day."""
    if day.day == calendar.monthrange(day.year, day.month)[1]:
        return day
    return date.fromordinal(day.replace(day=1).toordinal() - 1)


def last_whole_year(day: date) -> date:
    """Last day of the last year that lies wholly within a life ending that day."""
    return day if (day.month, day.day) == (12, 31) else date(day.year - 1, 12, 31)
