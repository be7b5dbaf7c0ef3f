"""Rounding, sharing and writing money."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.money import format_money, format_number, round_money, split_to_cents

D = Decimal
CENTS = st.decimals(min_value=-(10**7), max_value=10**7, places=2, allow_nan=False)
WEIGHTS = st.lists(st.decimals(min_value=0, max_value=10**6, places=4), min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("amount", "rounded"),
    [("0.005", "0.01"), ("0.00499", "0.00"), ("-0.005", "-0.01"), ("2.675", "2.68"), ("1", "1.00")],
)
def test_money_rounds_half_up_and_ties_go_away_from_zero(amount, rounded):
    assert str(round_money(D(amount))) == rounded


def test_pieces_weighed_and_priced_one_by_one_are_rounded_each():
    # Constructed, at 26.00 a kilo: 8.112, 7.462 and 10.426; what is paid is the sum of what is read
    paid = [round_money(D(kilos) * 26) for kilos in ("0.312", "0.287", "0.401")]
    assert paid == [D("8.11"), D("7.46"), D("10.43")]
    assert sum(paid) == 26


def test_money_rounds_to_other_places():
    assert round_money(D("0.387083"), places=4) == D("0.3871")
    assert round_money(D("123456789012345678901234567890.125")) == D(
        "123456789012345678901234567890.13"
    )


def test_ten_in_three_adds_back():
    # Largest remainder: 3.333.. each; the cent left goes to the first.
    assert split_to_cents(D("10.00"), weights=[D(1)] * 3) == (D("3.34"), D("3.33"), D("3.33"))


def test_a_delivery_charge_is_shared_by_value():
    # C3 (constructed): 12.00 over 86.40, 45.00, 28.00 (159.40): 6.504391, 3.387704, 2.107905.
    parts = split_to_cents(D("12.00"), weights=[D("86.40"), D("45.00"), D("28.00")])
    assert parts == (D("6.50"), D("3.39"), D("2.11"))


def test_labour_shared_by_minutes_and_by_kilos():
    # C13 (constructed): 4.0 h at 15.00 = 60.00. 150:90 minutes; 11.89:22.93 kg.
    assert split_to_cents(D(60), weights=[D(150), D(90)]) == (D("37.50"), D("22.50"))
    assert split_to_cents(D(60), weights=[D("11.89"), D("22.93")]) == (D("20.49"), D("39.51"))


def test_a_negative_amount_is_shared_too():
    assert split_to_cents(D("-0.05"), weights=[D(1), D(1)]) == (D("-0.03"), D("-0.02"))


@pytest.mark.parametrize("weights", [[], [D(0)], [D(1), D(-1)], [D(-1), D(3)]])
def test_weights_that_share_nothing_are_refused(weights):
    with pytest.raises(ValueError, match="at least one above zero"):
        split_to_cents(D(1), weights=weights)


@given(amount=CENTS, weights=WEIGHTS)
def test_shares_always_add_back_exactly(amount, weights):
    if not any(weights):
        weights = [*weights, D(1)]
    parts = split_to_cents(amount, weights=weights)
    assert sum(parts) == amount
    # Never more than a cent from the exact share.
    for part, weight in zip(parts, weights, strict=True):
        assert abs(part - amount * weight / sum(weights)) < D("0.01")


# Expected texts: Unicode CLDR number and currency patterns for each locale.
@pytest.mark.parametrize(
    ("currency", "locale", "places", "text"),
    [
        ("EUR", "en_IE", None, "€1,234.57"),
        ("EUR", "de_DE", None, "1.234,57\N{NO-BREAK SPACE}€"),
        ("EUR", "de-DE", 4, "1.234,5650\N{NO-BREAK SPACE}€"),
        ("GBP", "en_GB", None, "£1,234.57"),
        ("JPY", "ja_JP", None, "\N{FULLWIDTH YEN SIGN}1,235"),
        ("USD", "en_US", 2, "$1,234.57"),
    ],
)
def test_money_is_written_as_the_locale_writes_it(currency, locale, places, text):
    written = format_money(D("1234.565"), currency=currency, locale=locale, places=places)
    assert written == text


def test_numbers_are_written_as_the_locale_writes_them():
    assert format_number(D("1234.5"), locale="en_IE", places=2) == "1,234.50"
    assert format_number(D("1234.5"), locale="de_DE", places=0) == "1.235"
    assert format_number(D("1234.5"), locale="fr_FR", places=1) == (
        "1\N{NARROW NO-BREAK SPACE}234,5"
    )


def test_nothing_is_written_as_minus_zero():
    assert format_number(D("-0.001"), locale="en_IE", places=2) == "0.00"
