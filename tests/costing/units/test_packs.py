"""Reading packs as suppliers write them and amounts as recipes do."""

from contextlib import suppress
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.units import AmbiguousNumber, UnitNotUnderstood, UnitsError, read_amount, read_pack

D = Decimal


@pytest.mark.parametrize(
    ("text", "total", "base", "tidy"),
    [
        ("25 kg", "25000", "g", "25 kg"),
        ("Sack 25 KG", "25000", "g", "25 kg"),
        ("tray 12 kg", "12000", "g", "12 kg"),
        ("crate 10 kg", "10000", "g", "10 kg"),
        ("1 crate of 10 kg", "10000", "g", "10 kg"),
        ("2 crates of 10 kg", "20000", "g", "2 × 10 kg"),
        ("crate of 6 x 1 kg", "6000", "g", "6 × 1 kg"),
        ("6 x 1 kg", "6000", "g", "6 × 1 kg"),
        ("6x1kg", "6000", "g", "6 × 1 kg"),
        ("6 × 1 kg", "6000", "g", "6 × 1 kg"),
        ("6*1kg", "6000", "g", "6 × 1 kg"),
        ("2 x 6 x 1 kg", "12000", "g", "12 × 1 kg"),
        ("12 x 340 g", "4080", "g", "12 × 340 g"),
        ("2,5 kg", "2500", "g", "2.5 kg"),
        ("2 lb", "907.18474", "g", "2 lb"),
        ("8 oz", "226.796185", "g", "8 oz"),
        ("5 l", "5000", "ml", "5 l"),
        ("can 5 litres", "5000", "ml", "5 l"),
        ("6 x 75 cl", "4500", "ml", "6 × 75 cl"),
        ("1 imp gal", "4546.09", "ml", "1 imp gal"),
        ("40 each", "40", "each", "40 each"),
        ("40", "40", "each", "40 each"),
        ("40 St.", "40", "each", "40 each"),
        ("box 40 each", "40", "each", "40 each"),
        ("60 jars", "60", "each", "60 each"),
        ("dozen", "12", "each", "1 dozen"),
        ("2 dozen", "24", "each", "2 dozen"),
        ("kg", "1000", "g", "1 kg"),
        ("net 10 kg", "10000", "g", "10 kg"),
        ("25 kg sack", "25000", "g", "25 kg"),
        ("6 x 1 kg bags", "6000", "g", "6 × 1 kg"),
        ("5 l can", "5000", "ml", "5 l"),
        ("12 x 75 cl bottles", "9000", "ml", "12 × 75 cl"),
    ],
)
def test_packs_are_read_as_suppliers_write_them(text, total, base, tidy):
    pack = read_pack(text)
    assert (pack.total, pack.base_unit, pack.text) == (D(total), base, tidy)


@pytest.mark.parametrize("text", ["25 kg", "6 x 1 kg", "2 dozen", "12 x 340 g", "2,5 kg", "5 l"])
def test_a_tidy_pack_reads_back_as_itself(text):
    assert read_pack(read_pack(text).text) == read_pack(text)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("25 metres", "measures a length"),
        ("5 hours", "measures a time"),
        ("3 °C", "measures a temperature"),
        ("2 kWh", "measures an energy"),
        ("5 €", "measures money"),
        ("1 gal", "“imp gal” or “us gal”"),
        ("2 pints", "568.26125 ml or US pints of 473.176473 ml"),
        ("8 fl oz", "“imp floz” or “us floz”"),
        ("2 cups", "depending on the country"),
        ("1 crate", "how much is in it"),
        ("crate", "how much is in it"),
        ("2 boxes", "how much is in it"),
        ("5 bananas", "not a unit known here"),
        ("50 %", "not a percentage"),
        ("", "No pack was typed"),
        ("0 kg", "more than nothing"),
        ("-5 kg", "more than nothing"),
        ("0 x 5 kg", "more than nothing"),
        ("1e5 kg", "not a number"),
        ("1000000000000 kg", "more than any kitchen has"),
        ("999999999 kg", "more than any kitchen buys"),
        ("x 5 kg", "No number was typed"),
        ("5 kg 3", "not a unit known here"),
        ("\N{RED APPLE}", "not a number"),
        ("<script>alert(1)</script>", "“"),
        ("{{ 7*7 }}", "“"),
    ],
)
def test_packs_that_say_nothing_sure_are_refused_in_a_sentence(text, says):
    with pytest.raises(UnitsError) as refused:
        read_pack(text)
    assert says in str(refused.value)


def test_an_ambiguous_pack_is_asked_about():
    with pytest.raises(AmbiguousNumber):
        read_pack("1.250 kg")


@pytest.mark.parametrize(
    ("text", "quantity", "unit"),
    [
        ("8,1 kg", "8.1", "kg"),
        ("200 g", "200", "g"),
        ("200g", "200", "g"),
        ("90 %", "90", "%"),
        ("90%", "90", "%"),
        ("8 each", "8", "each"),
        ("4 l", "4", "l"),
        ("2 tsp", "2", "tsp"),
        ("8,1", "8.1", "kg"),
        ("1 250,5 g", "1250.5", "g"),
        ("1/2 kg", None, None),
        ("½ kg", None, None),
    ],
)
def test_amounts_of_recipe_lines(text, quantity, unit):
    if quantity is None:
        with pytest.raises(UnitsError):
            read_amount(text, default_unit="kg")
    else:
        amount = read_amount(text, default_unit="kg")
        assert (amount.quantity, amount.unit) == (D(quantity), unit)


@pytest.mark.parametrize("text", ["0", "-1 kg", "3 °C", "1000000000000 kg", "", "nan", "inf", "a"])
def test_amounts_that_cannot_be_are_refused(text):
    with pytest.raises(UnitsError):
        read_amount(text, default_unit="kg")


@given(st.text(max_size=30))
def test_no_text_makes_the_readers_fail_otherwise_than_in_a_sentence(text):
    for read in (read_pack, lambda typed: read_amount(typed, default_unit="g")):
        with suppress(UnitsError):  # any other exception fails this test
            assert read(text).dimension


def test_unit_refusals_are_their_own_kind():
    with pytest.raises(UnitNotUnderstood):
        read_pack("25 metres")
