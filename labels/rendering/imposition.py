"""Labels onto sheets: each label is drawn once in the file and placed as often as it is wanted."""

import io
import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labels.stock import LabelSheet

__all__ = [
    "SheetPlan",
    "checked_offset",
    "impose",
    "impose_distinct",
    "origin_pt",
    "saved",
    "sheet_plan",
]

POINTS_PER_MM = 72 / 25.4

_MOST_COPIES = 20_000
_FURTHEST_OFFSET_MM = 10
_SIZE_WITHIN_MM = 0.1

Millimetres = Decimal | float | int


@dataclass(frozen=True)
class SheetPlan:
    """Which places are used on which sheet, counted from 1 in reading order."""

    pages: tuple[tuple[int, ...], ...]

    @property
    def sheets(self) -> int:
        """Sheets of paper needed."""
        return len(self.pages)

    @property
    def copies(self) -> int:
        """Labels printed."""
        return sum(map(len, self.pages))

    @property
    def next_free(self) -> int:
        """The place after the last label on the last sheet; one more than it has if it is full."""
        return self.pages[-1][-1] + 1


def sheet_plan(
    sheet: LabelSheet, copies: int, start_at: int = 1, *, skip: Iterable[int] = ()
) -> SheetPlan:
    """Which places a print run fills.

    start_at: first free label of the first sheet, from 1.
    skip: places of the first sheet that are spoilt, from 1.

    >>> from labels.stock import sheet
    >>> plan = sheet_plan(sheet("a4-3x7-63.5x38.1"), 40, start_at=5)
    >>> plan.sheets, [len(page) for page in plan.pages]
    (3, [17, 21, 2])
    """
    spoilt = frozenset(skip)
    places = range(1, sheet.per_page + 1)
    if not 1 <= copies <= _MOST_COPIES:
        raise ValueError(f"{copies:,} labels: print between 1 and {_MOST_COPIES:,} at a time.")
    if start_at not in places:
        raise ValueError(
            f"Label {start_at} to start at: this sheet has labels 1 to {sheet.per_page}."
        )
    if not spoilt <= frozenset(places):
        raise ValueError(
            f"Labels to skip: {', '.join(map(str, sorted(spoilt)))}; this sheet has labels 1 to "
            f"{sheet.per_page}."
        )
    first = [place for place in places if place >= start_at and place not in spoilt]
    pages, left = ([tuple(first[:copies])] if first else []), copies - len(first)
    while left > 0:
        pages.append(tuple(places[:left]))
        left -= sheet.per_page
    return SheetPlan(tuple(pages))


def origin_pt(
    sheet: LabelSheet, place: int, *, offset_x_mm: Millimetres = 0, offset_y_mm: Millimetres = 0
) -> tuple[float, float]:
    """Bottom left corner of a label in PDF's own reckoning, from the page's bottom left [pt].

    place: from 1. The offset moves everything right and down.
    """
    x_mm, y_mm = sheet.position(place - 1)
    from_bottom_mm = sheet.page_height_mm - y_mm - sheet.label_height_mm
    return (
        (float(x_mm) + float(offset_x_mm)) * POINTS_PER_MM,
        (float(from_bottom_mm) - float(offset_y_mm)) * POINTS_PER_MM,
    )


def impose(
    label_pdf: bytes,
    *,
    sheet: LabelSheet,
    copies: int,
    start_at: int = 1,
    skip: Iterable[int] = (),
    offset_x_mm: Millimetres = 0,
    offset_y_mm: Millimetres = 0,
) -> bytes:
    """A run of one label on sheets; the label is in the file once, however many are printed.

    A front and a back, as two pages, take two places a copy, next to each other in reading order.
    """
    offset = checked_offset(offset_x_mm, offset_y_mm)
    with _opened(label_pdf, sheet=sheet) as source, _new() as book:
        plan = sheet_plan(sheet, copies * len(source.pages), start_at, skip=skip)
        forms = itertools.cycle([
            book.make_indirect(book.copy_foreign(page.as_form_xobject())) for page in source.pages
        ])  # fmt: skip
        for places in plan.pages:
            _add_sheet(book, sheet, [(place, next(forms)) for place in places], offset=offset)
        return saved(book)


def impose_distinct(
    pages_pdf: bytes,
    *,
    sheet: LabelSheet,
    start_at: int = 1,
    skip: Iterable[int] = (),
    offset_x_mm: Millimetres = 0,
    offset_y_mm: Millimetres = 0,
) -> bytes:
    """Labels that differ from each other on sheets, in the order of the pages."""
    offset = checked_offset(offset_x_mm, offset_y_mm)
    with _opened(pages_pdf, sheet=sheet) as source, _new() as book:
        plan = sheet_plan(sheet, len(source.pages), start_at, skip=skip)
        forms = iter([book.copy_foreign(page.as_form_xobject()) for page in source.pages])
        for places in plan.pages:
            _add_sheet(book, sheet, [(place, next(forms)) for place in places], offset=offset)
        return saved(book)


def checked_offset(x_mm: Millimetres, y_mm: Millimetres) -> tuple[float, float]:
    """A printer offset that makes sense, to the right and down [mm]."""
    for which, value in (("right", x_mm), ("down", y_mm)):
        if not abs(float(value)) <= _FURTHEST_OFFSET_MM:
            raise ValueError(
                f"Printer offset {value} mm {which}: at most {_FURTHEST_OFFSET_MM} mm either way. "
                "If more is needed, the sheet's margins are wrong."
            )
    return float(x_mm), float(y_mm)


def _opened(pdf: bytes, *, sheet: LabelSheet) -> Any:
    import pikepdf

    source = pikepdf.open(io.BytesIO(pdf))
    left, bottom, right, top = (float(edge) for edge in source.pages[0].mediabox)
    size = ((right - left) / POINTS_PER_MM, (top - bottom) / POINTS_PER_MM)
    wanted = (float(sheet.label_width_mm), float(sheet.label_height_mm))
    if any(abs(is_ - should) > _SIZE_WITHIN_MM for is_, should in zip(size, wanted, strict=True)):
        source.close()
        raise ValueError(
            f"The label is {size[0]:.1f} x {size[1]:.1f} mm, but this sheet has labels of "
            f"{wanted[0]:g} x {wanted[1]:g} mm. Fit the label to this sheet first."
        )
    return source


def _new() -> Any:
    import pikepdf

    return pikepdf.new()


def _add_sheet(
    book: Any, sheet: LabelSheet, placed: Sequence[tuple[int, Any]], *, offset: tuple[float, float]
) -> None:
    """One page with a label at each of some places."""
    import pikepdf

    size = (float(sheet.page_width_mm) * POINTS_PER_MM, float(sheet.page_height_mm) * POINTS_PER_MM)
    page = book.add_blank_page(page_size=size)
    names: dict[Any, str] = {}
    operators = []
    for place, form in placed:
        name = names.setdefault(form.objgen, f"/L{len(names)}")
        x, y = origin_pt(sheet, place, offset_x_mm=offset[0], offset_y_mm=offset[1])
        operators.append(f"q 1 0 0 1 {x:.4f} {y:.4f} cm {name} Do Q")
    drawn = {names[form.objgen]: form for _, form in placed}
    page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(drawn))
    page.obj.Contents = book.make_stream("\n".join(operators).encode())


def saved(book: Any, *, title: str = "Labels") -> bytes:
    """The file, the same bytes for the same sheets."""
    import pikepdf

    with book.open_metadata(set_pikepdf_as_editor=False) as about:
        about["dc:title"] = title
    book.Root.ViewerPreferences = pikepdf.Dictionary(PrintScaling=pikepdf.Name.None_)
    out = io.BytesIO()
    book.save(out, deterministic_id=True)
    return out.getvalue()
