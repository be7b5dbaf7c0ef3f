"""The three layouts: which statement goes where, in which size, on one baseline grid.

A label is one to three columns. In each, blocks flow from the top, and others stand at the
foot; a column fits when the two do not meet.
"""

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from labels.facts import LabelBox, LabelFace, Particular
from labels.rendering.blocks import (
    Setting,
    fact_blocks,
    foot_blocks,
    name_block,
    price_block,
    price_mark,
    quantity_block,
    rule_block,
    voluntary_block,
)
from labels.rendering.codes import have_room, reserved_mm
from labels.rendering.typesetting import Block

__all__ = ["Arrangement", "Column", "arrange"]

_FOOT_KINDS = ("date", "lot", "operator")
_PRICES = ("unit_price", "price")
_DESCENT_EM = 0.23
_STRIP = 4.5  # times as wide as high: no room for a name above the facts


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

    def width_of(self, block: Block) -> float:
        """Room across for one of the blocks."""
        return self.foot_width_mm if block in self.foot else self.width_mm

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
        """Whether the net quantity and the rows of tables, never broken, have room across."""
        unbroken = [block for block in self.flow if block.rows]
        unbroken += [self.quantity] if self.quantity else []
        return all(block.longest_word_mm() <= self.width_mm for block in unbroken)

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
    has_room_for_codes: bool = True

    def seems_to_fit(self, *, spare_mm: float = 0) -> bool:
        """Whether reckoning says that no column is fuller than the label is high."""
        return self.has_room_for_codes and all(
            column.is_wide_enough and column.height_mm() <= self.height_mm + spare_mm
            for column in self.columns
        )


def _with_quantity(column: Column, quantity: Block | None, *, setting: Setting) -> Column:
    """Add the net quantity and lift the foot so that the descender of its g stays inside."""
    deepest = _DESCENT_EM * (quantity.size_mm if quantity else setting.size_mm)
    below_baseline = setting.pitch_mm / 2 - 0.335 * setting.size_mm
    return replace(column, quantity=quantity, sink_mm=max(0.0, deepest - below_baseline))


@dataclass(frozen=True)
class _Sorted:
    """A face's statements by the place they go to."""

    name: tuple[Particular, ...]
    quantity: Particular | None
    beside_name: tuple[Particular, ...]
    body: tuple[Particular, ...]
    prices: tuple[Particular, ...]
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
        body=tuple(
            e for e in others if not e.same_field and e.kind not in (*_FOOT_KINDS, *_PRICES)
        ),
        prices=tuple(e for kind in _PRICES for e in others if e.kind == kind),
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
    largest = (4.2 + 0.09 * height_mm + 0.06 * max(0.0, height_mm - 40)) * setting.name_scale
    brand, tagline = face.brand_name.strip(), face.tagline.strip()
    blocks = [voluntary_block("brand", brand, setting=setting)] if brand else []
    for position, each in enumerate(sort.name):
        name = name_block(
            each, width_mm=width_mm, budget_mm=budget, largest_mm=largest, setting=setting
        )
        space = setting.pitch_mm / 4 if brand and not position else 0
        blocks.append(replace(name, before_mm=space))
    if tagline:
        block = voluntary_block("tagline", tagline, setting=setting)
        blocks.append(replace(block, before_mm=setting.pitch_mm / 4))
    return (*blocks, *fact_blocks(sort.beside_name, setting=setting))


def _notes(face: LabelFace, *, setting: Setting) -> tuple[Block, ...]:
    return tuple(
        voluntary_block("note", note, setting=setting) for note in face.notes if note.strip()
    )


def _quiet(face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting) -> list[Column]:
    if width_mm > _STRIP * height_mm:  # on a strip the rule stands upright
        return _two_panel(face, width_mm=width_mm, height_mm=height_mm, setting=setting)
    sort = _sorted(face)
    front = _front(
        face, sort, width_mm=width_mm, height_mm=height_mm, share=0.27, setting=setting
    )  # fmt: skip
    body = fact_blocks(sort.body, setting=setting) + _notes(face, setting=setting)
    rule = (rule_block(setting),) if front and body else ()
    if body:
        body = (body[0].without_space(), *body[1:])
    column = Column(
        "front", 0, width_mm,
        flow=(*front, *rule, *body),
        foot=foot_blocks(sort.foot, setting=setting),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    beside = _placed(column, sort, height_mm=height_mm, setting=setting)
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


def _placed(column: Column, sort: _Sorted, *, height_mm: float, setting: Setting) -> Column:
    """The column with the net quantity at its foot."""
    quantity = (
        quantity_block(sort.quantity, label_height_mm=height_mm, setting=setting)
        if sort.quantity
        else None
    )
    prices = price_block(sort.prices, setting=setting)
    if column.foot:
        column = replace(column, over_foot=prices)
    elif prices:
        column = replace(column, foot=prices)
    return _with_quantity(column, quantity, setting=setting)


def _ticket(
    face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting
) -> list[Column]:
    """A card for the shelf: what it is, and at the foot's right what it costs."""
    sort = _sorted(face)
    price = next((each for each in sort.prices if each.kind == "price"), None)
    largest = min(0.3 * height_mm, 22.0)
    small = [each for each in sort.prices if each.kind != "price"]
    small += [sort.quantity] if sort.quantity else []
    body = fact_blocks((*sort.beside_name, *sort.body), setting=setting)
    column = Column(
        "front", 0, width_mm,
        flow=(
            *_front(
                replace(face, brand_name="", tagline=""), replace(sort, beside_name=()),
                width_mm=width_mm, height_mm=height_mm, share=0.42, setting=setting,
            ),
            *body,
            *_notes(face, setting=setting),
        ),
        foot=fact_blocks((*small, *sort.foot), setting=setting),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    mark = None
    if price is not None:
        mark = price_mark(price, largest_mm=largest, width_mm=0.6 * width_mm, setting=setting)
    return [_with_quantity(column, mark, setting=setting)]


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
    body = fact_blocks(sort.body, setting=setting) + _notes(face, setting=setting)
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
    body = [*fact_blocks(sort.body, setting=setting), *_notes(face, setting=setting)]
    foot = foot_blocks(sort.foot, setting=setting)
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


_LAYOUTS = {"quiet": _quiet, "two-panel": _two_panel, "long": _long, "ticket": _ticket}


def arrange(face: LabelFace, *, box: LabelBox, setting: Setting) -> Arrangement:
    """Put a face's statements into the columns of its layout."""
    height_mm = float(box.height_mm - 2 * box.inset_mm)
    width_mm = float(box.width_mm - 2 * box.inset_mm)
    has_room = not face.codes or have_room(face.codes, box=box)
    if face.codes and has_room:
        width_mm -= reserved_mm(face.codes, box=box)
    columns = _LAYOUTS[face.layout](
        face,
        width_mm=width_mm,
        height_mm=height_mm,
        setting=setting,
    )
    return Arrangement(tuple(columns), setting, height_mm, has_room_for_codes=has_room)
