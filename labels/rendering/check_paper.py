"""The check of a label on paper: the label large, every statement with the provision behind it."""

import io
from dataclasses import dataclass
from typing import Any

from labels.rendering.engine import html_of, type_setter
from labels.rendering.fonts import drawable
from labels.rendering.imposition import POINTS_PER_MM
from labels.rendering.paper import PAPERS_MM

__all__ = ["CheckSheet", "CheckedFinding", "CheckedStatement", "check_pdf"]


@dataclass(frozen=True)
class CheckedStatement:
    """One statement: its number, what it is, what it says, and who asks for it.

    letters: how high they are, in words. mark: how the provision was read, if not in its own text.
    """

    number: int
    heading: str
    text: str
    provision: str
    act: str
    link: str
    letters: str = ""
    mark: str = ""


@dataclass(frozen=True)
class CheckedFinding:
    """One finding: how grave it is, in words; what it says, what to do, and who says so."""

    level: str
    message: str
    hint: str = ""
    source: str = ""


@dataclass(frozen=True)
class CheckSheet:
    """All that stands on the sheet, as it is printed. label_pdf: the label, one page or two.

    verdict: in one or two words; explained: what it means. facts: name and value, for the head.
    asks: what to ask the authority. marks: what "second-hand" and the like mean, where they stand.
    """

    title: str
    verdict: str
    explained: str
    facts: tuple[tuple[str, str], ...]
    statements: tuple[CheckedStatement, ...]
    findings: tuple[CheckedFinding, ...]
    not_checked: tuple[str, ...]
    asks: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    label_pdf: bytes = b""


@dataclass(frozen=True)
class _Place:
    """Where the label is drawn on the first page, from its top left corner [mm]; how much larger.

    is_wide: it stands above the head, across the page, and not beside it.
    """

    width_mm: float
    height_mm: float
    scale: float
    is_wide: bool


# The largest that fits is taken; what even the smallest cannot hold goes on overleaf, uncut.
_SIZES_PT = (10.0, 9.0, 8.0, 7.5, 7.0)
_LARGEST_SCALE = 2.0
_BESIDE_MM, _TALLEST_MM = 96.0, 74.0
_LEFT_MM, _TOP_MM = 12.0, 11.0
_WIDE = 2.4  # as wide as high, from where on a label reads better across the page
_GAP_MM = 3.0
_SIGNS_ON_A_PAGE = 9000  # at the smallest size; more cannot fit and need not be tried


def check_pdf(sheet: CheckSheet, *, paper: str = "A4") -> bytes:
    """The sheet as a tagged PDF (declared PDF/UA-1), on one page if it can be.

    What is too much even for the smallest type goes on overleaf, and the first page says so.
    The label is drawn as it would be printed, in lines and letters, larger.
    Raises: RenderingUnavailable where a system library is missing, RenderingFault on a warning.
    """
    width_mm, height_mm = PAPERS_MM[paper]
    place = _place(sheet.label_pdf, room_mm=width_mm - 2 * _LEFT_MM)
    with type_setter() as setter:
        for size_pt in _worth_trying(sheet):
            context = _context(sheet, place, size_pt)
            html = html_of("label_check.html", context)
            document = setter.lay_out(html, width_mm=width_mm, height_mm=height_mm)
            if len(document.pages) == 1:
                break
        else:
            more = html_of("label_check.html", context | {"goes_on": len(document.pages)})
            document = setter.lay_out(more, width_mm=width_mm, height_mm=height_mm)
        written = bytes(document.write_pdf(pdf_variant="pdf/ua-1"))
    return _drawn(written, sheet.label_pdf, place, height_mm=height_mm) if place else written


def _worth_trying(sheet: CheckSheet) -> tuple[float, ...]:
    """The sizes whose letters alone do not overflow the page; the smallest in any case."""
    words = [s.text + s.act + s.provision for s in sheet.statements]
    words += [f.message + f.hint + f.source for f in sheet.findings] + list(sheet.not_checked)
    signs = sum(map(len, words))
    fits = [size for size in _SIZES_PT[:-1] if signs * (size / 7) ** 2 < _SIGNS_ON_A_PAGE]
    return (*fits, _SIZES_PT[-1])


def _sizes_mm(label_pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page of the label [mm]."""
    import pikepdf

    if not label_pdf:
        return []
    with pikepdf.open(io.BytesIO(label_pdf)) as book:
        boxes = [[float(edge) for edge in page.mediabox] for page in book.pages]
    return [((x1 - x0) / POINTS_PER_MM, (y1 - y0) / POINTS_PER_MM) for x0, y0, x1, y1 in boxes]


def _place(label_pdf: bytes, *, room_mm: float) -> _Place | None:
    """How large the label can be; a front and a back stand side by side."""
    sizes = _sizes_mm(label_pdf)
    if not sizes:
        return None
    gaps = _GAP_MM * (len(sizes) - 1)
    width, height = sum(size[0] for size in sizes), max(size[1] for size in sizes)
    is_wide = (width + gaps) / height >= _WIDE
    widest = room_mm if is_wide else _BESIDE_MM
    scale = min((widest - gaps) / width, _TALLEST_MM / height, _LARGEST_SCALE)
    return _Place(width * scale + gaps, height * scale, scale, is_wide)


def _context(sheet: CheckSheet, place: _Place | None, size_pt: float) -> dict[str, Any]:
    acts = dict.fromkeys((each.act, each.link) for each in sheet.statements)
    return {
        "style": f"font-size: {size_pt}pt; line-height: 1.25",
        "title": drawable(sheet.title),
        "verdict": sheet.verdict,
        "explained": drawable(sheet.explained),
        "facts": [(name, drawable(value)) for name, value in sheet.facts],
        "place": place,
        "picture": f"width: {place.width_mm:.2f}mm; height: {place.height_mm:.2f}mm"
        if place
        else "",
        "head": ""
        if place is None or place.is_wide
        else f"margin-left: {place.width_mm + 5:.2f}mm",
        "larger": _larger(place) if place else "",
        "statements": [_statement(each) for each in sheet.statements],
        "findings": [_finding(each) for each in sheet.findings],
        "not_checked": [drawable(each) for each in sheet.not_checked],
        "asks": [drawable(each) for each in sheet.asks],
        "marks": sheet.marks,
        "acts": acts,
    }


def _larger(place: _Place) -> str:
    times = f"{place.scale:.1f}"
    return "at its size" if times == "1.0" else f"{times} times its size"


def _statement(each: CheckedStatement) -> dict[str, Any]:
    return {
        "number": each.number,
        "heading": each.heading,
        "text": drawable(each.text),
        "letters": each.letters,
        "provision": each.provision,
        "act": each.act,
        "link": each.link,
        "mark": each.mark,
    }


def _finding(each: CheckedFinding) -> dict[str, Any]:
    return {
        "level": each.level,
        "message": drawable(each.message),
        "hint": drawable(each.hint),
        "source": each.source,
    }


def _drawn(pdf: bytes, label_pdf: bytes, place: _Place, *, height_mm: float) -> bytes:
    """The sheet with the label in its place, as a picture that a reader of tags passes over."""
    import pikepdf

    with (
        pikepdf.open(io.BytesIO(pdf)) as book,
        pikepdf.open(io.BytesIO(label_pdf)) as label,
    ):
        page = book.pages[0]
        operators, sizes = ["/Artifact BMC"], _sizes_mm(label_pdf)
        x_mm = _LEFT_MM
        for number, source in enumerate(label.pages):
            width, height = sizes[number]
            name = pikepdf.Name(f"/Label{number}")
            _untag(label, source)
            form = book.copy_foreign(source.as_form_xobject())
            page.add_resource(form, pikepdf.Name.XObject, name)
            x, y = (
                x_mm * POINTS_PER_MM,
                (height_mm - _TOP_MM - height * place.scale) * POINTS_PER_MM,
            )
            operators += _framed(x, y, width * place.scale, height * place.scale)
            operators.append(
                f"q {place.scale:.5f} 0 0 {place.scale:.5f} {x:.4f} {y:.4f} cm {name} Do Q"
            )
            x_mm += width * place.scale + _GAP_MM
        page.contents_add(b"q", prepend=True)
        page.contents_add("\n".join(["Q", *operators, "EMC"]).encode())
        out = io.BytesIO()
        book.save(out, deterministic_id=True)
    return out.getvalue()


def _untag(label: Any, page: Any) -> None:
    """A picture has no tags of its own: its words stand in the list, which is tagged."""
    import pikepdf

    drawn = [
        step
        for step in pikepdf.parse_content_stream(page)
        if str(step.operator) not in {"BDC", "BMC", "EMC"}
    ]
    page.obj.Contents = label.make_stream(pikepdf.unparse_content_stream(drawn))


def _framed(x: float, y: float, width_mm: float, height_mm: float) -> list[str]:
    width, height = width_mm * POINTS_PER_MM, height_mm * POINTS_PER_MM
    return [f"q 0.4 w 0.6 G {x:.4f} {y:.4f} {width:.4f} {height:.4f} re S Q"]
