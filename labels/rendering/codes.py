"""Codes that a scanner reads: bars for an article number, squares for an address.

They are drawn as shapes, never as pictures. Sizes, from memory: GS1 General Specifications,
section 5.2: bars of an EAN-13 at 80 % of the nominal size, the smallest (0.264 mm a module,
18.28 mm high), with 11 modules free at the left and 7 at the right; ISO/IEC 18004: four modules
free all round a QR code. How large its squares are is common practice: 0.4 mm for a telephone.
"""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import lru_cache
from typing import Any

from labels.facts import LabelBox, LabelCode
from labels.rendering.fonts import SANS

__all__ = ["code_contexts", "ean13", "qr", "reserved_mm"]

_BAR_MM, _BARS_HIGH_MM = Decimal("0.264"), Decimal("18.28")
_SQUARE_MM = Decimal("0.4")
_FIGURES_MM = Decimal("2.8")
_GAP_MM = 1.0
_MOST_LETTERS = 300


@lru_cache(maxsize=64)
def ean13(gtin: str) -> LabelCode:
    """The bars of thirteen digits, the check digit among them."""
    from barcode.ean import EAN13

    code = EAN13(gtin, no_checksum=True)
    if code.get_fullcode() != gtin:
        raise ValueError(f"{gtin} is not the number of an article.")
    return LabelCode(
        kind="ean13",
        text=gtin,
        rows=(code.build()[0].replace("G", "1"),),
        module_mm=_BAR_MM,
        row_mm=_BARS_HIGH_MM,
        quiet=(11, 0, 7, 0),
        shown=f"{gtin[0]} {gtin[1:7]} {gtin[7:]}",
    )


@lru_cache(maxsize=64)
def qr(text: str) -> LabelCode:
    """The squares of a text such as an address; read even if an eighth is spoilt (level M)."""
    import segno

    if len(text) > _MOST_LETTERS:
        raise ValueError(f"{len(text)} letters are too many for a small code: {_MOST_LETTERS}.")
    code = segno.make_qr(text, error="m", boost_error=False)
    rows = tuple("".join("1" if each else "0" for each in row) for row in code.matrix)
    return LabelCode(
        kind="qr", text=text, rows=rows, module_mm=_SQUARE_MM, row_mm=_SQUARE_MM,
        quiet=(4, 4, 4, 4),
    )  # fmt: skip


def _is_turned(code: LabelCode, *, box: LabelBox) -> bool:
    """Bars stand upright on small labels that are high enough: that leaves more room for text."""
    high = box.height_mm - 2 * box.inset_mm
    return code.kind == "ean13" and code.width_mm <= high and box.width_mm < 90


def _size_mm(code: LabelCode, *, box: LabelBox) -> tuple[float, float]:
    size = float(code.width_mm), float(code.height_mm + (_FIGURES_MM if code.shown else 0))
    return (size[1], size[0]) if _is_turned(code, box=box) else size


def _in_rows(codes: Sequence[LabelCode], *, box: LabelBox) -> list[list[LabelCode]]:
    """Codes under each other while the label is high enough, else beside each other."""
    high = float(box.height_mm - 2 * box.inset_mm)
    total = sum(_size_mm(code, box=box)[1] for code in codes)
    return [list(codes)] if total <= high else [[code] for code in codes]


def reserved_mm(codes: Sequence[LabelCode], *, box: LabelBox) -> float:
    """How much of the label's width the codes take, their free edges included."""
    return sum(
        max(_size_mm(code, box=box)[0] for code in row) + _GAP_MM
        for row in _in_rows(codes, box=box)
        if row
    )


def have_room(codes: Sequence[LabelCode], *, box: LabelBox) -> bool:
    """Whether the codes fit on the label at all, with half of it left for words."""
    high = float(box.height_mm - 2 * box.inset_mm)
    is_low_enough = all(_size_mm(code, box=box)[1] <= high for code in codes)
    return is_low_enough and reserved_mm(codes, box=box) <= 0.55 * float(box.width_mm)


def code_contexts(codes: Sequence[LabelCode], *, box: LabelBox) -> Iterator[dict[str, Any]]:
    """The codes as the template wants them, at the right edge of the label."""
    right = float(box.width_mm - box.inset_mm)
    for row in _in_rows(codes, box=box):
        top = float(box.inset_mm)
        for code in row:
            width, height = _size_mm(code, box=box)
            yield _context(code, box=box, centre=(right - width / 2, top + height / 2))
            top += height
        right -= max((_size_mm(code, box=box)[0] for code in row), default=0.0) + _GAP_MM


def _context(code: LabelCode, *, box: LabelBox, centre: tuple[float, float]) -> dict[str, Any]:
    width = float(code.width_mm)
    height = float(code.height_mm + (_FIGURES_MM if code.shown else 0))
    left, top = centre[0] - width / 2, centre[1] - height / 2
    turn = "; transform: rotate(90deg)" if _is_turned(code, box=box) else ""
    return {
        "style": f"left: {left:.3f}mm; top: {top:.3f}mm; width: {width:.3f}mm; "
        f"height: {height:.3f}mm{turn}",
        "drawing": f"width: {width:.3f}mm; height: {code.height_mm:.3f}mm",
        "view": f"0 0 {width:.4f} {code.height_mm:.4f}",
        "path": "".join(_bars(code)),
        "shown": code.shown,
        "figures": f"top: {code.height_mm:.3f}mm; font-family: '{SANS}'; "
        f"font-size: {float(_FIGURES_MM) * 0.9:.3f}mm; line-height: {_FIGURES_MM}mm",
    }


def _bars(code: LabelCode) -> Iterator[str]:
    """Every run of dark modules as a rectangle; rows of squares overlap by nothing."""
    module, row_mm = code.module_mm, code.row_mm
    left, above = code.quiet[0], code.quiet[1]
    for number, row in enumerate(code.rows):
        y = above * module + number * row_mm
        start = None
        for place, sign in enumerate(f"{row}0"):
            if sign == "1" and start is None:
                start = place
            elif sign != "1" and start is not None:
                x, wide = (left + start) * module, (place - start) * module
                yield f"M{x:.4f} {y:.4f}h{wide:.4f}v{row_mm:.4f}h-{wide:.4f}z"
                start = None
