"""Two languages on one label: Regulation (EU) No 1169/2011, Art. 15(3) [R]."""

from dataclasses import replace

import pytest

from labels.facts import CrossContactAnswer, Untranslated, Wording
from labels.law.eu.voices import voices
from tests.labels.law.eu.builders import TODAY, a_label, by_rule, law, used


def a_bilingual_label(*, second="es", names=("ciruelas", "nueces picadas", "azúcar"), **changed):
    """Damson paste with walnuts, in English and one more language; 6 300 g went in."""
    first = (
        used("damsons", 5000),
        used("chopped walnuts", 300, allergens={"nuts": "walnuts"}),
        used("sugar", 1000, category="sugar"),
    )
    wording = Wording(
        language=second,
        name_of_food=changed.pop("name_there", "Pasta de ciruelas"),
        ingredients=tuple(replace(i, name=n) for i, n in zip(first, names, strict=True)),
        storage="Conservar en lugar fresco.",
        storage_after_opening="Una vez abierto, guardar en frío.",
    )
    return a_label(*first, second=wording, country_of_sale="ES", **changed)


def said(facts):
    return [(p.kind, p.language, p.text) for p in law.particulars(facts, on=TODAY)]


def test_art_15_3_every_particular_stands_in_each_language_and_figures_once():
    assert [each[:2] for each in said(a_bilingual_label())] == [
        ("name", ""), ("net_quantity", ""), ("ingredients", ""), ("date", ""), ("storage", ""),
        ("operator", ""), ("lot", ""),
        ("name", "es"), ("ingredients", "es"), ("date", "es"), ("storage", "es"),
    ]  # fmt: skip


def test_the_list_is_whole_and_its_allergens_emphasised_in_each():
    lists = [p for p in law.particulars(a_bilingual_label(), on=TODAY) if p.kind == "ingredients"]
    assert [p.text for p in lists] == [
        "Ingredients: damsons (79 %), sugar, chopped walnuts",
        "Ingredientes: ciruelas (79 %), azúcar, nueces picadas",
    ]
    assert [p.emphasised for p in lists] == [("walnuts",), ("nueces",)]


def test_where_the_name_does_not_hold_the_word_of_annex_ii_it_is_listed():
    # Annex II, point 8: Walnüsse [N]; "Walnusskerne" holds it only as part of a word.
    facts = a_bilingual_label(
        second="de", names=("Zwetschgen", "Walnusskerne", "Zucker"), name_there="Zwetschgenpaste"
    )
    german = next(p for p in law.particulars(facts, on=TODAY)[-3:] if p.kind == "ingredients")
    assert german.text == "Zutaten: Zwetschgen (79 %), Zucker, Walnusskerne (Walnüsse)"
    assert german.emphasised == ("Walnüsse",)


def test_art_22_a_quantity_due_by_one_name_is_declared_in_both_languages():
    facts = a_bilingual_label(name_there="Pasta de ciruelas con nueces")
    lists = [p.text for p in law.particulars(facts, on=TODAY) if p.kind == "ingredients"]
    # 5 000 and 300 g of the 6 300 g that went in, which is less than came out (Annex VIII, 3(a)):
    # 79.4 and 4.8 %, the second to the nearest half.
    assert lists == [
        "Ingredients: damsons (79 %), sugar, chopped walnuts (5 %)",
        "Ingredientes: ciruelas (79 %), azúcar, nueces picadas (5 %)",
    ]


def test_art_22_german_names_the_fruit_inside_a_longer_word():
    # Art. 22(1)(a): the name of the food speaks of quinces, so their quantity is declared.
    facts = a_label(
        used("Quittenmark", 5000), used("Zucker", 4000, category="sugar"),
        name_of_food="Quittenpaste", language="de",
    )  # fmt: skip
    text = next(p.text for p in law.particulars(facts, on=TODAY) if p.kind == "ingredients")
    assert text == "Zutaten: Quittenmark (77 %), Zucker"


def test_a_label_in_one_language_is_told_as_it_always_was():
    facts = a_label()
    assert len(voices(facts)) == 1
    assert {p.language for p in law.particulars(facts, on=TODAY)} == {""}


def test_the_second_language_may_be_the_one_the_country_asks_for():
    rule = "the_label_speaks_the_buyers_language"
    english = a_label(country_of_sale="ES")
    (found,) = by_rule(rule, english)
    assert "Spanish" in found.message
    assert "first or second language" in found.hint
    assert by_rule(rule, a_bilingual_label()) == []
    (polish,) = by_rule(rule, a_label(country_of_sale="PL"))
    assert "no label words" in polish.hint


def test_what_is_not_translated_stops_the_label_and_is_named():
    facts = a_bilingual_label(
        untranslated=(
            Untranslated("ingredient-7", "chopped walnuts", "es"),
            Untranslated("storage", "Keep in a cool place.", "es"),
        )
    )
    found = by_rule("every_language_says_all", facts)
    assert [f.about for f in found] == ["ingredient-7", "storage"]
    assert all(f.stops_printing and "Spanish" in f.message for f in found)
    assert "chopped walnuts" in found[0].message
    assert by_rule("every_language_says_all", a_bilingual_label()) == []


def test_art_17_a_reserved_name_is_one_in_the_second_language_too():
    # Directive 2001/113/EC, Annex I: "confitura" is jam in Spanish [N]; with walnuts it is not
    # earned as it stands, whatever the English name is.
    rule = "the_words_of_the_second_language_are_as_lawful"
    assert by_rule(rule, a_bilingual_label()) == []
    found = by_rule(rule, a_bilingual_label(name_there="Confitura de ciruelas"))
    assert found
    assert all(f.message.startswith("In Spanish: ") for f in found)
    assert {f.citation.act.title[:20] for f in found} == {"Directive 2001/113/EC"[:20]}


def test_the_same_language_twice_is_a_mistake():
    assert by_rule("every_language_says_all", a_bilingual_label(second="en"))


@pytest.mark.parametrize(("named", "stops"), [("walnuts", False), ("chestnut", True)])
def test_an_allergen_without_a_word_in_the_table_stops_the_label(named, stops):
    label = a_bilingual_label()
    nuts = used("nuts", 300, allergens={"nuts": named}, key="5")
    facts = replace(label, ingredients=(*label.ingredients[:1], nuts, label.ingredients[2]))
    found = by_rule("an_allergen_has_its_word_in_each_language", facts)
    assert bool(found) is stops
    assert all(f.stops_printing and f.about == "5" for f in found)


@pytest.mark.parametrize(
    ("language", "water"),
    [("es", "agua"), ("fr", "eau"), ("it", "acqua"), ("pt", "água"), ("de", "Wasser")],
)
def test_plain_water_has_its_word_in_each_language(language, water):
    # Annex VII, Part A, point 1, asks for it; the words are from memory.
    facts = a_label(
        used("X", 500), used("water", 400, category="water", key="9"), finished_g=900,
        language=language,
    )  # fmt: skip
    text = next(p.text for p in law.particulars(facts, on=TODAY) if p.kind == "ingredients")
    assert text.endswith(f"X, {water}")


def test_what_may_get_in_is_told_by_its_name_in_each_language():
    # Art. 36(2), voluntary; the words are from memory, the names those of Annex II.
    risk = CrossContactAnswer("mustard", remains=True, named_as="mustard", assessed="today")
    told = [p.text for p in law.particulars(a_bilingual_label(cross_contact=(risk,)), on=TODAY)]
    assert "May contain mustard." in told
    assert "Puede contener mostaza." in told
    unnamed = CrossContactAnswer("nuts", remains=True, named_as="chestnut", assessed="today")
    facts = a_bilingual_label(cross_contact=(unnamed,))
    (found,) = by_rule("an_allergen_has_its_word_in_each_language", facts)
    assert "chestnut" in found.message


def test_may_contain_is_typed_in_no_language():
    label = a_bilingual_label()
    typed = replace(label.second, storage="Puede contener trazas de mostaza.")
    found = by_rule("the_words_of_the_second_language_are_as_lawful", replace(label, second=typed))
    assert [f.citation.provision for f in found] == ["Art. 7(1) and Art. 36(2)"]


def test_a_translation_that_speaks_of_an_unmarked_allergen_is_looked_at():
    facts = a_bilingual_label(names=("ciruelas", "nueces picadas", "leche"))
    (found,) = by_rule("a_translated_name_hides_no_allergen", facts)
    assert "leche" in found.message
    assert "milk" in found.message
    assert by_rule("a_translated_name_hides_no_allergen", a_bilingual_label()) == []


def test_the_words_on_this_label_that_need_a_native_reader_are_told_with_their_marks():
    (found,) = by_rule("the_label_words_are_known_in_its_language", a_bilingual_label())
    assert "“Ingredientes:” (read in national law)" in found.message
    assert "“nueces” (read in national law)" in found.message
    assert "Fecha de caducidad" not in found.message  # it is not on this label
    assert not found.stops_printing


def test_an_additive_whose_class_has_no_word_stops_the_label():
    raising = used("soda", 10, additive_class="raising agent", key="3")
    facts = a_label(*a_label().ingredients, raising, language="it")
    (found,) = by_rule("the_class_of_an_additive_has_a_word", facts)
    assert found.stops_printing
    assert "Italian" in found.message
    pectin = used("pectina", 10, additive_class="gelling agent")
    facts = a_label(*a_label().ingredients, pectin, language="it")
    assert by_rule("the_class_of_an_additive_has_a_word", facts) == []
