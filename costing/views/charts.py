"""Pictures as geometry: numbers in, places on the paper out. Templates in templates/charts/ draw.

Each picture comes in two widths, because shrinking a wide one would shrink its words.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

WIDE, NARROW = 720, 340
CHARACTER = 7.2
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


def bar_picture(parts: Sequence[Part], *, key: str, title: str) -> BarPicture | None:
    """One stacked horizontal bar; None when there is nothing to show.

    key: unique on its page, for the ids.
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
        room = max(len(part.name), len(amount)) * CHARACTER + 12
        place, anchor, css = _beside(x, part_width, width=width, room=room)
        segments.append(
            Segment(
                css=part.css or f"part-{index + 1}",
                x=px(x),
                y=0,
                width=px(max(part_width, 1.5)),
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
        return px(x + part_width + 8), "start", ""
    if x >= room:
        return px(x - 8), "end", ""
    return px(x + 10), "start", "on-dark"


def px(value: float) -> float:
    """A place on the paper, to a tenth of a pixel."""
    return round(value, 1)
