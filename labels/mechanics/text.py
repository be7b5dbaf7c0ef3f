"""Typed text as a label can set it, and the words in it."""

import re
import unicodedata
from collections.abc import Iterable
from decimal import Decimal


def one_line(text: str) -> str:
    r"""Typed text as a label can set it: one line, no control characters, single spaces.

    >>> one_line(" Damson\n\tcheese ")
    'Damson cheese'
    """
    spaced = "".join(" " if c.isspace() else c for c in text)
    return " ".join("".join(c for c in spaced if unicodedata.category(c) != "Cc").split())


def says_something(text: str) -> bool:
    r"""Whether a typed text holds a letter; spaces that take no room or a picture say nothing.

    >>> says_something("Quince"), says_something("\u200b "), says_something("12 - 4")
    (True, False, False)
    """
    return any(sign.isalpha() for sign in text)


def sentence(text: str) -> str:
    """Typed text with a full stop, so that another sentence can follow."""
    text = one_line(text)
    return text if not text or text[-1] in ".!?…" else f"{text}."


def bare(text: str) -> str:
    """Text without what setting in type may change: spaces, soft hyphens, capitals."""
    return "".join(c for c in text.casefold() if not c.isspace() and c not in "\u00ad\u200b\u2060")


def figure(value: Decimal, *, decimal_sign: str = ".") -> str:
    """A number as printed: no trailing zeros, never an exponent, the sign asked for.

    >>> figure(Decimal("1.50")), figure(Decimal("1E+3")), figure(Decimal("2.5"), decimal_sign=",")
    ('1.5', '1000', '2,5')
    """
    text = f"{value:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace(".", decimal_sign)


def forms(name: str) -> frozenset[str]:
    """Singular and plural forms of an English word, in lower case.

    >>> sorted(forms("Walnuts"))
    ['walnut', 'walnuts']
    """
    low = name.casefold().strip()
    found = {low}
    if low.endswith("s"):
        found |= {low[:-1]}
    else:
        found |= {f"{low}s", f"{low}es"}
    if low.endswith("es"):
        found |= {low[:-2]}
    if low.endswith("ies"):
        found |= {f"{low[:-3]}y"}
    if low.endswith("y"):
        found |= {f"{low[:-1]}ies"}
    return frozenset(found - {""})


def words_of(text: str) -> tuple[str, ...]:
    """The words of a text in lower case, hyphens and figures apart.

    >>> words_of("Peanut (95 %) butter, home-made")
    ('peanut', 'butter', 'home', 'made')
    """
    return tuple(re.findall(r"[^\W\d_]+", text.casefold()))


def names_one_of(text: str, known: Iterable[str]) -> bool:
    """Whether a text holds one of some names, as whole words, singular or plural.

    >>> names_one_of("ground walnuts", ("walnut",)), names_one_of("goats' cheese", ("oat",))
    (True, False)
    """
    said = f" {' '.join(words_of(text))} "
    return any(f" {form} " in said for name in known for form in forms(name))
