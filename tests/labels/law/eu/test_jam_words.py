"""Product names of the jam family in six languages: Directive 2001/113/EC, Annex I [R]; national
transpositions [N].
"""

import pytest

from labels.law.eu import jam_words
from labels.law.eu.jam_words import NAMES, NAMES_IN, holds_a_reserved_word, name_in, reserved_name


@pytest.mark.parametrize(
    ("name", "reserved"),
    [
        ("Strawberry jam", "jam"), ("STRAWBERRY EXTRA JAM", "extra jam"), ("Jam, plum", "jam"),
        ("Strawberry jam extra", "extra jam"), ("Damson jam with port", "jam"),
        ("Strawberry jam 300 g", "jam"), ("Plum jam (60 % fruit)", "jam"), ("Jams", "jam"),
        ("Redcurrant jelly", "jelly"), ("Redcurrant extra jelly", "extra jelly"),
        ("Orange marmalade", "citrus marmalade"), ("Lime jelly marmalade", "jelly marmalade"),
        ("Sweetened chestnut purée", "sweetened chestnut puree"),
        ("Confitura extra de fresa", "extra jam"), ("Jalea de membrillo", "jelly"),
        ("Crema de castañas", "sweetened chestnut puree"), ("«Marmalade» de cítricos",
                                                            "citrus marmalade"),
        ("Confiture de fraises", "jam"), ("Gelée extra de coings", "extra jelly"),
        ("Marmelade d'oranges", "citrus marmalade"), ("Crème de marrons",
                                                      "sweetened chestnut puree"),
        ("Confettura di fichi", "jam"), ("Marmellata di agrumi", "citrus marmalade"),
        ("Erdbeerkonfitüre extra", "extra jam"), ("Quittengelee", "jelly"),
        ("Zitrusmarmelade", "citrus marmalade"), ("Strawberry jam / Confiture", "jam"),
        # What only holds such a word is another food; case 73: damson cheese is no reserved name
        ("Jam tart", ""), ("Jelly beans", ""), ("Tarta con confitura", ""), ("Damson cheese", ""),
        ("Damson paste", ""), ("Chestnut puree", ""), ("Mermelada de ciruela", ""),
        ("Jamaica pepper paste", ""), ("", ""), ("\U0001f353", ""), ("extra", ""),
    ],
)  # fmt: skip
def test_a_name_says_what_a_food_is_in_the_place_its_language_has_for_it(name, reserved):
    assert reserved_name(name) == reserved


@pytest.mark.parametrize(
    ("name", "language", "reserved"),
    [
        ("Doce de morango", "pt", "jam"), ("Doce de leite", "es", ""),
        ("Gelatina di mele", "it", "jelly"), ("Gelatina de fruta", "es", ""),
        ("Marmelada de marmelo", "pt", ""),
    ],
)  # fmt: skip
def test_a_word_that_means_jam_in_one_language_only_counts_there(name, language, reserved):
    assert reserved_name(name, language=language) == reserved


def test_each_language_has_all_seven_names_and_both_statements():
    assert set(NAMES_IN) == {"es", "fr", "it", "pt", "de"}
    for words in NAMES_IN.values():
        assert set(words) == set(NAMES)
    for statement in jam_words.STATEMENTS.values():
        assert set(statement) == {"en", *NAMES_IN}
        assert statement["en"].mark == "read"
        assert all("{}" in word.text for word in statement.values())
    assert name_in("extra jam", language="es") == "confitura extra"
    assert name_in("extra jam", language="mt") == "extra jam"


@pytest.mark.parametrize(
    ("name", "word"),
    [("Jam tart", "jam"), ("Mermelada de ciruela", "mermelada"), ("Jelly", "jelly"),
     ("Damson paste", ""), ("Lemon cheese", "")],
)  # fmt: skip
def test_a_reserved_word_is_found_wherever_it_stands(name, word):
    assert holds_a_reserved_word(name) == word
