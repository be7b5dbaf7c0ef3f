"""The three layouts: which statement goes where, in which size, on one baseline grid.

A label is one to three columns. In each, blocks flow from the top, and others stand at the
foot; a column fits when the two do not meet.
"""

import itertools
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from labels.facts import LabelBox, LabelFace, Particular
from labels.rendering.fonts import (
    SANS,
    Face,
    drawable,
    figure_ratio,
    glyph_height_ratio,
    x_ratio,
)
from labels.rendering.typesetting import Block, Part, Span, on_grid

__all__ = ["Arrangement", "Column", "Setting", "arrange"]

_FOOT_KINDS = ("date", "lot", "operator")
_SAFETY_MM = 0.05  # designed above the legal floor, so that no rounding falls under it
_GRID_MM = 0.05
_DESCENT_EM = 0.23


@dataclass(frozen=True)
class Setting:
    """One try at a label: how high the x of the small print is, how open the lines stand.

    name_scale: 1 for the largest name the layout allows, less where room is short.
    leading: line distance of the small print, as a multiple of its size.
    is_run_in: the facts follow each other in one paragraph, to save the ends of lines.
    """

    x_height_mm: float
    name_scale: float = 1
    leading: float = 1.25
    family: str = SANS
    is_run_in: bool = False

    @property
    def size_mm(self) -> float:
        return size_for_x_height(self.x_height_mm, family=self.family)

    @property
    def pitch_mm(self) -> float:
        """Distance of the baselines of the small print: the grid everything stands on."""
        return on_grid(self.size_mm * self.leading, step_mm=_GRID_MM)


@dataclass(frozen=True)
class Column:
    """A strip of the label, top to bottom, inside the safe inset.

    quantity: the net quantity, at the foot's right when there are other statements beside it.
    over_foot: statements of the foot that stand above the net quantity, over the full width.
    gap_mm: least space between flow and foot.
    sink_mm: how far the foot is lifted so that no descender leaves the inset.
    """

    panel: str
    x_mm: float
    width_mm: float
    flow: tuple[Block, ...] = ()
    foot: tuple[Block, ...] = ()
    over_foot: tuple[Block, ...] = ()
    quantity: Block | None = None
    align: str = "left"
    has_line_before: bool = False
    gap_mm: float = 0
    sink_mm: float = 0

    @property
    def blocks(self) -> tuple[Block, ...]:
        """Every block of the column in reading order."""
        return (
            *self.flow,
            *self.over_foot,
            *self.foot,
            *((self.quantity,) if self.quantity else ()),
        )

    @property
    def quantity_width_mm(self) -> float:
        return self.quantity.longest_word_mm() if self.quantity and self.foot else 0

    @property
    def foot_width_mm(self) -> float:
        """Room for the statements at the foot, beside the net quantity."""
        beside = self.quantity_width_mm
        return max(self.width_mm - beside - (2.0 if beside else 0), 4.0)

    @property
    def over_gap_mm(self) -> float:
        """Space that keeps what stands over the foot clear of the taller net quantity."""
        beside = sum(block.height_mm(width_mm=self.foot_width_mm) for block in self.foot)
        quantity = self.quantity.height_mm(width_mm=self.width_mm) if self.quantity else 0
        return max(0.0, quantity - beside) if self.over_foot else 0.0

    def foot_height_mm(self) -> float:
        """Room of all that stands at the foot, by reckoning."""
        over = sum(block.height_mm(width_mm=self.width_mm) for block in self.over_foot)
        beside = sum(block.height_mm(width_mm=self.foot_width_mm) for block in self.foot)
        quantity = self.quantity.height_mm(width_mm=self.width_mm) if self.quantity else 0
        return over + max(beside, quantity) + self.sink_mm

    @property
    def is_wide_enough(self) -> bool:
        """Whether the net quantity, which is never broken, has room on one line."""
        return not self.quantity or self.quantity.longest_word_mm() <= self.width_mm

    def height_mm(self) -> float:
        """Room all blocks take, by reckoning."""
        flow = sum(block.height_mm(width_mm=self.width_mm) for block in self.flow)
        return flow + self.foot_height_mm() + self.gap_mm


@dataclass(frozen=True)
class Arrangement:
    """All columns of one label and the setting they were made for."""

    columns: tuple[Column, ...]
    setting: Setting
    height_mm: float

    def seems_to_fit(self, *, spare_mm: float = 0) -> bool:
        """Whether reckoning says that no column is fuller than the label is high."""
        return all(
            column.is_wide_enough and column.height_mm() <= self.height_mm + spare_mm
            for column in self.columns
        )


def size_for_x_height(x_height_mm: float, *, family: str) -> float:
    """Type size whose lowest x, of any cut we use, has that height [mm], rounded up."""
    ratio = min(x_ratio(Face(family, weight)) for weight in (400, 500, 600, 700))
    return on_grid(x_height_mm / ratio, step_mm=0.001)


def _spans(particular: Particular) -> tuple[Span, ...]:
    heading = (
        (Span(f"{drawable(particular.heading)} ", is_heading=True),) if particular.heading else ()
    )
    return heading + tuple(
        Span(drawable(run.text), weight=700 if run.is_emphasised else 400)
        for run in particular.runs
    )


def _fact(particulars: Sequence[Particular], *, setting: Setting, before_mm: float = 0) -> Block:
    """One paragraph of small print; a statement that needs higher letters gets them."""
    needed = max(float(each.minimum_x_height_mm) + _SAFETY_MM for each in particulars)
    size = size_for_x_height(max(setting.x_height_mm, needed), family=setting.family)
    line = setting.pitch_mm
    if size > setting.size_mm:
        line = on_grid(size * setting.leading, step_mm=setting.pitch_mm / 2)
    return Block(
        role="fact",
        parts=tuple(Part(each.kind, _spans(each)) for each in particulars),
        size_mm=size,
        line_mm=line,
        before_mm=before_mm,
        family=setting.family,
        is_tabular=any(each.kind in {"date", "lot"} for each in particulars),
        has_whole_parts=len(particulars) > 1,
    )


def _facts(particulars: Iterable[Particular], *, setting: Setting) -> tuple[Block, ...]:
    space = setting.pitch_mm / 4 if setting.leading > 1.15 else 0
    if setting.is_run_in and (together := list(particulars)):
        return (replace(_fact(together, setting=setting), has_whole_parts=False),)
    return tuple(_fact([each], setting=setting, before_mm=space) for each in particulars)


def _foot(particulars: Sequence[Particular], *, setting: Setting) -> tuple[Block, ...]:
    """Date and lot share a line where they can; then who answers for the food."""
    together = [each for each in particulars if each.kind in {"date", "lot"}]
    rest = [each for each in particulars if each.kind not in {"date", "lot"}]
    first = (_fact(together, setting=setting),) if together else ()
    return first + tuple(_fact([each], setting=setting) for each in rest)


def _name(
    particular: Particular, *, width_mm: float, budget_mm: float, largest_mm: float,
    setting: Setting,
) -> Block:  # fmt: skip
    """The name of the food as large as its share of the label allows."""
    floor_x = max(float(particular.minimum_x_height_mm) + _SAFETY_MM, setting.x_height_mm)
    floor = max(size_for_x_height(floor_x, family=setting.family), setting.size_mm * 1.2)
    spans = tuple(replace(span, weight=max(span.weight, 600)) for span in _spans(particular))
    size = max(min(budget_mm * 0.95, largest_mm), floor)
    while True:
        block = Block(
            role="name",
            parts=(Part(particular.kind, spans),),
            size_mm=size,
            line_mm=on_grid(size * 1.05, step_mm=setting.pitch_mm / 4),
            family=setting.family,
        )
        is_whole = block.longest_word_mm() <= width_mm
        if size <= floor or (is_whole and block.height_mm(width_mm=width_mm) <= budget_mm * 1.02):
            return block
        size = max(size - 0.1, floor)


def _quantity(particular: Particular, *, label_height_mm: float, setting: Setting) -> Block:
    """The net quantity: figures at the legal height and never timid."""
    face = Face(setting.family, 500)
    figures = max(
        float(particular.minimum_figure_height_mm or 0) + _SAFETY_MM,
        min(0.085 * label_height_mm * (0.5 + 0.5 * setting.name_scale), 5.2),
        setting.size_mm * figure_ratio(face),
    )
    size = figures / figure_ratio(face)
    if "℮" in particular.text:
        # At least 3 mm high: Directive 76/211/EEC, Annex I, point 3.3 (drawn to Directive
        # 71/316/EEC); the caller's particular says so only for the figures.
        size = max(size, (3.0 + _SAFETY_MM) / glyph_height_ratio("℮", face=face))
    x_height = float(particular.minimum_x_height_mm) + _SAFETY_MM
    size = on_grid(max(size, x_height / x_ratio(face)), step_mm=0.001)
    text = drawable(particular.text).replace(" ", "\u00a0")
    spans = tuple(  # the figures speak up, the unit does not
        Span(piece, weight=500 if piece[0].isdecimal() else 400)
        for piece in re.findall(r"\d[\d.,\u00a0]*(?<!\u00a0)|\D+", text)
    )
    return Block(
        role="quantity",
        parts=(Part(particular.kind, spans),),
        size_mm=size,
        line_mm=setting.pitch_mm + 0.67 * (size - setting.size_mm),  # shares the last baseline
        family=setting.family,
    )


def _with_quantity(column: Column, quantity: Block | None, *, setting: Setting) -> Column:
    """Add the net quantity and lift the foot so that the descender of its g stays inside."""
    deepest = _DESCENT_EM * (quantity.size_mm if quantity else setting.size_mm)
    below_baseline = setting.pitch_mm / 2 - 0.335 * setting.size_mm
    return replace(column, quantity=quantity, sink_mm=max(0.0, deepest - below_baseline))


def _voluntary(role: str, text: str, *, setting: Setting) -> Block:
    looks = {
        "brand": {"spans": (Span(drawable(text).upper(), weight=500),), "tracking_em": 0.09},
        "tagline": {"spans": (Span(drawable(text), is_italic=True),), "tracking_em": 0.0},
        "note": {"spans": (Span(drawable(text)),), "tracking_em": 0.0},
    }[role]
    return Block(
        role=role,
        parts=(Part(role, looks["spans"]),),
        size_mm=setting.size_mm,
        line_mm=setting.pitch_mm,
        family=setting.family,
        tracking_em=looks["tracking_em"],
    )


def _rule(setting: Setting) -> Block:
    return Block(
        "rule",
        (),
        size_mm=1,
        line_mm=setting.pitch_mm * (0.75 if setting.leading > 1.15 else 0.5),
        family=setting.family,
    )


@dataclass(frozen=True)
class _Sorted:
    """A face's statements by the place they go to."""

    name: tuple[Particular, ...]
    quantity: Particular | None
    beside_name: tuple[Particular, ...]
    body: tuple[Particular, ...]
    foot: tuple[Particular, ...]


def _sorted(face: LabelFace) -> _Sorted:
    of_kind = {
        kind: [each for each in face.particulars if each.kind == kind]
        for kind in ("name", "net_quantity")
    }
    quantity = of_kind["net_quantity"][:1]
    others = [each for each in face.particulars if each not in (*of_kind["name"], *quantity)]
    return _Sorted(
        name=tuple(of_kind["name"]),
        quantity=quantity[0] if quantity else None,
        beside_name=tuple(each for each in others if each.same_field),
        body=tuple(e for e in others if not e.same_field and e.kind not in _FOOT_KINDS),
        foot=tuple(
            each for kind in _FOOT_KINDS for each in others
            if each.kind == kind and not each.same_field
        ),
    )  # fmt: skip


def _front(
    face: LabelFace, sort: _Sorted, *, width_mm: float, height_mm: float, share: float,
    setting: Setting,
) -> tuple[Block, ...]:  # fmt: skip
    """Brand, name of the food, the maker's line and what must stand beside the name."""
    budget = share * height_mm * setting.name_scale
    largest = (4.2 + 0.09 * height_mm) * setting.name_scale
    brand, tagline = face.brand_name.strip(), face.tagline.strip()
    blocks = [_voluntary("brand", brand, setting=setting)] if brand else []
    for position, each in enumerate(sort.name):
        name = _name(each, width_mm=width_mm, budget_mm=budget, largest_mm=largest, setting=setting)
        space = setting.pitch_mm / 4 if brand and not position else 0
        blocks.append(replace(name, before_mm=space))
    if tagline:
        block = _voluntary("tagline", tagline, setting=setting)
        blocks.append(replace(block, before_mm=setting.pitch_mm / 4))
    return (*blocks, *_facts(sort.beside_name, setting=setting))


def _notes(face: LabelFace, *, setting: Setting) -> tuple[Block, ...]:
    return tuple(_voluntary("note", note, setting=setting) for note in face.notes if note.strip())


def _quiet(face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting) -> list[Column]:
    sort = _sorted(face)
    front = _front(
        face, sort, width_mm=width_mm, height_mm=height_mm, share=0.27, setting=setting
    )  # fmt: skip
    body = _facts(sort.body, setting=setting) + _notes(face, setting=setting)
    rule = (_rule(setting),) if front and body else ()
    if body:
        body = (body[0].without_space(), *body[1:])
    column = Column(
        "front", 0, width_mm,
        flow=(*front, *rule, *body),
        foot=_foot(sort.foot, setting=setting),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    beside = _placed(column, sort, height_mm=height_mm, setting=setting)
    over = replace(beside, over_foot=beside.foot[:1], foot=beside.foot[1:])
    if over.foot and over.foot_height_mm() < beside.foot_height_mm():
        return [over]
    return [beside]


def _placed(column: Column, sort: _Sorted, *, height_mm: float, setting: Setting) -> Column:
    quantity = sort.quantity and _quantity(
        sort.quantity, label_height_mm=height_mm, setting=setting
    )
    return _with_quantity(column, quantity, setting=setting)


def _two_panel(
    face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting
) -> list[Column]:
    sort = _sorted(face)
    gap = 4.0
    front_width = round(0.40 * (width_mm - gap), 2)
    front = Column(
        "front", 0, front_width,
        flow=_front(
            face, sort, width_mm=front_width, height_mm=height_mm, share=0.5, setting=setting
        ),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    front = _placed(front, sort, height_mm=height_mm * 1.25, setting=setting)
    body = _facts(sort.body, setting=setting) + _notes(face, setting=setting)
    back = Column(
        "back", front_width + gap, width_mm - front_width - gap,
        flow=(body[0].without_space(), *body[1:]) if body else (),
        foot=_foot(sort.foot, setting=setting),
        has_line_before=True,
        gap_mm=setting.pitch_mm / 4,
        sink_mm=front.sink_mm,
    )  # fmt: skip
    return [front, back]


def _long(face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting) -> list[Column]:
    """The front in the middle, on top of what is wrapped; the facts fold down at both sides."""
    sort = _sorted(face)
    gap = 4.0
    front_width = round(0.30 * width_mm, 2)
    side = (width_mm - front_width - 2 * gap) / 2
    front = Column(
        "front", side + gap, front_width,
        flow=_front(
            face, sort, width_mm=front_width, height_mm=height_mm, share=0.45, setting=setting
        ),
        align="center",
        has_line_before=True,
        gap_mm=setting.pitch_mm / 3,
    )  # fmt: skip
    front = _placed(front, sort, height_mm=height_mm * 1.4, setting=setting)
    body = [*_facts(sort.body, setting=setting), *_notes(face, setting=setting)]
    foot = _foot(sort.foot, setting=setting)
    columns = []
    for split in range(len(body) + 1):
        left, right = body[:split], body[split:]
        columns.append([
            Column("back", 0, side, flow=tuple(_first_flush(left)), sink_mm=0),
            front,
            Column(
                "back", width_mm - side, side,
                flow=tuple(_first_flush(right)) or foot,
                foot=foot if right else (),
                has_line_before=True,
                gap_mm=setting.pitch_mm / 4,
            ),
        ])  # fmt: skip
    return min(columns, key=lambda three: max(three[0].height_mm(), three[2].height_mm()))


def _first_flush(blocks: Sequence[Block]) -> Iterable[Block]:
    return itertools.chain((each.without_space() for each in blocks[:1]), blocks[1:])


_LAYOUTS = {"quiet": _quiet, "two-panel": _two_panel, "long": _long}


def arrange(face: LabelFace, *, box: LabelBox, setting: Setting) -> Arrangement:
    """Put a face's statements into the columns of its layout."""
    height_mm = float(box.height_mm - 2 * box.inset_mm)
    columns = _LAYOUTS[face.layout](
        face,
        width_mm=float(box.width_mm - 2 * box.inset_mm),
        height_mm=height_mm,
        setting=setting,
    )
    return Arrangement(columns=tuple(columns), setting=setting, height_mm=height_mm)
