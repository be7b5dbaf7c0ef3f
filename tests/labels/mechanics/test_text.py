"""Typed text and its words; English spelling as any grammar has it."""

from decimal import Decimal

import pytest

from labels.mechanics.text import bare, figure, forms, names_one_of, one_line, sentence, words_of


def test_typed_text_is_set_on_one_line_without_control_characters():
    assert one_line(" Damson\x00\n\tcheese ") == "Damson cheese"


def test_what_setting_may_change_is_no_difference():
    assert bare("Dam\u00adson  Paste") == bare("damson paste")


@pytest.mark.parametrize(
    ("value", "sign", "shown"),
    [("1.50", ".", "1.5"), ("1.50", ",", "1,5"), ("1E+3", ".", "1000"), ("0.00", ".", "0")],
)
def test_a_figure_has_no_trailing_zeros_and_no_exponent(value, sign, shown):
    assert figure(Decimal(value), decimal_sign=sign) == shown


@pytest.mark.parametrize(
    ("one", "many"), [("walnut", "walnuts"), ("berry", "berries"), ("peach", "peaches")]
)
def test_singular_and_plural_meet(one, many):
    assert one in forms(many)
    assert many in forms(one)


def test_names_are_found_as_whole_words_only():
    assert names_one_of("Mustard seed", ("mustard",))
    assert not names_one_of("goats' cheese", ("oat",))
    assert not names_one_of("butternut squash", ("nut",))


def test_a_sentence_ends_once():
    assert (sentence("Keep cool"), sentence("Keep cool."), sentence(" ")) == (
        "Keep cool.",
        "Keep cool.",
        "",
    )


def test_figures_are_no_words():
    assert words_of("Peanut (95 %) butter") == ("peanut", "butter")
