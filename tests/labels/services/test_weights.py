"""Weights as people type them and as scales write them."""

from decimal import Decimal

import pytest

from labels.services.weights import MOST_PIECES, read_weights


@pytest.mark.parametrize(
    ("line", "unit", "grams"),
    [
        ("2,5", "kg", "2500"),
        ("2.5", "kg", "2500"),
        ("0.124", "kg", "124"),
        ("1.250", "kg", "1250"),  # a scale writes grams as three digits
        ("1,250 kg", "g", "1250"),
        ("124", "g", "124"),
        ("124 g", "kg", "124"),
        ("124,55", "g", "124.6"),  # to a tenth of a gram, half to even
        ("٢٥٠", "g", "250"),
    ],
)
def test_a_line_is_a_weight_in_the_unit_it_names_or_the_one_chosen(line, unit, grams):
    weights, faults = read_weights(line, unit=unit)
    assert (weights, faults) == ([Decimal(grams)], [])


def test_the_tare_is_taken_off_each_and_empty_lines_are_passed_over():
    weights, faults = read_weights("104\n\n  \n98 g\n", unit="g", tare_g=Decimal(4))
    assert (weights, faults) == ([Decimal(100), Decimal(94)], [])


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("abc", "Line 1: "),
        ("-3", "more than nothing"),
        ("0", "more than nothing"),
        ("1.250", "one and a quarter"),  # in grams: nobody can know
        ("5 l", "not a weight"),
        ("50001", "over 50 kg. Is it in grams?"),
        ("4", "leaves nothing"),
        ("🍐", "Line 1: "),
        ("9" * 400, "Line 1: "),
    ],
)
def test_a_line_that_is_no_weight_is_told_with_its_number(line, sentence):
    weights, faults = read_weights(line, unit="g", tare_g=Decimal(4))
    assert weights == []
    assert faults[0].line == 1
    assert sentence in faults[0].sentence


def test_no_more_than_a_run_can_hold():
    assert read_weights("100\n" * MOST_PIECES, unit="g")[1] == []
    assert "at most 5000" in read_weights("100\n" * (MOST_PIECES + 1), unit="g")[1][0].sentence
