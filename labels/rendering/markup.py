"""How an arrangement becomes HTML: places and sizes in millimetres, texts left to the template."""

import math
from collections.abc import Collection, Iterator
from dataclasses import replace
from typing import Any

from labels.facts import LabelBox, LabelFace
from labels.rendering.arrangement import Arrangement, Column
from labels.rendering.codes import code_contexts
from labels.rendering.colour import readable_colour
from labels.rendering.tables import table_context
from labels.rendering.typesetting import LINE_END, Block, Part, Span, in_lines

__all__ = ["block_context", "colour_of", "label_context", "leaf_contexts", "mm", "title_of"]

_WEIGHTS = {400: "", 500: "medium", 600: "semibold"}


def title_of(face: LabelFace) -> str:
    """What a label is called: the name of the food."""
    names = (each.text for each in face.particulars if each.kind == "name")
    return next(names, "") or face.brand_name or "Label"


def colour_of(face: LabelFace) -> str:
    """The maker's colour, dark enough to read."""
    return readable_colour(face.colour)


def mm(length: float) -> str:
    """A length as CSS wants it."""
    return f"{length:.3f}mm"


def block_context(block: Block, *, width_mm: float, colour: str) -> dict[str, Any]:
    """One paragraph as the template wants it, its lines ended for a column of that width."""
    if block.role == "rule":
        # A hairline in the middle of its space; drawn as a border, so it is ink on any printer.
        half = block.line_mm / 2
        return {
            "role": "rule",
            "style": f"height: {mm(half - 0.1)}; margin-bottom: {mm(half - 0.1)}; "
            f"border-bottom: 0.2mm solid {colour}",
        }
    if block.rows:
        return table_context(
            block.rows, indented=block.indented, family=block.family, size_mm=block.size_mm,
            line_mm=block.line_mm, before_mm=block.before_mm, width_mm=width_mm, colour=colour,
        )  # fmt: skip
    style = (
        f"font-family: '{block.family}'; font-size: {mm(block.size_mm)}; "
        f"line-height: {mm(block.line_mm)}; padding-top: {mm(block.before_mm)}"
    )
    if block.tracking_em:
        style += f"; letter-spacing: {block.tracking_em}em"
    if block.role == "name" and colour:
        style += f"; color: {colour}"
    return {
        "role": f"{block.role} tabular" if block.is_tabular else block.role,
        "tag": "h1" if block.role == "name" else "p",
        "style": style,
        "parts": [
            _part_context(part, colour=colour) for part in in_lines(block, width_mm=width_mm)
        ],
    }


def _part_context(part: Part, *, colour: str) -> dict[str, Any]:
    """One statement; the line end that it may begin with stands before it, not in it."""
    return {
        "begins_line": part.text.startswith(LINE_END),
        "spans": [_span_context(span, colour=colour) for span in _without_line_end(part)],
    }


def _without_line_end(part: Part) -> Iterator[Span]:
    for number, span in enumerate(part.spans):
        yield replace(span, text=span.text.removeprefix(LINE_END)) if number == 0 else span


def _span_context(span: Span, *, colour: str) -> dict[str, Any]:
    if span.weight == 700:
        tag, looks = "b", ""
    elif span.is_heading:
        tag, looks = "span", "heading"
    else:
        looks = "italic" if span.is_italic else _WEIGHTS[span.weight]
        tag = "span" if looks else ""  # plain text needs no element of its own
    return {
        "tag": tag,
        "looks": looks,
        "colour": colour if span.is_heading else "",
        "lines": span.text.split(LINE_END),
    }


def _column_context(column: Column, *, id_: str, box: LabelBox, colour: str) -> dict[str, Any]:
    inset, height = float(box.inset_mm), float(box.height_mm - 2 * box.inset_mm)
    quantity = column.quantity
    return {
        "id": id_,
        "align": column.align,
        "style": f"left: {mm(inset + column.x_mm)}; top: {mm(inset)}; "
        f"width: {mm(column.width_mm)}; height: {mm(height)}",
        "line": f"left: -2.1mm; border-left: 0.2mm solid {colour}"
        if column.has_line_before
        else "",
        "flow": [
            block_context(block, width_mm=column.width_mm, colour=colour) for block in column.flow
        ],
        "foot": [
            block_context(block, width_mm=column.foot_width_mm, colour=colour)
            for block in column.foot
        ],
        "over_foot": [
            block_context(block, width_mm=column.width_mm, colour=colour)
            for block in column.over_foot
        ],
        "foot_style": f"bottom: {mm(column.sink_mm)}; width: {mm(column.width_mm)}",
        "over_gap": mm(column.over_gap_mm),
        "quantity": quantity and block_context(quantity, width_mm=column.width_mm, colour=colour),
        "quantity_style": f"bottom: {mm(column.sink_mm)}"
        + ("" if column.foot else f"; left: 0; text-align: {column.align}"),
    }


def _proof_style(box: LabelBox) -> str:
    """Large, pale and aslant behind the text, from corner to corner inside the inset."""
    width = float(box.width_mm - 2 * box.inset_mm)
    height = float(box.height_mm - 2 * box.inset_mm)
    length_em, tall_em = 9.9, 1.0  # of "PROOF - not for sale" in the semi-bold cut

    def largest(slope: float) -> float:
        return min(
            width / (length_em * math.cos(slope) + tall_em * math.sin(slope)),
            height / (length_em * math.sin(slope) + tall_em * math.cos(slope)),
        )

    slope = max((step / 100 for step in range(5, 60)), key=largest)
    size = largest(slope)
    return (
        f"left: 0; width: {mm(float(box.width_mm))}; font-size: {mm(size)}; "
        f"line-height: {mm(size)}; top: {mm(float(box.height_mm) / 2 - size / 2)}; "
        f"transform: rotate(-{math.degrees(slope):.2f}deg)"
    )


def label_context(
    arrangement: Arrangement, *, face: LabelFace, box: LabelBox, number: int = 0,
    proof: bool = False, hidden: Collection[int] = (), leaf: int = 0,
) -> dict[str, Any]:  # fmt: skip
    """One label, or one of its two papers, as the template wants it.

    hidden: blocks, counted in reading order, that keep their place but are not drawn; each block
        then carries its number as "b0", "b1", ... by which its place can be measured.
    """
    columns = [
        _column_context(column, id_=f"l{number}c{place}", box=box, colour=colour_of(face))
        for place, column in enumerate(arrangement.columns)
        if column.leaf == leaf
    ]
    if hidden:
        blocks = (
            block
            for column in columns
            for block in (
                *column["flow"],
                *column["over_foot"],
                *column["foot"],
                *([column["quantity"]] if column["quantity"] else []),
            )
        )
        for place, block in enumerate(blocks):
            block["id"] = f"b{place}"
            if place in hidden:
                block["style"] += "; visibility: hidden"
    return {
        "layout": face.layout,
        "width": mm(float(box.width_mm)),
        "height": mm(float(box.height_mm)),
        "proof": _proof_style(box) if proof else "",
        "columns": columns,
        "codes": list(code_contexts(face.codes, box=box)) if leaf == arrangement.leaves - 1 else [],
    }


def leaf_contexts(
    arrangement: Arrangement, *, face: LabelFace, box: LabelBox, proof: bool = False
) -> list[dict[str, Any]]:
    """Every paper of a label: one, or a front and a back."""
    return [
        label_context(arrangement, face=face, box=box, proof=proof, leaf=leaf)
        for leaf in range(arrangement.leaves)
    ]
