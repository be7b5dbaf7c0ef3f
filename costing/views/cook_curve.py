"""The picture of a cook: Brix over time, or over water gone, with readings and the stop."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.stove import Band, CurvePoint, CurveRecords
from costing.views.charts import NARROW, WIDE, Mark, px
from costing.views.recipe_words import Pen

HEIGHT, LEFT, TOP, BOTTOM = 240, 46, 22, 34


@dataclass(frozen=True)
class CurveDrawing:
    """The shapes and words of one width."""

    width: int
    height: int
    left: float
    right: float
    plan: str
    dots: tuple[Mark, ...]
    aim_y: float
    band_y: float
    band_high: float
    aim: Mark
    down: tuple[Mark, ...]
    across: tuple[Mark, ...]


@dataclass(frozen=True)
class CurvePicture:
    """Everything that charts/curve.html needs, with the table of the same numbers."""

    key: str
    title: str
    description: str
    drawings: tuple[tuple[str, CurveDrawing], ...]
    rows: tuple[tuple[str, str, str, str], ...]
    column: str


def curve_picture(records: CurveRecords, *, pen: Pen, key: str = "curve") -> CurvePicture | None:
    """The plan as a line, the readings as dots, the stop as a band; None without a plan."""
    goal = records.target
    if len(records.plan) < 2 or goal is None or goal.brix is None:
        return None
    by_minutes = all(one.minutes is not None for one in (*records.plan, *records.readings))
    raw_g = records.plan[0].pot_g

    def across(one: CurvePoint) -> float:
        if by_minutes and one.minutes is not None:
            return float(one.minutes)
        return float(raw_g - one.pot_g) / 1000

    column = "Minutes" if by_minutes else "Water gone"
    aim = pen.number(goal.brix.value, places=1)
    rows = [
        (_name(one), _across(across(one), by_minutes, pen), pen.number(one.brix, places=1),
         pen.kilos(one.pot_g))
        for one in (records.plan[0], *records.readings, records.plan[-1])
    ]  # fmt: skip
    read = f"{len(records.readings)} read so far" if records.readings else "nothing read yet"
    draw = [
        (
            size,
            _drawing(records, across, goal=goal.brix, width=width, by_minutes=by_minutes, pen=pen),
        )
        for size, width in (("wide", WIDE), ("narrow", NARROW))
    ]
    return CurvePicture(
        key=key,
        title="The cook, in Brix",
        description=f"From {pen.number(records.plan[0].brix, places=1)} Brix to a stop at {aim}; "
        f"{read}.",
        drawings=tuple(draw),
        rows=tuple(rows),
        column=column,
    )


def _name(one: CurvePoint) -> str:
    return {"plan": "Plan", "weight": "Scale", "temperature": "Thermometer"}.get(
        one.kind, "Refractometer"
    )


def _across(value: float, by_minutes: bool, pen: Pen) -> str:
    if by_minutes:
        return pen.number(Decimal(round(value)), places=0)
    return pen.kilos(Decimal(str(round(value * 1000))))


def _drawing(
    records: CurveRecords, across: Callable[[CurvePoint], float], *, goal: Band, width: int,
    by_minutes: bool, pen: Pen,
) -> CurveDrawing:  # fmt: skip
    points = [*records.plan, *records.readings]
    most_x = max([*(across(one) for one in points), 0.001])
    top = max([float(goal.high), *(float(one.brix) for one in points)]) + 3
    low = min([float(one.brix) for one in points]) - 3
    right = width - 8.0

    def x(one: CurvePoint) -> float:
        return px(LEFT + (right - LEFT) * max(across(one), 0) / most_x)

    def y(brix: float) -> float:
        return px(TOP + (HEIGHT - TOP - BOTTOM) * (top - brix) / (top - low))

    aim = float(goal.value)
    unit = "minutes" if by_minutes else "kg of water gone"
    steps = [one for one in range(0, 100, 10) if low < one < top]
    return CurveDrawing(
        width=width,
        height=HEIGHT,
        left=LEFT,
        right=right,
        plan=" ".join(f"{x(one)},{y(float(one.brix))}" for one in records.plan),
        dots=_dots(records.readings, x=x, y=y, pen=pen),
        aim_y=y(aim),
        band_y=y(float(goal.high)),
        band_high=px(max(y(float(goal.low)) - y(float(goal.high)), 1)),
        aim=Mark(LEFT + 6, y(aim) - 6, f"Stop at {pen.number(goal.value, places=1)}", "start",
                 "strong halo"),
        down=tuple(Mark(LEFT - 8, y(one), str(one), "end") for one in steps),
        across=(
            Mark(LEFT, HEIGHT - 10, "0", "start"),
            Mark(right, HEIGHT - 10, f"{most_x:.0f} {unit}" if by_minutes
                 else f"{pen.number(Decimal(str(round(most_x, 1))))} {unit}", "end"),
        ),
    )  # fmt: skip


def _dots(
    readings: Sequence[CurvePoint], *, x: Callable[[CurvePoint], float],
    y: Callable[[float], float], pen: Pen,
) -> tuple[Mark, ...]:  # fmt: skip
    return tuple(
        Mark(x(one), y(float(one.brix)), f"{_name(one)}: {pen.number(one.brix, places=1)} Brix")
        for one in readings
    )
