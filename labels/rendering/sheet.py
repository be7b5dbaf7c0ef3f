"""Sheets of labels: printing on them, and a plain-paper page that shows where a printer prints.

`impose` and its kin are in `imposition`; they are named here so that one import serves both.
"""

import io
from typing import Any

from labels.rendering.engine import html_of, type_setter
from labels.rendering.imposition import (
    POINTS_PER_MM,
    Millimetres,
    SheetPlan,
    checked_offset,
    impose,
    impose_distinct,
    origin_pt,
    saved,
    sheet_plan,
)
from labels.rendering.markup import mm
from labels.stock import LabelSheet

__all__ = ["SheetPlan", "impose", "impose_distinct", "sheet_plan", "test_page"]

_CROSS_MM = 3.0
_WORDS_MM = 112.0
_SHORT_PAGE_MM = 120.0
_PX_PER_MM = 96 / 25.4


def test_page(
    sheet: LabelSheet,
    *,
    offset_x_mm: Millimetres = 0,  # noqa: PT028 (it tests a printer)
    offset_y_mm: Millimetres = 0,  # noqa: PT028
) -> bytes:
    """Outlines, a cross and a number for each label, a ruler, and the geometry in words."""
    import pikepdf

    offset = checked_offset(offset_x_mm, offset_y_mm)
    width, height = float(sheet.page_width_mm), float(sheet.page_height_mm)
    words_mm = min(_WORDS_MM, width - 2)
    ruler_mm = 100 if words_mm >= 106 else 10 * int((words_mm - 6) // 10)
    html = html_of("label_test_page.html", {
        "name": sheet.name, "is_short": height < _SHORT_PAGE_MM,
        "width": mm(width), "height": mm(height),
        "lines": _in_words(sheet, offset=offset, is_short=height < _SHORT_PAGE_MM),
        "numbers": list(_numbers(sheet, offset=offset)),
        "words": {
            "x": mm((width - words_mm) / 2),
            "y": mm(height * 0.5 if height >= _SHORT_PAGE_MM else 0.5),
            "width": mm(words_mm - 4),
        },
        "ruler": f"{ruler_mm} mm. If it measures less, the printer has shrunk the page.",
    })  # fmt: skip
    with type_setter() as setter:
        document = setter.lay_out(html, width_mm=width)
        page = document.pages[0]
        ruler_left, ruler_top = (edge / _PX_PER_MM for edge in page.anchors["ruler"][:2])
        page.height = height * _PX_PER_MM
        text = document.copy([page]).write_pdf()
    ruler = _ruler(ruler_left, height - ruler_top - 4.5, ruler_mm)
    with pikepdf.open(io.BytesIO(text)) as book:
        drawing = book.pages[0]
        # The text's own turning of the page stays between a q and a Q.
        outlines = [*_outlines(sheet, offset=offset), "q"]
        drawing.contents_add("\n".join(outlines).encode(), prepend=True)
        drawing.contents_add("\n".join(["Q", *ruler]).encode())
        return saved(book, title=f"Test page: {sheet.name}")


def _in_words(sheet: LabelSheet, *, offset: tuple[float, float], is_short: bool) -> list[str]:
    if is_short:
        return [
            "Print at 100 %, without scaling.",
            f"Printer offset {offset[0]:+.1f} mm to the right, {offset[1]:+.1f} mm down.",
        ]
    page = f"Page {sheet.page_width_mm:f} x {sheet.page_height_mm:f} mm"
    label = f"each label {sheet.label_width_mm:f} x {sheet.label_height_mm:f} mm"
    first = f"{sheet.margin_left_mm:f} mm from the left, {sheet.margin_top_mm:f} mm from the top"
    steps = f"{sheet.pitch_x_mm:f} mm across, {sheet.pitch_y_mm:f} mm down"
    compare = (
        "Hold this page with a sheet of labels against the light. Measure how far the outlines"
    )
    return [
        "Print on plain paper at 100 %: no fitting to the page, no scaling.",
        f"{page}; {sheet.columns} across, {sheet.rows} down; {label}.",
        f"First label {first}.",
        f"From one label to the next {steps}.",
        f"Printer offset {offset[0]:+.1f} mm to the right, {offset[1]:+.1f} mm down.",
        f"{compare} are off, enter that as the printer offset, and print this page again.",
    ]


def _numbers(sheet: LabelSheet, *, offset: tuple[float, float]) -> Any:
    for place in range(1, sheet.per_page + 1):
        x_mm, y_mm = sheet.position(place - 1)
        yield {
            "number": place,
            "x": mm(float(x_mm) + offset[0] + 2),
            "y": mm(float(y_mm) + offset[1] + 1.5),
        }


def _pt(length_mm: float) -> str:
    return f"{length_mm * POINTS_PER_MM:.4f}"


def _outlines(sheet: LabelSheet, *, offset: tuple[float, float]) -> list[str]:
    """The edge of every label and a cross in its middle, as hairlines."""
    width, height = float(sheet.label_width_mm), float(sheet.label_height_mm)
    operators = ["q 0.25 w 0.35 G"]
    for place in range(1, sheet.per_page + 1):
        x, y = origin_pt(sheet, place, offset_x_mm=offset[0], offset_y_mm=offset[1])
        middle_x, middle_y = x + width * POINTS_PER_MM / 2, y + height * POINTS_PER_MM / 2
        arm = _CROSS_MM * POINTS_PER_MM
        operators += [
            f"{x:.4f} {y:.4f} {_pt(width)} {_pt(height)} re S",
            f"{middle_x - arm:.4f} {middle_y:.4f} m {middle_x + arm:.4f} {middle_y:.4f} l S",
            f"{middle_x:.4f} {middle_y - arm:.4f} m {middle_x:.4f} {middle_y + arm:.4f} l S",
        ]
    return [*operators, "Q"]


def _ruler(x_mm: float, y_mm: float, length_mm: int) -> list[str]:
    """A ruler with a tick every millimetre, longer ones every five and ten."""
    operators = [
        "q 0.35 w 0 G",
        f"{_pt(x_mm)} {_pt(y_mm)} m {_pt(x_mm + length_mm)} {_pt(y_mm)} l S",
    ]
    for tick in range(length_mm + 1):
        tall = 3.0 if tick % 10 == 0 else 2.2 if tick % 5 == 0 else 1.4
        operators.append(
            f"{_pt(x_mm + tick)} {_pt(y_mm)} m {_pt(x_mm + tick)} {_pt(y_mm + tall)} l S"
        )
    return [*operators, "Q"]
