"""Layouts with room to the side: facts in columns, around a jar, and on a paper of their own."""

import itertools
from collections.abc import Sequence
from dataclasses import replace

from labels.facts import LabelFace
from labels.rendering.blocks import Setting, fact_blocks, foot_blocks
from labels.rendering.columns import (
    Column,
    first_flush,
    front_blocks,
    note_blocks,
    statements_of,
    with_foot,
)
from labels.rendering.typesetting import Block

__all__ = ["around", "beside_columns", "front_and_back"]

_GAP_MM = 4.0
_WIDE_MM = 66.0
"""A column of small print wider than that is read better as two (common practice)."""


def _in_columns(
    face: LabelFace, places: Sequence[tuple[float, float]], *, setting: Setting, leaf: int = 0
) -> list[Column]:
    """The facts shared out over columns of one width, in order, so that the fullest is low.

    places: where each column begins, and how wide it is [mm].
    """
    sort = statements_of(face)
    body = [*fact_blocks(sort.body, setting=setting), *note_blocks(face, setting=setting)]
    foot = foot_blocks(sort.foot, setting=setting)
    width = places[0][1]
    heights = [block.height_mm(width_mm=width) for block in body]
    at_foot = sum(block.height_mm(width_mm=width) for block in foot) + setting.pitch_mm / 4

    def fullest(cuts: tuple[int, ...]) -> tuple[float, tuple[int, ...]]:
        edges = (0, *cuts, len(body))
        loads = [sum(heights[a:b]) for a, b in itertools.pairwise(edges)]
        return max((*loads[:-1], loads[-1] + at_foot)), cuts

    ways = itertools.combinations_with_replacement(range(len(body) + 1), len(places) - 1)
    cuts = min(map(fullest, ways))[1]
    shares = [body[a:b] for a, b in itertools.pairwise((0, *cuts, len(body)))]
    return [
        _facts(place, share, foot if number == len(places) - 1 else (), setting=setting, leaf=leaf)
        for number, (place, share) in enumerate(zip(places, shares, strict=True))
    ]


def _facts(
    place: tuple[float, float], share: Sequence[Block], foot: tuple[Block, ...], *,
    setting: Setting, leaf: int,
) -> Column:  # fmt: skip
    """One column of facts; what would stand at a foot with nothing above it stands at the top."""
    return Column(
        "back", *place,
        flow=tuple(first_flush(share)) or foot,
        foot=foot if share else (),
        has_line_before=place[0] > 0,
        gap_mm=setting.pitch_mm / 4 if foot and share else 0,
        leaf=leaf,
    )  # fmt: skip


def _places(left_mm: float, width_mm: float) -> list[tuple[float, float]]:
    """One column, or two where one would be too wide to read."""
    if width_mm <= _WIDE_MM:
        return [(left_mm, width_mm)]
    half = (width_mm - _GAP_MM) / 2
    return [(left_mm, half), (left_mm + half + _GAP_MM, half)]


def beside_columns(
    face: LabelFace, *, width_mm: float, height_mm: float, setting: Setting
) -> list[Column]:
    """The front at the left, and the facts beside it in two columns."""
    front_width = round(0.32 * width_mm, 2)
    front = _front(
        face, (0, front_width), height_mm=height_mm, setting=setting, align="left"
    )  # fmt: skip
    left, rest = front_width + _GAP_MM, width_mm - front_width - _GAP_MM
    half = (rest - _GAP_MM) / 2
    places = [(left, half), (left + half + _GAP_MM, half)]
    return [front, *_in_columns(face, places, setting=setting)]


def _front(
    face: LabelFace, place: tuple[float, float], *, height_mm: float, setting: Setting, align: str,
) -> Column:  # fmt: skip
    """The face with the name and the net quantity, which are seen at one glance."""
    sort = statements_of(face)
    column = Column(
        "front", *place,
        flow=front_blocks(
            face, sort, width_mm=place[1], height_mm=height_mm, share=0.45, setting=setting
        ),
        align=align,
        has_line_before=place[0] > 0,
        gap_mm=setting.pitch_mm / 3,
    )  # fmt: skip
    return with_foot(column, sort, height_mm=height_mm * 1.3, setting=setting)


def around(
    face: LabelFace, *, seen_mm: float, width_mm: float, height_mm: float, setting: Setting
) -> list[Column]:
    """The front in the middle, no wider than what is seen of the jar; the facts at both sides.

    seen_mm: how much of what is wrapped is seen from one place.
    """
    front_width = round(min(seen_mm, 0.34 * width_mm), 2)
    side = (width_mm - front_width - 2 * _GAP_MM) / 2
    front = _front(
        face, (side + _GAP_MM, front_width), height_mm=height_mm, setting=setting, align="center"
    )  # fmt: skip
    left, right = _places(0, side), _places(width_mm - side, side)
    facts = _in_columns(face, [*left, *right], setting=setting)
    if any(not column.blocks for column in facts):  # a column left empty looks like a slip
        left, right = [(0, side)], [(width_mm - side, side)]
        facts = _in_columns(face, [*left, *right], setting=setting)
    return [*facts[: len(left)], front, *facts[len(left) :]]


def front_and_back(
    face: LabelFace, *, seen_mm: float | None, front_mm: float, back_mm: float, height_mm: float,
    setting: Setting,
) -> list[Column]:  # fmt: skip
    """Two labels of one size: what is seen first, and the facts on the other side of the pack.

    seen_mm: on a round pack, how much is seen from one place: the front keeps to that.
    """
    width = front_mm if seen_mm is None else round(min(front_mm, seen_mm), 2)
    place = ((front_mm - width) / 2, width)
    front = replace(
        _front(face, place, height_mm=height_mm, setting=setting, align="center"),
        has_line_before=False,
    )
    facts = _in_columns(face, _places(0, back_mm), setting=setting, leaf=1)
    if any(not column.blocks for column in facts):
        facts = _in_columns(face, [(0, back_mm)], setting=setting, leaf=1)
    return [front, *facts]
