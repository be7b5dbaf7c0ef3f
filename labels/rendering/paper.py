"""The kitchen sheet on one page of paper: what to weigh, where to stop, and boxes to fill in."""

from dataclasses import dataclass
from typing import Any

from labels.rendering.engine import html_of, type_setter
from labels.rendering.fonts import drawable

__all__ = ["PAPERS_MM", "PaperRow", "PaperSheet", "PaperStop", "PaperWeight", "kitchen_sheet_pdf"]

PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}


@dataclass(frozen=True)
class PaperStop:
    """One of the figures to stop at: the instrument, the figure, its unit and its range."""

    name: str
    figure: str
    unit: str
    between: str = ""


@dataclass(frozen=True)
class PaperWeight:
    """One line to weigh out. weighed, lot: what is known of it already; else a box."""

    name: str
    weigh: str
    note: str = ""
    weighed: str = ""
    lot: str = ""


@dataclass(frozen=True)
class PaperRow:
    """One reading that was taken before the sheet was printed."""

    at: str = ""
    temperature: str = ""
    scale: str = ""
    brix: str = ""
    added: str = ""


@dataclass(frozen=True)
class PaperSheet:
    """All that stands on a kitchen sheet, in words and figures as they are printed.

    lot: empty before the fire is lit; then there is a box for it. rise: degrees above boiling
    water. setting: when it can be cut and packed. first_aid: always printed, whatever is dropped.
    notes: what goes first when the page is full.
    """

    title: str
    lot: str
    about: str
    stops: tuple[PaperStop, ...]
    weights: tuple[PaperWeight, ...]
    rise: str = ""
    water: str = ""
    readings: tuple[PaperRow, ...] = ()
    asks: tuple[str, ...] = ()
    setting: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    first_aid: str = ""


@dataclass(frozen=True)
class _Density:
    """How tight the page is set: size of type, height of a row [em], and rows for readings."""

    size_pt: float
    row_em: float
    rows: int
    has_notes: bool = True


# The largest that fits is taken: first room is given up, then the remarks, then the size.
_DENSITIES = (
    _Density(11, 2.3, 14),
    _Density(10, 2.2, 12),
    _Density(9, 2.1, 12),
    _Density(8.5, 1.9, 10),
    _Density(8, 1.8, 10, has_notes=False),
    _Density(7.5, 1.6, 8, has_notes=False),
    _Density(7, 1.45, 8, has_notes=False),
    _Density(6.5, 1.35, 6, has_notes=False),
)

_MM_PER_POINT = 25.4 / 72
_ROWS_WHEN_DONE = 4
_SHARE_FOR_ROWS = 0.7  # names, figures and cautions take the rest


def kitchen_sheet_pdf(sheet: PaperSheet, *, paper: str = "A4") -> bytes:
    """The sheet as a tagged PDF (declared PDF/UA-1) of one page, as large as it fits.

    A recipe so long that even the smallest type does not hold it goes on overleaf, uncut.
    Raises: RenderingUnavailable where a system library is missing, RenderingFault on a warning.
    """
    width_mm, height_mm = PAPERS_MM[paper]
    with type_setter() as setter:
        for density in _worth_trying(sheet, height_mm=height_mm):
            html = html_of("label_kitchen_sheet.html", _context(sheet, density))
            document = setter.lay_out(html, width_mm=width_mm, height_mm=height_mm)
            if len(document.pages) == 1:
                break
        return bytes(document.write_pdf(pdf_variant="pdf/ua-1"))


def _worth_trying(sheet: PaperSheet, *, height_mm: float) -> tuple[_Density, ...]:
    """Densities whose rows alone do not fill the page already; the smallest in any case."""
    rows = len(sheet.weights) + _ROWS_WHEN_DONE
    roomy = (
        density
        for density in _DENSITIES[:-1]
        if rows * density.row_em * density.size_pt * _MM_PER_POINT < height_mm * _SHARE_FOR_ROWS
    )
    return (*roomy, _DENSITIES[-1])


def _context(sheet: PaperSheet, density: _Density) -> dict[str, Any]:
    # Beside a long list of weights there is room for as many readings, and it costs nothing.
    rows = max(density.rows, min(len(sheet.weights), 20), len(sheet.readings) + 2)
    blank = [PaperRow()] * (rows - len(sheet.readings))
    return {
        "style": f"font-size: {density.size_pt}pt; line-height: 1.22",
        "row": f"height: {density.row_em}em",
        "title": drawable(sheet.title),
        "lot": drawable(sheet.lot),
        "about": drawable(sheet.about),
        "stops": sheet.stops,
        "rise": sheet.rise,
        "water": sheet.water,
        "weights": [_drawn(line) for line in sheet.weights],
        "readings": [*sheet.readings, *blank],
        "asks": _each(sheet.asks),
        "setting": _each(sheet.setting),
        "notes": _each(sheet.notes) if density.has_notes else [],
        "cautions": _each(sheet.cautions),
        "first_aid": drawable(sheet.first_aid),
    }


def _drawn(line: PaperWeight) -> PaperWeight:
    return PaperWeight(
        name=drawable(line.name),
        weigh=drawable(line.weigh),
        note=drawable(line.note),
        weighed=drawable(line.weighed),
        lot=drawable(line.lot),
    )


def _each(sentences: tuple[str, ...]) -> list[str]:
    return [drawable(sentence) for sentence in sentences]
