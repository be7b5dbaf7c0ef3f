"""Which type fits a label: the largest comfortable one, measured on the drawing itself."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_DOWN, Decimal
from typing import Any

from labels.facts import LabelBox, LabelFace, PrintedBlock, PrintedText
from labels.rendering.arrangement import Arrangement, arrange
from labels.rendering.blocks import Setting
from labels.rendering.engine import page_of, type_setter
from labels.rendering.fonts import NARROW, SANS, Face, figure_ratio, missing_glyphs, x_ratio
from labels.rendering.markup import label_context, title_of
from labels.rendering.typesetting import Block, Part

__all__ = ["LAYOUTS", "FittedLabel", "as_printed", "fit_label", "measured_to_fit"]

LAYOUTS = ("quiet", "two-panel", "long")

_PX_PER_MM = 96 / 25.4
_ROUNDING_MM = 0.01
_COMFORTABLE_MM = 1.7
_MOST_TRIES = 5
_VOLUNTARY = ("brand", "tagline", "note")


@dataclass(frozen=True)
class FittedLabel:
    """A label as it was set: the drawing, what law needs to know of it, and how it was done.

    pdf: the plain drawing, one page of the label's size, ready to be put on sheets.
    """

    face: LabelFace
    box: LabelBox
    arrangement: Arrangement
    html: str
    pdf: bytes
    printed: PrintedText

    @property
    def fits(self) -> bool:
        """Whether every statement found room at its legal size."""
        return not self.printed.does_not_fit

    @property
    def is_condensed(self) -> bool:
        """Whether the narrow cut of the type was needed."""
        return self.arrangement.setting.family == NARROW

    @property
    def sizes_mm(self) -> tuple[float, ...]:
        """Every type size on the label, the smallest first."""
        blocks = (block for column in self.arrangement.columns for block in column.blocks)
        return tuple(sorted({block.size_mm for block in blocks if block.parts}))


def _ladder(face: LabelFace, box: LabelBox) -> list[Setting]:
    """Ways to set a label, the most generous first; the last is the tightest that is lawful."""
    minima = [float(each.minimum_x_height_mm) for each in face.particulars] or [1.2]
    floor = min(minima) + 0.05
    side = math.sqrt(float(box.width_mm * box.height_mm))
    comfort = max(floor, min(_COMFORTABLE_MM, 0.03 * side))
    steps = [step / 11 for step in range(12)]
    settings = [
        Setting(round(comfort - t * (comfort - floor), 3), 1 - 0.25 * t, 1.28 - 0.1 * t, SANS)
        for t in steps
    ]
    settings += [Setting(floor, scale, 1.16, SANS) for scale in (0.7, 0.64, 0.58, 0.52)]
    settings.append(Setting(floor, 0.5, 1.14, SANS))
    settings += [
        Setting(round(comfort - t * (comfort - floor), 3), 0.65 - 0.15 * t, 1.2 - 0.05 * t, NARROW)
        for t in (0.5, 0.75, 1.0)
    ]
    return [*settings, Setting(floor, 0.4, 1.1, NARROW, is_run_in=True)]


def measured_to_fit(page: Any, arrangement: Arrangement, *, box: LabelBox, number: int = 0) -> bool:
    """Whether in the laid-out page no flow runs into its foot or past the inset."""
    top, bottom = float(box.inset_mm), float(box.height_mm - box.inset_mm)
    for place in range(len(arrangement.columns)):
        heights = {
            what: page.anchors[f"l{number}c{place}-{what}"][1] / _PX_PER_MM
            for what in ("end", "foot", "over", "quantity")
            if f"l{number}c{place}-{what}" in page.anchors
        }
        lowest_free = min(heights.get("foot", bottom), heights.get("quantity", bottom))
        if (
            heights["end"] > lowest_free + _ROUNDING_MM
            or heights.get("over", top) > heights.get("quantity", bottom) + _ROUNDING_MM
            or lowest_free < top - _ROUNDING_MM
        ):
            return False
    return True


@dataclass(frozen=True)
class _Drawn:
    html: str
    pdf: bytes


def _draw(arrangement: Arrangement, *, face: LabelFace, box: LabelBox) -> _Drawn | None:
    """Set the label on a page far taller than it, measure, and cut the page to size if it fits."""
    context = label_context(arrangement, face=face, box=box)
    html = page_of([context], title=title_of(face), language=face.language)
    with type_setter() as setter:
        document = setter.lay_out(html, width_mm=float(box.width_mm))
        page = document.pages[0]
        if not measured_to_fit(page, arrangement, box=box):
            return None
        page.height = float(box.height_mm) * _PX_PER_MM
        pdf = document.copy([page]).write_pdf()
    return _Drawn(html, pdf)


def _millimetres(length: float) -> Decimal:
    return Decimal(length).quantize(Decimal("0.001"), rounding=ROUND_DOWN)


def _printed_block(block: Block, part: Part, *, panel: str) -> PrintedBlock:
    cuts = [Face(block.family, span.weight, span.is_italic) for span in part.spans] or [
        Face(block.family)
    ]
    return PrintedBlock(
        kind=part.kind,
        text=part.text.replace("\u00a0", " "),
        x_height_mm=_millimetres(block.size_mm * min(x_ratio(cut) for cut in cuts)),
        figure_height_mm=_millimetres(block.size_mm * min(figure_ratio(cut) for cut in cuts)),
        panel=panel,
        emphasised=part.emphasised,
    )


def as_printed(
    arrangement: Arrangement, *, wanted: LabelFace, dropped: tuple[str, ...] = ()
) -> PrintedText:
    """What law needs to know of a label that was set."""
    words = [each.text for each in wanted.particulars]
    words += [wanted.brand_name, wanted.tagline, *wanted.notes]
    return PrintedText(
        blocks=tuple(
            _printed_block(block, part, panel=column.panel)
            for column in arrangement.columns
            for block in column.blocks
            for part in block.parts
            if part.kind not in _VOLUNTARY
        ),
        does_not_fit=tuple(dict.fromkeys(dropped)),
        missing_glyphs=missing_glyphs("".join(words)),
    )


def fit_label(face: LabelFace, *, box: LabelBox) -> FittedLabel:
    """Set a label in the largest comfortable type that its paper has room for.

    Never under the height a statement asks for. The regular cut is tried first, then the narrow
    one; if there is still no room, the statements that do not fit are named and left out, and
    the rest is drawn.
    """
    if face.layout not in LAYOUTS:
        raise ValueError(f"There is no layout {face.layout!r}; choose {', '.join(LAYOUTS)}.")
    for arrangement in _promising(face, box):
        if drawn := _draw(arrangement, face=face, box=box):
            return _fitted(arrangement, drawn, wanted=face, box=box)
    return _fit_what_has_room(face, box=box)


def _promising(face: LabelFace, box: LabelBox) -> Iterator[Arrangement]:
    """The settings that reckoning thinks will fit, the most generous first."""
    ladder, tries = _ladder(face, box), 0
    for setting in ladder[:-1]:
        arrangement = arrange(face, box=box, setting=setting)
        if arrangement.seems_to_fit() and tries < _MOST_TRIES:
            tries += 1
            yield arrangement
    tightest = arrange(face, box=box, setting=ladder[-1])
    if tightest.seems_to_fit(spare_mm=0.04 * tightest.height_mm):
        yield tightest


def _fitted(
    arrangement: Arrangement, drawn: _Drawn, *, wanted: LabelFace, box: LabelBox,
    dropped: tuple[str, ...] = (),
) -> FittedLabel:  # fmt: skip
    return FittedLabel(
        face=wanted,
        box=box,
        arrangement=arrangement,
        html=drawn.html,
        pdf=drawn.pdf,
        printed=as_printed(arrangement, wanted=wanted, dropped=dropped),
    )


def _fit_what_has_room(wanted: LabelFace, *, box: LabelBox) -> FittedLabel:
    """Leave out the statements that take the most room until the rest fits; name each."""
    setting = _ladder(wanted, box)[-1]
    face, dropped = wanted, tuple[str, ...]()
    while True:
        arrangement = arrange(face, box=box, setting=setting)
        if arrangement.seems_to_fit() and (drawn := _draw(arrangement, face=face, box=box)):
            return _fitted(arrangement, drawn, wanted=wanted, box=box, dropped=dropped)
        if not any(column.blocks for column in arrangement.columns):
            raise ValueError(f"Nothing can be printed on {box.width_mm} x {box.height_mm} mm.")
        kind, face = _without_the_bulkiest(face, arrangement, box=box)
        dropped = (*dropped, kind)


def _without_the_bulkiest(
    face: LabelFace, arrangement: Arrangement, *, box: LabelBox
) -> tuple[str, LabelFace]:
    """The face less one text: one of the maker's own if that is enough, else the bulkiest."""
    shorter = list(_each_left_out(face))
    enough = [
        (kind, left, length)
        for kind, left, length in shorter
        if arrange(left, box=box, setting=arrangement.setting).seems_to_fit()
    ]
    own = [each for each in enough if each[0] in _VOLUNTARY]
    statements = [each for each in enough if each[0] not in {"name", "net_quantity"}]
    kind, left, _ = max(own or statements or enough or shorter, key=lambda each: each[2])
    return kind, left


def _each_left_out(face: LabelFace) -> Iterator[tuple[str, LabelFace, int]]:
    """For every text on a face: its kind, the face without it, and its length."""
    for place, each in enumerate(face.particulars):
        rest = face.particulars[:place] + face.particulars[place + 1 :]
        yield each.kind, replace(face, particulars=rest), len(each.text)
    if face.brand_name:
        yield "brand", replace(face, brand_name=""), len(face.brand_name)
    if face.tagline:
        yield "tagline", replace(face, tagline=""), len(face.tagline)
    if face.notes:
        yield "note", replace(face, notes=()), sum(map(len, face.notes))
