"""“May contain” in the Union: Regulation (EU) No 1169/2011, Art. 36(2) [R].

That it names the allergen, rests on an assessment and never stands beside a “free from” of the
same allergen is official British guidance of September 2023, read as restated by law firms [2].
"""

from dataclasses import replace

import pytest

from labels import law
from labels.facts import CrossContactAnswer, Wording
from labels.law.eu.cross_contact import MAY_CONTAIN
from labels.rulebook import INFORMATION, LOOK, MUST_MEND
from tests.labels.law.eu.builders import (
    TODAY,
    a_label,
    by_rule,
    extras,
    faults,
    statement,
    text_of,
    used,
)

HAZELNUTS = CrossContactAnswer("nuts", remains=True, named_as="hazelnuts")
MILK = CrossContactAnswer("milk", remains=True, named_as="milk")
NO_EGGS = CrossContactAnswer("eggs", remains=False)


def test_art_36_2_without_an_assessment_nothing_is_said_and_that_is_told():
    assert text_of("cross_contact", a_label()) == ""
    (told,) = by_rule("cross_contact_that_nobody_looked_at_is_named", a_label())
    assert told.level == INFORMATION
    assert "hazelnut" not in told.message
    assert "sesame" in told.message


def test_art_36_2_a_risk_that_remains_prints_by_itself_with_its_name():
    facts = a_label(cross_contact=(HAZELNUTS, NO_EGGS, MILK))
    assert text_of("cross_contact", facts) == "May contain hazelnuts, milk."
    assert "Art. 36(2)" in statement("cross_contact", facts).citation.provision
    assert faults(facts) == []


def test_an_allergen_that_is_in_it_anyway_is_not_warned_of():
    cream = used("cream", 500, allergens={"milk": "cream"})
    assert text_of("cross_contact", a_label(cream, cross_contact=(MILK,))) == ""


def test_walnuts_in_it_do_not_tell_of_hazelnuts_that_may_be():
    walnuts = used("walnuts", 500, allergens={"nuts": "walnuts"})
    almonds = CrossContactAnswer("nuts", remains=True, named_as="Walnut")
    facts = a_label(walnuts, cross_contact=(HAZELNUTS, almonds))
    assert text_of("cross_contact", facts) == "May contain hazelnuts."


@pytest.mark.parametrize(
    "sale",
    [
        {"largest_surface_cm2": "9.9"},
        {"way_of_sale": "loose"},
        {"way_of_sale": "on request"},
        {"way_of_sale": "direct"},
        {"way_of_sale": "direct", "largest_surface_cm2": "9.9"},
    ],
)
def test_a_risk_that_remains_is_told_on_every_pack_and_card(sale):
    assert text_of("cross_contact", a_label(cross_contact=(MILK,), **sale)) == "May contain milk."


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ("tagline", "May contain traces of nuts"),
        ("tagline", "Traces of milk possible"),
        ("name_of_food", "Damson paste (may also contain nuts)"),
        ("storage", "Made in the same kitchen as walnut cake."),
        ("storage_after_opening", "Could contain egg."),
        ("brand_name", "Not suitable for nut allergy sufferers"),
        ("tagline", "Kann Spuren von Nüssen enthalten"),
        ("tagline", "Puede contener trazas de leche"),
        ("tagline", "Peut contenir des fruits à coque"),
    ],
)
def test_art_7_1_and_36_2_words_on_cross_contact_may_not_be_typed(where, words):
    for answers in ((), (HAZELNUTS,)):
        facts = a_label(**{where: words, "cross_contact": answers})
        (found,) = by_rule("may_contain_is_never_typed", facts)
        assert found.level == MUST_MEND
        assert found.where in {where, "name", "storage"}


def test_nor_in_the_name_of_an_ingredient_however_deep():
    deep = used("filling", 900, parts=(used("chocolate (may contain nuts)", 300),))
    (found,) = by_rule("may_contain_is_never_typed", a_label(deep))
    assert found.where == "ingredients"


@pytest.mark.parametrize(
    "words", ["May contain damson stones.", "May contain the odd pip", "A trace-free finish?"]
)
def test_a_stone_is_no_allergen(words):
    is_typed = bool(by_rule("may_contain_is_never_typed", a_label(tagline=words)))
    assert is_typed == ("trace" in words)


def test_a_statement_on_an_old_assessment_blocks_and_an_old_all_clear_asks():
    old = "it was looked at on 1 September 2025, more than a year ago."
    risk, clear = (replace(each, outdated_because=old) for each in (HAZELNUTS, NO_EGGS))
    found = by_rule("an_old_assessment_is_looked_at_again", a_label(cross_contact=(risk, clear)))
    assert [(f.level, f.where) for f in found] == [
        (MUST_MEND, "cross_contact"),
        (LOOK, "cross_contact"),
    ]
    # It still stands on the proof: a warning does not vanish because it is old.
    assert text_of("cross_contact", a_label(cross_contact=(risk,))) == "May contain hazelnuts."


@pytest.mark.parametrize(("word", "is_vague"), [("nuts", True), ("other foods", True)])
def test_second_hand_the_statement_names_which_allergen(word, is_vague):
    answer = CrossContactAnswer("nuts", remains=True, named_as=word)
    found = by_rule("the_statement_names_which_allergen", a_label(cross_contact=(answer,)))
    assert bool(found) == is_vague
    assert by_rule("the_statement_names_which_allergen", a_label(cross_contact=(HAZELNUTS,))) == []


@pytest.mark.parametrize(
    ("promise", "clashes"),
    [("Dairy-free", True), ("free from milk", True), ("gluten-free", False), ("no rush", False)],
)
def test_second_hand_free_from_never_stands_beside_may_contain(promise, clashes):
    for facts in (a_label(claims=(promise,)), a_label(tagline=promise)):
        warned = replace(facts, cross_contact=(MILK,))
        assert bool(by_rule("free_from_never_stands_beside_may_contain", warned)) == clashes
        assert by_rule("free_from_never_stands_beside_may_contain", facts) == []


@pytest.mark.parametrize("language", ["es", "fr", "it", "pt", "de"])
def test_words_from_memory_are_confirmed_first(language):
    words = MAY_CONTAIN[language]
    facts = a_label(language=language, cross_contact=(MILK,))
    (found,) = by_rule("the_words_for_may_contain_are_confirmed", facts)
    assert (words.mark, found.level) == ("from memory", LOOK)
    # Annex II, point 7, in each language: second-hand, as the table of words says.
    milk = {"es": "leche", "fr": "lait", "it": "latte", "pt": "leite", "de": "Milch"}[language]
    assert text_of("cross_contact", facts) == words.text.format(milk)


def test_a_language_without_the_words_blocks():
    facts = a_label(language="fi", cross_contact=(MILK,))
    (found,) = by_rule("the_words_for_may_contain_are_confirmed", facts)
    assert found.level == MUST_MEND
    assert statement("cross_contact", facts) is None
    assert by_rule("the_words_for_may_contain_are_confirmed", a_label(language="fi")) == []


def test_in_a_second_language_it_is_said_again_by_the_allergens_own_name():
    spanish = Wording("es", "Membrillo", storage="Puede contener trazas de leche.")
    facts = a_label(second=spanish, cross_contact=(HAZELNUTS,))
    said = [p.text for p in law.particulars(facts, on=TODAY) if p.kind == "cross_contact"]
    # avellanas: Annex II.8 as a Spanish regional list gives it [N].
    assert said == ["May contain hazelnuts.", "Puede contener avellanas."]
    (typed,) = by_rule("may_contain_is_never_typed", facts)
    assert typed.where == "translation"
    (found,) = by_rule("the_words_for_may_contain_are_confirmed", facts)
    assert (found.level, "Puede contener" in found.message) == (LOOK, True)


def test_what_annex_ii_has_no_word_for_in_the_second_language_blocks():
    vague = CrossContactAnswer("nuts", remains=True, named_as="nut dust")
    facts = a_label(second=Wording("es", "Membrillo"), cross_contact=(vague,))
    found = by_rule("the_words_for_may_contain_are_confirmed", facts)
    assert {f.level for f in found} == {LOOK, MUST_MEND}
    assert any("nut dust" in f.message for f in found)


def test_it_is_no_statement_of_the_jam_directive():
    assert "May contain milk." not in extras(a_label(cross_contact=(MILK,)))
