"""One figure of each batch as geometry: a dot a batch, their band, the usual figure beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.learning import short
from costing.services.learning import Learnt, Point, Told
from costing.views.charts import NARROW, Mark, px

HEIGHT, TOP, BOTTOM, LEFT = 140, 14.0, 106.0, 14.0
LABEL_ROOM = 108.0
DAYS_AT = 130.0
LINE_HEIGHT = 17.0
STATES = {
    "counts": "counts",
    "sure": "counts: you said so",
    "asked": "left out until you say",
    "left out": "left out by you",
    "forgotten": "before the day you chose",
}


@dataclass(frozen=True)
class Dot:
    """One batch. is_in: it counts; the others are drawn hollow."""

    x: float
    y: float
    is_in: bool
    tip: str


@dataclass(frozen=True)
class DotChart:
    """Dots in the order of the batches, with a line for the usual figure and for today's."""

    width: int
    height: int
    left: float
    right: float
    dots: tuple[Dot, ...]
    band_y: float | None
    band_width: float
    band_height: float
    usual: Mark | None
    usual_y: float
    now: Mark | None
    now_y: float
    across: tuple[Mark, ...]


@dataclass(frozen=True)
class DotPicture:
    """Everything that charts/dots.html needs, with the table of the same figures."""

    key: str
    title: str
    description: str
    unit: str
    chart: DotChart
    rows: tuple[tuple[str, Point, str, str], ...]


def dot_picture(told: Told, *, key: str, title: str) -> DotPicture | None:
    """A picture of what stands behind a figure; None without a batch."""
    if not told.points:
        return None
    learnt = told.learnt
    rows = tuple(
        (point.measured.lot, point, short(point.measured.value), STATES[point.state])
        for point in told.points
    )
    return DotPicture(
        key=key,
        title=title,
        description=_description(told),
        unit=learnt.unit,
        chart=_chart(told.points, learnt),
        rows=rows,
    )


def _description(told: Told) -> str:
    counted = sum(point.state in ("counts", "sure") for point in told.points)
    learnt = told.learnt
    usual = "" if learnt.default is None else f" Usual figure {short(learnt.default)}."
    now = "" if learnt.value is None else f" Reckoned with: {short(learnt.value, digits=3)}."
    return f"{counted} of {len(told.points)} batches count.{usual}{now}"


@dataclass(frozen=True)
class _Scale:
    least: float
    most: float

    def down(self, value: Decimal) -> float:
        share = (float(value) - self.least) / (self.most - self.least)
        return px(BOTTOM - (BOTTOM - TOP) * share)


def _scale(points: Sequence[Point], learnt: Learnt) -> _Scale:
    values = [float(point.measured.value) for point in points]
    values += [float(one) for one in (learnt.default, learnt.value) if one is not None]
    least, most = min(values), max(values)
    room = (most - least) * 0.08 or max(abs(most) * 0.05, 1.0)
    return _Scale(least - room, most + room)


def _chart(points: Sequence[Point], learnt: Learnt) -> DotChart:
    """As wide as a card: three of them stand side by side, one on a phone."""
    scale, right = _scale(points, learnt), NARROW - LABEL_ROOM
    step = (right - LEFT) / len(points)
    places = [px(LEFT + step * (place + 0.5)) for place in range(len(points))]
    dots = tuple(
        Dot(x, scale.down(p.measured.value), p.state in ("counts", "sure"), _tip(p, learnt.unit))
        for x, p in zip(places, points, strict=True)
    )
    band_y, band_height = _band(learnt, scale)
    usual_y = 0.0 if learnt.default is None else scale.down(learnt.default)
    now_y = 0.0 if learnt.value is None else scale.down(learnt.value)
    usual, now = _labels(learnt, usual_y, now_y, x=right + 8)
    return DotChart(
        width=NARROW, height=HEIGHT, left=LEFT, right=right, dots=dots, band_y=band_y,
        band_width=px(right - LEFT), band_height=band_height, usual=usual, usual_y=usual_y,
        now=now, now_y=now_y, across=_days(points, places),
    )  # fmt: skip


def _band(learnt: Learnt, scale: _Scale) -> tuple[float | None, float]:
    """One standard deviation either way of the mean: where two of three batches lie."""
    if learnt.mean is None or learnt.spread is None:
        return None, 0.0
    high = max(scale.down(learnt.mean + learnt.spread), TOP)
    low = min(scale.down(learnt.mean - learnt.spread), BOTTOM)
    return high, px(max(low - high, 1.0))


def _labels(
    learnt: Learnt, usual_y: float, now_y: float, *, x: float
) -> tuple[Mark | None, Mark | None]:
    """Words at the ends of both lines, apart enough to be read."""
    usual_text_y, now_text_y = usual_y, now_y
    both = learnt.default is not None and learnt.value is not None
    if both and abs(usual_y - now_y) < LINE_HEIGHT:
        middle, way = (usual_y + now_y) / 2, 1 if now_y >= usual_y else -1
        usual_text_y, now_text_y = middle - way * LINE_HEIGHT / 2, middle + way * LINE_HEIGHT / 2
    usual = None
    if learnt.default is not None:
        usual = Mark(x, px(usual_text_y), f"usual {short(learnt.default)}", css="soft")
    now = None
    if learnt.value is not None:
        word = "pinned" if learnt.is_pinned else "now"
        now = Mark(x, px(now_text_y), f"{word} {short(learnt.value, digits=3)}", css="strong")
    return usual, now


def _tip(point: Point, unit: str) -> str:
    one = point.measured
    return f"{one.lot}: {short(one.value)} {unit}, {STATES[point.state]}"


def _days(points: Sequence[Point], places: Sequence[float]) -> tuple[Mark, ...]:
    """The first day and the last."""
    first, last = points[0].measured.made_on, points[-1].measured.made_on
    marks = [Mark(places[0], DAYS_AT, f"{first.day} {first:%b}", anchor="middle")]
    if first != last and len(points) > 1:
        marks.append(Mark(places[-1], DAYS_AT, f"{last.day} {last:%b}", anchor="middle"))
    return tuple(marks)
