"""Statements as blocks of type: sizes that law sets are kept, the rest follows the grid."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels.rendering.blocks import (
    Setting,
    fact_blocks,
    foot_blocks,
    name_block,
    quantity_block,
    rule_block,
    size_for_x_height,
    voluntary_block,
)
from labels.rendering.fonts import NARROW, SANS
from tests.labels.rendering.by_hand import particular
from tests.labels.rendering.reading import FILES, os2_x_ratio

SETTING = Setting(1.25)


@pytest.mark.parametrize("family", [SANS, NARROW])
def test_every_cut_of_the_type_reaches_the_height_asked_for(family):
    # Against sxHeight of the OS/2 table of each font file.
    size_mm = size_for_x_height(1.2, family=family)
    names = [name for name in FILES if ("Narrow" in name) == (family == NARROW)]
    upright = [name for name in names if "Italic" not in name]
    assert min(os2_x_ratio(name) for name in upright) * size_mm >= 1.2


@pytest.mark.parametrize(("minimum_mm", "is_raised"), [("1.19", False), ("1.21", True)])
def test_a_statement_that_must_stand_higher_is_raised_and_only_then(minimum_mm, is_raised):
    # The setting has 1.25 mm; 0.05 mm is kept in hand above what law asks for.
    origin = particular("origin", "Fennelford", minimum_x_height_mm=Decimal(minimum_mm))
    (block,) = fact_blocks([origin], setting=SETTING)
    assert (block.size_mm > SETTING.size_mm) is is_raised


def test_statements_are_paragraphs_or_run_in_where_room_is_short():
    two = [particular("ingredients", "damsons, sugar."), particular("storage", "Keep cool.")]
    apart = fact_blocks(two, setting=SETTING)
    assert [block.kinds for block in apart] == [("ingredients",), ("storage",)]
    assert all(block.before_mm > 0 for block in apart)
    (together,) = fact_blocks(two, setting=replace(SETTING, is_run_in=True))
    assert together.kinds == ("ingredients", "storage")
    close = fact_blocks(two, setting=replace(SETTING, leading=1.12))
    assert [block.before_mm for block in close] == [0, 0]


def test_a_rule_parts_the_statements_of_two_languages_and_begins_none():
    told = [
        particular("ingredients", "damsons, sugar."),
        particular("ingredients", "ciruelas, azúcar.", language="es"),
        particular("storage", "Conservar en frío.", language="es"),
    ]
    for setting in (SETTING, replace(SETTING, is_run_in=True)):
        blocks = fact_blocks(told, setting=setting)
        roles = [block.role for block in blocks]
        assert roles.count("rule") == 1
        assert roles[0] == "fact"
        assert blocks[roles.index("rule") + 1].before_mm == 0
        assert blocks[-1].kinds[-1] == "storage"


def test_date_and_lot_share_a_block_and_the_operator_has_one():
    three = [
        particular("date", "May 2028", heading="Best before end:"),
        particular("lot", "L 1"),
        particular("operator", "Rookfold Kitchen"),
    ]
    first, second = foot_blocks(three, setting=SETTING)
    assert first.kinds == ("date", "lot")
    assert first.is_tabular
    assert second.kinds == ("operator",)


@pytest.mark.parametrize("words", [2, 12])
def test_the_name_is_as_large_as_its_share_allows_and_larger_than_the_small_print(words):
    name = particular("name", "damson " * words)
    block = name_block(name, width_mm=59.5, budget_mm=9, largest_mm=7.6, setting=SETTING)
    assert SETTING.size_mm * 1.19 < block.size_mm <= 7.6
    at_floor = block.size_mm == pytest.approx(SETTING.size_mm * 1.2)
    assert at_floor or block.height_mm(width_mm=59.5) <= 9 * 1.02
    assert {span.weight for part in block.parts for span in part.spans} == {600}


@pytest.mark.parametrize("minimum_mm", ["2", "3", "4", "6"])
def test_the_figures_of_the_net_quantity_have_the_height_asked_for(minimum_mm):
    quantity = particular("net_quantity", "100 g", minimum_figure_height_mm=Decimal(minimum_mm))
    block = quantity_block(quantity, label_height_mm=34, setting=SETTING)
    # The lowest figure of this type stands 0.689 em high (measured in the glyph outlines).
    assert block.size_mm * 0.689 >= float(minimum_mm)
    assert [span.text for span in block.parts[0].spans] == ["100", "\u00a0g"]
    assert [span.weight for span in block.parts[0].spans] == [500, 400]


def test_the_makers_own_words_are_set_apart_by_their_look_not_by_bold():
    brand, tagline, note = (
        voluntary_block(role, "Rookfold Kitchen", setting=SETTING)
        for role in ("brand", "tagline", "note")
    )
    assert brand.parts[0].text == "ROOKFOLD KITCHEN"
    assert brand.tracking_em > 0
    assert tagline.parts[0].spans[0].is_italic
    weights = {s.weight for b in (brand, tagline, note) for p in b.parts for s in p.spans}
    assert 700 not in weights


def test_everything_stands_on_the_grid_of_the_small_print():
    assert SETTING.pitch_mm == pytest.approx(0.05 * round(SETTING.pitch_mm / 0.05))
    (fact,) = fact_blocks([particular("storage", "Keep cool.")], setting=SETTING)
    assert fact.line_mm == SETTING.pitch_mm
    quarters = rule_block(SETTING).line_mm / (SETTING.pitch_mm / 4)
    assert quarters == pytest.approx(round(quarters))
