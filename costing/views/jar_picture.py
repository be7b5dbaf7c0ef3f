"""A straight-sided jar with its fill line, to scale in height and width."""

import math
from dataclasses import dataclass
from decimal import Decimal

from costing.views.charts import Mark, px
from costing.views.recipe_words import NBSP, Pen

USUAL_TALLER = 1.25
"""A jar whose height is not known is drawn by a quarter taller than wide (common practice)."""

WIDTH, TALL = 340, 220.0
_TOP, _LEFT = 26.0, 2.0


@dataclass(frozen=True)
class JarPicture:
    """Everything that charts/jar.html needs; one width does, because it is narrow."""

    title: str
    description: str
    width: int
    height: int
    shapes: tuple[tuple[str, str], ...]
    marks: tuple[Mark, ...]


def jar_picture(
    *,
    brimful_ml: Decimal,
    full_pct: Decimal,
    hot_pct: Decimal | None,
    height_mm: Decimal | None,
    pen: Pen,
) -> JarPicture:
    """The jar, what stands in it cold, and the line it is poured to hot where that is known."""
    tall, wide = _size(brimful_ml, height_mm)
    foot, right = _TOP + tall, px(_LEFT + wide)
    cold = px(foot - tall * float(full_pct) / 100)
    shapes = [
        ("jar-food", f"M{_LEFT} {px(foot)}V{cold}H{right}V{px(foot)}Z"),
        ("tray-edge", f"M{_LEFT} {_TOP}V{px(foot)}H{right}V{_TOP}"),
        ("jar-line", f"M{_LEFT} {cold}H{px(right + 8)}"),
    ]
    beside, words = px(right + 14), max(cold + 5, _TOP + 24)
    full = f"{pen.number(round(full_pct, 1))}{NBSP}%"
    marks = [
        Mark(_LEFT, _TOP - 9, f"brim, {pen.number(brimful_ml)}{NBSP}ml"),
        Mark(beside, px(words), f"filled to {full}", "start", "strong"),
    ]
    if hot_pct is not None and hot_pct <= 100:
        hot = px(foot - tall * float(hot_pct) / 100)
        shapes.append(("tray-hot", f"M{_LEFT} {hot}H{right}"))
        said = f"hot {pen.number(round(hot_pct, 1))}{NBSP}% (dashed)"
        marks.append(Mark(beside, px(min(hot + 2, words - 18)), said))
    below = None if height_mm is None else height_mm * (100 - full_pct) / 100
    if below is not None:
        told = f"{pen.number(round(below, 1))}{NBSP}mm under the brim"
        marks.append(Mark(beside, px(words + 19), told, "start", "soft"))
    told = _told(full, below=below, hot_pct=hot_pct, brimful_ml=brimful_ml, pen=pen)
    title = "The jar and its fill line, to scale"
    return JarPicture(title, told, WIDTH, int(foot + 6), tuple(shapes), tuple(marks))


def _size(brimful_ml: Decimal, height_mm: Decimal | None) -> tuple[float, float]:
    """Height and width of the glass on the paper [px], never wider than half of it."""
    taller = USUAL_TALLER
    if height_mm is not None:
        taller = float(height_mm) / _diameter_mm(float(brimful_ml), float(height_mm))
    tall = min(TALL, WIDTH / 2 * taller)
    return tall, tall / taller


def _diameter_mm(brimful_ml: float, height_mm: float) -> float:
    """Across a cylinder of so many millilitres: V = pi d2 h / 4, a millilitre is 1000 mm3."""
    return math.sqrt(4000 * brimful_ml / (math.pi * height_mm))


def _told(
    full: str, *, below: Decimal | None, hot_pct: Decimal | None, brimful_ml: Decimal, pen: Pen
) -> str:
    said = f"A straight-sided jar of {pen.number(brimful_ml)} ml to the brim, filled to {full}"
    if below is not None:
        said += f", {pen.number(round(below, 1))} mm under the brim"
    if hot_pct is not None:
        said += f"; hot it stands at {pen.number(round(hot_pct, 1))} %"
    return f"{said}."
