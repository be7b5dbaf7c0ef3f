"""Language: Regulation (EU) No 1169/2011, Art. 15 as assimilated (from memory)."""

import pytest

from labels import law
from labels.facts import Wording
from labels.law.gb.words import unconfirmed
from tests.labels.law.gb.builders import TODAY, a_label, by_rule, faults


@pytest.mark.parametrize(("language", "is_refused"), [("en", False), ("pt", True), ("cy", True)])
def test_the_statements_are_in_english(language, is_refused):
    facts = a_label(language=language)
    assert ("the_label_speaks_english" in faults(facts)) is is_refused


def test_every_fixed_word_was_read():
    assert unconfirmed() == ()
    assert by_rule("the_label_words_were_read", a_label()) == []


def test_a_second_language_is_said_not_to_be_printed():
    # Art. 15(3) (from memory): several languages may be used
    both = a_label(second=Wording("pt", "Pasta de abrunho"))
    found = by_rule("a_second_language_is_not_printed_here", both)
    assert [f.level for f in found] == ["for information"]
    assert by_rule("a_second_language_is_not_printed_here", a_label()) == []
    assert {p.language for p in law.particulars(both, on=TODAY)} == {""}
