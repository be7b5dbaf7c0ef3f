"""Who declares nutrition: Regulation (EU) No 1169/2011, Annex V as assimilated [R]."""

from decimal import Decimal

import pytest

from labels.facts import NutrientSource, Nutrition
from labels.law.gb.nutrition import is_local_shop, is_small_maker
from tests.labels.law.gb.builders import a_label, by_rule, faults

RULE = "nutrition_is_declared_or_exempt"


@pytest.mark.parametrize(("surface", "is_due"), [("24.9", False), ("25.0", True)])
def test_cases_3_4_a_surface_under_25_cm2_is_exempt(surface, is_due):
    # Art. 16(3) and Annex V, point 18; sold through distant shops, so no other exemption
    facts = a_label(largest_surface_cm2=surface, nutrition_exemption="")
    assert (RULE in faults(facts)) is is_due


@pytest.mark.parametrize(
    ("claimed", "is_fine"),
    [("small quantities", True), ("vinegar", True), ("", False), ("too busy", False),
     ("small pack", False)],
)  # fmt: skip
def test_an_exemption_is_claimed_by_one_of_its_names(claimed, is_fine):
    assert (RULE not in faults(a_label(nutrition_exemption=claimed))) is is_fine


@pytest.mark.parametrize("way_of_sale", ["direct", "loose", "on request"])
def test_food_that_is_not_prepacked_declares_none(way_of_sale):
    assert RULE not in faults(a_label(nutrition_exemption="", way_of_sale=way_of_sale))


def test_case_100_a_claim_ends_the_exemption():
    # Regulation (EU) No 1169/2011, Art. 49, changing Regulation (EC) No 1924/2006, Art. 7 [R]
    claimed = a_label(claims=("source of fibre",))
    assert "a_claim_ends_every_exemption" in faults(claimed)
    shown = a_label(claims=("source of fibre",), shows_nutrition=True)
    assert "a_claim_ends_every_exemption" not in faults(shown)
    assert "a_claim_ends_every_exemption" not in faults(a_label())


@pytest.mark.parametrize(
    ("staff", "turnover", "is_small"),
    [(9, 1_399_999, True), (10, 1_399_999, False), (9, 1_400_000, False)],
)
def test_guidance_takes_a_micro_business_as_small(staff, turnover, is_small):
    # Department of Health guidance, September 2016: under 10 staff and under GBP 1.4 million [2]
    assert is_small_maker(staff=staff, turnover_gbp=Decimal(turnover)) is is_small


@pytest.mark.parametrize(
    ("own", "following", "km", "is_local"),
    [
        (True, False, "90", True), (False, True, "50", True), (False, True, "50.1", False),
        (False, False, "1", False),
    ],
)  # fmt: skip
def test_guidance_takes_the_county_and_fifty_kilometres_as_local(own, following, km, is_local):
    # the same guidance [2]; restated as 30 and as 35 miles, always as 50 km
    found = is_local_shop(in_own_county=own, in_next_county=following, km_from_border=Decimal(km))
    assert found is is_local


def test_the_limits_are_told_and_marked_second_hand():
    (found,) = by_rule("small_quantities_are_those_of_a_micro_business", a_label())
    assert "fewer than 10 staff and under £1.4 million" in found.message
    assert found.citation.mark == "second-hand"


def test_what_is_missing_is_asked_for_and_nothing_is_declared():
    # Art. 30(1) and Art. 31(4) as assimilated [R]
    pectin = NutrientSource("Pectin", key="7", missing=("salt",), question="Pectin: how much salt?")
    nutrition = Nutrition(questions=("Pectin: how much salt?",), sources=(pectin,))
    facts = a_label(shows_nutrition=True, nutrition=nutrition)
    (found,) = by_rule("every_value_declared_is_known", facts)
    assert (found.message, found.about) == ("Pectin: how much salt?", "7")
    assert found.stops_printing
    assert by_rule("every_value_declared_is_known", a_label(shows_nutrition=True))


@pytest.mark.parametrize(("sugars", "is_wrong"), [("72.05", False), ("72.06", True)])
def test_a_part_is_no_more_than_its_whole(sugars, is_wrong):
    # Annex I, points 7 and 8 as assimilated [R]
    grams = (("carbohydrate", Decimal(72)), ("sugars", Decimal(sugars)))
    facts = a_label(shows_nutrition=True, nutrition=Nutrition(per_100_g=grams))
    assert bool(by_rule("no_part_is_more_than_its_whole", facts)) is is_wrong
    assert by_rule("the_declaration_says_how_it_was_found", facts)


@pytest.mark.parametrize(
    "absent", ["fat", "saturates", "carbohydrate", "sugars", "protein", "salt"]
)
def test_art_30_1_a_mandatory_amount_that_is_not_there_stops_the_print(absent):
    whole = {"fat": 1, "saturates": 0, "carbohydrate": 70, "sugars": 65, "protein": 1, "salt": 0}
    grams = tuple((n, Decimal(g)) for n, g in whole.items() if n != absent)
    facts = a_label(shows_nutrition=True, nutrition=Nutrition(per_100_g=grams))
    (found,) = by_rule("every_value_declared_is_known", facts)
    assert absent in found.message
    assert found.stops_printing
    every = tuple((n, Decimal(g)) for n, g in whole.items())
    there = a_label(shows_nutrition=True, nutrition=Nutrition(per_100_g=every))
    assert by_rule("every_value_declared_is_known", there) == []
