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
from labels.rendering.fonts import NARROW, Face, figure_ratio, missing_glyphs, x_ratio
from labels.rendering.markup import leaf_contexts, title_of
from labels.rendering.typesetting import Block, Part

__all__ = [
    "LAYOUTS",
    "TICKET",
    "FittedLabel",
    "as_printed",
    "fit_label",
    "measured_to_fit",
    "tightest",
]

LAYOUTS = ("quiet", "two-panel", "long", "columns", "wrap", "pair")
"""What a maker can choose from for a label; a card for the shelf has a layout of its own."""

TICKET = "ticket"

_PX_PER_MM = 96 / 25.4
_ROUNDING_MM = 0.01
_COMFORTABLE_MM = 1.9
_EASILY_READ_MM = 1.25
_STEPS = 14
_MOST_TRIES = 4
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


def _floor_mm(face: LabelFace) -> float:
    """The smallest x that a statement of the label may have, and a little more [mm]."""
    return min((float(e.minimum_x_height_mm) for e in face.particulars), default=1.2) + 0.05


def _settings(face: LabelFace, box: LabelBox) -> list[Setting]:
    """Ways to set a label in the regular cut, the one a reader likes best first.

    The small print comes before the size of the name: a name may shrink a little for each step
    that the small print gains, and a good deal before any letter falls under 1.2 mm.
    """
    floor = _floor_mm(face)
    side = math.sqrt(float(box.width_mm * box.height_mm))
    comfort = max(floor, min(_COMFORTABLE_MM, 0.03 * side))
    ways = []
    for step in range(_STEPS + 1):
        x_height = round(comfort - (comfort - floor) * step / _STEPS, 3)
        small = 0.5 if x_height < _EASILY_READ_MM - 1e-9 else 0.0
        for smaller, loss in ((1.0, 0.0), (0.88, 0.1), (0.76, 0.28), (0.64, 0.5)):
            for tighter, cost in ((0.0, 0.0), (0.06, 0.06)):
                share = step / _STEPS
                setting = Setting(
                    x_height,
                    (1 - 0.22 * share) * smaller,
                    max(1.28 - 0.08 * share - tighter, 1.16),
                )
                ways.append((share + loss + cost + small, setting))
    return [setting for _, setting in sorted(ways, key=lambda way: way[0])]


def _tight(face: LabelFace) -> tuple[list[Setting], list[Setting]]:
    """Closer ways, for little room: those that keep to 1.2 mm, and those that need not."""
    floor = _floor_mm(face)

    def closer(x_height: float) -> list[Setting]:
        return [
            *(Setting(x_height, scale, 1.16) for scale in (0.58, 0.52)),
            Setting(x_height, 0.5, 1.14),
            Setting(x_height, 0.65, 1.2, NARROW),
            Setting(x_height, 0.55, 1.16, NARROW),
            Setting(x_height, 0.5, 1.14, NARROW),
            Setting(x_height, 0.5, 1.12, NARROW),
            Setting(x_height, 0.4, 1.1, NARROW),
        ]

    easily = max(floor, _EASILY_READ_MM)
    return closer(easily), closer(floor) if floor < easily else []


def tightest(face: LabelFace) -> Setting:
    """As close as is lawful."""
    return Setting(_floor_mm(face), 0.4, 1.1, NARROW, is_run_in=True, has_tables=False)


def measured_to_fit(
    page: Any, arrangement: Arrangement, *, box: LabelBox, number: int = 0, leaf: int = 0
) -> bool:
    """Whether in the laid-out page no flow runs into its foot or past the inset."""
    top, bottom = float(box.inset_mm), float(box.height_mm - box.inset_mm)
    for place, column in enumerate(arrangement.columns):
        if column.leaf != leaf:
            continue
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
    contexts = leaf_contexts(arrangement, face=face, box=box)
    html = page_of(contexts, title=title_of(face), language=face.language)
    with type_setter() as setter:
        document = setter.lay_out(html, width_mm=float(box.width_mm))
        pages = document.pages[: len(contexts)]
        for leaf, page in enumerate(pages):
            if not measured_to_fit(page, arrangement, box=box, leaf=leaf):
                return None
            page.height = float(box.height_mm) * _PX_PER_MM
        pdf = document.copy(pages).write_pdf()
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
            _printed_block(block, part, panel=arrangement.panel_of(part.kind, column))
            for column in arrangement.columns
            for block in column.blocks
            for part in block.parts
            if part.kind not in _VOLUNTARY
        ),
        does_not_fit=tuple(dict.fromkeys(dropped)),
        missing_glyphs="".join(dict.fromkeys("".join(map(missing_glyphs, words)))),
    )


def fit_label(face: LabelFace, *, box: LabelBox) -> FittedLabel:
    """Set a label in the largest comfortable type that its paper has room for.

    Never under the height a statement asks for. The regular cut is tried first, then the narrow
    one; if there is still no room, the statements that do not fit are named and left out, and
    the rest is drawn.
    """
    if face.layout not in (*LAYOUTS, TICKET):
        raise ValueError(f"There is no layout {face.layout!r}; choose {', '.join(LAYOUTS)}.")
    for arrangement in _promising(face, box):
        if drawn := _draw(arrangement, face=face, box=box):
            return _fitted(arrangement, drawn, wanted=face, box=box)
    if face.codes:  # where room is short, words come first
        plain = fit_label(replace(face, codes=()), box=box)
        dropped = (*plain.printed.does_not_fit, "code")
        return replace(plain, printed=replace(plain.printed, does_not_fit=dropped))
    return _fit_what_has_room(face, box=box)


def _promising(face: LabelFace, box: LabelBox) -> Iterator[Arrangement]:
    """The settings that fit by reckoning, the best first: with tables if there is any room."""
    if any(each.table for each in face.particulars):
        yield from _ways(face, box, has_tables=True)
    yield from _ways(face, box, has_tables=False)
    closest = arrange(face, box=box, setting=tightest(face))
    if closest.seems_to_fit(spare_mm=0.04 * closest.height_mm):  # even without its last gap
        yield closest


def _ways(face: LabelFace, box: LabelBox, *, has_tables: bool) -> Iterator[Arrangement]:
    comfortable = _settings(face, box)
    easy, small = _tight(face)
    ladder = [replace(each, has_tables=has_tables) for each in (
        *(each for each in comfortable if each.x_height_mm >= _EASILY_READ_MM - 1e-9),
        *easy,
        *(each for each in comfortable if each.x_height_mm < _EASILY_READ_MM - 1e-9),
        *small,
    )]  # fmt: skip
    tries = 0
    too_large = _too_large_mm(face, box, ladder)
    for setting in ladder:
        if setting.family != NARROW and setting.x_height_mm >= too_large:
            continue
        arrangement = arrange(face, box=box, setting=setting)
        if arrangement.seems_to_fit():
            yield arrangement
            if (tries := tries + 1) == _MOST_TRIES:
                break


def _too_large_mm(face: LabelFace, box: LabelBox, ladder: list[Setting]) -> float:
    """The smallest x for which the closest of the regular settings has no room [mm]."""
    regular = [each for each in ladder if each.family != NARROW]
    heights = sorted({each.x_height_mm for each in regular})
    closest = {each.x_height_mm: each for each in sorted(regular, key=_generosity, reverse=True)}
    low, high = 0, len(heights)
    while low < high:
        middle = (low + high) // 2
        if arrange(face, box=box, setting=closest[heights[middle]]).seems_to_fit():
            low = middle + 1
        else:
            high = middle
    return heights[low] if low < len(heights) else math.inf


def _generosity(setting: Setting) -> float:
    return setting.name_scale + setting.leading


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
    setting = tightest(wanted)
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
