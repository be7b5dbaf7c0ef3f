"""Days a label needs: how long the food keeps, and the lot code of a day."""

import calendar
from datetime import date, timedelta


def keeps_until(made_on: date, *, months: int | None, days: int | None) -> date | None:
    """Last day of a shelf life counted from the day of making; None if none was decided.

    A month later is the same day of the month, or its last day where there is no such day:
    31 August and one month give 30 September; 29 February and twelve months 28 February.
    """
    if not months and not days:
        return None
    whole = made_on.month - 1 + (months or 0)
    year, month = made_on.year + whole // 12, whole % 12 + 1
    if year >= date.max.year:
        return date.max
    day = min(made_on.day, calendar.monthrange(year, month)[1])
    last = date(year, month, day)
    return last + min(timedelta(days=days or 0), date.max - last)


def lot_of(made_on: date, *, prefix: str) -> str:
    """A lot code of one product and day, such as L DC-27248: year, then day of the year."""
    day = f"{made_on:%y}{made_on.timetuple().tm_yday:03d}"
    return f"{prefix}-{day}" if prefix else f"L{day}"
