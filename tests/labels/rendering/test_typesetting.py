"""Reckoning of lines from the widths of letters, and text that stays together."""

from dataclasses import replace

import pytest

from labels.rendering.fonts import SANS
from labels.rendering.typesetting import Block, Part, Span, lines_of, on_grid, without_widow_mm


def a_block(text, *, size_mm=2.0):
    return Block("fact", (Part("extra", (Span(text),)),), size_mm, 2.4, family=SANS)


def test_lengths_go_up_to_the_grid_and_stay_if_they_are_on_it():
    assert on_grid(2.41, step_mm=0.05) == pytest.approx(2.45)
    assert on_grid(2.45, step_mm=0.05) == pytest.approx(2.45)


def test_a_text_takes_as_many_lines_as_its_words_need():
    block = a_block("sugar " * 40)
    whole_mm = block.part_mm(block.parts[0])
    assert lines_of(block, width_mm=whole_mm + 0.1) == 1
    assert lines_of(block, width_mm=whole_mm / 2 + 3) == 2
    assert lines_of(block, width_mm=block.longest_word_mm()) == 40


def test_a_word_wider_than_the_line_is_broken():
    block = a_block("n" * 100)
    word_mm = block.longest_word_mm()
    assert lines_of(block, width_mm=word_mm / 4.5) == 5


def test_a_figure_never_parts_from_its_unit():
    pieces = Span("damsons (65 g per 100 g), sugar 20 % and 3 gherkins").pieces
    assert [text for text, is_tied in pieces if is_tied] == ["(65 g", "100 g),", "20 %"]
    assert "".join(text for text, _ in pieces) == (
        "damsons (65 g per 100 g), sugar 20 % and 3 gherkins"
    )


def test_date_and_lot_share_a_line_only_if_neither_is_broken():
    date, lot = (Part(kind, (Span(text),)) for kind, text in (("date", "n" * 9), ("lot", "n nn")))
    block = Block("fact", (date, lot), 2.0, 2.4, family=SANS, has_whole_parts=True)
    assert lines_of(block, width_mm=30) == 1
    long = replace(block, parts=(replace(date, spans=(Span("nnnn " * 4),)), lot))
    # The date breaks in two, so the lot begins a third line, though the second had room for it.
    assert lines_of(long, width_mm=long.part_mm(long.parts[0]) - 0.1) == 3
    assert not long.is_shared(width_mm=long.part_mm(long.parts[0]) - 0.1)
    assert long.is_shared(width_mm=long.part_mm(long.parts[0]) + 0.1)


def test_no_word_is_left_alone_on_the_last_line_where_that_can_be_helped():
    block = a_block("Keep in a cool and dry place, away from the light of the sun.")
    whole_mm = block.part_mm(block.parts[0])
    width_mm = whole_mm * 0.96  # the last word alone does not fit
    assert lines_of(block, width_mm=width_mm) == 2
    taken_mm = without_widow_mm(block, width_mm=width_mm)
    assert taken_mm > 0
    assert lines_of(block, width_mm=width_mm - taken_mm) == 2
    assert without_widow_mm(block, width_mm=whole_mm * 1.01) == 0
