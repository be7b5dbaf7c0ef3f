"""The layouts: which statement goes where, in which size, on one baseline grid.

A label is one to five columns. In each, blocks flow from the top, and others stand at the
foot; a column fits when the two do not meet.
"""

from dataclasses import replace

from labels.facts import LabelBox, LabelFace
from labels.rendering.blocks import Setting, fact_blocks, foot_blocks, rule_block
from labels.rendering.codes import have_room, reserved_mm
from labels.rendering.columns import (
    Arrangement,
    Column,
    first_flush,
    front_blocks,
    note_blocks,
    statements_of,
    with_foot,
)
from labels.rendering.tickets import ticket
from labels.rendering.wide import around, beside_columns, front_and_back

__all__ = ["Arrangement", "Column", "arrange"]

_STRIP = 4.5  # times as wide as high: no room for a name above the facts


def _quiet(face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting) -> list[Column]:
    if width_mm > _STRIP * height_mm:  # on a strip the rule stands upright
        return _two_panel(face, width_mm=width_mm, height_mm=height_mm, setting=setting)
    sort = statements_of(face)
    front = front_blocks(
        face, sort, width_mm=width_mm, height_mm=height_mm, share=0.27, setting=setting
    )  # fmt: skip
    body = fact_blocks(sort.body, setting=setting) + note_blocks(face, setting=setting)
    rule = (rule_block(setting),) if front and body else ()
    if body:
        body = (body[0].without_space(), *body[1:])
    column = Column(
        "front", 0, width_mm,
        flow=(*front, *rule, *body),
        foot=foot_blocks(sort.foot, setting=setting),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    beside = with_foot(column, sort, height_mm=height_mm, setting=setting)
    if not sort.foot or len(beside.foot) < 2 or beside.height_mm() <= height_mm:
        return [beside]
    # Short of room: some statements over the full width, the others beside the quantity.
    first, *others = beside.foot
    ways = (
        beside,
        replace(beside, over_foot=(*beside.over_foot, first), foot=tuple(others)),
        replace(beside, over_foot=(*beside.over_foot, *others), foot=(first,)),
    )
    return [min(ways, key=lambda way: round(way.foot_height_mm(), 3))]


def _two_panel(
    face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting
) -> list[Column]:
    sort = statements_of(face)
    gap = 4.0
    front_width = round(0.40 * (width_mm - gap), 2)
    front = Column(
        "front", 0, front_width,
        flow=front_blocks(
            face, sort, width_mm=front_width, height_mm=height_mm, share=0.5, setting=setting
        ),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    front = with_foot(front, sort, height_mm=height_mm * 1.25, setting=setting)
    body = fact_blocks(sort.body, setting=setting) + note_blocks(face, setting=setting)
    back = Column(
        "back", front_width + gap, width_mm - front_width - gap,
        flow=(body[0].without_space(), *body[1:]) if body else (),
        foot=foot_blocks(sort.foot, setting=setting),
        has_line_before=True,
        gap_mm=setting.pitch_mm / 4,
        sink_mm=front.sink_mm,
    )  # fmt: skip
    return [front, back]


def _long(face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting) -> list[Column]:
    """The front in the middle, on top of what is wrapped; the facts fold down at both sides."""
    sort = statements_of(face)
    gap = 4.0
    front_width = round(0.30 * width_mm, 2)
    side = (width_mm - front_width - 2 * gap) / 2
    front = Column(
        "front", side + gap, front_width,
        flow=front_blocks(
            face, sort, width_mm=front_width, height_mm=height_mm, share=0.45, setting=setting
        ),
        align="center",
        has_line_before=True,
        gap_mm=setting.pitch_mm / 3,
    )  # fmt: skip
    front = with_foot(front, sort, height_mm=height_mm * 1.4, setting=setting)
    body = [*fact_blocks(sort.body, setting=setting), *note_blocks(face, setting=setting)]
    foot = foot_blocks(sort.foot, setting=setting)
    columns = []
    for split in range(len(body) + 1):
        left, right = body[:split], body[split:]
        columns.append([
            Column("back", 0, side, flow=tuple(first_flush(left)), sink_mm=0),
            front,
            Column(
                "back", width_mm - side, side,
                flow=tuple(first_flush(right)) or foot,
                foot=foot if right else (),
                has_line_before=True,
                gap_mm=setting.pitch_mm / 4,
            ),
        ])  # fmt: skip
    return min(columns, key=lambda three: max(three[0].height_mm(), three[2].height_mm()))


_LAYOUTS = {
    "quiet": _quiet,
    "two-panel": _two_panel,
    "long": _long,
    "ticket": ticket,
    "columns": beside_columns,
}


def arrange(face: LabelFace, *, box: LabelBox, setting: Setting) -> Arrangement:
    """Put a face's statements into the columns of its layout."""
    height_mm = float(box.height_mm - 2 * box.inset_mm)
    whole_mm = float(box.width_mm - 2 * box.inset_mm - box.lap_mm)
    has_room = not face.codes or have_room(face.codes, box=box)
    width_mm = whole_mm - (reserved_mm(face.codes, box=box) if face.codes and has_room else 0)
    if face.layout == "pair":
        columns = front_and_back(
            face, seen_mm=None if box.seen_mm is None else float(box.seen_mm),
            front_mm=whole_mm, back_mm=width_mm, height_mm=height_mm, setting=setting,
        )  # fmt: skip
    elif face.layout == "wrap":
        seen_mm = float(box.seen_mm or box.width_mm / 3)
        columns = around(
            face, seen_mm=seen_mm, width_mm=width_mm, height_mm=height_mm, setting=setting
        )
    else:
        columns = _LAYOUTS[face.layout](
            face, width_mm=width_mm, height_mm=height_mm, setting=setting
        )
    lap_mm = float(box.lap_mm)
    return Arrangement(
        tuple(replace(each, x_mm=each.x_mm + lap_mm) for each in columns) if lap_mm
        else tuple(columns),
        setting,
        height_mm,
        has_room_for_codes=has_room,
        seen_mm=None if box.seen_mm is None else float(box.seen_mm),
    )  # fmt: skip
