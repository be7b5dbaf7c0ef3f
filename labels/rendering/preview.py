"""A picture of a printed page, for the screen: drawn from the PDF itself, so it cannot differ."""

import io
from typing import Any

import pypdfium2

__all__ = ["label_png", "page_png"]

MM_PER_INCH = 25.4
_GROUND = (206, 199, 190)
APART_MM = 4
"""Between a front and a back that are looked at side by side."""


def page_png(pdf: bytes, *, dots_per_mm: int = 12) -> bytes:
    """The first page of a PDF as a PNG; 12 dots a millimetre stay sharp at twice true size."""
    return _saved(_pictures(pdf, dots_per_mm=dots_per_mm, most=1)[0])


def label_png(pdf: bytes, *, dots_per_mm: int = 12) -> bytes:
    """A label as a PNG; a front and a back side by side on a darker ground."""
    pictures = _pictures(pdf, dots_per_mm=dots_per_mm)
    if len(pictures) == 1:
        return _saved(pictures[0])
    apart = APART_MM * dots_per_mm
    wide = sum(each.width for each in pictures) + apart * (len(pictures) - 1)
    both = pictures[0].convert("RGB").resize((wide, pictures[0].height))
    both.paste(_GROUND, (0, 0, *both.size))
    left = 0
    for each in pictures:
        both.paste(each.convert("RGB"), (left, 0))
        left += each.width + apart
    return _saved(both)


def _pictures(pdf: bytes, *, dots_per_mm: int, most: int | None = None) -> list[Any]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        pages = list(document)[:most]
        return [page.render(scale=dots_per_mm * MM_PER_INCH / 72).to_pil() for page in pages]
    finally:
        document.close()


def _saved(picture: Any) -> bytes:
    out = io.BytesIO()
    picture.save(out, format="PNG", optimize=True)
    return out.getvalue()
