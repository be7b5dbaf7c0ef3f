"""The allergen sheet for loose food and tastings: product by allergen, on one page of paper."""

from dataclasses import dataclass
from typing import Any

from labels.rendering.engine import html_of, type_setter
from labels.rendering.fonts import drawable
from labels.rendering.paper import PAPERS_MM

__all__ = ["AllergenSheet", "SheetCell", "SheetRow", "allergen_sheet_pdf"]


@dataclass(frozen=True)
class SheetCell:
    """One cell. sign: "contains", "may", "free" or "unknown"; word: always printed beside it."""

    sign: str
    word: str
    named: str = ""


@dataclass(frozen=True)
class SheetRow:
    """One product with a cell for each column, and what has to be told of it below the table."""

    name: str
    cells: tuple[SheetCell, ...]


@dataclass(frozen=True)
class AllergenSheet:
    """All that stands on the sheet, as it is printed. legend: a sign and what it means, in words.

    sources: where the answers come from. cautions: what the sheet is not. ask: the line to buyers.
    """

    kitchen: str
    day: str
    groups: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    legend: tuple[SheetCell, ...]
    ask: str
    sources: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


# The largest that fits is taken; a list too long for the smallest goes on overleaf, heads repeated.
_SIZES_PT = (10.0, 9.0, 8.0, 7.0)
_MM_PER_POINT = 25.4 / 72
_ROW_EM = 2.2  # no row is lower than its word and one line of what it contains
_SHARE_FOR_ROWS = 0.85


def allergen_sheet_pdf(sheet: AllergenSheet, *, paper: str = "A4") -> bytes:
    """The sheet as a tagged PDF (declared PDF/UA-1), lying, on one page as large as it fits.

    Raises: RenderingUnavailable where a system library is missing, RenderingFault on a warning.
    """
    height_mm, width_mm = PAPERS_MM[paper]
    room_mm = height_mm * _SHARE_FOR_ROWS
    worth_trying = [
        size
        for size in _SIZES_PT[:-1]
        if len(sheet.rows) * _ROW_EM * size * _MM_PER_POINT < room_mm
    ]
    with type_setter() as setter:
        for size_pt in (*worth_trying, _SIZES_PT[-1]):
            html = html_of("label_allergen_sheet.html", _context(sheet, size_pt))
            document = setter.lay_out(html, width_mm=width_mm, height_mm=height_mm)
            if len(document.pages) == 1:
                break
        return bytes(document.write_pdf(pdf_variant="pdf/ua-1"))


def _context(sheet: AllergenSheet, size_pt: float) -> dict[str, Any]:
    return {
        "style": f"font-size: {size_pt}pt; line-height: 1.15",
        "kitchen": drawable(sheet.kitchen),
        "day": sheet.day,
        "groups": sheet.groups,
        "rows": [
            SheetRow(drawable(row.name), tuple(_drawn(cell) for cell in row.cells))
            for row in sheet.rows
        ],
        "legend": sheet.legend,
        "ask": drawable(sheet.ask),
        "sources": [drawable(sentence) for sentence in sheet.sources],
        "cautions": [drawable(sentence) for sentence in sheet.cautions],
    }


def _drawn(cell: SheetCell) -> SheetCell:
    return SheetCell(cell.sign, cell.word, drawable(cell.named))
