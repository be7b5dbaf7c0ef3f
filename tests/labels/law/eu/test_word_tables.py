"""The tables of label words are whole in every language, and each word has its mark."""

from labels.law.eu.word_tables import ADDITIVE_CLASSES, DATE_FORMS, LANGUAGES, MONTHS, WORDS

MARKS = {"read", "read in national law", "second-hand", "from memory"}


def test_every_language_has_every_word():
    assert set(WORDS) == set(ADDITIVE_CLASSES) == set(LANGUAGES) == set(MONTHS) == set(DATE_FORMS)
    for language, words in WORDS.items():
        assert set(words) == set(WORDS["en"]), language


def test_every_word_says_how_its_text_was_read():
    for table in (WORDS, ADDITIVE_CLASSES):
        assert {word.mark for words in table.values() for word in words.values()} <= MARKS
    # The German words of use by, of the act before the Regulation, differ: not confirmed.
    assert WORDS["de"]["use by"].mark == "from memory"
    assert {word.mark for word in WORDS["en"].values()} == {"read"}
