"""What a label is made of before it is drawn: columns of blocks, and what stands in each."""

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from labels.facts import LabelFace, Particular
from labels.rendering.blocks import (
    Setting,
    fact_blocks,
    name_block,
    price_block,
    quantity_block,
    voluntary_block,
)
from labels.rendering.typesetting import Block, line_widths_mm

__all__ = [
    "Arrangement",
    "Column",
    "Statements",
    "first_flush",
    "front_blocks",
    "note_blocks",
    "statements_of",
    "with_foot",
    "with_quantity",
]

_FOOT_KINDS = ("date", "lot", "operator")
_PRICES = ("unit_price", "price")
_DESCENT_EM = 0.23


@dataclass(frozen=True)
class Column:
    """A strip of the label, top to bottom, inside the safe inset.

    quantity: the net quantity, at the foot's right when there are other statements beside it.
    over_foot: statements of the foot that stand above the net quantity, over the full width.
    gap_mm: least space between flow and foot.
    sink_mm: how far the foot is lifted so that no descender leaves the inset.
    leaf: which of the label's papers it stands on, where there are two: 0 front, 1 back.
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
    leaf: int = 0

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
    """All columns of one label and the setting they were made for.

    seen_mm: how much of a label that goes around a jar is seen from one place; None if all is.
    """

    columns: tuple[Column, ...]
    setting: Setting
    height_mm: float
    has_room_for_codes: bool = True
    seen_mm: float | None = None

    @property
    def leaves(self) -> int:
        """How many papers the label takes."""
        return 1 + max((column.leaf for column in self.columns), default=0)

    def panel_of(self, kind: str, column: Column) -> str:
        """The face a statement stands on, as who looks at the name sees it.

        On a wrapped label a net quantity too far around from the name is on another face.
        """
        if kind != "net_quantity" or self.seen_mm is None:
            return column.panel
        edges = [edge for each in self.columns for edge in _edges_mm(each)]
        is_seen = not edges or max(edges) - min(edges) <= self.seen_mm + 0.01
        return column.panel if is_seen else "back"

    def seems_to_fit(self, *, spare_mm: float = 0) -> bool:
        """Whether reckoning says that no column is fuller than the label is high."""
        return self.has_room_for_codes and all(
            column.is_wide_enough and column.height_mm() <= self.height_mm + spare_mm
            for column in self.columns
        )


def with_quantity(column: Column, quantity: Block | None, *, setting: Setting) -> Column:
    """Add the net quantity and lift the foot so that the descender of its g stays inside."""
    deepest = _DESCENT_EM * (quantity.size_mm if quantity else setting.size_mm)
    below_baseline = setting.pitch_mm / 2 - 0.335 * setting.size_mm
    return replace(column, quantity=quantity, sink_mm=max(0.0, deepest - below_baseline))


def _edges_mm(column: Column) -> Iterator[float]:
    """Where the name and the net quantity begin and end across the label [mm]."""
    for block in column.blocks:
        if not {"name", "net_quantity"} & set(block.kinds):
            continue
        width = max(line_widths_mm(block, width_mm=column.width_of(block)))
        spare = column.width_mm - width
        is_right = block is column.quantity and bool(column.foot)
        left = {"center": spare / 2}.get(column.align, 0.0)
        left = column.x_mm + (spare if is_right else left)
        yield from (left, left + width)


_SECOND_NAME = 0.7
"""How large the name in the second language may be, of the room that the first has."""


@dataclass(frozen=True)
class Statements:
    """A face's statements by the place they go to."""

    name: tuple[Particular, ...]
    quantity: Particular | None
    beside_name: tuple[Particular, ...]
    body: tuple[Particular, ...]
    prices: tuple[Particular, ...]
    foot: tuple[Particular, ...]


def statements_of(face: LabelFace) -> Statements:
    """The statements of a face, each once, by where they go."""
    of_kind = {
        kind: [each for each in face.particulars if each.kind == kind]
        for kind in ("name", "net_quantity")
    }
    quantity = of_kind["net_quantity"][:1]
    others = [each for each in face.particulars if each not in (*of_kind["name"], *quantity)]
    return Statements(
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


def front_blocks(
    face: LabelFace, sort: Statements, *, width_mm: float, height_mm: float, share: float,
    setting: Setting,
) -> tuple[Block, ...]:  # fmt: skip
    """Brand, name of the food, the maker's line and what must stand beside the name."""
    budget = share * height_mm * setting.name_scale
    largest = (4.2 + 0.09 * height_mm + 0.06 * max(0.0, height_mm - 40)) * setting.name_scale
    brand, tagline = face.brand_name.strip(), face.tagline.strip()
    blocks = [voluntary_block("brand", brand, setting=setting)] if brand else []
    for position, each in enumerate(sort.name):
        share_of_name = _SECOND_NAME if each.language else 1.0
        name = name_block(
            each, width_mm=width_mm, budget_mm=budget * share_of_name,
            largest_mm=largest * share_of_name, setting=setting,
        )  # fmt: skip
        space = setting.pitch_mm / 4 if position or brand else 0
        blocks.append(replace(name, before_mm=space))
    if tagline:
        block = voluntary_block("tagline", tagline, setting=setting)
        blocks.append(replace(block, before_mm=setting.pitch_mm / 4))
    beside = fact_blocks(sort.beside_name, setting=setting)
    return (*blocks, *(block for block in beside if block.role != "rule"))


def note_blocks(face: LabelFace, *, setting: Setting) -> tuple[Block, ...]:
    """The maker's own notes as small print."""
    return tuple(
        voluntary_block("note", note, setting=setting) for note in face.notes if note.strip()
    )


def with_foot(column: Column, sort: Statements, *, height_mm: float, setting: Setting) -> Column:
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
    return with_quantity(column, quantity, setting=setting)


def first_flush(blocks: Sequence[Block]) -> Iterable[Block]:
    """Blocks whose first stands at the very top of its column; no rule begins or ends one."""
    while blocks and blocks[0].role == "rule":
        blocks = blocks[1:]
    while blocks and blocks[-1].role == "rule":
        blocks = blocks[:-1]
    return itertools.chain((each.without_space() for each in blocks[:1]), blocks[1:])
