"""Storage and use: Regulation (EU) No 1169/2011, Arts. 25 and 27 [R]."""

import pytest

from tests.labels.law.gb.builders import a_label, by_rule, statement, text_of


def test_before_and_after_opening_stand_as_two_sentences():
    facts = a_label(storage="Keep cool", storage_after_opening="Refrigerate once open!")
    found = statement("storage", facts)
    assert found.text == "Keep cool. Refrigerate once open!"
    assert found.citation.provision == "Art. 9(1)(g) and Art. 25"


@pytest.mark.parametrize(
    ("changed", "is_asked"),
    [({}, False), ({"storage": ""}, True), ({"storage_after_opening": " "}, True),
     ({"storage": "", "storage_after_opening": "", "way_of_sale": "loose"}, False)],
)  # fmt: skip
def test_art_25_the_maker_is_reminded_of_keeping_before_and_after_opening(changed, is_asked):
    found = by_rule("special_storage_is_stated", a_label(**changed))
    assert bool(found) is is_asked
    assert all(f.level == "for information" for f in found)
    assert all(f.citation.provision == "Art. 25" for f in found)


def test_art_27_instructions_are_printed_where_given():
    facts = a_label(instructions="Warm gently\nbefore serving.")
    assert text_of("instructions", facts) == "Warm gently before serving."
    assert text_of("instructions", a_label()) == ""
