"""The pack of a label, drawn to scale with the label on it; the surface that counts is shaded."""

from dataclasses import dataclass
from decimal import Decimal

from costing.views.charts import Mark, px
from labels.packs import Pack
from labels.stock import LabelSheet

WIDTH, TALL = 300, 190.0
_LEFT, _TOP, _WORDS = 6.0, 24.0, 22.0
_DEPTH = 0.35  # of the third side, drawn aslant
_LID = 0.16  # of the diameter: no lid is measured, so it is only hinted at
_FLAT = 0.12  # how round the top of a jar looks from a little above


@dataclass(frozen=True)
class PackPicture:
    """Everything that labels/pack.html draws. note: how the label lies on it, in a sentence."""

    title: str
    description: str
    note: str
    width: int
    height: int
    shapes: tuple[tuple[str, str], ...]
    marks: tuple[Mark, ...]


def pack_picture(pack: Pack, *, sheet: LabelSheet) -> PackPicture | None:
    """The pack with a label of a sheet on it; None while a side is not known."""
    if pack.missing:
        return None
    return _jar(pack, sheet) if pack.circumference_mm else _block(pack, sheet)


def _mm(length: Decimal) -> str:
    return f"{length.normalize():f} mm"


def _rectangle(x: float, y: float, width: float, height: float) -> str:
    return f"M{px(x)} {px(y)}h{px(width)}v{px(height)}h{px(-width)}Z"


def _drawn(
    shapes: list[tuple[str, str]], marks: list[Mark], *, foot: float, scale: float, told: str,
    note: str,
) -> PackPicture:  # fmt: skip
    """The picture closed by a measure of 2 cm at its foot."""
    line = foot + _WORDS + 14
    shapes.append(("pack-measure", f"M{_LEFT} {px(line - 4)}v8m0 -4h{px(20 * scale)}m0 -4v8"))
    marks.append(Mark(px(_LEFT + 20 * scale + 8), px(line + 5), "2 cm", "start", "soft"))
    return PackPicture(
        "The pack and its label, to scale", f"{told} {note}", note, WIDTH, int(line + 14),
        tuple(shapes), tuple(marks),
    )  # fmt: skip


def _block(pack: Pack, sheet: LabelSheet) -> PackPicture:
    """A block with its largest face in front and its shortest side aslant behind it."""
    sides = [pack.length_mm, pack.width_mm, pack.height_mm]
    long, high, deep = sorted((side for side in sides if side is not None), reverse=True)
    depth = float(deep) * _DEPTH
    scale = min((WIDTH - 90) / (float(long) + depth), TALL / (float(high) + depth))
    wide, tall, back = float(long) * scale, float(high) * scale, depth * scale
    top = _TOP + back
    behind = (
        f"M{_LEFT} {px(top)}l{px(back)} {px(-back)}h{px(wide)}v{px(tall)}"
        f"l{px(-back)} {px(back)}m0 {px(-tall)}l{px(back)} {px(-back)}"
    )
    face = _rectangle(_LEFT, top, wide, tall)
    shapes = [("pack-face", face), ("pack-edge", behind), ("pack-edge", face)]
    label = sheet.label_width_mm, sheet.label_height_mm
    lies = label if label[0] <= long and label[1] <= high else label[::-1]
    if lies[0] <= long and lies[1] <= high:
        note = "The label fits on the shaded face."
        across, down = float(lies[0]) * scale, float(lies[1]) * scale
        place = _LEFT + (wide - across) / 2, top + (tall - down) / 2
        shapes.append(("pack-label", _rectangle(*place, across, down)))
    else:
        note = (
            f"The label ({_mm(label[0])} × {_mm(label[1])}) is larger than the shaded face: it "
            "would go over an edge. Choose another sheet, or what stands over the edge is read "
            "from another side."
        )
    marks = [
        Mark(px(_LEFT + wide / 2), px(top + tall + 18), _mm(long), "middle"),
        Mark(px(_LEFT + wide + back + 8), px(top + tall / 2), _mm(high)),
    ]
    told = f"A block of {_mm(long)}, {_mm(high)} and {_mm(deep)}; the largest face is shaded."
    return _drawn(shapes, marks, foot=top + tall, scale=scale, told=told, note=note)


def _jar(pack: Pack, sheet: LabelSheet) -> PackPicture:
    """A jar from the side: the wall shaded, the lid only hinted at, the label around it."""
    across, high, around = pack.diameter_mm, pack.height_mm, pack.circumference_mm
    assert across is not None  # noqa: S101 - nothing is missing
    assert high is not None  # noqa: S101
    assert around is not None  # noqa: S101
    lid = float(across) * _LID
    scale = min((WIDTH - 110) / float(across), TALL / (float(high) + lid))
    wide, tall, top = float(across) * scale, float(high) * scale, _TOP + lid * scale
    bend = px(wide * _FLAT / 2)
    half = px(wide / 2)
    wall = (
        f"M{_LEFT} {px(top)}v{px(tall)}a{half} {bend} 0 0 0 {px(wide)} 0v{px(-tall)}"
        f"a{half} {bend} 0 0 1 {px(-wide)} 0Z"
    )
    shapes = [("pack-face", wall), ("pack-edge", wall),
              ("pack-lid", _rectangle(_LEFT, top - lid * scale, wide, lid * scale))]  # fmt: skip
    if sheet.label_height_mm <= high:
        shapes.append(("pack-label", _band(sheet, around, wide=wide, tall=tall, top=top, bend=bend,
                                           scale=scale)))  # fmt: skip
    marks = [
        Mark(px(_LEFT + wide / 2), px(top + tall + wide * _FLAT / 2 + 18), _mm(across), "middle"),
        Mark(px(_LEFT + wide + 8), px(top + tall / 2 + 5), _mm(high)),
        Mark(px(_LEFT + wide + 8), px(top - lid * scale / 2), "lid: not counted", "start", "soft"),
    ]
    told = f"A round jar of {_mm(across)}; its straight wall, {_mm(high)} high, is shaded."
    foot = top + tall + wide * _FLAT / 2
    return _drawn(
        shapes, marks, foot=foot, scale=scale, told=told, note=_lies_around(sheet, high, around)
    )


def _band(
    sheet: LabelSheet, around: Decimal, *, wide: float, tall: float, top: float, bend: float,
    scale: float,
) -> str:  # fmt: skip
    """The label as it is seen from the front: as much of it as faces who looks."""
    share = min(1.0, float(sheet.label_width_mm / around) * 2)
    across, down = wide * share, float(sheet.label_height_mm) * scale
    left, upper = _LEFT + (wide - across) / 2, top + (tall - down) / 2
    dip = px(bend * share)
    half = px(across / 2)
    return (
        f"M{px(left)} {px(upper)}v{px(down)}a{half} {dip} 0 0 0 {px(across)} 0v{px(-down)}"
        f"a{half} {dip} 0 0 1 {px(-across)} 0Z"
    )


def _lies_around(sheet: LabelSheet, high: Decimal, around: Decimal) -> str:
    long = sheet.label_width_mm
    if sheet.label_height_mm > high:
        return (
            f"The label is {_mm(sheet.label_height_mm)} high and the straight wall only "
            f"{_mm(high)}: it would crease. Choose a lower label."
        )
    if long > around:
        return (
            f"Once around is {around:.0f} mm: the label laps over itself by {long - around:.0f} "
            "mm, and nothing is printed there."
        )
    return f"Once around is {around:.0f} mm; the label covers {100 * long / around:.0f} % of it."
