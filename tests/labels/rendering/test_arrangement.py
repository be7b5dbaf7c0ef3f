"""The layouts: every statement has one place, columns do not overlap, the quantity is in front."""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest

from labels.facts import LabelBox
from labels.rendering.arrangement import arrange
from labels.rendering.blocks import Setting
from labels.rendering.layout import LAYOUTS
from tests.labels.rendering.by_hand import (
    JAR,
    LARGE,
    SLAB,
    STRIP,
    WIDE,
    a_damson_cheese,
    a_tomato_chutney,
    particular,
)

SETTING = Setting(1.25, 0.9, 1.2)
every_paper = pytest.mark.parametrize("box", [SLAB, WIDE, JAR, LARGE, STRIP], ids=str)
every_layout = pytest.mark.parametrize("layout", LAYOUTS)


@every_paper
@every_layout
def test_every_statement_is_placed_once(layout, box):
    face = a_tomato_chutney(layout=layout, tagline="In an open pan", notes=("Made by hand.",))
    arrangement = arrange(face, box=box, setting=SETTING)
    kinds = [
        kind for column in arrangement.columns for block in column.blocks for kind in block.kinds
    ]
    wanted = [each.kind for each in face.particulars] + ["brand", "tagline", "note"]
    assert sorted(kinds) == sorted(wanted)


@every_paper
@every_layout
def test_columns_stand_side_by_side_inside_the_inset(layout, box):
    arrangement = arrange(a_damson_cheese(layout=layout), box=box, setting=SETTING)
    for leaf in range(arrangement.leaves):
        columns = [column for column in arrangement.columns if column.leaf == leaf]
        edges = [(column.x_mm, column.x_mm + column.width_mm) for column in columns]
        assert edges[0][0] == 0
        assert edges[-1][1] == pytest.approx(float(box.width_mm - 2 * box.inset_mm), abs=0.01)
        for (_, right), (left, _) in pairwise(edges):
            assert right < left


@every_layout
def test_name_and_net_quantity_are_in_the_same_field_of_vision(layout):
    # Regulation (EU) No 1169/2011, Art. 13(5).
    columns = arrange(a_damson_cheese(layout=layout), box=JAR, setting=SETTING).columns
    front = [column for column in columns if column.panel == "front"]
    kinds = {kind for column in front for block in column.blocks for kind in block.kinds}
    assert {"name", "net_quantity"} <= kinds


@pytest.mark.parametrize(("width_mm", "columns"), [("98.5", 1), ("98.6", 2)])
def test_on_a_strip_the_rule_of_the_quiet_layout_stands_upright(width_mm, columns):
    # 25 mm high with a margin of 2 leaves 21 mm; 4.5 x 21 = 94.5 mm, which is 98.5 with margins.
    box = LabelBox(Decimal(width_mm), Decimal(25))
    assert len(arrange(a_damson_cheese(), box=box, setting=SETTING).columns) == columns


def test_the_long_layout_shares_the_facts_between_its_sides():
    face = a_tomato_chutney(layout="long")
    left, front, right = arrange(face, box=STRIP, setting=SETTING).columns
    assert front.align == "center"
    assert left.flow
    assert right.flow
    shares = sorted((left.height_mm(), right.height_mm()))
    everything_left = arrange(
        replace(face, particulars=face.particulars[:2]), box=STRIP, setting=SETTING
    ).columns[0]
    assert shares[1] <= everything_left.height_mm() + shares[0]


@pytest.mark.parametrize(("height_mm", "is_reordered"), [(60, False), (35, True)])
def test_short_of_room_the_foot_takes_the_order_that_needs_the_least_height(
    height_mm, is_reordered
):
    # An address too long to stand beside the net quantity on one line, but not for the full width.
    face = a_damson_cheese()
    address = particular("operator", "Rookfold Kitchen, 3 Millrace Yard, Fennelford FN")
    face = replace(
        face,
        particulars=tuple(address if e.kind == "operator" else e for e in face.particulars),
    )
    box = LabelBox(Decimal("63.5"), Decimal(height_mm))
    (column,) = arrange(face, box=box, setting=SETTING).columns
    beside = replace(column, foot=(*column.over_foot, *column.foot), over_foot=())
    assert bool(column.over_foot) is is_reordered
    assert (column.foot_height_mm() < beside.foot_height_mm()) is is_reordered


def test_fuller_columns_do_not_seem_to_fit():
    roomy, tight = (LabelBox(Decimal("63.5"), Decimal(height)) for height in (80, 24))
    assert arrange(a_tomato_chutney(), box=roomy, setting=SETTING).seems_to_fit()
    assert not arrange(a_tomato_chutney(), box=tight, setting=SETTING).seems_to_fit()


def test_a_net_quantity_wider_than_its_column_does_not_fit_however_high_the_label():
    face = a_damson_cheese()
    endless = particular("net_quantity", "1" * 60 + " g")
    face = replace(
        face,
        particulars=tuple(endless if e.kind == "net_quantity" else e for e in face.particulars),
    )
    tall = LabelBox(Decimal(60), Decimal(300))
    assert not arrange(face, box=tall, setting=SETTING).seems_to_fit()
