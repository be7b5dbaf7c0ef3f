"""Language: Regulation (EU) No 1169/2011, Art. 15 as assimilated (from memory)."""

import pytest

from labels.law.gb.words import unconfirmed
from tests.labels.law.gb.builders import a_label, by_rule, faults


@pytest.mark.parametrize(("language", "is_refused"), [("en", False), ("pt", True), ("cy", True)])
def test_the_statements_are_in_english(language, is_refused):
    facts = a_label(language=language)
    assert ("the_label_speaks_english" in faults(facts)) is is_refused


def test_every_fixed_word_was_read():
    assert unconfirmed() == ()
    assert by_rule("the_label_words_were_read", a_label()) == []
