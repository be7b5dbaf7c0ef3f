"""Net quantity: Regulation (EU) No 1169/2011, Art. 23 [R]; figure heights and the e mark:
Directive 76/211/EEC, Annex I, read in its British, German and Austrian transpositions [N]."""

from decimal import Decimal

import pytest

from labels.law.eu.net_quantity import minimum_figure_height_mm, quantity_text
from tests.labels.law.eu.builders import a_label, as_printed, by_rule, faults, statement, text_of

HEIGHTS = "the_figures_of_the_quantity_are_high_enough"


@pytest.mark.parametrize(
    ("grams", "mm"), [("50", 2), ("51", 3), ("200", 3), ("201", 4), ("1000", 4), ("1001", 6)]
)
def test_the_figures_grow_with_the_quantity(grams, mm):
    assert minimum_figure_height_mm(Decimal(grams)) == mm
    assert statement("net_quantity", a_label(net_quantity_g=grams)).minimum_figure_height_mm == mm


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [
        ("340", "g", "340 g"), ("340.0", "g", "340 g"), ("999.5", "g", "999.5 g"),
        ("1000", "g", "1 kg"), ("1250", "g", "1.25 kg"), ("250", "ml", "250 ml"),
        ("1500", "ml", "1.5 l"), ("1E+3", "g", "1 kg"),
    ],
)  # fmt: skip
def test_art_23_grams_then_kilograms_millilitres_then_litres(amount, unit, text):
    assert quantity_text(Decimal(amount), unit, language="en") == text


def test_the_quantity_stands_with_the_name():
    found = statement("net_quantity", a_label())
    assert (found.text, found.same_field) == ("200 g", True)
    assert found.citation.provision == "Art. 9(1)(e) and Art. 23"


@pytest.mark.parametrize("grams", [None, "0", "-5", "NaN", "Infinity"])
def test_a_missing_quantity_stops_the_label_and_prints_nothing(grams):
    facts = a_label(net_quantity_g=grams)
    assert text_of("net_quantity", facts) == ""
    found = by_rule("the_net_quantity_is_stated", facts)
    assert [f.citation.provision for f in found] == ["Art. 9(1)(e), Art. 23 and Annex IX"]
    assert found[0].stops_printing


def test_a_volume_is_looked_at_since_preserves_go_by_weight():
    facts = a_label(net_quantity_g=None, net_quantity_ml=250)
    assert text_of("net_quantity", facts) == "250 ml"
    assert [f.level for f in by_rule("the_net_quantity_is_stated", facts)] == ["look at this"]


@pytest.mark.parametrize(
    ("grams", "is_lawful"),
    [
        ("4", False),
        ("4.9", False),
        ("5", True),
        ("10000", True),
        ("10001", False),
        ("11000", False),
    ],
)
def test_the_e_mark_is_for_5_g_to_10_kg(grams, is_lawful):
    found = by_rule(
        "the_e_mark_is_for_5_g_to_10_kg", a_label(net_quantity_g=grams, has_e_mark=True)
    )
    assert (not found) is is_lawful
    for finding in found:
        assert finding.citation.act.title == "Directive 76/211/EEC"
        assert finding.citation.mark == "second-hand"
        assert finding.stops_printing
    assert by_rule("the_e_mark_is_for_5_g_to_10_kg", a_label(net_quantity_g=grams)) == []


@pytest.mark.parametrize(("grams", "mm"), [("40", 3), ("50", 3), ("227", 4)])
def test_the_e_mark_itself_is_at_least_3_mm_high(grams, mm):
    found = statement("net_quantity", a_label(net_quantity_g=grams, has_e_mark=True))
    assert found.text == f"{grams} g ℮"
    assert found.minimum_figure_height_mm == mm


@pytest.mark.parametrize(
    ("changed", "height_mm", "level"),
    [
        ({"net_quantity_g": 200}, "3", None),
        ({"net_quantity_g": 200}, "2.99", "look at this"),
        ({"net_quantity_g": 201}, "3", "look at this"),
        ({"net_quantity_g": 200, "has_e_mark": True}, "2.9", "must mend"),
        ({"net_quantity_g": 200, "country_of_sale": "DE"}, "2.9", "must mend"),
        ({"net_quantity_g": 200, "country_of_sale": "at"}, "2.9", "must mend"),
        ({"net_quantity_g": 200, "country_of_sale": ""}, "2.9", "must mend"),
        ({"net_quantity_g": 40, "has_e_mark": True}, "2.9", "must mend"),
        ({"net_quantity_g": 40, "has_e_mark": True}, "3", None),
    ],
)
def test_low_figures_stop_the_label_where_the_height_is_known_to_bind(changed, height_mm, level):
    facts = a_label(**changed)
    found = by_rule(HEIGHTS, facts, as_printed(facts, figure_height_mm=height_mm))
    assert [f.level for f in found] == ([level] if level else [])
    assert all(f.citation.provision == "Annex I, point 3.1" for f in found)
    assert all(f.citation.mark == "second-hand" for f in found)


def test_the_e_mark_comes_with_a_word_about_what_it_promises():
    found = by_rule("the_e_mark_is_a_promise", a_label(has_e_mark=True))
    assert [f.level for f in found] == ["look at this"]
    assert faults(a_label(has_e_mark=True)) == []


@pytest.mark.parametrize(
    ("net_g", "words"),
    [
        # cases 101 and 104: 4.5 g at 100, 10.2 g at 340 (Directive 76/211/EEC, Annex I, 2.4 [R])
        (100, "more than 4.5 g, none by more than 9 g"),
        (340, "more than 10.2 g, none by more than 20.4 g"),
        ("4.9", "none badly short"),
    ],
)  # fmt: skip
def test_the_e_mark_tells_how_short_a_pack_may_be(net_g, words):
    (found,) = by_rule("the_e_mark_is_a_promise", a_label(has_e_mark=True, net_quantity_g=net_g))
    assert words in found.message
