"""Pictures as geometry: numbers in, places on the paper out. Templates in templates/charts/ draw.

Each picture comes in two widths, because shrinking a wide one would shrink its words.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import ROUND_CEILING, Decimal
from itertools import pairwise

WIDE, NARROW = 720, 340
_CHARACTER = 7.2
"""Width of a character of 14 px text, on the large side [px]."""


@dataclass(frozen=True)
class Mark:
    """A word at a place. anchor: start, middle or end."""

    x: float
    y: float
    text: str
    anchor: str = "start"
    css: str = ""


@dataclass(frozen=True)
class Segment:
    """One part of a bar, in the bar and again in its own row below, with its words beside it."""

    css: str
    x: float
    y: float
    width: float
    row_y: float
    name: Mark
    amount: Mark
    tip: str


@dataclass(frozen=True)
class Bar:
    """A stacked bar and the rows that fall from it."""

    width: int
    height: int
    bar_height: int
    row_height: int
    segments: tuple[Segment, ...]


@dataclass(frozen=True)
class Part:
    """One share of a whole: its name, how it is written, and how large it is."""

    name: str
    value: Decimal
    written: str
    css: str = ""


@dataclass(frozen=True)
class BarPicture:
    """Everything that charts/bar.html needs, with the table of the same numbers."""

    key: str
    title: str
    description: str
    drawings: tuple[tuple[str, Bar], ...]
    rows: tuple[tuple[str, str, str], ...]
    column: str


def bar_picture(
    parts: Sequence[Part], *, key: str, title: str, column: str = "Amount"
) -> BarPicture | None:
    """One stacked horizontal bar; None when there is nothing to show.

    key: unique on its page, for the ids. column: heading of the figures in the table.
    """
    shown = [part for part in parts if part.value > 0]
    total = sum((part.value for part in shown), Decimal(0))
    if total <= 0:
        return None
    rows = tuple((part.name, part.written, share(part.value, of=total)) for part in parts)
    sentence = ", ".join(f"{name} {written} ({pct})" for name, written, pct in rows)
    return BarPicture(
        key=key,
        title=title,
        description=f"{sentence}.",
        drawings=(
            ("wide", stacked_bar(shown, width=WIDE)),
            ("narrow", stacked_bar(shown, width=NARROW)),
        ),
        rows=rows,
        column=column,
    )


def money_picture(
    breakdown: Mapping[str, Decimal], *, written: Mapping[str, str], key: str = "money"
) -> BarPicture | None:
    """Where the money goes, by nature of cost; `written` has the amounts as shown."""
    parts = [
        Part(nature.capitalize(), amount, written[nature], f"part-{place}")
        for place, (nature, amount) in enumerate(breakdown.items(), 1)
    ]
    return bar_picture(parts, key=key, title="Where the money goes")


def mass_picture(
    parts: Sequence[tuple[str, Decimal, str]], *, key: str = "mass"
) -> BarPicture | None:
    """Where the mass goes: (name, grams, as written); "Finished" is the part that counts."""
    tones = {"Finished": "part-1", "Evaporated": "part-water"}
    others = iter(("part-4", "part-5", "part-3", "part-2", "part-4"))
    drawn = [
        Part(name, grams, written, tones.get(name) or next(others, "part-4"))
        for name, grams, written in parts
    ]
    return bar_picture(drawn, key=key, title="Where the mass goes", column="Mass")


def share(value: Decimal, *, of: Decimal) -> str:
    """A share of a whole in per cent, whole numbers, "under 1 %" rather than a false nought.

    >>> share(Decimal(1), of=Decimal(3)), share(Decimal(1), of=Decimal(500))
    ('33 %', 'under 1 %')
    """
    if of <= 0:
        return ""
    percent = 100 * value / of
    if 0 < percent < Decimal("0.5"):
        return "under 1 %"
    return f"{percent:.0f} %"


def stacked_bar(parts: Sequence[Part], *, width: int, bar_height: int = 44) -> Bar:
    """The bar across the whole width; under it each part again in a row of its own, with words.

    A part keeps its place from left to right, so no legend is needed: the words stand beside it.
    """
    total = float(sum((part.value for part in parts), Decimal(0)))
    row_height, gap = 40, 10
    x, segments = 0.0, []
    for index, part in enumerate(parts):
        part_width = width * float(part.value) / total
        row_y = bar_height + gap + index * row_height
        amount = f"{part.written} · {share(part.value, of=Decimal(str(total)))}"
        room = max(len(part.name), len(amount)) * _CHARACTER + 12
        place, anchor, css = _beside(x, part_width, width=width, room=room)
        segments.append(
            Segment(
                css=part.css or f"part-{index + 1}",
                x=_px(x),
                y=0,
                width=_px(max(part_width, 1.5)),
                row_y=row_y,
                name=Mark(place, row_y + 14, part.name, anchor, f"strong {css}".strip()),
                amount=Mark(place, row_y + 31, amount, anchor, css),
                tip=f"{part.name}: {amount}",
            )
        )
        x += part_width
    height = bar_height + gap + len(parts) * row_height
    return Bar(width, height, bar_height, row_height - 6, tuple(segments))


def _beside(x: float, part_width: float, *, width: int, room: float) -> tuple[float, str, str]:
    """Words go to the right of a part, else to its left, else into it."""
    if width - x - part_width >= room:
        return _px(x + part_width + 8), "start", ""
    if x >= room:
        return _px(x - 8), "end", ""
    return _px(x + 10), "start", "on-dark"


# --- Prices over time -----------------------------------------------------------------------------


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
        return _px(self.left + (self.right - self.left) * (day - self.first).days / self.days)

    def down(self, price: Decimal) -> float:
        return _px(self.bottom - (self.bottom - self.top) * float(price) / self.highest)


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
        right=width - (170.0 if is_wide else 8.0),
        top=24.0,
        bottom=height - 28.0,
    )
    ends = _spread([scale.down(one.steps[-1][1]) for one in series], apart=18)
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
        Mark(scale.right + 8, end_y + 5, _shortened(text, room=170 - 12))
        if is_wide
        else Mark(scale.right, end_y - 7, text, "end", "halo")
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
    half_way = Mark(_px((scale.left + scale.right) / 2), y, f"{middle:{form}}", "middle")
    return (ends[0], half_way, ends[1])


def _spread(places: Sequence[float], *, apart: float) -> list[float]:
    """Move words just so far that none stands on another; the order from top to bottom stays."""
    order = sorted(range(len(places)), key=lambda index: places[index])
    moved = list(places)
    for above, below in pairwise(order):
        moved[below] = max(moved[below], moved[above] + apart)
    return [_px(y) for y in moved]


def _shortened(text: str, *, room: float) -> str:
    """Shorten a name in its middle, keeping the figure at its end."""
    most = int(room / _CHARACTER)
    if len(text) <= most:
        return text
    name, _, figure = text.rpartition(" ")
    return f"{name[: most - len(figure) - 2].rstrip()}… {figure}"


def _px(value: float) -> float:
    return round(value, 1)
