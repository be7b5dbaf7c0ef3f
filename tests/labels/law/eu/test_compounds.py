"""What a German compound speaks of: Regulation (EU) No 1169/2011, Art. 22(1)(a) [R]."""

import pytest

from labels.law.eu.compounds import told_in_compounds


@pytest.mark.parametrize(
    ("name_of_food", "ingredient", "told"),
    [
        ("Quittenpaste", "Quittenmark", True),
        ("Apfelmus", "Äpfel", True),  # the vowel changes in the plural
        ("Apfelpaste", "Apfelsaft", True),
        ("Zimtpflaumen", "Zimt", True),  # a whole word of four letters
        ("Zimtpflaumen", "Zitrone", False),
        ("Pflaumenpaste", "Zucker", False),
    ],
)
def test_a_beginning_in_common_is_the_same_fruit(name_of_food, ingredient, told):
    found = told_in_compounds(name_of_food, (ingredient,), language="de")
    assert bool(found) is told


def test_other_languages_set_their_words_apart():
    assert told_in_compounds("Gingerbread", ("ginger",), language="en") == frozenset()
