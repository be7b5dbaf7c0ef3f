"""How much room a label asks for: the paper that would hold it, and the type that would fit."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, Decimal

from labels.facts import LabelBox, LabelFace
from labels.rendering.arrangement import arrange
from labels.rendering.layout import FittedLabel, tightest
from labels.stock import LabelSheet

__all__ = ["Room", "has_room", "room_needed"]

_STEP_MM = Decimal("0.5")
_LARGEST_MM = Decimal(400)
_TYPE_STEP_MM = Decimal("0.01")
_LOWEST_X_MM = Decimal("0.3")
_ABOVE_FLOOR_MM = Decimal("0.05")  # type is set that much above the least a statement may have


@dataclass(frozen=True)
class Room:
    """What would hold a label that has no room on its paper.

    kinds: of the statements that were left out. height_mm: at the paper's width; width_mm: at its
    height; None where that does not help. x_height_mm: the type that would fit on the paper;
    None where even type that nobody can read would not. sheets: those that hold it, the smallest
    labels first. least_mm: the least x-height that the statements may have.
    """

    kinds: tuple[str, ...]
    height_mm: Decimal | None
    width_mm: Decimal | None
    x_height_mm: Decimal | None
    least_mm: Decimal
    sheets: tuple[LabelSheet, ...]


def has_room(face: LabelFace, *, box: LabelBox) -> bool:
    """Whether everything on a face fits on a paper by reckoning, set as close as is lawful."""
    return arrange(face, box=box, setting=tightest(face)).seems_to_fit()


def room_needed(
    fitted: FittedLabel, *, papers: Sequence[tuple[LabelSheet, LabelBox]]
) -> Room | None:
    """What a label would need that does not fit; None if it does.

    papers: the sheets that could be used instead, each with its label as it lies on the pack.
    """
    if fitted.fits:
        return None
    face, box = fitted.face, fitted.box
    holding = [sheet for sheet, paper in papers if has_room(face, box=paper)]
    return Room(
        kinds=fitted.printed.does_not_fit,
        height_mm=_least(
            box.height_mm, lambda height: has_room(face, box=replace(box, height_mm=height))
        ),
        # A longer paper does not help on a jar: it only laps further.
        width_mm=None if box.seen_mm else _least(
            box.width_mm, lambda width: has_room(face, box=replace(box, width_mm=width))
        ),
        x_height_mm=_type_that_fits(face, box=box),
        least_mm=_least_x_mm(face),
        sheets=tuple(sorted(holding, key=lambda each: each.label_width_mm * each.label_height_mm)),
    )  # fmt: skip


def _least(from_mm: Decimal, holds: Callable[[Decimal], bool]) -> Decimal | None:
    """The least length above another that holds it, in half millimetres; None if none does."""
    low, high = int(from_mm / _STEP_MM), int(_LARGEST_MM / _STEP_MM)
    if high <= low or not holds(high * _STEP_MM):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        if holds(middle * _STEP_MM):
            high = middle
        else:
            low = middle
    return high * _STEP_MM


def _least_x_mm(face: LabelFace) -> Decimal:
    return min((each.minimum_x_height_mm for each in face.particulars), default=Decimal(0))


def _type_that_fits(face: LabelFace, *, box: LabelBox) -> Decimal | None:
    """The largest x-height under the lawful one that has room; nobody may print it [mm]."""

    def holds(x_height_mm: Decimal) -> bool:
        lower = tuple(
            replace(each, minimum_x_height_mm=x_height_mm - _ABOVE_FLOOR_MM)
            for each in face.particulars
        )
        return has_room(replace(face, particulars=lower), box=box)

    low = int(_LOWEST_X_MM / _TYPE_STEP_MM)
    high = int((_least_x_mm(face) / _TYPE_STEP_MM).to_integral_value(ROUND_FLOOR))
    if not holds(low * _TYPE_STEP_MM):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        if holds(middle * _TYPE_STEP_MM):
            low = middle
        else:
            high = middle
    return low * _TYPE_STEP_MM
