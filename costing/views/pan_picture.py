"""The picture of a pan: one bar from left to right, thinning as the water leaves it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.book import MassBalance
from costing.views.charts import NARROW, Mark, share
from costing.views.recipe_words import Pen

MIDDLE = 480
"""It stands beside something, so wide is half a page [px]."""

_THINNEST = 2.0
"""What is there at all is drawn at least this thick [px]."""


@dataclass(frozen=True)
class PanDrawing:
    """The shapes and words of one width. Each shape: CSS class, path, what it is."""

    width: int
    height: int
    shapes: tuple[tuple[str, str, str], ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class PanPicture:
    """Everything that charts/pan.html needs, with the table of the same numbers."""

    key: str
    title: str
    description: str
    drawings: tuple[tuple[str, PanDrawing], ...]
    rows: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class _Layer:
    name: str
    grams: Decimal
    css: str


def pan_picture(balance: MassBalance, *, pen: Pen, key: str = "pan") -> PanPicture | None:
    """Where the mass goes: in the pan, evaporated, sieved out, on the pan, lost, finished."""
    if balance.ingoing_g <= 0:
        return None
    layers = [
        _Layer("Evaporated", balance.evaporated_g, "part-water"),
        _Layer("Kept back by the sieve", balance.sieved_out_g, "part-5"),
        _Layer("Finished", balance.finished_g, "part-1"),
        _Layer("Lost in handling", balance.handling_loss_g, "part-4"),
        _Layer("Left on the pan", balance.pan_residue_g, "part-3"),
    ]
    layers = [layer for layer in layers if layer.grams > 0 or layer.name == "Finished"]
    rows = [("Goes into the pan", pen.kilos(balance.ingoing_g), "100 %")]
    rows += [
        (one.name, pen.kilos(one.grams), share(one.grams, of=balance.ingoing_g)) for one in layers
    ]
    told = "; ".join(f"{name} {mass} ({pct})" for name, mass, pct in rows)
    return PanPicture(
        key=key,
        title="Where the mass goes",
        description=f"{told}.",
        drawings=(
            ("wide", _drawing(layers, balance, pen=pen, width=MIDDLE, tall=130)),
            ("narrow", _drawing(layers, balance, pen=pen, width=NARROW, tall=120)),
        ),
        rows=tuple(rows),
    )


def _drawing(
    layers: Sequence[_Layer], balance: MassBalance, *, pen: Pen, width: int, tall: int
) -> PanDrawing:
    top = 26.0
    heights = _heights([layer.grams for layer in layers], tall=tall)
    before, after = width * 0.36, width * 0.66
    is_above = True
    shapes = []
    y = top
    for layer, high in zip(layers, heights, strict=True):
        if layer.name == "Finished":
            is_above = False
            path = _band(top, top + tall, y, y + high, before=before, after=after, width=width)
        else:
            edge = top if is_above else top + tall
            path = _leaving(edge, y, y + high, before=before, after=after, width=width)
        tip = f"{layer.name}: {pen.kilos(layer.grams)}"
        shapes.append((layer.css, path, tip))
        y += high
    bottom = top + tall
    leaves = _leaves(balance, pen=pen)
    marks = [
        Mark(width, top - 9, leaves, "end"),
        Mark(0, bottom + 22, f"{pen.kilos(balance.ingoing_g)} goes in", "start", "strong"),
        Mark(width, bottom + 22, f"{pen.kilos(balance.finished_g)} finished", "end", "strong"),
    ]
    if lost := _lost(balance, pen=pen):
        marks.append(Mark(width, bottom + 41, lost, "end", "soft"))
    return PanDrawing(width, int(bottom + (48 if lost else 30)), tuple(shapes), tuple(marks))


def _heights(grams: Sequence[Decimal], *, tall: int) -> list[float]:
    """Heights in proportion, the smallest still to be seen, together the whole bar."""
    total = float(sum(grams, Decimal(0)))
    raw = [tall * float(one) / total if total else 0.0 for one in grams]
    lifted = [max(high, _THINNEST) if high > 0 else 0.0 for high in raw]
    over = sum(lifted) - tall
    thickest = lifted.index(max(lifted))
    lifted[thickest] -= over
    return lifted


def _band(
    top: float,
    bottom: float,
    upper: float,
    lower: float,
    *,
    before: float,
    after: float,
    width: int,
) -> str:
    """What stays: the whole height at the left, thinning to its share at the right."""
    middle = (before + after) / 2
    return (
        f"M0 {top:.1f}H{before:.1f}C{middle:.1f} {top:.1f} {middle:.1f} {upper:.1f} "
        f"{after:.1f} {upper:.1f}H{width}V{lower:.1f}H{after:.1f}C{middle:.1f} {lower:.1f} "
        f"{middle:.1f} {bottom:.1f} {before:.1f} {bottom:.1f}H0Z"
    )


def _leaving(
    edge: float, upper: float, lower: float, *, before: float, after: float, width: int
) -> str:
    """What goes: nothing at the left, its share at the right."""
    middle = (before + after) / 2
    return (
        f"M{before:.1f} {edge:.1f}C{middle:.1f} {edge:.1f} {middle:.1f} {upper:.1f} "
        f"{after:.1f} {upper:.1f}H{width}V{lower:.1f}H{after:.1f}C{middle:.1f} {lower:.1f} "
        f"{middle:.1f} {edge:.1f} {before:.1f} {edge:.1f}Z"
    )


def _leaves(balance: MassBalance, *, pen: Pen) -> str:
    parts = []
    if balance.evaporated_g > 0:
        gone = share(balance.evaporated_g, of=balance.ingoing_g)
        parts.append(f"{pen.kilos(balance.evaporated_g)} boils off, {gone}")
    if balance.sieved_out_g > 0:
        parts.append(f"{pen.kilos(balance.sieved_out_g)} sieved out")
    return "; ".join(parts) or "Nothing boils off"


def _lost(balance: MassBalance, *, pen: Pen) -> str:
    parts = []
    if balance.pan_residue_g > 0:
        parts.append(f"{pen.kilos(balance.pan_residue_g)} stays on the pan")
    if balance.handling_loss_g > 0:
        parts.append(f"{pen.kilos(balance.handling_loss_g)} lost after")
    return ", ".join(parts)
