"""Lots by the kitchen's own scheme: what is refused, what comes out, and that none comes twice."""

from datetime import date

import pytest
from django.core.exceptions import ValidationError

from costing.services.kitchens import update_kitchen
from costing.services.lots import (
    LONGEST,
    USUAL,
    example_lot,
    letters_of,
    money_in,
    next_lot,
    scheme_fault,
)
from tests.builders import a_batch, a_kitchen, a_recipe, an_owner, sugar

# 5 September 2027 is day 31+28+31+30+31+30+31+31+5 = 248 of the year; 2028 is a leap year, so
# that its last day is the 366th.
DAY, LEAP = date(2027, 9, 5), date(2028, 12, 31)


def test_the_usual_scheme_can_be_used():
    assert scheme_fault(USUAL) == ""


@pytest.mark.parametrize(
    ("scheme", "word"),
    [
        ("", "Say how"),
        ("{letters}-{yy}", "back to its day"),
        ("{yy}{mm}", "back to its day"),
        ("{letters}{ddd}", "Next year"),
        ("{letters}{yy}{day}", "{day} is not known"),
        ("{letters}{yy}{ddd", "brace"),
        ("€{yy}{ddd}", "price"),
        ("{yy}{ddd} EUR", "price"),
        ("4.50-{yy}{ddd}", "price"),
        ("{yy}{ddd}é", "plain"),
        ("{yy}{ddd}<b>", "plain"),
        ("{yy}{ddd} ", "plain"),
    ],
)
def test_a_scheme_that_would_not_lead_back_or_reads_as_money_is_refused(scheme, word):
    assert word in scheme_fault(scheme, currency="EUR")


@pytest.mark.parametrize("scheme", ["{yy}{ddd}", "{yyyy}/{mm}/{dd} {letters}", "L{n}.{yy}{ddd}"])
def test_a_scheme_with_a_day_of_one_year_is_taken(scheme):
    assert scheme_fault(scheme, currency="EUR") == ""


def test_a_lot_is_never_longer_than_the_label_has_room_for():
    # {yy}{ddd} is 5 characters and the pans of a day may need 2 letters: 33 more fill 40.
    assert scheme_fault("A" * 33 + "{yy}{ddd}") == ""
    assert str(LONGEST) in scheme_fault("A" * 34 + "{yy}{ddd}")


def test_the_letters_of_a_name_are_plain_ones():
    assert letters_of("Äpfel mit Zimt") == "AM"
    assert letters_of("7") == "K"


def test_a_currency_is_found_as_a_word_and_as_a_sign():
    assert money_in("AB-£4")
    assert money_in("DC EUR 4", currency="EUR")
    assert not money_in("EUROPA-27248", currency="EUR")


@pytest.mark.django_db
def test_the_example_follows_the_scheme_that_is_typed():
    kitchen = a_kitchen()
    told = example_lot(kitchen, "{yyyy}-{mm}-{dd} {letters}{n}", name="Damson cheese", on=DAY)
    assert told == "2027-09-05 DC1"
    assert example_lot(kitchen, "{yy}{ddd}", name="Damson cheese", on=LEAP) == "28366"
    assert example_lot(kitchen, "{yy}", name="Damson cheese", on=DAY) == ""


@pytest.mark.django_db
def test_the_scheme_is_kept_checked_and_the_next_lot_follows_it():
    kitchen = a_kitchen()
    owner = an_owner(kitchen)
    with pytest.raises(ValidationError, match="back to its day"):
        update_kitchen(kitchen, by=owner, lot_scheme="{letters}")
    kitchen.refresh_from_db()
    assert kitchen.lot_scheme == USUAL
    update_kitchen(kitchen, by=owner, lot_scheme="{yy}{ddd}-{n}{letters}")
    recipe = a_recipe(kitchen, name="Damson cheese", lines=[(sugar(kitchen), 1)])
    lots = [a_batch(recipe, on=DAY).lot for _ in range(3)]
    assert lots == ["27248-1DC", "27248-2DC", "27248-3DC"]


@pytest.mark.django_db
def test_without_a_count_the_second_pan_gets_b_whatever_recipe_took_the_first():
    kitchen = a_kitchen(lot_scheme="L{yyyy}{mm}{dd}")
    white = sugar(kitchen)
    one, other = (a_recipe(kitchen, lines=[(white, 1)]) for _ in range(2))
    lots = [a_batch(recipe, on=DAY).lot for recipe in (one, other, one)]
    assert lots == ["L20270905", "L20270905B", "L20270905C"]
    # Another kitchen's pans take no lot away.
    assert next_lot(a_recipe(a_kitchen(lot_scheme="L{yyyy}{mm}{dd}")), on=DAY) == "L20270905"


@pytest.mark.django_db
def test_a_scheme_that_was_stored_unchecked_does_not_stop_a_cook():
    recipe = a_recipe(a_kitchen(lot_scheme="{nonsense"), name="Damson cheese")
    assert next_lot(recipe, on=DAY) == "DC-27248"
