"""The words of the declaration, by language, each with the mark of how it was read."""

import pytest

from labels.law.eu.nutrition_table import ORDER
from labels.law.eu.nutrition_words import NUTRITION_WORDS, nutrition_word, unconfirmed_nutrition
from labels.law.eu.words import WORDS
from tests.labels.law.eu.builders import statement
from tests.labels.law.eu.test_nutrition import a_declared_label, declared


def test_every_language_of_the_label_has_every_word():
    assert set(NUTRITION_WORDS) == set(WORDS)
    every = set(NUTRITION_WORDS["en"])
    assert all(set(words) == every for words in NUTRITION_WORDS.values())
    assert {*ORDER, "energy"} <= every


@pytest.mark.parametrize(
    ("language", "key", "text"),
    [
        # Annex XIII, Part B as reproduced in each language: PT [R], DE [2], ES energy and fats [N]
        ("pt", "fat", "lípidos"), ("pt", "carbohydrate", "hidratos de carbono"),
        # "davon gesättigte Fettsäuren" is not to be shortened: German food chemists, 2016 [2]
        ("de", "saturates", "davon gesättigte Fettsäuren"), ("es", "fat", "grasas"),
        ("it", "salt", "sale"), ("fr", "carbohydrate", "glucides"),
    ],
)  # fmt: skip
def test_words_as_they_were_found(language, key, text):
    assert nutrition_word(key, language=language) == text


def test_a_word_that_was_not_read_is_named_and_english_was_read():
    assert unconfirmed_nutrition("en") == ()
    assert "Kohlenhydrate" in unconfirmed_nutrition("de")
    assert "lípidos" not in unconfirmed_nutrition("pt")
    assert nutrition_word("fat", language="xx") == "fat"


def test_a_german_declaration_has_german_words_and_figures():
    facts = a_declared_label(language="de", nutrition=declared(portion_g="20"))
    text = statement("nutrition", facts).text
    assert text.startswith("Nährwertdeklaration je 100 g: Energie 1258 kJ/296 kcal, Fett <0,5 g")
    assert "Ballaststoffe 2,5 g" in text
    assert "Die Packung enthält 10 Portionen zu 20 g." in text


def test_french_sets_a_space_before_the_colon():
    # as in "Ingrédients :"; common practice of French type
    text = statement("nutrition", a_declared_label(language="fr")).text
    assert text.startswith("Déclaration nutritionnelle pour 100 g : énergie")
