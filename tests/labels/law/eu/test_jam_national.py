"""What single countries add to the jam family: Spain, RD 670/1990, points 2.7 and 2.8 [R]; leaves
below 60 % and the German “Marmelade”, second-hand.
"""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.eu.jam_names import verdict, verdict_on_label, verdicts
from labels.law.eu.jam_national import lawful_instead, national_verdicts
from tests.labels.law.eu.builders import a_label, by_rule, used

EVE, DAY = date(2026, 6, 13), date(2026, 6, 14)


def pan(*fruits, solids="62", **changed):
    """One kilo of something boiled with sugar."""
    sugar = used("sugar", 600, category="sugar")
    more = {"soluble_solids_pct": None if solids is None else Decimal(solids)}
    return a_label(*fruits, sugar, finished_g=1000, **more, **changed)


def fruit(name, grams, **more):
    return used(name, grams, category="fruit", **more)


@pytest.mark.parametrize(
    ("country", "solids", "state"),
    [
        # national leaves below 60 %, all second-hand: France 55, Italy 45, Germany above 55
        ("FR", "55", "ask"), ("FR", "54.9", "refused"), ("IT", "45", "ask"),
        ("IT", "44.9", "refused"), ("DE", "55.1", "ask"), ("DE", "55", "refused"),
        ("IE", "59.9", "refused"), ("FR", "60", "lawful"),
    ],
)  # fmt: skip
def test_a_country_may_let_the_names_stand_below_sixty(country, solids, state):
    facts = pan(fruit("damsons", 500), solids=solids, country_of_sale=country)
    found = verdict("jam", facts)
    assert found.state == state
    if state == "ask":
        assert found.citation.mark == "second-hand"


@pytest.mark.parametrize(
    ("name", "fruit_g", "solids", "is_lawful"),
    [
        # cases 74 and 75 [R]; 300 g for plain mermelada [2]; thresholds in pairs
        ("Mermelada extra de ciruela", 520, "45", True),
        ("Mermelada extra de ciruela", 500, "40", True),
        ("Mermelada extra de ciruela", "499.9", "45", False),
        ("Mermelada extra de ciruela", 520, "39.9", False),
        ("Mermelada de ciruela", 520, "61", False), ("Mermelada de ciruela", 520, "60", False),
        ("Mermelada de ciruela", 300, "59.9", True), ("Mermelada de ciruela", "299.9", "50", False),
    ],
)  # fmt: skip
def test_cases_74_75_mermelada_is_a_product_of_spain(name, fruit_g, solids, is_lawful):
    facts = pan(fruit("ciruelas", fruit_g), name_of_food=name, solids=solids, country_of_sale="ES")
    found = verdict_on_label(facts)
    assert found.is_lawful is is_lawful
    assert found.citation.act.title == "Real Decreto 670/1990 (Spain)"
    extra = name.startswith("Mermelada extra")
    assert found.citation.mark == ("read" if extra else "second-hand")


def test_mermelada_is_no_name_of_the_directive_and_of_no_other_country():
    facts = pan(fruit("ciruelas", 520), name_of_food="Mermelada de ciruela", country_of_sale="FR")
    assert verdict_on_label(facts) is None
    names = [v.name for v in verdicts(facts)]
    assert "mermelada" not in names
    assert len(names) == 7


@pytest.mark.parametrize(
    ("country", "on", "name"),
    [
        # KonfV § 3(2) as changed in 2025 [N]: "Marmelade" may name Konfitüre
        ("DE", EVE, "citrus marmalade"), ("DE", DAY, "jam"), ("AT", DAY, "citrus marmalade"),
        ("IT", DAY, "citrus marmalade"),
    ],
)  # fmt: skip
def test_marmelade_of_strawberries_is_jam_in_germany_since_june_2026(country, on, name):
    facts = pan(fruit("Erdbeeren", 500), name_of_food="Erdbeermarmelade", country_of_sale=country,
                law_on=on)  # fmt: skip
    found = verdict_on_label(facts)
    assert (found.name, found.is_lawful) == (name, name == "jam")


def test_what_is_not_known_allows_no_name_of_a_country():
    unread = pan(fruit("ciruelas", 520), solids=None, country_of_sale="es")
    assert [v.state for v in national_verdicts(unread)] == ["not known", "not known"]
    read = pan(fruit("ciruelas", 520), solids="45", country_of_sale="es")
    assert lawful_instead(read) == ("mermelada extra", "mermelada")


def test_a_spanish_name_is_said_to_have_rules_of_its_own():
    facts = pan(fruit("ciruelas", 520), name_of_food="Mermelada de ciruelas", solids="50",
                country_of_sale="ES")  # fmt: skip
    (found,) = by_rule("a_name_of_one_country_has_statements_of_its_own", facts)
    assert (found.level, found.citation.mark) == ("look at this", "from memory")
    assert by_rule("a_name_of_one_country_has_statements_of_its_own", pan()) == []
