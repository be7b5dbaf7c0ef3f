"""Why a kilo cost other than planned, as steps from the plan's cost to the batch's own."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.services.batch_differences import Difference
from costing.views.charts import NARROW, WIDE, Mark, px
from costing.views.recipe_words import Pen

ROW, TOP, BAR = 46, 4, 16
NAMES = {
    "price": "Prices",
    "trim": "Weights put in, knife and sieve",
    "evaporation": "Boiled further or less far",
    "residue": "Left in the pan, lost, thrown away",
    "time": "Minutes at the pan",
}
_NOTHING = Decimal("0.005")


@dataclass(frozen=True)
class Step:
    """One row: words above, and the bar from where the cost stood to where it goes."""

    css: str
    x: float
    y: int
    width: float
    drop_x: float
    drop_y: int
    name: Mark
    amount: Mark
    tip: str


@dataclass(frozen=True)
class Waterfall:
    """The shapes and words of one width."""

    width: int
    height: int
    bar: int
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class WaterfallPicture:
    """Everything that charts/waterfall.html needs, with the table of the same numbers."""

    key: str
    title: str
    description: str
    drawings: tuple[tuple[str, Waterfall], ...]
    rows: tuple[tuple[str, str, str], ...]


def waterfall_picture(
    parts: Sequence[Difference], *, planned: Decimal, pen: Pen, key: str = "steps"
) -> WaterfallPicture | None:
    """From the plan's cost of a kilo to the batch's own; None where the parts are not known."""
    if not parts:
        return None
    actual = planned + sum((one.per_kg for one in parts), Decimal(0))
    told = [(NAMES[one.kind], _signed(one.per_kg, pen=pen)) for one in parts]
    ends = (("Planned", pen.money(planned)), ("This batch", pen.money(actual)))
    said = "; ".join(f"{name} {amount}" for name, amount in told)
    fine = [
        (name, pen.money(one.per_kg, places=4), one.sentence)
        for (name, _), one in zip(told, parts, strict=True)
    ]
    return WaterfallPicture(
        key=key,
        title="Why a kilo differs from the plan",
        description=f"Planned {ends[0][1]} a kilo. {said}. This batch {ends[1][1]}.",
        drawings=(
            ("wide", _drawing(parts, planned, told=told, ends=ends, width=WIDE)),
            ("narrow", _drawing(parts, planned, told=told, ends=ends, width=NARROW)),
        ),
        rows=(
            ("Planned", pen.money(planned, places=4), "A kilo, by the plan."),
            *fine,
            ("This batch", pen.money(actual, places=4), "A kilo, as it came out."),
        ),
    )


def _signed(amount: Decimal, *, pen: Pen) -> str:
    if abs(amount) < _NOTHING:
        return "as planned"
    word = "dearer" if amount > 0 else "cheaper"
    return f"{pen.money(abs(amount))} {word}"


def _drawing(
    parts: Sequence[Difference],
    planned: Decimal,
    *,
    told: Sequence[tuple[str, str]],
    ends: tuple[tuple[str, str], tuple[str, str]],
    width: int,
) -> Waterfall:
    """The scale spans only the steps, so neither end is drawn as a bar from nought."""
    stands = [planned]
    for one in parts:
        stands.append(stands[-1] + one.per_kg)
    low, high = float(min(stands)), float(max(stands))
    span = high - low or 1.0

    def x(value: Decimal) -> float:
        return px(6 + (width - 12) * (float(value) - low) / span)

    def row(place: int, words: tuple[str, str], start: float, end: float, css: str) -> Step:
        y = TOP + place * ROW
        return Step(
            css=css,
            x=px(min(start, end) - (1.5 if start == end else 0)),
            y=y + 20,
            width=px(max(abs(end - start), 3)),
            drop_x=end,
            drop_y=y + 20 + ROW + BAR,
            name=Mark(0, y + 14, words[0], "start", "strong"),
            amount=Mark(width, y + 14, words[1], "end"),
            tip=f"{words[0]}: {words[1]}",
        )

    first, last = x(planned), x(stands[-1])
    steps = [row(0, ends[0], first, first, "part-3")]
    for place, (one, words) in enumerate(zip(parts, told, strict=True), 1):
        css = "part-1" if one.per_kg > 0 else "part-4"
        steps.append(row(place, words, x(stands[place - 1]), x(stands[place]), css))
    steps.append(row(len(parts) + 1, ends[1], last, last, "part-3"))
    return Waterfall(width, TOP + len(steps) * ROW, BAR, tuple(steps))
