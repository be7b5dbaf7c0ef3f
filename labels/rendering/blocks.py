"""The statements of a label as blocks of type: which size, which cut, how far apart."""

import itertools
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from labels.facts import Particular
from labels.rendering.fonts import (
    SANS,
    Face,
    drawable,
    figure_ratio,
    glyph_height_ratio,
    x_ratio,
)
from labels.rendering.typesetting import Block, Part, Span, on_grid

__all__ = [
    "Setting",
    "fact_blocks",
    "foot_blocks",
    "name_block",
    "price_block",
    "price_mark",
    "quantity_block",
    "rule_block",
    "size_for_x_height",
    "voluntary_block",
]

_SAFETY_MM = 0.05  # designed above the legal floor, so that no rounding falls under it
_GRID_MM = 0.05
_CLOSE = 1.13  # lines that stand closer than that leave no space between statements either
_SIGN_MM = 3.05  # lower than 3 mm the estimated sign is no longer recognised


@dataclass(frozen=True)
class Setting:
    """One try at a label: how high the x of the small print is, how open the lines stand.

    name_scale: 1 for the largest name the layout allows, less where room is short.
    leading: line distance of the small print, as a multiple of its size.
    is_run_in: the facts follow each other in one paragraph, to save the ends of lines.
    has_tables: what can stand as a table does.
    """

    x_height_mm: float
    name_scale: float = 1
    leading: float = 1.25
    family: str = SANS
    is_run_in: bool = False
    has_tables: bool = True

    @property
    def size_mm(self) -> float:
        return size_for_x_height(self.x_height_mm, family=self.family)

    @property
    def pitch_mm(self) -> float:
        """Distance of the baselines of the small print: the grid everything stands on."""
        return on_grid(self.size_mm * self.leading, step_mm=_GRID_MM)


@lru_cache(maxsize=1024)
def size_for_x_height(x_height_mm: float, *, family: str) -> float:
    """Type size whose lowest x, of any cut we use, has that height [mm], rounded up."""
    ratio = min(x_ratio(Face(family, weight)) for weight in (400, 500, 600, 700))
    return on_grid(x_height_mm / ratio, step_mm=0.001)


def _spans(particular: Particular) -> tuple[Span, ...]:
    heading = (
        (Span(f"{drawable(particular.heading)} ", is_heading=True),) if particular.heading else ()
    )
    return heading + tuple(
        Span(drawable(run.text), weight=700 if run.is_emphasised else 400)
        for run in particular.runs
    )


def _fact(particulars: Sequence[Particular], *, setting: Setting, before_mm: float = 0) -> Block:
    """One paragraph of small print; a statement that needs higher letters gets them."""
    needed = max(float(each.minimum_x_height_mm) + _SAFETY_MM for each in particulars)
    size = size_for_x_height(max(setting.x_height_mm, needed), family=setting.family)
    line = setting.pitch_mm
    if size > setting.size_mm:
        line = on_grid(size * setting.leading, step_mm=setting.pitch_mm / 2)
    return Block(
        role="fact",
        parts=tuple(Part(each.kind, _spans(each)) for each in particulars),
        size_mm=size,
        line_mm=line,
        before_mm=before_mm,
        family=setting.family,
        is_tabular=any(each.kind in {"date", "lot"} for each in particulars),
        has_whole_parts=len(particulars) > 1,
    )


def fact_blocks(particulars: Iterable[Particular], *, setting: Setting) -> tuple[Block, ...]:
    """Statements as paragraphs, or run in where room is short; a rule parts two languages."""
    blocks: tuple[Block, ...] = ()
    for _, told in itertools.groupby(particulars, key=lambda each: each.language):
        rule = (rule_block(setting),) if blocks else ()
        of_language = _in_one_language(list(told), setting=setting)
        if rule:
            of_language = (of_language[0].without_space(), *of_language[1:])
        blocks += (*rule, *of_language)
    return blocks


def _in_one_language(particulars: Sequence[Particular], *, setting: Setting) -> tuple[Block, ...]:
    space = setting.pitch_mm / 4 if setting.leading > _CLOSE else 0
    if setting.is_run_in:
        return (replace(_fact(particulars, setting=setting), has_whole_parts=False),)
    blocks: list[Block] = []
    for each in particulars:
        if each.table is not None and setting.has_tables:
            blocks += _table_blocks(each, setting=setting, before_mm=space)
        else:
            blocks.append(_fact([each], setting=setting, before_mm=space))
    return tuple(blocks)


def _table_blocks(particular: Particular, *, setting: Setting, before_mm: float) -> list[Block]:
    """A statement as its table, and below it what must stand there."""
    table = particular.table
    assert table is not None  # noqa: S101 - asked before
    like = _fact([particular], setting=setting, before_mm=before_mm)
    rows = tuple(tuple(drawable(cell) for cell in row) for row in (table.head, *table.rows))
    cells = [cell for row in rows for cell in row if cell]
    body = replace(
        like,
        role="table",
        parts=(Part(particular.kind, tuple(Span(f"{cell} ") for cell in cells)),),
        line_mm=max(like.line_mm, on_grid(like.size_mm * 1.13, step_mm=_GRID_MM)),
        is_tabular=True,
        rows=rows,
        indented=table.indented,
    )
    if not table.notes:
        return [body]
    notes = Part(particular.kind, (Span(drawable(" ".join(table.notes))),))
    return [body, replace(like, parts=(notes,), before_mm=0)]


def foot_blocks(particulars: Sequence[Particular], *, setting: Setting) -> tuple[Block, ...]:
    """Date and lot share a line where they can; then who answers for the food."""
    together = [each for each in particulars if each.kind in {"date", "lot"}]
    rest = [each for each in particulars if each.kind not in {"date", "lot"}]
    first = (_fact(together, setting=setting),) if together else ()
    return first + tuple(_fact([each], setting=setting) for each in rest)


def name_block(
    particular: Particular, *, width_mm: float, budget_mm: float, largest_mm: float,
    setting: Setting,
) -> Block:  # fmt: skip
    """The name of the food as large as its share of the label allows."""
    floor_x = max(float(particular.minimum_x_height_mm) + _SAFETY_MM, setting.x_height_mm)
    floor = max(size_for_x_height(floor_x, family=setting.family), setting.size_mm * 1.2)
    spans = tuple(replace(span, weight=max(span.weight, 600)) for span in _spans(particular))
    size = max(min(budget_mm * 0.95, largest_mm), floor)
    while True:
        block = Block(
            role="name",
            parts=(Part(particular.kind, spans),),
            size_mm=size,
            line_mm=on_grid(size * 1.05, step_mm=setting.pitch_mm / 4),
            family=setting.family,
        )
        is_whole = block.longest_word_mm() <= width_mm
        if size <= floor or (is_whole and block.height_mm(width_mm=width_mm) <= budget_mm * 1.02):
            return block
        size = max(size - 0.1, floor)


def quantity_block(particular: Particular, *, label_height_mm: float, setting: Setting) -> Block:
    """The net quantity: figures at the legal height and never timid."""
    face = Face(setting.family, 500)
    figures = max(
        float(particular.minimum_figure_height_mm or 0) + _SAFETY_MM,
        min(0.085 * label_height_mm * (0.5 + 0.5 * setting.name_scale), 5.2),
        setting.size_mm * figure_ratio(face),
    )
    size = figures / figure_ratio(face)
    if "℮" in particular.text:
        size = max(size, _SIGN_MM / glyph_height_ratio("℮", face=face))
    x_height = float(particular.minimum_x_height_mm) + _SAFETY_MM
    size = on_grid(max(size, x_height / x_ratio(face)), step_mm=0.001)
    text = drawable(particular.text).replace(" ", "\u00a0")
    spans = tuple(  # the figures speak up, the unit does not
        Span(piece, weight=500 if piece[0].isdecimal() else 400)
        for piece in re.findall(r"\d[\d.,\u00a0]*(?<!\u00a0)|\D+", text)
    )
    return Block(
        role="quantity",
        parts=(Part(particular.kind, spans),),
        size_mm=size,
        line_mm=setting.pitch_mm + 0.67 * (size - setting.size_mm),  # shares the last baseline
        family=setting.family,
    )


def price_block(
    particulars: Sequence[Particular], *, setting: Setting, larger: float = 1.3
) -> tuple[Block, ...]:
    """The price of a kilo and of the pack on one line where they can: larger than small print."""
    if not particulars:
        return ()
    size = on_grid(setting.size_mm * larger, step_mm=0.001)
    return (
        Block(
            role="price",
            parts=tuple(Part(each.kind, _price_spans(each)) for each in particulars),
            size_mm=size,
            line_mm=on_grid(size * 1.2, step_mm=setting.pitch_mm / 4),
            before_mm=setting.pitch_mm / 4,
            family=setting.family,
            is_tabular=True,
            has_whole_parts=len(particulars) > 1,
        ),
    )


def _price_spans(particular: Particular) -> tuple[Span, ...]:
    """What is paid speaks up; the price of a kilo does not."""
    weight = 600 if particular.kind == "price" else 400
    return tuple(replace(span, weight=weight) if not span.is_heading else span
                 for span in _spans(particular))  # fmt: skip


def price_mark(
    particular: Particular, *, largest_mm: float, width_mm: float, setting: Setting
) -> Block:
    """The price on a ticket: as large as its corner allows."""
    size = max(largest_mm * setting.name_scale, setting.size_mm * 1.3)
    text = drawable(particular.text).replace(" ", "\u00a0")
    while True:
        size = on_grid(size, step_mm=0.001)
        block = Block(
            role="quantity",
            parts=(Part(particular.kind, (Span(text, weight=600),)),),
            size_mm=size,
            line_mm=setting.pitch_mm + 0.67 * (size - setting.size_mm),
            family=setting.family,
        )
        if block.longest_word_mm() <= width_mm or size <= setting.size_mm * 1.3:
            return block
        size *= 0.95


def voluntary_block(role: str, text: str, *, setting: Setting) -> Block:
    """One of the maker's own words: the brand in spaced capitals, a line in italics, a note."""
    words = drawable(text)
    span = {
        "brand": Span(words.upper(), weight=500),
        "tagline": Span(words, is_italic=True),
        "note": Span(words),
    }[role]
    return Block(
        role=role,
        parts=(Part(role, (span,)),),
        size_mm=setting.size_mm,
        line_mm=setting.pitch_mm,
        family=setting.family,
        tracking_em=0.09 if role == "brand" else 0,
    )


def rule_block(setting: Setting) -> Block:
    """A hairline in a space of its own."""
    return Block(
        "rule",
        (),
        size_mm=1,
        line_mm=setting.pitch_mm * (0.75 if setting.leading > _CLOSE else 0.5),
        family=setting.family,
    )
