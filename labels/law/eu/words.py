"""The words a label uses, by language, each with the mark of how its text was read.

A language is added as one more key in each table; a word whose mark is not "read" is shown to
the maker as unconfirmed before it is printed.
"""

from dataclasses import dataclass
from decimal import Decimal

from labels.mechanics import text
from labels.mechanics.text import forms, one_line, says_something, sentence, words_of

__all__ = [
    "ADDITIVE_CLASSES",
    "MONTHS",
    "WORDS",
    "Word",
    "additive_class",
    "figure",
    "forms",
    "is_spoken",
    "month",
    "one_line",
    "says_something",
    "sentence",
    "unconfirmed",
    "word",
    "words_of",
]


@dataclass(frozen=True)
class Word:
    """One label word in one language. mark: "read", "second-hand" or "from memory"."""

    text: str
    mark: str = "read"


WORDS: dict[str, dict[str, Word]] = {
    "en": {
        "ingredients": Word("Ingredients:"),
        "contains": Word("Contains:"),
        "best before": Word("Best before"),
        "best before end": Word("Best before end"),
        "use by": Word("Use by"),
        "fruit": Word("fruit"),
        "vegetable": Word("vegetables"),
        "spice": Word("spices"),
        "herb": Word("herbs"),
        "sugar": Word("sugar"),
        "in varying proportions": Word("in varying proportions"),
        "in variable proportion": Word("in variable proportion"),
        "per 100 g": Word("per 100 g"),
        "of": Word("of"),
        "sulphites": Word("sulphites"),
        "modified starch": Word("modified starch"),
        "decimal": Word("."),
    },
}

MONTHS: dict[str, tuple[str, ...]] = {
    "en": (
        "January", "February", "March", "April", "May", "June", "July", "August", "September",
        "October", "November", "December",
    ),
}  # fmt: skip

ADDITIVE_CLASSES: dict[str, dict[str, str]] = {
    "en": {
        name: name
        for name in (
            "acid", "acidity regulator", "anti-caking agent", "anti-foaming agent", "antioxidant",
            "bulking agent", "colour", "emulsifier", "emulsifying salts", "firming agent",
            "flavour enhancer", "flour treatment agent", "foaming agent", "gelling agent",
            "glazing agent", "humectant", "modified starch", "preservative", "propellent gas",
            "raising agent", "sequestrant", "stabiliser", "sweetener", "thickener",
        )
    },
}  # fmt: skip
"""The classes of Annex VII, Part C, by their English name."""


def is_spoken(language: str) -> bool:
    """Whether there are label words in this language."""
    return language in WORDS


def word(key: str, *, language: str) -> str:
    """The label word; English where the language is not known, which a rule then reports."""
    table = WORDS.get(language, WORDS["en"])
    return (table.get(key) or WORDS["en"][key]).text


def unconfirmed(language: str) -> tuple[str, ...]:
    """Words of a language whose official text was not read."""
    return tuple(w.text for w in WORDS.get(language, {}).values() if w.mark != "read")


def month(number: int, *, language: str) -> str:
    """Name of a month, 1 to 12."""
    return MONTHS.get(language, MONTHS["en"])[number - 1]


def additive_class(name: str, *, language: str) -> str:
    """The class in the language of the label; as typed if it is none of the list."""
    table = ADDITIVE_CLASSES.get(language, ADDITIVE_CLASSES["en"])
    return table.get(name.strip().casefold(), name.strip())


def figure(value: Decimal, *, language: str) -> str:
    """A number as printed: no trailing zeros, never an exponent, the language's decimal sign.

    >>> figure(Decimal("1.50"), language="en"), figure(Decimal("1E+3"), language="en")
    ('1.5', '1000')
    """
    return text.figure(value, decimal_sign=word("decimal", language=language))
