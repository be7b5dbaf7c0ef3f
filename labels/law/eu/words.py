"""The words a label uses, by language, each with the mark of how its text was read.

The tables stand in `word_tables`; a word whose mark is not "read" is shown to the maker as due a
native reader's check before it is printed.
"""

from decimal import Decimal

from labels.law.eu.word_tables import (
    ADDITIVE_CLASSES,
    COMMA_COUNTRIES,
    DATE_FORMS,
    LANGUAGES,
    MONTHS,
    POINT_COUNTRIES,
    WORDS,
    Word,
)
from labels.mechanics import text
from labels.mechanics.text import forms, one_line, says_something, sentence, words_of

__all__ = [
    "ADDITIVE_CLASSES",
    "LANGUAGES",
    "MONTHS",
    "WORDS",
    "Word",
    "additive_class",
    "date_text",
    "figure",
    "figure_where_sold",
    "forms",
    "has_additive_class",
    "is_spoken",
    "language_name",
    "month",
    "one_line",
    "says_something",
    "sentence",
    "unconfirmed",
    "word",
    "words_of",
]


def is_spoken(language: str) -> bool:
    """Whether there are label words in this language."""
    return language in WORDS


def language_name(language: str) -> str:
    """English name of a language, or its code where this version has no words in it."""
    return LANGUAGES.get(language, language)


def word(key: str, *, language: str) -> str:
    """The label word; English where the language is not known, which a rule then reports."""
    table = WORDS.get(language, WORDS["en"])
    return (table.get(key) or WORDS["en"][key]).text


def unconfirmed(language: str) -> tuple[Word, ...]:
    """Words of a language whose official text was not read, each once."""
    tables = (WORDS.get(language, {}), ADDITIVE_CLASSES.get(language, {}))
    small = {"of", "decimal"}  # signs and prepositions, which no law sets
    found = (
        w for table in tables for key, w in table.items() if w.mark != "read" and key not in small
    )
    return tuple({w.text: w for w in found}.values())


def month(number: int, *, language: str) -> str:
    """Name of a month, 1 to 12."""
    return MONTHS.get(language, MONTHS["en"])[number - 1]


def date_text(form: str, *, day: int, month_number: int, year: int, language: str) -> str:
    """A date in the order and with the small words of the language.

    form: "day" (day and month), "month" (month and year) or "full".

    >>> date_text("full", day=5, month_number=9, year=2026, language="es")
    '5 de septiembre de 2026'
    """
    name = month(month_number, language=language)
    forms_of_language = DATE_FORMS.get(language, DATE_FORMS["en"])
    return forms_of_language[form].format(d=day, m=name, y=year)


def additive_class(name: str, *, language: str) -> str:
    """The class in the language of the label; as typed if it is none of the list."""
    table = ADDITIVE_CLASSES.get(language, ADDITIVE_CLASSES["en"])
    known = table.get(name.strip().casefold())
    return known.text if known else name.strip()


def has_additive_class(name: str, *, language: str) -> bool:
    """Whether the class, if it is one of the list, has a word in the language."""
    typed = name.strip().casefold()
    return typed not in ADDITIVE_CLASSES["en"] or typed in ADDITIVE_CLASSES.get(language, {})


def figure(value: Decimal, *, language: str) -> str:
    """A number as printed: no trailing zeros, never an exponent, the language's decimal sign.

    >>> figure(Decimal("1.50"), language="en"), figure(Decimal("1E+3"), language="en")
    ('1.5', '1000')
    """
    return text.figure(value, decimal_sign=word("decimal", language=language))


def figure_where_sold(value: Decimal, *, country: str, language: str) -> str:
    """A number that stands once for all languages of a label: in the form of the country.

    >>> figure_where_sold(Decimal("1.25"), country="PT", language="en")
    '1,25'
    """
    code = country.strip().upper()
    if code in POINT_COUNTRIES | COMMA_COUNTRIES:
        return text.figure(value, decimal_sign="." if code in POINT_COUNTRIES else ",")
    return figure(value, language=language)
