"""A card for the shelf: the name, the price large, and the price of a kilo beside it."""

from dataclasses import replace

from labels.facts import LabelFace
from labels.rendering.blocks import Setting, fact_blocks, price_block, price_mark
from labels.rendering.columns import (
    Column,
    front_blocks,
    note_blocks,
    statements_of,
    with_quantity,
)
from labels.rendering.typesetting import Block, line_widths_mm

__all__ = ["ticket"]

_LARGEST_MM = 22.0
_BETWEEN_MM = 3.0


def ticket(face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting) -> list[Column]:
    """What it is at the top; at the foot its price, the kilo's and the net quantity."""
    sort = statements_of(face)
    mark = next(
        (
            price_mark(
                each, largest_mm=min(0.3 * height_mm, _LARGEST_MM), width_mm=0.6 * width_mm,
                setting=setting,
            )
            for each in sort.prices
            if each.kind == "price"
        ),
        None,
    )  # fmt: skip
    small = fact_blocks((*([sort.quantity] if sort.quantity else []), *sort.foot), setting=setting)
    column = Column(
        "front", 0, width_mm,
        flow=(
            *front_blocks(
                replace(face, brand_name="", tagline=""), replace(sort, beside_name=()),
                width_mm=width_mm, height_mm=height_mm, share=0.42, setting=setting,
            ),
            *fact_blocks((*sort.beside_name, *sort.body), setting=setting),
            *note_blocks(face, setting=setting),
        ),
        foot=(*_price_of_a_kilo(face, mark, width_mm=width_mm, setting=setting), *small),
        gap_mm=setting.pitch_mm / 4,
    )  # fmt: skip
    return [with_quantity(column, mark, setting=setting)]


def _price_of_a_kilo(
    face: LabelFace, mark: Block | None, *, width_mm: float, setting: Setting
) -> tuple[Block, ...]:
    """As large as the room beside the price allows, up to half its size."""
    told = [each for each in face.particulars if each.kind == "unit_price"]
    if told and mark is not None:
        room_mm = width_mm - mark.longest_word_mm() - _BETWEEN_MM
        for share in (0.5, 0.42, 0.34):
            larger = max(1.3, share * mark.size_mm / setting.size_mm)
            (block,) = price_block(told, setting=setting, larger=larger)
            if len(line_widths_mm(block, width_mm=room_mm)) == 1:
                return (block,)
    return price_block(told, setting=setting)
