"""The name of the food: Regulation (EU) No 1169/2011, Art. 17 [R]; reserved names elsewhere."""

import pytest

from tests.labels.law.eu.builders import a_label, by_rule, faults, statement, used


@pytest.mark.parametrize(("name", "stops"), [("", True), (" \n", True), ("Damson paste", False)])
def test_art_17_1_a_food_has_a_name(name, stops):
    facts = a_label(name_of_food=name)
    found = by_rule("the_food_has_a_name", facts)
    assert bool(found) is stops
    assert all(f.citation.provision == "Art. 9(1)(a) and Art. 17(1)" for f in found)
    assert (statement("name", facts) is None) is stops


@pytest.mark.parametrize(
    ("brand", "stops"), [("damson paste ", True), ("Sloe Bank", False), ("", False)]
)
def test_art_17_4_a_brand_does_not_replace_the_name(brand, stops):
    found = by_rule("a_brand_is_not_a_name", a_label(brand_name=brand))
    assert bool(found) is stops
    assert all(f.citation.provision == "Art. 17(4)" for f in found)


@pytest.mark.parametrize(
    ("name", "title", "level"),
    [
        ("Milk caramels", "Regulation (EU) No 1308/2013", "look at this"),
        ("Chocolate figs", "Directive 2000/36/EC", "look at this"),
        ("Honey cakes", "Directive 2001/110/EC", "look at this"),
        ("Apple juice sweets", "Directive 2001/112/EC", "look at this"),
        ("Damson cheese", "Regulation (EU) No 1308/2013", "for information"),
    ],
)
def test_other_reserved_words_are_looked_at_with_their_own_act(name, title, level):
    facts = a_label(used("damson", 500), used("sugar", 400), name_of_food=name)
    (found,) = by_rule("another_reserved_name_is_looked_at", facts)
    assert (found.citation.act.title, found.level) == (title, level)
    assert found.citation.mark == "from memory"


def test_cheese_with_milk_in_it_is_looked_at():
    milky = used("curd", 500, allergens={"milk": "milk"})
    facts = a_label(milky, used("plum", 400), name_of_food="Plum cheese")
    assert [f.level for f in by_rule("another_reserved_name_is_looked_at", facts)] == [
        "look at this"
    ]


def test_the_name_stands_in_the_field_of_the_quantity_as_typed():
    found = statement("name", a_label(name_of_food="  Damson\u00a0paste <i>&amp;</i> "))
    assert (found.text, found.same_field) == ("Damson paste <i>&amp;</i>", True)
    assert faults(a_label(name_of_food="Damson paste 🍑")) == []


@pytest.mark.parametrize("name", ["", "   ", "\u200b\u2060", "\U0001f347", "12", "- -"])
def test_a_name_without_a_letter_names_nothing(name):
    assert by_rule("the_food_has_a_name", a_label(name_of_food=name))
