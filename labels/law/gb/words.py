"""The words a label uses in Great Britain, with the mark of how their text was read."""

from dataclasses import dataclass
from decimal import Decimal

from labels.mechanics import text
from labels.mechanics.text import forms, one_line, says_something, sentence, words_of

__all__ = [
    "ADDITIVE_CLASSES",
    "LANGUAGE",
    "WORDS",
    "Word",
    "figure",
    "forms",
    "month",
    "one_line",
    "says_something",
    "sentence",
    "unconfirmed",
    "word",
    "words_of",
]

LANGUAGE = "en"


@dataclass(frozen=True)
class Word:
    """One label word. mark: "read", "second-hand" or "from memory"."""

    text: str
    mark: str = "read"


WORDS: dict[str, Word] = {
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
    "sulphites": Word("sulphites"),
    "sulphur dioxide": Word("sulphur dioxide"),
    "modified starch": Word("modified starch"),
    "prepared with": Word("prepared with {} g of fruit per 100 g"),
    "total sugar": Word("total sugar content: {} g per 100 g"),
}

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip

ADDITIVE_CLASSES = (
    "acid", "acidity regulator", "anti-caking agent", "anti-foaming agent", "antioxidant",
    "bulking agent", "colour", "emulsifier", "emulsifying salts", "firming agent",
    "flavour enhancer", "flour treatment agent", "foaming agent", "gelling agent",
    "glazing agent", "humectant", "modified starch", "preservative", "propellent gas",
    "raising agent", "sequestrant", "stabiliser", "sweetener", "thickener",
)  # fmt: skip
"""The classes of Annex VII, Part C."""


def word(key: str) -> str:
    """The label word."""
    return WORDS[key].text


def unconfirmed() -> tuple[str, ...]:
    """Words whose official text was not read."""
    return tuple(w.text for w in WORDS.values() if w.mark != "read")


def month(number: int) -> str:
    """Name of a month, 1 to 12."""
    return MONTHS[number - 1]


def figure(value: Decimal) -> str:
    """A number as printed: a point as decimal sign, no trailing zeros."""
    return text.figure(value)
