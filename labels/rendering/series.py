"""Many labels that differ in a line or two, such as a number: the rest is drawn only once.

The lines that differ are put together, letter by letter, from a specimen that was set once: each
label of the file is the common drawing with its own lines on top.
"""

import io
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from typing import Any

from labels.facts import LabelBox, LabelFace
from labels.rendering.arrangement import Arrangement, arrange
from labels.rendering.engine import TypeSetter, page_of, type_setter
from labels.rendering.fonts import Face, text_width_em
from labels.rendering.layout import FittedLabel, as_printed, fit_label, measured_to_fit
from labels.rendering.markup import block_context, colour_of, label_context
from labels.rendering.specimen import Look, NotLearnt, Specimen, learn
from labels.rendering.typesetting import Block, Part, in_lines

__all__ = ["fit_series", "render_pdf_pages"]

_PX_PER_MM = 96 / 25.4
_FEWEST = 3  # labels that share a drawing; fewer are quicker drawn each for itself
_GAP_EM = 0.6  # what .between of the style sheet adds to two spaces


def fit_series(
    faces: Sequence[LabelFace], *, box: LabelBox, like: LabelFace | None = None
) -> tuple[FittedLabel, ...]:
    """Set many faces alike: the type that fits the longest of them, for all of them.

    like: a face whose type they take instead, when they are part of a longer series.

    Only that one is drawn here; the others are drawn together by `render_pdf_pages`, which
    measures them then, and hold no drawing of their own until that is done.
    """
    if not faces:
        raise ValueError("There is no label to set.")
    longest = like or max(faces, key=_letters)
    model = fit_label(longest, box=box)
    if not model.fits:
        return tuple(fit_label(face, box=box) for face in faces)
    fitted: dict[LabelFace, FittedLabel] = {longest: model}
    for face in faces:
        if face in fitted:
            continue
        arrangement = arrange(face, box=box, setting=model.arrangement.setting)
        fitted[face] = (
            replace(
                model, face=face, arrangement=arrangement, html="", pdf=b"",
                printed=as_printed(arrangement, wanted=face),
            )
            if arrangement.seems_to_fit() or _shape(arrangement) == _shape(model.arrangement)
            else fit_label(face, box=box)
        )  # fmt: skip
    return tuple(fitted[face] for face in faces)


def _letters(face: LabelFace) -> int:
    return sum(len(each.text) for each in face.particulars)


def render_pdf_pages(labels: Sequence[FittedLabel], *, title: str = "Labels") -> bytes:
    """Labels that differ from each other, one a page; all on paper of one size."""
    if not labels:
        raise ValueError("There is no label to draw.")
    box = labels[0].box
    if any((each.box.width_mm, each.box.height_mm) != (box.width_mm, box.height_mm)
           for each in labels):  # fmt: skip
        raise ValueError("Labels of different sizes cannot share a sheet; print them one by one.")
    groups = _alike(labels)
    if len(groups) == 1:
        return _drawn_alike(labels, title=title)
    alike = [places for places in groups if len(places) >= _FEWEST]
    others = sorted(place for places in groups if len(places) < _FEWEST for place in places)
    parts = [
        (places, _drawn_alike([labels[place] for place in places], title=title)) for places in alike
    ]
    if others:
        parts.append((others, _one_by_one([labels[place] for place in others], title=title)))
    return _in_order(parts, title=title, language=labels[0].face.language)


def _alike(labels: Sequence[FittedLabel]) -> list[list[int]]:
    """Which labels can share a drawing; heavier pieces have larger figures and form their own."""
    groups: dict[tuple[Any, ...], list[int]] = {}
    for place, label in enumerate(labels):
        key = (_shape(label.arrangement), replace(label.face, particulars=()))
        groups.setdefault(key, []).append(place)
    return list(groups.values())


def _drawn_alike(labels: Sequence[FittedLabel], *, title: str) -> bytes:
    """Labels of one shape: from a common drawing, where they are enough and that can be."""
    differing = _differing(labels) if len(labels) >= _FEWEST else None
    pages = None
    if differing is not None:
        pages = _common_and_own_lines(labels, differing, title=title)
    return _one_by_one(labels, title=title) if pages is None else pages


def _in_order(parts: Sequence[tuple[Sequence[int], bytes]], *, title: str, language: str) -> bytes:
    """Pages of several files, each put where it belongs."""
    import pikepdf

    with ExitStack() as stack, pikepdf.new() as book:
        pages: dict[int, Any] = {}
        for places, pdf in parts:
            source = stack.enter_context(pikepdf.open(io.BytesIO(pdf)))
            pages |= dict(zip(places, source.pages, strict=True))
        for place in sorted(pages):
            book.pages.append(pages[place])
        return _saved(book, title=title, language=language)


def _saved(book: Any, *, title: str, language: str) -> bytes:
    import pikepdf

    with book.open_metadata(set_pikepdf_as_editor=False) as about:
        about["dc:title"] = title
    book.Root.Lang = pikepdf.String(language)
    out = io.BytesIO()
    book.save(out, deterministic_id=True)
    return out.getvalue()


def _one_by_one(labels: Sequence[FittedLabel], *, title: str) -> bytes:
    box = labels[0].box
    contexts = [
        label_context(each.arrangement, face=each.face, box=each.box, number=number)
        for number, each in enumerate(labels)
    ]
    html = page_of(contexts, title=title, language=labels[0].face.language)
    with type_setter() as setter:
        document = setter.lay_out(
            html, width_mm=float(box.width_mm), height_mm=float(box.height_mm)
        )
        fit = len(document.pages) == len(labels) and all(
            measured_to_fit(page, each.arrangement, box=box, number=number)
            for number, (page, each) in enumerate(zip(document.pages, labels, strict=True))
        )
        if not fit:
            raise ValueError("A label has no room for its text; fit it again before printing.")
        return document.write_pdf()


def _shape(arrangement: Arrangement) -> tuple[Any, ...]:
    """What must be equal for two labels to share a drawing: all places, sizes and heights."""
    return tuple(
        (
            column.panel, column.x_mm, column.width_mm, column.sink_mm, len(column.over_foot),
            tuple(
                (block.role, block.kinds, block.size_mm, block.line_mm, block.before_mm,
                 block.height_mm(width_mm=width))
                for width, blocks in (
                    (column.width_mm, (*column.flow, *column.over_foot)),
                    (column.foot_width_mm, column.foot),
                )
                for block in blocks
            ),
            column.quantity and (column.quantity.size_mm, column.quantity.line_mm),
        )
        for column in arrangement.columns
    )  # fmt: skip


def _as_set(arrangement: Arrangement) -> list[tuple[Block, tuple[Part, ...]]]:
    """Every block with its lines: a block is the same on two labels if those are the same too."""
    return [
        (block, in_lines(block, width_mm=column.width_of(block)))
        for column in arrangement.columns
        for block in column.blocks
    ]


def _differing(labels: Sequence[FittedLabel]) -> list[int] | None:
    """Which blocks are not the same on labels of one shape; None if they cannot be set apart."""
    model = _as_set(labels[0].arrangement)
    same = [True] * len(model)
    for each in labels[1:]:
        for place, (one, other) in enumerate(zip(model, _as_set(each.arrangement), strict=True)):
            same[place] = same[place] and one == other
    if any(block.rows and not same[place] for place, (block, _) in enumerate(model)):
        return None  # a table is set as a whole
    return [place for place, is_same in enumerate(same) if not is_same]


@dataclass(frozen=True)
class _Line:
    """A line that differs: its stretches of text, each with its look, and where it stands.

    left_px and top_px are of its block; None between two stretches stands for the gap between
    statements. number: of the line in its block.
    """

    stretches: tuple[tuple[Look, str] | None, ...]
    left_px: float
    width_px: float
    top_px: float
    number: int
    line_px: float
    align: str
    gap_px: float


def _common_and_own_lines(
    labels: Sequence[FittedLabel], differing: list[int], *, title: str
) -> bytes | None:
    """All pages from one common drawing and a specimen; None if a text cannot be put together."""
    import pikepdf

    with type_setter() as setter:
        common, places = _common_drawing(labels[0], differing, setter=setter, title=title)
        own = [list(_own_lines(each, places)) for each in labels]
        texts: dict[Look, dict[str, None]] = {}
        for line in (line for lines in own for line in lines):
            for stretch in line.stretches:
                if stretch is not None and stretch[1].strip():
                    texts.setdefault(stretch[0], {})[stretch[1]] = None
        try:
            specimen = learn(texts, setter=setter)
            drawn = [_drawn_lines(lines, specimen) for lines in own]
        except NotLearnt:
            return None
    language = labels[0].face.language
    with pikepdf.open(io.BytesIO(common)) as source, pikepdf.new() as book:
        drawing = book.copy_foreign(source.pages[0].as_form_xobject())
        _add_pages(book, drawn, drawing, specimen, box=labels[0].box)
        return _saved(book, title=title, language=language)


def _common_drawing(
    label: FittedLabel, differing: list[int], *, setter: TypeSetter, title: str
) -> tuple[bytes, dict[int, float]]:
    """The label without what differs, and where that stands: place -> its top [px]."""
    box = label.box
    context = label_context(label.arrangement, face=label.face, box=box, hidden=differing)
    html = page_of([context], title=title, language=label.face.language)
    document = setter.lay_out(html, width_mm=float(box.width_mm), height_mm=float(box.height_mm))
    anchors = document.pages[0].anchors
    return document.write_pdf(), {place: anchors[f"b{place}"][1] for place in differing}


def _own_lines(label: FittedLabel, places: Mapping[int, float]) -> Iterator[_Line]:
    """The lines of one label that are not on every other."""
    box, count, colour = label.box, 0, colour_of(label.face)
    for column in label.arrangement.columns:
        for block in column.blocks:
            if count in places:
                width_mm = column.width_of(block)
                is_right = block is column.quantity and bool(column.foot)
                context = block_context(block, width_mm=width_mm, colour=colour)
                space_em = text_width_em(" ", face=Face(block.family)) + block.tracking_em
                for number, stretches in enumerate(_stretches(context)):
                    yield _Line(
                        stretches=stretches,
                        left_px=(float(box.inset_mm) + column.x_mm) * _PX_PER_MM,
                        width_px=(column.width_mm if is_right else width_mm) * _PX_PER_MM,
                        top_px=places[count],
                        number=number,
                        line_px=block.line_mm * _PX_PER_MM,
                        align="right" if is_right else column.align,
                        gap_px=(2 * space_em + _GAP_EM) * block.size_mm * _PX_PER_MM,
                    )
            count += 1


def _stretches(context: dict[str, Any]) -> Iterator[tuple[tuple[Look, str] | None, ...]]:
    """A block as the template is told it, line by line."""
    line: list[tuple[Look, str] | None] = []
    for place, part in enumerate(context["parts"]):
        if part["begins_line"]:
            yield tuple(line)
            line = []
        elif place:
            line.append(None)
        for span in part["spans"]:
            look = Look(
                context["role"], context["tag"], context["style"],
                span["tag"], span["looks"], span["colour"],
            )  # fmt: skip
            for number, text in enumerate(span["lines"]):
                if number:
                    yield tuple(line)
                    line = []
                line.append((look, text))
    yield tuple(line)


def _drawn_lines(lines: Sequence[_Line], specimen: Specimen) -> bytes:
    """The operators that draw some lines. Raises NotLearnt."""
    return b"\n".join(_drawn_line(line, specimen) for line in lines)


def _drawn_line(line: _Line, specimen: Specimen) -> bytes:
    pieces: list[tuple[float, bytes, float, str]] = []
    x_px = 0.0
    for stretch in line.stretches:
        if stretch is None:
            x_px += line.gap_px
            continue
        look, text = stretch
        if not text.strip():
            if text:
                raise NotLearnt("A stretch of nothing but spaces.")
            continue
        learnt = specimen.looks[look]
        operand, width_px = learnt.put_together(text)
        baseline_px = line.top_px + learnt.baseline_px + line.number * line.line_px
        pieces.append((x_px, learnt.start, baseline_px, operand))
        x_px += width_px
    spare = line.width_px - x_px
    left_px = line.left_px + {"right": spare, "center": spare / 2}.get(line.align, 0.0)
    return b"\n".join(
        b"BT\n" + start + f"\n1 0 0 -1 {left_px + x:.4f} {y:.4f} Tm\n{operand} TJ\nET".encode()
        for x, start, y, operand in pieces
    )


def _add_pages(
    book: Any, drawn: Sequence[bytes], drawing: Any, specimen: Specimen, *, box: LabelBox
) -> None:
    """A page for each label: the common drawing, and its own lines on top."""
    import pikepdf

    size = (float(box.width_mm) * 72 / 25.4, float(box.height_mm) * 72 / 25.4)
    with pikepdf.open(io.BytesIO(specimen.pdf)) as source:
        fonts = book.copy_foreign(source.make_indirect(source.pages[0].Resources.Font))
    resources = book.make_indirect(
        pikepdf.Dictionary(Font=fonts, XObject=pikepdf.Dictionary({"/Common": drawing}))
    )
    # From the type setter's pixels, counted downwards, to points, counted upwards.
    place = f"q /Common Do Q\nq 0.75 0 0 -0.75 0 {size[1]:.4f} cm\n".encode()
    for lines in drawn:
        page = book.add_blank_page(page_size=size)
        page.obj.Resources = resources
        page.obj.Contents = book.make_stream(place + lines + b"\nQ")
