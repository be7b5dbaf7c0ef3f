"""Figures on a page: unknown is said, small money keeps its figures, formats are the kitchen's."""

import re
from decimal import Decimal

import pytest

from costing.models import Kitchen
from costing.templatetags.figures import (
    change,
    currency_sign,
    days_ago,
    fine_money,
    mass,
    money,
    number,
    per_each,
    per_kg,
    percent,
    plain_money,
)

IRISH = Kitchen(currency="EUR", number_format="en_IE")
GERMAN = Kitchen(currency="EUR", number_format="de_DE")


def _text(html):
    """What a reader sees, without the marks around it."""
    return re.sub(r"<[^>]+>", "", str(html)).replace("\xa0", " ")


@pytest.mark.parametrize("write", [money, per_kg, per_each, number, percent, mass, fine_money])
def test_what_is_not_known_is_said_and_never_shown_as_nought(write):
    assert _text(write(None, IRISH)) == "not known yet"


def test_a_figure_is_written_the_way_the_kitchen_writes():
    amount = Decimal("1234.565")
    assert money(amount, IRISH) == "€1,234.57"
    assert _text(money(amount, GERMAN)) == "1.234,57 €"
    assert plain_money(amount, GERMAN) == "1.234,57"
    assert currency_sign(GERMAN) == "€"
    assert number(Decimal("12.500"), GERMAN) == "12,5"


@pytest.mark.parametrize(
    ("amount", "written"),
    [("0.36", "€0.36"), ("0.02", "€0.02"), ("0.038", "€0.038"), ("0.0133333", "€0.0133"),
     ("0.004", "€0.004"), ("1.5", "€1.50"), ("0", "€0.00"), ("0.9999999", "€1.00")],
)  # fmt: skip
def test_a_wrap_that_costs_less_than_a_cent_keeps_its_figures(amount, written):
    assert _text(per_each(Decimal(amount), IRISH)) == f"{written} each"


@pytest.mark.parametrize(
    ("grams", "written"),
    [("999", "999 g"), ("1000", "1.00 kg"), ("18000", "18.00 kg"), ("2.5", "2.5 g"),
     ("0", "0 g"), ("340", "340 g")],
)  # fmt: skip
def test_a_mass_is_in_grams_below_a_kilo(grams, written):
    assert _text(mass(Decimal(grams), IRISH)) == written


def test_a_change_has_its_word_and_not_only_its_direction():
    # 29.75 after 23.75: 6 / 23.75 = 25.26 %.
    assert _text(change(Decimal("23.75"), Decimal("29.75"), IRISH)) == "25.3 % dearer"
    assert _text(change(Decimal("29.75"), Decimal("23.75"), IRISH)) == "20.2 % cheaper"
    assert _text(change(Decimal(1), Decimal(1), IRISH)) == "unchanged"
    assert change(None, Decimal(1), IRISH) == ""
    assert change(Decimal(0), Decimal(1), IRISH) == ""


@pytest.mark.parametrize(
    ("days", "words"),
    [(0, "today"), (1, "yesterday"), (59, "59 days ago"), (61, "2 months ago"), (-1, "tomorrow"),
     (729, "24 months ago"), (730, "2 years ago")],
)  # fmt: skip
def test_how_long_ago_in_words(days, words):
    assert days_ago(days) == words
