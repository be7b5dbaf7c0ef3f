"""Nutrition: there, or exempt. Regulation (EU) No 1169/2011, Art. 9(1)(l), Annex V [R]."""

from datetime import date
from decimal import Decimal

import pytest

from labels.facts import NutrientSource, Nutrition
from labels.law.eu.nutrition import is_exempt_by_size, is_small_in_ireland
from tests.labels.law.eu.builders import a_label, by_rule, findings, statement

RULE = "nutrition_is_declared_or_exempt"


def declared(*, portion_g=None, questions=(), sources=(), **grams):
    """Nutrition in which all is known: a jam of 72 g carbohydrate, with some of it changed."""
    known = {
        "fat": "0.2", "saturates": "0.05", "carbohydrate": 72, "sugars": 65, "fibre": "2.5",
        "protein": "0.4", "salt": "0.01",
    } | grams  # fmt: skip
    return Nutrition(
        per_100_g=tuple((name, Decimal(str(amount))) for name, amount in known.items()),
        sources=tuple(sources),
        questions=tuple(questions),
        portion_g=None if portion_g is None else Decimal(portion_g),
    )


def a_declared_label(**changed):
    """The damson paste with nutrition declared."""
    nutrition = changed.pop("nutrition", declared())
    return a_label(
        **{"shows_nutrition": True, "nutrition_exemption": "", "nutrition": nutrition} | changed
    )


@pytest.mark.parametrize(("surface_cm2", "is_required"), [("25.0", True), ("24.9", False)])
def test_cases_3_4_annex_v_18_a_pack_under_25_cm2_may_leave_nutrition_off(surface_cm2, is_required):
    facts = a_label(
        largest_surface_cm2=surface_cm2, nutrition_exemption="", is_sold_at_distance=True
    )
    found = by_rule(RULE, facts)
    assert bool(found) is is_required
    assert is_exempt_by_size(facts) is not is_required
    for finding in found:
        assert finding.stops_printing
        assert finding.citation.provision == "Art. 9(1)(l), Art. 16(3) and Annex V"


@pytest.mark.parametrize(
    ("changed", "stops"),
    [
        ({"nutrition_exemption": ""}, True),
        ({"nutrition_exemption": "small quantities"}, False),
        ({"nutrition_exemption": "because I say so"}, True),
        ({"nutrition_exemption": "small pack"}, True),
        ({"nutrition_exemption": "small pack", "largest_surface_cm2": None}, True),
        ({"nutrition_exemption": "small pack", "largest_surface_cm2": "24.9"}, False),
        ({"nutrition_exemption": "", "shows_nutrition": True}, False),
        ({"nutrition_exemption": "", "way_of_sale": "direct"}, False),
    ],
)
def test_an_exemption_is_stated_and_never_assumed(changed, stops):
    assert bool(by_rule(RULE, a_label(**changed))) is stops


@pytest.mark.parametrize(
    ("on", "is_asked"), [(date(2016, 12, 12), False), (date(2016, 12, 13), True)]
)
def test_art_55_nutrition_is_due_from_13_december_2016(on, is_asked):
    names = [f.rule for f in findings(a_label(nutrition_exemption=""), on=on)]
    assert (RULE in names) is is_asked


def test_what_is_small_is_left_to_the_country():
    rule = "small_quantities_are_a_matter_of_the_country"
    (irish,) = by_rule(rule, a_label(country_of_sale="IE"))
    assert irish.citation.provision == "Annex V, point 19"
    assert "250 kg or l a week" in irish.message
    assert "100 km" in irish.message
    assert "claim" in irish.hint
    (french,) = by_rule(rule, a_label(country_of_sale="FR"))
    assert "differs from country to country" in french.message


@pytest.mark.parametrize(
    ("kg", "units", "km", "is_small"),
    [
        # Cases 98 and 99: S.I. No. 559 of 2016, by the Food Safety Authority of Ireland [N]
        ("240", None, "90", True),
        ("260", 600, "90", False),
        # the thresholds: "or", and the maker chooses the measure [N]
        ("250", None, "100", True),
        ("250.1", None, "100", False),
        ("260", 500, "100", True),
        ("260", 501, "100", False),
        ("240", None, "100.1", False),
    ],
)
def test_cases_98_99_what_ireland_takes_as_small_and_local(kg, units, km, is_small):
    found = is_small_in_ireland(kg_a_week=Decimal(kg), units_a_week=units, km_to_shops=Decimal(km))
    assert found is is_small


def test_case_100_a_claim_brings_the_declaration_back():
    # Art. 49 of Regulation (EU) No 1169/2011, new Art. 7 of Regulation (EC) No 1924/2006 [R]
    exempt = a_label(claims=("source of fibre",))
    assert [f for f in findings(exempt) if f.where == "nutrition" and f.stops_printing]
    with_table = a_declared_label(claims=("source of fibre",))
    assert not [f for f in findings(with_table) if f.where == "nutrition" and f.stops_printing]


def test_what_is_missing_is_asked_for_and_nothing_is_declared():
    # Art. 30(1) asks for every one of the seven; Art. 31(4) for known values [R]
    pectin = NutrientSource("Pectin", key="7", missing=("salt",), question="Pectin: how much salt?")
    nutrition = declared(questions=("Pectin: how much salt?", "Jam: its mass?"), sources=(pectin,))
    facts = a_declared_label(nutrition=nutrition)
    found = by_rule("every_value_declared_is_known", facts)
    assert [(f.message, f.about, f.stops_printing) for f in found] == [
        ("Pectin: how much salt?", "7", True),
        ("Jam: its mass?", "", True),
    ]
    assert statement("nutrition", facts) is None


def test_a_declaration_without_figures_is_refused():
    facts = a_declared_label(nutrition=None)
    assert by_rule("every_value_declared_is_known", facts)
    assert statement("nutrition", facts) is None
    assert not by_rule("every_value_declared_is_known", a_declared_label())


@pytest.mark.parametrize(
    ("changed", "is_wrong"),
    [
        ({"sugars": "72.05"}, False), ({"sugars": "72.06"}, True),
        ({"saturates": "0.3"}, True),
        # 0.2 + 97 + 2.5 + 0.3 + 0 = 100
        ({"carbohydrate": 97, "protein": "0.3", "salt": 0}, False),
        ({"carbohydrate": "97.1", "protein": "0.3", "salt": 0}, True),
    ],
)  # fmt: skip
def test_annex_i_a_part_is_no_more_than_its_whole(changed, is_wrong):
    facts = a_declared_label(nutrition=declared(**changed))
    assert bool(by_rule("no_part_is_more_than_its_whole", facts)) is is_wrong


@pytest.mark.parametrize(
    ("net_g", "portion_g", "is_told"),
    [("200", "20", True), ("200", "200", True), ("200", "201", False), (None, "20", False)],
)
def test_art_33_1_a_portion_is_told_only_with_their_number(net_g, portion_g, is_told):
    facts = a_declared_label(nutrition=declared(portion_g=portion_g), net_quantity_g=net_g)
    assert bool(by_rule("a_portion_comes_with_their_number", facts)) is not is_told
    assert (len(statement("nutrition", facts).table.head) == 4) is is_told


def test_it_is_said_that_the_figures_are_reckoned_and_which_words_were_not_read():
    (english,) = by_rule("the_declaration_says_how_it_was_found", a_declared_label())
    assert english.level == "for information"
    (german,) = by_rule("the_declaration_says_how_it_was_found", a_declared_label(language="de"))
    assert german.level == "look at this"
    assert "davon gesättigte Fettsäuren" in german.message
