"""Many labels that differ in a line or two, such as a number: the rest is drawn only once.

The lines that differ are set on one long ribbon, label after label, and the ribbon is then cut:
each label of the file is the common drawing with its own strip of the ribbon on top.
"""

import io
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from labels.facts import LabelBox, LabelFace
from labels.rendering.arrangement import Arrangement, arrange
from labels.rendering.engine import TypeSetter, html_of, page_of, type_setter
from labels.rendering.layout import FittedLabel, as_printed, fit_label, measured_to_fit
from labels.rendering.markup import block_context, colour_of, label_context, mm
from labels.rendering.typesetting import Block, Part, in_lines

__all__ = ["fit_series", "render_pdf_pages"]

_PX_PER_MM = 96 / 25.4
_STRIPS_A_RIBBON = 250
_STATE = {"rg", "RG", "g", "G", "k", "K", "cs", "CS", "scn", "SCN", "gs"}
_TEXT_STATE = {"Tm", "Tf", "Tc", "Tw", "Tz", "Tr", "Ts"}
_HARMLESS = {"q", "Q", "cm", "BT", "ET", "BDC", "EMC", "BMC", "w", "n"}


def fit_series(faces: Sequence[LabelFace], *, box: LabelBox) -> tuple[FittedLabel, ...]:
    """Set many faces alike: the type that fits the longest of them, for all of them.

    Only that one is drawn here; the others are drawn together by `render_pdf_pages`, which
    measures them then, and hold no drawing of their own until that is done.
    """
    if not faces:
        raise ValueError("There is no label to set.")
    longest = max(faces, key=lambda face: sum(len(each.text) for each in face.particulars))
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


def render_pdf_pages(labels: Sequence[FittedLabel], *, title: str = "Labels") -> bytes:
    """Labels that differ from each other, one a page; all on paper of one size."""
    if not labels:
        raise ValueError("There is no label to draw.")
    box = labels[0].box
    if any((each.box.width_mm, each.box.height_mm) != (box.width_mm, box.height_mm)
           for each in labels):  # fmt: skip
        raise ValueError("Labels of different sizes cannot share a sheet; print them one by one.")
    differing = _differing(labels)
    if len(labels) > 2 and differing is not None:
        pages = _common_and_strips(labels, differing, title=title)
        if pages is not None:
            return pages
    return _one_by_one(labels, title=title)


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
    """Which blocks are not the same on every label; None if the labels are not alike at all."""
    first = labels[0]
    shape = _shape(first.arrangement)
    looks = replace(first.face, particulars=())
    model = _as_set(first.arrangement)
    same = [True] * len(model)
    for each in labels[1:]:
        if _shape(each.arrangement) != shape or replace(each.face, particulars=()) != looks:
            return None
        for place, (one, other) in enumerate(zip(model, _as_set(each.arrangement), strict=True)):
            same[place] = same[place] and one == other
    return [place for place, is_same in enumerate(same) if not is_same]


def _common_and_strips(
    labels: Sequence[FittedLabel], differing: list[int], *, title: str
) -> bytes | None:
    """All pages from one common drawing and a ribbon; None if a line does not keep to its place."""
    import pikepdf

    with type_setter() as setter:
        common, places = _common_drawing(labels[0], differing, setter=setter, title=title)
        with pikepdf.open(io.BytesIO(common)) as source, pikepdf.new() as book:
            drawing = book.copy_foreign(source.pages[0].as_form_xobject())
            for start in range(0, len(labels), _STRIPS_A_RIBBON):
                part = labels[start : start + _STRIPS_A_RIBBON]
                ribbon = _ribbon(part, places, setter=setter, title=title)
                if ribbon is None or not _add_pages(book, part, drawing, ribbon):
                    return None
            out = io.BytesIO()
            book.save(out, deterministic_id=True)
    return out.getvalue()


def _common_drawing(
    label: FittedLabel, differing: list[int], *, setter: TypeSetter, title: str
) -> tuple[bytes, dict[int, tuple[float, float]]]:
    """The label without what differs, and where that stands: place -> top, bottom [mm]."""
    box = label.box
    context = label_context(label.arrangement, face=label.face, box=box, hidden=differing)
    html = page_of([context], title=title, language=label.face.language)
    document = setter.lay_out(html, width_mm=float(box.width_mm), height_mm=float(box.height_mm))
    anchors = document.pages[0].anchors
    places = {
        place: (anchors[f"b{place}"][1] / _PX_PER_MM, anchors[f"b{place}"][3] / _PX_PER_MM)
        for place in differing
    }
    return document.write_pdf(), places


def _strip(
    label: FittedLabel, number: int, places: dict[int, tuple[float, float]], *,
    styles: dict[str, str],
) -> list[Any]:  # fmt: skip
    """What differs on one label, each block in its place on the ribbon."""
    box, blocks, count = label.box, [], 0
    shift = number * float(box.height_mm)
    for column in label.arrangement.columns:
        for block in column.blocks:
            if count in places:
                width = column.width_of(block)
                is_right = block is column.quantity and column.foot
                top, bottom = places[count]
                context = block_context(block, width_mm=width, colour="")
                # What all strips share is said once, in the style sheet of the ribbon.
                rules = (
                    f"{context['style']}; position: absolute; "
                    f"text-align: {'right' if is_right else column.align}; "
                    f"left: {mm(float(box.inset_mm) + column.x_mm)}; width: {mm(width)}; "
                    "box-sizing: border-box"
                )
                if block.role == "name":
                    rules += f"; color: {colour_of(label.face)}"
                name = styles.setdefault(rules, f"s{len(styles)}")
                context["role"] += f" {name}"
                context["style"] = f"top: {mm(shift + top)}"
                context["id"] = f"r{number}-{count}"
                context["height_px"] = (bottom - top) * _PX_PER_MM
                blocks.append(context)
            count += 1
    return blocks


def _ribbon(
    labels: Sequence[FittedLabel], places: dict[int, tuple[float, float]], *, setter: TypeSetter,
    title: str,
) -> bytes | None:  # fmt: skip
    box = labels[0].box
    height_mm = float(box.height_mm) * len(labels)
    styles: dict[str, str] = {}
    blocks = [
        block
        for number, each in enumerate(labels)
        for block in _strip(each, number, places, styles=styles)
    ]
    named = [(name, rules) for rules, name in styles.items()]
    named.append(("heading", f"color: {colour_of(labels[0].face)}"))
    html = html_of("label_ribbon.html", {
        "width": mm(float(box.width_mm)), "height": mm(height_mm), "blocks": blocks,
        "styles": named, "title": title, "language": labels[0].face.language,
    })  # fmt: skip
    document = setter.lay_out(html, width_mm=float(box.width_mm), height_mm=height_mm)
    anchors = document.pages[0].anchors
    for block in blocks:
        _, top, _, bottom = anchors[block["id"]]
        if abs(bottom - top - block["height_px"]) > 0.05:
            return None
    return document.write_pdf()


def _add_pages(book: Any, labels: Sequence[FittedLabel], drawing: Any, ribbon: bytes) -> bool:
    """Cut a ribbon and add a page for each label; False if it holds more than plain text."""
    import pikepdf

    box = labels[0].box
    size = (float(box.width_mm) * 72 / 25.4, float(box.height_mm) * 72 / 25.4)
    with pikepdf.open(io.BytesIO(ribbon)) as source:
        strips = _cut(source.pages[0], len(labels), height_px=float(box.height_mm) * _PX_PER_MM)
        if strips is None:
            return False
        fonts = book.copy_foreign(source.make_indirect(source.pages[0].Resources.Font))
        states = book.copy_foreign(source.make_indirect(source.pages[0].Resources.ExtGState))
    for number, strip in enumerate(strips):
        page = book.add_blank_page(page_size=size)
        page.obj.Resources = pikepdf.Dictionary(
            Font=fonts, ExtGState=states, XObject=pikepdf.Dictionary({"/Common": drawing})
        )
        # From the ribbon's pixels, counted downwards, to this label's points, counted upwards.
        place = f"q 0.75 0 0 -0.75 0 {size[1] * (number + 1):.4f} cm\n".encode()
        page.obj.Contents = book.make_stream(b"q /Common Do Q\n" + place + strip + b"\nQ")
    return True


def _cut(page: Any, count: int, *, height_px: float) -> list[bytes] | None:
    """The text of each strip, with the colour and type it is drawn in; None for anything else.

    Each piece of text is taken out with all that was in force where it stood, so that it does not
    matter how the type setter gathered the pieces of neighbouring strips.
    """
    import pikepdf

    begin, end = (
        pikepdf.ContentStreamInstruction([], pikepdf.Operator(name)) for name in ("BT", "ET")
    )
    strips: list[list[Any]] = [[] for _ in range(count)]
    state: dict[str, Any] = {}
    text_state: dict[str, Any] = {}
    for instruction in pikepdf.parse_content_stream(page):
        operator = str(instruction.operator)
        if operator in _STATE:
            state[operator] = instruction
        elif operator in _TEXT_STATE:
            text_state[operator] = instruction
        elif operator in {"TJ", "Tj"}:
            baseline_px = float(text_state["Tm"].operands[5])
            strips[min(int(baseline_px // height_px), count - 1)] += [
                *state.values(), begin, *text_state.values(), instruction, end,
            ]  # fmt: skip
        elif operator not in _HARMLESS:
            return None
    return [pikepdf.unparse_content_stream(strip) for strip in strips]
