"""Tables on a label: how wide their columns are, and how they are drawn with figures aligned."""

from collections.abc import Sequence
from typing import Any

from labels.rendering.fonts import Face, text_width_em

__all__ = ["INDENT_EM", "Rows", "column_widths_em", "table_context"]

Rows = tuple[tuple[str, ...], ...]

INDENT_EM = 0.8  # of what is a part of the row above
_GAP_EM = 1.1  # least space between two columns
_LOOSEST_EM = 3.0  # most space that a wide label adds: the eye must find its way across
_LINE_MM = 0.15
HEAD_WEIGHT = 500


def column_widths_em(rows: Rows, *, family: str, indented: Sequence[int] = ()) -> tuple[float, ...]:
    """Width of each column, in sizes of the type: names at the left, figures at the right.

    indented: places of the rows that are a part of the row above, the head not counted.
    """
    widths = [0.0] * max((len(row) for row in rows), default=0)
    for number, row in enumerate(rows):
        face = Face(family, HEAD_WEIGHT if number == 0 else 400)
        for place, cell in enumerate(row):
            indent = INDENT_EM if place == 0 and number - 1 in indented else 0.0
            width = text_width_em(cell, face=face, tabular=True) + indent
            widths[place] = max(widths[place], width)
    return tuple(w + (_GAP_EM if place else 0.0) for place, w in enumerate(widths))


def table_context(
    rows: Rows, *, indented: Sequence[int], family: str, size_mm: float, line_mm: float,
    before_mm: float, width_mm: float, colour: str,
) -> dict[str, Any]:  # fmt: skip
    """A table as the template wants it; each row is one line of the label's grid."""
    widths = column_widths_em(rows, family=family, indented=indented)
    narrowest = sum(widths) * size_mm
    loosest = narrowest + _LOOSEST_EM * size_mm * (len(widths) - 1)
    return {
        "role": "table",
        "style": f"font-family: '{family}'; font-size: {size_mm:.3f}mm; "
        f"width: {max(narrowest, min(width_mm, loosest)):.3f}mm; margin-top: {before_mm:.3f}mm",
        "rows": [
            {
                "is_head": number == 0,
                "style": _row_style(line_mm, colour if number == 0 else ""),
                "indent": f"padding-left: {INDENT_EM}em" if number - 1 in indented else "",
                "cells": [cell or "\u00a0" for cell in row],  # an empty one would stand higher
            }
            for number, row in enumerate(rows)
        ],
    }


def _row_style(line_mm: float, colour: str) -> str:
    """The head stands on a hairline, which takes no room of its own."""
    if not colour:
        return f"height: {line_mm:.3f}mm; line-height: {line_mm:.3f}mm"
    inside = line_mm - _LINE_MM
    return (
        f"height: {inside:.3f}mm; line-height: {inside:.3f}mm; "
        f"border-bottom: {_LINE_MM}mm solid {colour}"
    )
