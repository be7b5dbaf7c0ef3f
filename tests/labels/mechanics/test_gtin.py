"""Check digits and article numbers; oracle: python-stdnum (stdnum.ean)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean

from labels.mechanics.gtin import check_digit, read_gtin


@given(st.text("0123456789", min_size=12, max_size=12))
def test_the_check_digit_is_that_of_the_reference_library(digits):
    assert check_digit(digits) == ean.calc_check_digit(digits)
    assert ean.is_valid(digits + check_digit(digits))


def test_the_worked_example_of_gs1():
    # GS1, "How to calculate a check digit manually": 629104150021 gives 3.
    assert check_digit("629104150021") == "3"


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("", ""),
        ("4006381333931", "4006381333931"),
        (" 4 006381-333931 ", "4006381333931"),
        ("036000291452", "0036000291452"),
    ],
)
def test_a_number_is_read_as_it_is_typed(typed, read):
    assert read_gtin(typed) == read


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("4006381333932", "must end with 1"),
        ("400638133393", "by its other digits"),
        ("40063813339", "has 11 digits"),
        ("abc", "more than digits"),
        ("٤006381333931", "more than digits"),
        ("2012345678903", "Ask your shop"),
        ("0212345678909", "Ask your shop"),
    ],
)
def test_what_is_no_number_of_a_maker_is_told_in_a_sentence(typed, sentence):
    with pytest.raises(ValueError, match=sentence):
        read_gtin(typed)
