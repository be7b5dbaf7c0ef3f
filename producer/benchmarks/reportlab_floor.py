"""The floor for labels: the same text in the same box and type, drawn by ReportLab at once.

It is given what ours has to find out: the sizes that fit, and where each statement stands. It does
no measuring, no tagging and one colour only, and breaks its own lines anew for every label, with
ReportLab's line breaker for plain text and its paragraphs where a word is set apart in bold.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any
from xml.sax.saxutils import escape

from labels.facts import LabelBox
from labels.rendering.arrangement import Arrangement, Column
from labels.rendering.fonts import SANS, Face
from labels.rendering.typesetting import Block
from labels.stock import LabelSheet

POINTS_PER_MM = 72 / 25.4

Run = tuple[str, str]
"""Text, and the name of the cut it is set in."""


@dataclass(frozen=True)
class FloorBlock:
    """A paragraph: its runs, its type in points, and the room it has across. No runs: a rule."""

    runs: tuple[Run, ...]
    size_pt: float
    line_pt: float
    before_pt: float
    width_pt: float
    tracking_pt: float = 0


@dataclass(frozen=True)
class FloorColumn:
    """Paragraphs from the top and from the foot, and the net quantity at the foot's right."""

    left_pt: float
    width_pt: float
    flow: tuple[FloorBlock, ...]
    foot: tuple[FloorBlock, ...]
    quantity: FloorBlock | None


@dataclass(frozen=True)
class FloorLabel:
    """Everything that is to be drawn on one label."""

    columns: tuple[FloorColumn, ...]
    top_pt: float
    bottom_pt: float


def floor_label(arrangement: Arrangement, *, box: LabelBox) -> FloorLabel:
    """What ours has found out about a label, handed to the floor for nothing."""
    inset = float(box.inset_mm) * POINTS_PER_MM
    return FloorLabel(
        columns=tuple(_column(column, inset_pt=inset) for column in arrangement.columns),
        top_pt=float(box.height_mm) * POINTS_PER_MM - inset,
        bottom_pt=inset,
    )


def _column(column: Column, *, inset_pt: float) -> FloorColumn:
    across = column.foot_width_mm
    return FloorColumn(
        left_pt=inset_pt + column.x_mm * POINTS_PER_MM,
        width_pt=column.width_mm * POINTS_PER_MM,
        flow=_blocks(column.flow, width_mm=column.width_mm),
        foot=_blocks(column.over_foot, width_mm=column.width_mm)
        + _blocks(column.foot, width_mm=across),
        quantity=_block(column.quantity, width_mm=column.width_mm) if column.quantity else None,
    )


def _blocks(blocks: Sequence[Block], *, width_mm: float) -> tuple[FloorBlock, ...]:
    return tuple(_block(block, width_mm=width_mm) for block in blocks)


def _block(block: Block, *, width_mm: float) -> FloorBlock:
    runs: list[Run] = []
    for place, part in enumerate(block.parts):
        spans = [(span.text, _name(Face(block.family or SANS, span.weight, span.is_italic)))
                 for span in part.spans]  # fmt: skip
        if place:
            spans[0] = (f" {spans[0][0]}", spans[0][1])
        for text, font in spans:
            if runs and runs[-1][1] == font:
                runs[-1] = (runs[-1][0] + text, font)
            else:
                runs.append((text, font))
    return FloorBlock(
        runs=tuple(runs),
        size_pt=block.size_mm * POINTS_PER_MM,
        line_pt=block.line_mm * POINTS_PER_MM,
        before_pt=block.before_mm * POINTS_PER_MM,
        width_pt=width_mm * POINTS_PER_MM,
        tracking_pt=block.tracking_em * block.size_mm * POINTS_PER_MM,
    )


def _name(face: Face) -> str:
    return face.path.stem


@cache
def _register_fonts() -> None:
    """Read the very font files that ours uses, once in a process."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for weight, is_italic in ((400, False), (400, True), (500, False), (600, False), (700, False)):
        face = Face(SANS, weight, is_italic)
        pdfmetrics.registerFont(TTFont(_name(face), str(face.path)))


# --- Drawing -------------------------------------------------------------------------------------


def floor_pdf(labels: Sequence[FloorLabel], *, sheet: LabelSheet) -> bytes:
    """The labels on sheets from the first place on, each set and broken into lines by itself."""
    out, canvas = _canvas(sheet)
    for number, label in enumerate(labels):
        place = number % sheet.per_page
        if number and not place:
            canvas.showPage()
        canvas.saveState()
        canvas.translate(*_origin_pt(sheet, place))
        _draw(canvas, label)
        canvas.restoreState()
    canvas.save()
    return out.getvalue()


def floor_repeated_pdf(label: FloorLabel, *, copies: int, sheet: LabelSheet) -> bytes:
    """A lower floor than anybody asked for: set once, and placed as a form as often as wanted."""
    out, canvas = _canvas(sheet)
    canvas.beginForm("label")
    _draw(canvas, label)
    canvas.endForm()
    for number in range(copies):
        place = number % sheet.per_page
        if number and not place:
            canvas.showPage()
        canvas.saveState()
        canvas.translate(*_origin_pt(sheet, place))
        canvas.doForm("label")
        canvas.restoreState()
    canvas.save()
    return out.getvalue()


def _canvas(sheet: LabelSheet) -> tuple[io.BytesIO, Any]:
    from reportlab.pdfgen.canvas import Canvas

    _register_fonts()
    size = (float(sheet.page_width_mm) * POINTS_PER_MM, float(sheet.page_height_mm) * POINTS_PER_MM)
    out = io.BytesIO()
    return out, Canvas(out, pagesize=size)


def _origin_pt(sheet: LabelSheet, place: int) -> tuple[float, float]:
    x_mm, y_mm = sheet.position(place)
    from_bottom_mm = sheet.page_height_mm - y_mm - sheet.label_height_mm
    return float(x_mm) * POINTS_PER_MM, float(from_bottom_mm) * POINTS_PER_MM


def _draw(canvas: Any, label: FloorLabel) -> None:
    for column in label.columns:
        y = label.top_pt
        for block in column.flow:
            lines = _broken(block)
            y -= block.before_pt
            _set(canvas, block, lines, x=column.left_pt, y=y)
            y -= _height_pt(block, lines)
        y = label.bottom_pt
        for block in reversed(column.foot):
            lines = _broken(block)
            y += _height_pt(block, lines)
            _set(canvas, block, lines, x=column.left_pt, y=y)
            y += block.before_pt
        if column.quantity:
            _set_on_one_line(canvas, column.quantity, right=column.left_pt + column.width_pt,
                             y=label.bottom_pt)  # fmt: skip


def _broken(block: FloorBlock) -> Any:
    """Plain lines; a paragraph of ReportLab's where there is more than one cut in it."""
    from reportlab.lib.utils import simpleSplit

    if not block.runs:
        return []
    if len(block.runs) == 1:
        text, font = block.runs[0]
        return simpleSplit(text, font, block.size_pt, block.width_pt)
    return _paragraph(block)


def _paragraph(block: FloorBlock) -> Any:
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph

    style = ParagraphStyle(
        "label", fontName=block.runs[0][1], fontSize=block.size_pt, leading=block.line_pt
    )
    marked_up = "".join(f'<font name="{font}">{escape(text)}</font>' for text, font in block.runs)
    paragraph = Paragraph(marked_up, style)
    paragraph.wrap(block.width_pt, 1000)
    return paragraph


def _height_pt(block: FloorBlock, lines: Any) -> float:
    if not block.runs:
        return block.line_pt
    return block.line_pt * (len(lines) if isinstance(lines, list) else len(lines.blPara.lines))


def _set(canvas: Any, block: FloorBlock, lines: Any, *, x: float, y: float) -> None:
    """Draw a paragraph or a rule whose top is at y."""
    if not block.runs:
        middle = y - block.line_pt / 2
        canvas.line(x, middle, x + block.width_pt, middle)
        return
    if not isinstance(lines, list):
        lines.drawOn(canvas, x, y - lines.height)
        return
    text = canvas.beginText(x, y - block.size_pt)
    text.setFont(block.runs[0][1], block.size_pt, block.line_pt)
    if block.tracking_pt:
        text.setCharSpace(block.tracking_pt)
    for line in lines:
        text.textLine(line)
    if block.tracking_pt:
        text.setCharSpace(0)  # else all that follows on the page would be spaced too
    canvas.drawText(text)


def _set_on_one_line(canvas: Any, block: FloorBlock, *, right: float, y: float) -> None:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    x = right - sum(stringWidth(text, font, block.size_pt) for text, font in block.runs)
    for text, font in block.runs:
        canvas.setFont(font, block.size_pt)
        canvas.drawString(x, y, text)
        x += stringWidth(text, font, block.size_pt)
