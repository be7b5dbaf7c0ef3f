"""Language: Regulation (EU) No 1169/2011, Art. 15 [R]."""

import pytest

from labels.law.eu.language import OFFICIAL
from tests.labels.law.eu.builders import a_label, by_rule, text_of


@pytest.mark.parametrize(
    ("country", "is_looked_at"),
    [("IE", False), ("MT", False), ("PT", True), (" es ", True), ("", False), ("US", False)],
)
def test_the_language_is_one_of_the_country_of_sale(country, is_looked_at):
    found = by_rule("the_label_speaks_the_buyers_language", a_label(country_of_sale=country))
    assert bool(found) is is_looked_at
    assert all(f.citation.provision == "Art. 15(1) and (2)" for f in found)


def test_there_are_twenty_seven_member_states():
    assert len(OFFICIAL) == 27


def test_a_language_without_label_words_stops_the_label_and_falls_back_to_english():
    facts = a_label(language="xx")
    found = by_rule("the_label_words_are_known_in_its_language", facts)
    assert [f.stops_printing for f in found] == [True]
    assert text_of("ingredients", facts).startswith("Ingredients: ")
    assert by_rule("the_label_words_are_known_in_its_language", a_label()) == []
