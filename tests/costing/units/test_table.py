"""What units are worth, and the way to grams."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.units import (
    UNITS,
    NeedsDensity,
    NeedsWeightEach,
    UnitNotUnderstood,
    UnitsError,
    base_factor,
    to_grams,
)

D = Decimal


# NIST Handbook 44 (2023), Appendix C: avoirdupois pound 453.592 37 g exactly, ounce 1/16 of it,
# US gallon 231 cubic inches = 3.785 411 784 l exactly. Imperial gallon 4.546 09 l: Units of
# Measurement Regulations 1995 (UK), Schedule. SI prefixes: SI Brochure, 9th edition.
@pytest.mark.parametrize(
    ("code", "worth"),
    [
        ("kg", "1000"),
        ("t", "1000000"),
        ("mg", "0.001"),
        ("lb", "453.59237"),
        ("oz", "28.349523125"),
        ("l", "1000"),
        ("cl", "10"),
        ("dl", "100"),
        ("us gal", "3785.411784"),
        ("us qt", "946.352946"),
        ("us pint", "473.176473"),
        ("us floz", "29.5735295625"),
        ("imp gal", "4546.09"),
        ("imp pint", "568.26125"),
        ("imp floz", "28.4130625"),
        ("dozen", "12"),
    ],
)
def test_units_are_worth_what_the_law_says(code, worth):
    assert base_factor(code) == D(worth)


def test_masses_and_volumes_agree_with_the_definitions_that_pint_ships():
    theirs = pint.UnitRegistry(non_int_type=D)
    for code, name, base in (
        ("lb", "pound", "gram"),
        ("oz", "ounce", "gram"),
        ("us gal", "gallon", "milliliter"),
        ("imp gal", "imperial_gallon", "milliliter"),
        ("us floz", "fluid_ounce", "milliliter"),
        ("imp floz", "imperial_fluid_ounce", "milliliter"),
    ):
        assert float(theirs.Quantity(D(1), name).to(base).magnitude) == pytest.approx(
            float(base_factor(code)), rel=1e-12
        )


@given(
    quantity=st.decimals(min_value="0.00001", max_value=10**5, places=5),
    unit=st.sampled_from([unit for unit in UNITS if unit.dimension == "mass"]),
)
def test_there_and_back_is_exact(quantity, unit):
    assert to_grams(quantity, unit=unit.code, name="x") / base_factor(unit.code) == quantity


def test_no_spelling_stands_for_two_units_and_codes_fit_their_column():
    spellings = [name for unit in UNITS for name in (unit.code, *unit.spellings)]
    assert len(spellings) == len(set(spellings))
    assert all(len(unit.code) <= 8 for unit in UNITS)


def test_a_volume_takes_its_density():
    # The demo's cider vinegar: 4.0 l at 1.01 kg/l is 4.04 kg.
    assert to_grams(D("4.0"), unit="l", density_kg_per_l=D("1.01"), name="vinegar") == D(4040)
    assert to_grams(D(2), unit="tsp", density_kg_per_l=D("0.5"), name="ginger") == D(5)


def test_a_volume_without_density_asks_the_question_that_would_settle_it():
    with pytest.raises(NeedsDensity) as asked:
        to_grams(D(5), unit="l", name="cider vinegar")
    assert str(asked.value) == (
        "5 l of cider vinegar: what does one litre weigh? Weigh a litre, or read the density on "
        "the supplier's sheet."
    )


def test_a_count_takes_the_weight_of_one_or_asks_for_it():
    assert to_grams(D(8), unit="each", each_g=D(120), name="lemons") == D(960)
    assert to_grams(D(1), unit="dozen", each_g=D(60), name="eggs") == D(720)
    with pytest.raises(NeedsWeightEach, match="8 each of lemons: what does one weigh"):
        to_grams(D(8), unit="each", name="lemons")


def test_a_percentage_is_not_a_mass_and_questions_are_unit_errors():
    with pytest.raises(UnitNotUnderstood):
        to_grams(D(90), unit="%", name="sugar")
    assert issubclass(NeedsDensity, UnitsError)
    assert issubclass(NeedsWeightEach, UnitsError)
