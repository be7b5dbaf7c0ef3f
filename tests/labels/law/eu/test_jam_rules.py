"""Statements and refusals of Directive 2001/113/EC: Art. 2 [R]; its change of 2026 [N]."""

from datetime import date
from decimal import Decimal

import pytest

from labels import law
from labels.law.eu.jam_rules import fruit_g_per_100_g
from tests.labels.law.eu.builders import (
    a_label,
    as_printed,
    by_rule,
    extras,
    faults,
    text_of,
    used,
)

EVE, DAY = date(2026, 6, 13), date(2026, 6, 14)


def of(name, grams, **more):
    return used(name, grams, category="fruit", **more)


def jam(*fruit, name="Strawberry jam", solids="63.4", finished_g=1000, **changed):
    parts = fruit or (of("strawberries", 500),)
    return a_label(
        *parts,
        used("sugar", 600, category="sugar"),
        name_of_food=name,
        finished_g=finished_g,
        soluble_solids_pct=None if solids is None else Decimal(solids),
        **changed,
    )


def test_a_lawful_jam_prints_its_statement_and_no_other_quantity_of_fruit():
    facts = jam()
    assert extras(facts) == ["prepared with 50 g of fruit per 100 g"]
    assert text_of("ingredients", facts) == "Ingredients: sugar, strawberries"
    assert faults(facts, as_printed(facts)) == []
    (statement,) = [p for p in law.particulars(facts, on=DAY) if p.kind == "extra"]
    assert statement.same_field
    assert statement.citation.provision == "Art. 2(3)"


@pytest.mark.parametrize(
    ("on", "grams", "stops"), [(EVE, 420, False), (DAY, 420, True), (DAY, 450, False)]
)
def test_case_53_a_name_that_is_not_earned_stops_printing_from_the_day(on, grams, stops):
    facts = jam(of("strawberries", grams), country_of_sale="ES", made_on=date(2026, 5, 1))
    assert ("a_product_name_is_earned" in faults(facts, on=on)) is stops
    for found in by_rule("a_product_name_is_earned", facts, on=on):
        assert found.citation.mark == "second-hand"
        assert "may be sold out" in found.hint


@pytest.mark.parametrize(
    ("on", "said"),
    [
        (EVE, ["prepared with 50 g of fruit per 100 g", "total sugar content 63 g per 100 g"]),
        (DAY, ["prepared with 50 g of fruit per 100 g"]),
    ],
)
def test_case_66_the_sugar_statement_ended_on_13_june_2026(on, said):
    assert extras(jam(), on=on) == said


@pytest.mark.parametrize(("on", "stops"), [(EVE, True), (DAY, False)])
def test_case_66_a_reading_was_needed_for_the_sugar_statement(on, stops):
    named = [r.name for r in law.rules_in_force("eu", on=on)]
    assert ("the_sugar_statement_can_be_made" in named) is stops
    assert ("the_sugar_statement_can_be_made" in faults(jam(solids=None), on=on)) is stops


def test_case_61_the_fruit_statement_is_of_prepared_fruit():
    # 5 400 g to 9 000 g: 60 g
    facts = jam(of("plums", 5400), name="Plum jam", finished_g=9000)
    assert extras(facts) == ["prepared with 60 g of fruit per 100 g"]


def test_case_62_a_jelly_counts_its_extract_without_the_water():
    # 425 g/kg, so 42.5 g per 100 g; 42 or 43 are both fair
    extract = of("damson extract", 2600, extraction_water_g=Decimal(900))
    facts = jam(extract, name="Damson jelly", finished_g=4000)
    assert fruit_g_per_100_g(facts) == Decimal("42.5")
    assert extras(facts) == ["prepared with 43 g of fruit per 100 g"]


def test_case_76_there_is_no_end_at_a_hundred():
    facts = jam(of("damsons", 1300), name="Damson jam")
    assert extras(facts) == ["prepared with 130 g of fruit per 100 g"]


@pytest.mark.parametrize(
    ("name", "is_lawful"),
    [
        # case 71: three fruits (Art. 2(2) [R])
        ("Plum, apple and pear jam", True), ("Mixed fruit jam", True), ("Three fruit jam", True),
        ("3 fruit jam", True), ("Apple, plum and pear jam", False), ("Plum and apple jam", False),
        ("Jam", False), ("Four fruit jam", False),
    ],
)  # fmt: skip
def test_case_71_the_name_tells_the_fruits_or_that_they_are_many(name, is_lawful):
    facts = jam(of("plums", 300), of("apples", 200), of("pears", 100), name=name)
    assert (not by_rule("the_name_tells_the_fruits", facts)) is is_lawful


def test_two_fruits_are_both_named():
    facts = jam(of("plums", 300), of("apples", 250), name="Mixed fruit jam")
    found = by_rule("the_name_tells_the_fruits", facts)
    assert found
    assert all(f.stops_printing for f in found)


def test_a_german_name_joins_its_fruit():
    facts = jam(of("Erdbeeren", 500), name="Erdbeerkonfitüre", language="de", country_of_sale="DE")
    assert by_rule("the_name_tells_the_fruits", facts) == []
    assert extras(facts) == ["hergestellt aus 50 g Früchten je 100 g"]
    (found,) = by_rule("the_fruit_statement_can_be_made", facts)
    assert ("from memory" in found.message, found.level) == (True, "look at this")


@pytest.mark.parametrize(
    ("name", "is_reserved"),
    [("Damson paste", False), ("Damson cheese", False), ("Damson jam", True)],
)
def test_case_73_a_paste_follows_the_general_rules_only(name, is_reserved):
    facts = jam(of("damsons", 770), name=name, solids="70")
    assert bool(extras(facts)) is is_reserved
    assert ("77 %" in text_of("ingredients", facts)) is not is_reserved
    assert faults(facts) == []


@pytest.mark.parametrize(
    ("fruit_g", "solids", "is_looked_at"), [(450, "60", True), (449, "60", False),
                                            (450, "59.9", False)]
)  # fmt: skip
def test_what_meets_the_description_is_asked_about_under_another_name(
    fruit_g, solids, is_looked_at
):
    facts = jam(of("damsons", fruit_g), name="Damson paste", solids=solids)
    found = by_rule("what_is_jam_is_called_jam", facts)
    assert bool(found) is is_looked_at
    assert not any(f.stops_printing for f in found)


@pytest.mark.parametrize(
    ("name", "is_looked_at"),
    [("Jelly beans", True), ("Mermelada de ciruela", True), ("Damson cheese", False),
     ("Strawberry jam", False)],
)  # fmt: skip
def test_a_reserved_word_elsewhere_is_looked_at(name, is_looked_at):
    found = by_rule("a_reserved_word_elsewhere_is_looked_at", jam(name=name))
    assert bool(found) is is_looked_at
    for finding in found:
        assert not finding.stops_printing
        assert finding.citation.provision == "Art. 2(1), second subparagraph"
        assert "local authority" in finding.hint


@pytest.mark.parametrize(
    ("on", "name", "stops"),
    [
        # Irish authority's summary [N]: citrus marmalade, or of the citrus fruit named
        (EVE, "Marmalade", False), (DAY, "Marmalade", True), (DAY, "Citrus marmalade", False),
        (DAY, "Seville orange marmalade", False), (DAY, "Mixed fruits marmalade", False),
        (DAY, "Orangenmarmelade", False),
    ],
)  # fmt: skip
def test_marmalade_alone_is_no_name_since_june_2026(on, name, stops):
    oranges = of("Seville oranges", 300, endocarp_g=Decimal(100))
    facts = jam(oranges, name=name)
    assert ("marmalade_says_of_which_citrus" in faults(facts, on=on)) is stops
    assert "a_product_name_is_earned" not in faults(facts, on=on)


def test_a_relish_under_a_customary_name_is_looked_at_only():
    facts = jam(of("tomatoes", 300), used("chillies", 50), name="Chilli jam", solids="55")
    assert "a_product_name_is_earned" not in faults(facts)
    assert by_rule("a_product_name_is_earned", facts)
    assert extras(facts) == []


def test_a_food_in_spain_is_pointed_to_the_name_it_has_earned():
    facts = jam(of("fresas", 520), name="Confitura de fresas", solids="45", language="es",
                country_of_sale="ES")  # fmt: skip
    (found,) = by_rule("a_product_name_is_earned", facts)
    assert "mermelada extra" in found.hint


def test_what_the_annexes_do_not_permit_is_looked_at():
    facts = jam(of("strawberries", 500), used("chia seed", 20))
    (found,) = by_rule("nothing_else_is_in_the_pan", facts)
    assert "chia" in found.message
    assert by_rule("nothing_else_is_in_the_pan", jam(of("strawberries", 500),
                                                     used("lemon juice", 20))) == []  # fmt: skip


def test_unknown_brix_and_unknown_mass_stop_a_reserved_name():
    assert "a_product_name_is_earned" in faults(jam(solids=None))
    assert "a_product_name_is_earned" in faults(jam(finished_g=None))
    assert "the_fruit_statement_can_be_made" in faults(jam(finished_g=None))
