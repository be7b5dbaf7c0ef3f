"""From places and sizes to HTML that a template fills in: nothing is read as markup."""

import math
import re

import pytest

from labels.rendering.arrangement import arrange
from labels.rendering.blocks import Setting, fact_blocks, rule_block
from labels.rendering.engine import page_of
from labels.rendering.markup import block_context, colour_of, label_context, mm, title_of
from tests.labels.rendering.by_hand import (
    SLAB,
    STRIP,
    a_damson_cheese,
    a_tomato_chutney,
    particular,
)

SETTING = Setting(1.25, 0.9, 1.2)


def context_of(face, *, box=SLAB, **more):
    return label_context(arrange(face, box=box, setting=SETTING), face=face, box=box, **more)


def html(face, **more):
    return page_of([context_of(face, **more)], title="t", language="en")


def test_lengths_are_written_in_millimetres():
    assert mm(63.5) == "63.500mm"


def test_a_label_is_called_by_the_name_of_its_food():
    assert title_of(a_damson_cheese()) == "Damson cheese"
    nameless = a_damson_cheese()
    nameless = type(nameless)(particulars=(), brand_name="Rookfold Kitchen")
    assert title_of(nameless) == "Rookfold Kitchen"


def test_a_pale_colour_is_darkened_before_it_is_used():
    assert colour_of(a_damson_cheese(colour="#ffff00")) not in html(a_damson_cheese())
    assert "#ffff00" not in html(a_damson_cheese(colour="#ffff00"))


def test_lines_end_where_they_were_reckoned_to_end():
    (block,) = fact_blocks([particular("storage", "Keep cool and dry. " * 6)], setting=SETTING)
    narrow, wide = (block_context(block, width_mm=width, colour="") for width in (20, 1000))
    lines = narrow["parts"][0]["spans"][0]["lines"]
    assert len(lines) == round(block.height_mm(width_mm=20) / block.line_mm - 0.1)
    assert wide["parts"][0]["spans"][0]["lines"] == [" ".join(lines)]


def test_bold_is_an_element_of_its_own_and_plain_text_is_none():
    drawn = html(a_tomato_chutney())
    assert re.findall(r"<b>([^<]*)</b>", drawn) == ["sulphur dioxide", "sulphites", "mustard"]
    assert "<h1" in drawn
    assert drawn.count("<h1") == 1


def test_a_rule_is_a_hairline_in_the_middle_of_its_space():
    block = rule_block(SETTING)
    style = block_context(block, width_mm=50, colour="#112233")["style"]
    above, below = (
        float(length) for length in re.findall(r"(?:height|margin-bottom): ([\d.]+)mm", style)
    )
    assert above == below
    assert above + 0.2 + below == pytest.approx(block.line_mm, abs=0.002)
    assert "0.2mm solid #112233" in style


def test_texts_and_styles_are_escaped():
    drawn = html(a_damson_cheese(name="<b>Jam</b> & {{ x }}", brand_name='"><script>'))
    assert "&lt;b&gt;Jam&lt;/b&gt; &amp; {{ x }}" in drawn
    assert "<script" not in drawn.lower()


@pytest.mark.parametrize("box", [SLAB, STRIP], ids=str)
def test_the_proof_mark_reaches_from_corner_to_corner_and_not_beyond(box):
    style = context_of(a_damson_cheese(), box=box, proof=True)["proof"]
    size = float(re.search(r"font-size: ([\d.]+)mm", style).group(1))
    slope = math.radians(float(re.search(r"rotate\(-([\d.]+)deg\)", style).group(1)))
    # "PROOF - not for sale" is 9.9 em wide at most: its turned box against the inset's.
    width = size * (9.9 * math.cos(slope) + math.sin(slope))
    height = size * (9.9 * math.sin(slope) + math.cos(slope))
    inside = float(box.width_mm - 4), float(box.height_mm - 4)
    assert width <= inside[0] + 0.01
    assert height <= inside[1] + 0.01
    assert max(width / inside[0], height / inside[1]) > 0.97
    assert context_of(a_damson_cheese(), box=box)["proof"] == ""


def test_hidden_blocks_keep_their_place_and_carry_their_number():
    plain, hidden = context_of(a_damson_cheese()), context_of(a_damson_cheese(), hidden=[2])
    first, second = (
        [block for column in context["columns"] for block in (*column["flow"], *column["foot"])]
        for context in (plain, hidden)
    )
    assert [block.get("id") for block in first] == [None] * len(first)
    assert second[2]["id"] == "b2"
    assert second[2]["style"] == first[2]["style"] + "; visibility: hidden"
    assert second[1]["style"] == first[1]["style"]
