"""A mould seen from above with its cuts, and from the side with its fill; both to one scale."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.cutting import (
    KERF,
    OFFCUT,
    PIECE,
    TRIM,
    Cutting,
    Rectangle,
    cuts,
    rectangles,
)
from costing.views.charts import CHARACTER, NARROW, Mark, px
from costing.views.pan_picture import MIDDLE
from costing.views.recipe_words import NBSP, Pen

TALLEST = 460.0
"""A long narrow mould laid upright is drawn no taller than this [px]."""

_ABOVE, _BELOW, _LINE = 30.0, 26.0, 18.0
_KINDS = ((TRIM, "tray-trim"), (OFFCUT, "tray-offcut"), (KERF, "tray-kerf"), (PIECE, "tray-piece"))


@dataclass(frozen=True)
class Depths:
    """What the side view shows: the rim, the set slab, and how high it is poured hot."""

    rim_mm: Decimal
    cold_mm: Decimal
    hot_mm: Decimal | None


@dataclass(frozen=True)
class TrayDrawing:
    """One width. shapes: CSS class and path; lines: CSS class and path that is only drawn."""

    width: int
    height: int
    shapes: tuple[tuple[str, str], ...]
    lines: tuple[tuple[str, str], ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class TrayPicture:
    """Everything that charts/tray.html needs."""

    key: str
    title: str
    description: str
    drawings: tuple[tuple[str, TrayDrawing], ...]


def tray_picture(
    cutting: Cutting, *, depths: Depths, piece_g: Decimal, pen: Pen, key: str = "tray"
) -> TrayPicture:
    """The mould to scale: trim, pieces, offcuts and cuts from above; the fill from the side."""
    return TrayPicture(
        key=key,
        title="The mould and its cuts, to scale",
        description=_told(cutting, depths=depths, piece_g=piece_g, pen=pen),
        drawings=tuple(
            (name, _drawing(cutting, depths=depths, piece_g=piece_g, pen=pen, width=width))
            for name, width in (("wide", MIDDLE), ("narrow", NARROW))
        ),
    )


def _told(cutting: Cutting, *, depths: Depths, piece_g: Decimal, pen: Pen) -> str:
    """The picture in words, for who cannot see it."""
    tray, piece = cutting.tray, cutting.piece
    grid = f"{cutting.along} along the length and {cutting.across} across"
    size = f"{_mm(piece.length_mm, pen)} by {_mm(piece.width_mm, pen)} and {_g(piece_g, pen)}"
    said = [
        f"Inside {_mm(tray.length_mm, pen)} by {_mm(tray.width_mm, pen)}.",
        f"{cutting.pieces} pieces, {grid}, each {size}.",
    ]
    if tray.trim_mm > 0:
        said.append(f"{_mm(tray.trim_mm, pen)} are trimmed off all round.")
    strips = [one for one in rectangles(cutting) if one.kind == OFFCUT]
    said += [
        f"An offcut of {_mm(one.length_mm, pen)} by {_mm(one.width_mm, pen)}." for one in strips
    ]
    if not strips:
        said.append("No offcuts.")
    if cutting.kerf_mm > 0:
        said.append(f"Each cut takes {_mm(cutting.kerf_mm, pen)}.")
    said.append(f"The set slab is {_mm(depths.cold_mm, pen)} deep.")
    if depths.hot_mm is not None:
        said.append(f"Poured hot it stands {_mm(depths.hot_mm, pen)} high.")
    said.append(f"The rim is {_mm(depths.rim_mm, pen)} high.")
    return " ".join(said)


def _drawing(
    cutting: Cutting, *, depths: Depths, piece_g: Decimal, pen: Pen, width: int
) -> TrayDrawing:
    tray = cutting.tray
    scale = min((width - 2) / float(tray.length_mm), TALLEST / float(tray.width_mm))
    parts = rectangles(cutting)
    place = _Place(scale, 1.0, _ABOVE)
    tall = float(tray.width_mm) * scale
    shapes = [(css, _boxes(parts, kind=kind, place=place)) for kind, css in _KINDS]
    lines = [
        ("tray-cut", _cut_path(cutting, place)),
        ("tray-edge", place.box(Decimal(0), Decimal(0), tray.length_mm, tray.width_mm)),
    ]
    marks = _marks_above(cutting, place=place, pen=pen)
    marks += _piece_mark(parts, piece_g=piece_g, place=place, pen=pen)
    below = _ABOVE + tall + _LINE
    marks.append(Mark(1, px(below), _sides(cutting, pen), "start", "soft"))
    top = below + _BELOW
    side_shapes, side_lines, side_marks, bottom = _side(
        cutting, depths=depths, scale=scale, top=top, pen=pen
    )
    return TrayDrawing(
        width=width,
        height=int(bottom + 6),
        shapes=(*((css, path) for css, path in shapes if path), *side_shapes),
        lines=(*((css, path) for css, path in lines if path), *side_lines),
        marks=(*marks, *side_marks),
    )


@dataclass(frozen=True)
class _Place:
    """Millimetres of the tray on the paper."""

    scale: float
    left: float
    top: float

    def x(self, mm: Decimal) -> float:
        return px(self.left + float(mm) * self.scale)

    def y(self, mm: Decimal) -> float:
        return px(self.top + float(mm) * self.scale)

    def box(self, x_mm: Decimal, y_mm: Decimal, length_mm: Decimal, width_mm: Decimal) -> str:
        """A rectangle as a path, so that hundreds of them are one shape."""
        right, foot = self.x(x_mm + length_mm), self.y(y_mm + width_mm)
        return f"M{self.x(x_mm)} {self.y(y_mm)}H{right}V{foot}H{self.x(x_mm)}Z"


def _boxes(parts: Iterable[Rectangle], *, kind: str, place: _Place) -> str:
    return "".join(
        place.box(one.x_mm, one.y_mm, one.length_mm, one.width_mm)
        for one in parts
        if one.kind == kind
    )


def _cut_path(cutting: Cutting, place: _Place) -> str:
    return "".join(
        f"M{place.x(cut.x1_mm)} {place.y(cut.y1_mm)}L{place.x(cut.x2_mm)} {place.y(cut.y2_mm)}"
        for cut in cuts(cutting)
    )


def _marks_above(cutting: Cutting, *, place: _Place, pen: Pen) -> list[Mark]:
    """What is cut away, by name, above the edge it lies at."""
    marks = []
    right = place.x(cutting.tray.length_mm)
    if cutting.tray.trim_mm > 0:
        marks.append(Mark(1, _ABOVE - 9, f"trim {_mm(cutting.tray.trim_mm, pen)} all round"))
    strips = [one for one in rectangles(cutting) if one.kind == OFFCUT]
    if strips:
        sizes = " and ".join(_mm(min(one.length_mm, one.width_mm), pen) for one in strips[:2])
        marks.append(Mark(right, _ABOVE - 9, f"offcut {sizes}", "end"))
    return marks


def _piece_mark(
    parts: Sequence[Rectangle], *, piece_g: Decimal, place: _Place, pen: Pen
) -> list[Mark]:
    """The weight in the first piece, where there is room for it."""
    first = next((one for one in parts if one.kind == PIECE), None)
    text = _g(piece_g, pen)
    if first is None or float(first.length_mm) * place.scale < len(text) * CHARACTER + 6:
        return []
    if float(first.width_mm) * place.scale < 22:
        return []
    middle = first.x_mm + first.length_mm / 2, first.y_mm + first.width_mm / 2
    return [Mark(place.x(middle[0]), px(place.y(middle[1]) + 5), text, "middle", "on-dark")]


def _sides(cutting: Cutting, pen: Pen) -> str:
    tray, piece = cutting.tray, cutting.piece
    return (
        f"{pen.number(tray.length_mm)} × {_mm(tray.width_mm, pen)} inside; "
        f"pieces {pen.number(piece.length_mm)} × {_mm(piece.width_mm, pen)}"
    )


# --- From the side --------------------------------------------------------------------------------

_Shapes = tuple[tuple[str, str], ...]


def _side(
    cutting: Cutting, *, depths: Depths, scale: float, top: float, pen: Pen
) -> tuple[_Shapes, _Shapes, list[Mark], float]:
    """The same mould cut through: walls, the set slab, a dashed line where it is poured to."""
    highest_mm = max(depths.rim_mm, depths.hot_mm or Decimal(0), depths.cold_mm)
    floor = top + float(highest_mm) * scale

    def height(mm: Decimal) -> float:
        return px(floor - float(mm) * scale)

    right = px(1 + float(cutting.tray.length_mm) * scale)
    slab = f"M1 {px(floor)}V{height(depths.cold_mm)}H{right}V{px(floor)}Z"
    walls = f"M1 {height(depths.rim_mm)}V{px(floor)}H{right}V{height(depths.rim_mm)}"
    lines = [("tray-edge", walls)]
    said = f"From the side: set {_mm(depths.cold_mm, pen)}, rim {_mm(depths.rim_mm, pen)}"
    marks = [Mark(1, px(floor + _LINE), said, "start", "soft")]
    if depths.hot_mm is not None:
        line = height(depths.hot_mm)
        lines.append(("tray-hot", f"M1 {line}H{right}"))
        poured = f"poured hot to {_mm(depths.hot_mm, pen)} (dashed)"
        marks.append(Mark(1, px(floor + 2 * _LINE), poured, "start", "soft"))
    return (("tray-slab", slab),), tuple(lines), marks, floor + len(marks) * _LINE


def _mm(value: Decimal, pen: Pen) -> str:
    return f"{pen.number(round(value, 1))}{NBSP}mm"


def _g(value: Decimal, pen: Pen) -> str:
    # To the tenth: a piece of 99.6 g is no 100 g.
    return f"{pen.number(round(value, 1))}{NBSP}g"
