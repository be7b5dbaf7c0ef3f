"""Reading numbers as people type them."""

from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.units import AmbiguousNumber, NumberNotUnderstood, NumberTooLarge, read_number

D = Decimal


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2,5", "2.5"),
        ("2.5", "2.5"),
        (" 7 ", "7"),
        ("1 250,50", "1250.50"),
        ("1\N{NO-BREAK SPACE}250,50", "1250.50"),
        ("1\N{NARROW NO-BREAK SPACE}250", "1250"),
        ("1'250.50", "1250.50"),
        ("1\N{RIGHT SINGLE QUOTATION MARK}250.50", "1250.50"),
        ("1.250,50", "1250.50"),
        ("1,250.50", "1250.50"),
        ("1.250.000", "1250000"),
        ("1 250,500", "1250.500"),
        ("0,250", "0.250"),
        ("0.250", "0.250"),
        ("1250,500", "1250.500"),
        ("1.25", "1.25"),
        ("1.2500", "1.2500"),
        (".5", "0.5"),
        ("5.", "5"),
        ("-3,5", "-3.5"),
        ("\N{MINUS SIGN}3", "-3"),
    ],
)
def test_each_way_of_writing_a_number_is_read(text, value):
    assert read_number(text) == D(value)


# Digit values: The Unicode Standard, property Numeric_Type=Decimal.
@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("\u0661\u0662\u066b\u0665", "12.5"),  # Arabic-Indic with its own decimal mark
        ("\u0661\u066c\u0662\u0665\u0660", "1250"),  # and its own thousands mark
        ("\uff11\uff12\uff0e\uff15", "12.5"),  # fullwidth
        ("\u0967\u0968", "12"),  # Devanagari
    ],
)
def test_digits_of_other_scripts_are_read(text, value):
    assert read_number(text) == D(value)


def test_a_number_with_three_digits_after_its_only_mark_is_asked_about():
    with pytest.raises(AmbiguousNumber) as asked:
        read_number("1.250")
    assert str(asked.value) == (
        "1.250: one and a quarter (type 1.25) or one thousand two hundred and fifty (type 1250)?"
    )


@pytest.mark.parametrize(
    ("text", "decimal", "thousand"),
    [
        ("1,250", "1.25", "1250"),
        ("2.375", "2.3750", "2375"),
        ("12,000", "12", "12000"),
        ("999.001", "999.0010", "999001"),
        ("3.500", "3.5", "3500"),
    ],
)
def test_both_answers_to_the_question_are_accepted_when_typed(text, decimal, thousand):
    with pytest.raises(AmbiguousNumber) as asked:
        read_number(text)
    assert f"(type {decimal})" in str(asked.value)
    assert f"(type {thousand})" in str(asked.value)
    assert read_number(decimal) == D(text.replace(",", "."))
    assert read_number(thousand) == D(text.replace(",", "").replace(".", ""))


# Thresholds in pairs: three digits after the mark are asked about, two and four are not;
# three before are asked about, four are not; a leading zero settles it.
@pytest.mark.parametrize("text", ["1.25", "1.2500", "1250.125", "0.125", "0,125"])
def test_next_to_the_ambiguous_ones_nothing_is_asked(text):
    assert read_number(text) == D(text.replace(",", "."))


@pytest.mark.parametrize(
    "text",
    [
        *("", "   ", ",", "-", "five", "1e5", "1E5", "nan", "NaN", "inf", "-inf", "0x10", "1_000"),
        *("\N{RED APPLE}", "1\N{RED APPLE}", "\N{VULGAR FRACTION ONE HALF}", "\N{SUPERSCRIPT TWO}"),
        *("1\u0662", "<b>1</b>", "{{ 7*7 }}", "{% x %}", "1.5.2", "1,25.50", "1,00,000.50"),
        *("1 25", "1 250 50", "--3", "3-", "5 %", "1,250,5", "1 250'000", "0." + "3" * 40),
        "1\n2\x00",
    ],
)
def test_what_is_not_a_number_is_refused_in_a_sentence(text):
    with pytest.raises(NumberNotUnderstood) as refused:
        read_number(text)
    assert "ype " in str(refused.value) or "Round it" in str(refused.value)
    assert str(refused.value).endswith(".")
    assert len(str(refused.value)) < 200


# Pair: one less than 10^9 is read, 10^9 is refused.
def test_the_largest_number_is_just_under_a_thousand_million():
    assert read_number("999999999.99") == D("999999999.99")
    for text in ("1000000000", "1 000 000 000", "1" + "0" * 12, "9" * 40, "1.000.000.000,5"):
        with pytest.raises(NumberTooLarge, match="Check the zeros and the unit"):
            read_number(text)


@given(st.decimals(min_value=0, max_value=10**8, places=4, allow_nan=False))
def test_comma_and_dot_give_identical_values(value):
    text = f"{value:.4f}"  # four decimals are never ambiguous
    assert read_number(text) == read_number(text.replace(".", ",")) == value


@given(st.decimals(min_value=0, max_value=10**8, places=2, allow_nan=False))
def test_grouping_never_changes_a_number(value):
    english = f"{value:,.2f}"
    for group, mark in ((",", "."), (".", ","), (" ", ","), ("'", "."), ("", ",")):
        text = english.replace(",", "G").replace(".", mark).replace("G", group)
        assert read_number(text) == value


@given(st.text(max_size=30))
def test_no_text_whatever_gives_anything_but_a_number_or_a_sentence(text):
    # Any other exception fails this test.
    with suppress(NumberNotUnderstood, NumberTooLarge):
        assert read_number(text).is_finite()
