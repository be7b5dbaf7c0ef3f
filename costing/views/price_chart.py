"""Prices over time as geometry: one stair for each supplier, its name at its end."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal
from itertools import pairwise

from costing.views.charts import CHARACTER, NARROW, WIDE, Mark, px

LABEL_ROOM = 230.0
"""Space for names at the ends of lines on a wide picture [px]."""


@dataclass(frozen=True)
class Series:
    """One supplier's prices: from each day on, until the next."""

    name: str
    steps: tuple[tuple[date, Decimal], ...]


@dataclass(frozen=True)
class StepLine:
    """One drawn line, its dots, and its name at its end."""

    css: str
    points: str
    dots: tuple[Mark, ...]
    label: Mark


@dataclass(frozen=True)
class StepChart:
    """A drawn step chart: lines, and the axes as words."""

    width: int
    height: int
    left: float
    right: float
    bottom: float
    lines: tuple[StepLine, ...]
    across: tuple[Mark, ...] = field(default=())
    down: tuple[Mark, ...] = field(default=())


@dataclass(frozen=True)
class StepPicture:
    """Everything that charts/steps.html needs, with the table of the same numbers."""

    key: str
    title: str
    description: str
    drawings: tuple[tuple[str, StepChart], ...]
    rows: tuple[tuple[str, date, str], ...]
    column: str


def step_picture(
    series: Sequence[Series], *, on: date, key: str, title: str, unit: str
) -> StepPicture | None:
    """Prices over time up to a day, one or several suppliers; None without a price.

    unit: what the figures are in, such as "EUR a usable kilo".
    """
    shown = [
        Series(one.name, steps)
        for one in series
        if (steps := tuple(sorted(step for step in one.steps if step[0] <= on)))
    ]
    if not shown:
        return None
    rows = sorted(
        ((one.name, day, f"{price:.2f}") for one in shown for day, price in one.steps),
        key=lambda row: (row[1], row[0]),
        reverse=True,
    )
    latest = "; ".join(f"{one.name} {one.steps[-1][1]:.2f}" for one in shown)
    return StepPicture(
        key=key,
        title=title,
        description=f"Latest, in {unit}: {latest}.",
        drawings=(
            ("wide", step_chart(shown, on=on, width=WIDE, height=300)),
            ("narrow", step_chart(shown, on=on, width=NARROW, height=260)),
        ),
        rows=tuple(rows),
        column=unit,
    )


@dataclass(frozen=True)
class _Scale:
    """Where a day and a price lie on the paper."""

    first: date
    days: int
    highest: float
    left: float
    right: float
    top: float
    bottom: float

    def across(self, day: date) -> float:
        return px(self.left + (self.right - self.left) * (day - self.first).days / self.days)

    def down(self, price: Decimal) -> float:
        return px(self.bottom - (self.bottom - self.top) * float(price) / self.highest)


def step_chart(series: Sequence[Series], *, on: date, width: int, height: int) -> StepChart:
    """All suppliers on one scale that starts at nought, so that a rise looks its size."""
    is_wide = width > 500
    # A month at least, or two prices of one week would fill the picture.
    first = min(*(one.steps[0][0] for one in series), on - timedelta(days=28))
    ticks = nice_ticks(max(price for one in series for _, price in one.steps))
    scale = _Scale(
        first=first,
        days=(on - first).days,
        highest=float(ticks[-1]),
        left=44.0,
        right=width - (LABEL_ROOM if is_wide else 8.0),
        top=24.0,
        bottom=height - 28.0,
    )
    levels = [scale.down(one.steps[-1][1]) for one in series]
    ends = _spread([y + 5 for y in levels] if is_wide else _clear(series, scale), apart=18)
    return StepChart(
        width=width,
        height=height,
        left=scale.left,
        right=scale.right,
        bottom=scale.bottom,
        lines=tuple(
            _step_line(one, scale, place=place, end_y=end_y, is_wide=is_wide)
            for place, (one, end_y) in enumerate(zip(series, ends, strict=True), 1)
        ),
        across=_day_marks(scale, on, is_wide=is_wide),
        down=tuple(Mark(scale.left - 8, scale.down(tick), f"{tick:.2f}", "end") for tick in ticks),
    )


def _step_line(one: Series, scale: _Scale, *, place: int, end_y: float, is_wide: bool) -> StepLine:
    """A line that stays level until the next price, and up to the last day."""
    text = f"{one.name} {one.steps[-1][1]:.2f}"
    label = (
        Mark(scale.right + 8, end_y, _shortened(text, room=LABEL_ROOM - 12))
        if is_wide
        else Mark(scale.right, end_y, text, "end", "halo")
    )
    corners: list[tuple[float, float]] = []
    dots = []
    for day, price in one.steps:
        x, y = scale.across(day), scale.down(price)
        if corners:
            corners.append((x, corners[-1][1]))
        corners.append((x, y))
        dots.append(Mark(x, y, f"{one.name}, {day:%d %b %Y}: {price:.2f}"))
    corners.append((scale.right, corners[-1][1]))
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)
    return StepLine(str(min(place, 4)), points, tuple(dots), label)


def nice_ticks(highest: Decimal) -> list[Decimal]:
    """Round figures from nought to just above the highest price, at most five.

    >>> [str(tick) for tick in nice_ticks(Decimal("2.93"))]
    ['0', '1', '2', '3']
    """
    if highest <= 0:
        return [Decimal(0), Decimal(1)]
    size = Decimal(1).scaleb(highest.adjusted() - 1)
    for times in (1, 2, 5, 10, 20, 25, 50):
        step = size * times
        count = (highest / step).to_integral_value(ROUND_CEILING)
        if count <= 4:
            return [(step * place).normalize() for place in range(int(count) + 1)]
    return [Decimal(0), highest]


def _day_marks(scale: _Scale, last: date, *, is_wide: bool) -> tuple[Mark, ...]:
    """The first and the last day, and on a wide picture the one half-way."""
    form = "%d %b %Y" if is_wide else "%d %b %y"
    y = scale.bottom + 20
    ends = (
        Mark(scale.left, y, f"{scale.first:{form}}"),
        Mark(scale.right, y, f"{last:{form}}", "end"),
    )
    if not is_wide:
        return ends
    middle = scale.first + (last - scale.first) / 2
    half_way = Mark(px((scale.left + scale.right) / 2), y, f"{middle:{form}}", "middle")
    return (ends[0], half_way, ends[1])


def _clear(series: Sequence[Series], scale: _Scale) -> list[float]:
    """Where names go on a narrow picture: above the end of their line, or below where that is free.

    What stands in the way is any level of another line in the right half of the picture.
    """
    places = []
    for one in series:
        y = scale.down(one.steps[-1][1])
        others = [
            scale.down(other.steps[index][1])
            for other in series
            if other is not one
            for index in range(len(other.steps))
            if index + 1 == len(other.steps)
            or scale.across(other.steps[index + 1][0]) > (scale.left + scale.right) / 2
        ]
        above = sum(y - 24 < level < y for level in others)
        below = sum(y < level < y + 24 for level in others)
        places.append(y + 18 if below < above else y - 7)
    return places


def _spread(places: Sequence[float], *, apart: float) -> list[float]:
    """Move words just so far that none stands on another; the order from top to bottom stays."""
    order = sorted(range(len(places)), key=lambda index: places[index])
    moved = list(places)
    for above, below in pairwise(order):
        moved[below] = max(moved[below], moved[above] + apart)
    return [px(y) for y in moved]


def _shortened(text: str, *, room: float) -> str:
    """Shorten a name in its middle, keeping the figure at its end."""
    most = int(room / CHARACTER)
    if len(text) <= most:
        return text
    name, _, figure = text.rpartition(" ")
    return f"{name[: most - len(figure) - 2].rstrip()}… {figure}"
