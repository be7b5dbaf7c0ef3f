"""Where lines end: by the widths in the font file, and never where a reader would stumble."""

from dataclasses import replace

import pytest

from labels.rendering.fonts import SANS
from labels.rendering.typesetting import (
    LINE_END,
    Block,
    Part,
    Span,
    in_lines,
    line_widths_mm,
    on_grid,
)


def a_block(text, *, size_mm=2.0, role="fact", kind="extra"):
    return Block(role, (Part(kind, (Span(text),)),), size_mm, 2.4, family=SANS)


def lines_of(block, *, width_mm):
    return len(line_widths_mm(block, width_mm=width_mm))


def whole_mm(block):
    return sum(line_widths_mm(block, width_mm=1e4))


def set_text(block, *, width_mm):
    return "|".join(part.text for part in in_lines(block, width_mm=width_mm)).split(LINE_END)


def test_lengths_go_up_to_the_grid_and_stay_if_they_are_on_it():
    assert on_grid(2.41, step_mm=0.05) == pytest.approx(2.45)
    assert on_grid(2.45, step_mm=0.05) == pytest.approx(2.45)


def test_a_text_takes_as_many_lines_as_its_words_need():
    block = a_block("sugar " * 40)
    assert lines_of(block, width_mm=whole_mm(block) + 0.1) == 1
    assert lines_of(block, width_mm=whole_mm(block) / 2 + 3) == 2
    assert lines_of(block, width_mm=block.longest_word_mm() + 0.01) == 40


def test_the_threshold_of_a_second_line_is_the_width_of_the_text():
    block = a_block("damsons and sugar")
    assert lines_of(block, width_mm=whole_mm(block) + 0.001) == 1
    assert lines_of(block, width_mm=whole_mm(block) - 0.001) == 2


def test_no_line_is_wider_than_the_column_and_no_letter_is_lost():
    block = a_block("tomatoes (48 %), onions, sugar, spirit vinegar, apple puree, sultanas, salt")
    for width_mm in (12, 18.5, 25, 33, 60):
        assert max(line_widths_mm(block, width_mm=width_mm)) <= width_mm + 0.01
        assert " ".join(set_text(block, width_mm=width_mm)) == block.parts[0].text


def test_a_word_wider_than_the_line_is_broken():
    # 100 letters, four and a half to a line: 25 lines of four.
    block = a_block("n" * 100)
    width_mm = block.longest_word_mm() / 100 * 4.5
    assert set_text(block, width_mm=width_mm) == ["nnnn"] * 25


@pytest.mark.parametrize(
    ("text", "together"),
    [
        ("damsons (65 g per 100 g), sugar", ["(65 g", "100 g),"]),
        ("sugar 20 % and 3 gherkins", ["20 %", "3 gherkins"]),
        ("eat within 4 weeks.", ["4 weeks."]),
    ],
)
def test_a_figure_never_parts_from_what_it_counts(text, together):
    block = a_block(text)
    for width_mm in (x / 2 for x in range(26, 80)):
        lines = set_text(block, width_mm=width_mm)
        assert all(any(pair in line for line in lines) for pair in together)


def test_statements_on_one_line_are_broken_only_between_them():
    date, lot = (Part(kind, (Span(text),)) for kind, text in (("date", "n" * 9), ("lot", "n nn")))
    block = Block("fact", (date, lot), 2.0, 2.4, family=SANS, has_whole_parts=True)
    assert set_text(block, width_mm=30) == ["nnnnnnnnn|n nn"]
    # Room for the date and for half of the lot: the whole lot goes to the second line.
    first_mm = line_widths_mm(replace(block, parts=(date,)), width_mm=30)[0]
    assert set_text(block, width_mm=first_mm + 3) == ["nnnnnnnnn|", "n nn"]


def test_a_statement_too_long_for_a_line_sends_the_next_one_to_its_own():
    date = Part("date", (Span("nnnn nnnn nnnn nnnn"),))
    lot = Part("lot", (Span("n"),))
    block = Block("fact", (date, lot), 2.0, 2.4, family=SANS, has_whole_parts=True)
    whole = line_widths_mm(replace(block, parts=(date,)), width_mm=99)[0]
    assert set_text(block, width_mm=whole - 0.1)[-1] == "n"
    assert len(set_text(block, width_mm=whole - 0.1)) == 3


def test_a_date_that_needs_two_lines_is_broken_after_its_heading():
    spans = (Span("Best before end ", is_heading=True), Span("November 2027"))
    block = Block("fact", (Part("date", spans),), 2.0, 2.4, family=SANS, has_whole_parts=True)
    width_mm = whole_mm(block) * 0.85  # "Best before end November" would fit on the first
    assert set_text(block, width_mm=width_mm) == ["Best before end", "November 2027"]


def test_a_number_with_a_space_in_it_stays_on_one_line():
    # Regulation (EU) No 1169/2011, Annex XIII, Part B: "8 400 kJ/2 000 kcal"
    block = a_block("Reference intake of an average adult (8 400 kJ/2 000 kcal)")
    for share in range(50, 100):
        for line in set_text(block, width_mm=whole_mm(block) * share / 100):
            assert not line.endswith(("(8", "/2"))


def test_an_address_is_broken_after_a_comma_if_that_costs_no_line():
    block = a_block("Rookfold Kitchen, 3 Millrace Yard, Fennelford", kind="operator")
    width_mm = whole_mm(block) * 0.9
    assert set_text(block, width_mm=width_mm) == [
        "Rookfold Kitchen,", "3 Millrace Yard, Fennelford",
    ]  # fmt: skip
    other = replace(block, parts=(Part("storage", block.parts[0].spans),))
    assert set_text(other, width_mm=width_mm)[0] == "Rookfold Kitchen, 3 Millrace"


def test_no_word_is_left_alone_on_the_last_line_where_that_can_be_helped():
    block = a_block("Keep in a cool and dry place, away from the light of the sun.")
    width_mm = whole_mm(block) * 0.96  # the last word alone does not fit
    last = line_widths_mm(block, width_mm=width_mm)[-1]
    assert lines_of(block, width_mm=width_mm) == 2
    assert last >= 0.3 * width_mm
    assert set_text(block, width_mm=width_mm)[-1] != "sun."


@pytest.mark.parametrize("role", ["brand", "name", "tagline"])
def test_what_is_displayed_is_shared_evenly_between_its_lines(role):
    block = a_block("Spiced pear and apple paste with ginger and lemon", role=role)
    width_mm = whole_mm(block) * 0.9
    first, second = line_widths_mm(block, width_mm=width_mm)
    # Greedy lines would leave "lemon" alone; the nearest to halves is "... apple paste / with ...".
    assert min(first, second) > 0.75 * max(first, second)
    assert lines_of(block, width_mm=block.longest_word_mm() + 0.01) > 4
    assert all(" " in line or len(line) > 3 for line in set_text(block, width_mm=width_mm))


def test_a_display_line_is_never_broken_inside_a_word():
    block = a_block("ROOKFOLD KITCHEN", role="brand")
    for width_mm in (block.longest_word_mm() + 0.01, whole_mm(block) - 0.01):
        assert set_text(block, width_mm=width_mm) == ["ROOKFOLD", "KITCHEN"]


def test_a_line_end_between_two_cuts_leaves_the_bold_word_whole():
    spans = (Span("salt, "), Span("mustard", weight=700), Span(" seed"))
    block = Block("fact", (Part("ingredients", spans),), 2.0, 2.4, family=SANS)
    for width_mm in (8.5, 10, 11):
        (part,) = in_lines(block, width_mm=width_mm)
        assert part.emphasised == ("mustard",)
        assert "salt," in part.text.split(LINE_END)
