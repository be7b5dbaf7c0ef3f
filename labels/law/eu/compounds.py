"""German names, which say the fruit and what is made of it in one word: Quittenpaste."""

import unicodedata
from collections.abc import Iterable

from labels.law.eu.words import words_of

SHORTEST_WHOLE = 4
SHORTEST_COMMON = 5


def told_in_compounds(name_of_food: str, names: Iterable[str], *, language: str) -> frozenset[str]:
    """Words of some names that a German name of food speaks of inside a longer word.

    A beginning in common is taken for the same thing, which may be wrong now and then; a quantity
    is then declared that need not be, and the finding says why.

    >>> sorted(told_in_compounds("Quittenpaste", ("Quittenmark", "Zucker"), language="de"))
    ['quittenmark']
    """
    if language != "de":
        return frozenset()
    said = [_plain(word) for word in words_of(name_of_food)]
    words = (word for name in names for word in words_of(name))
    return frozenset(
        word for word in words if any(_begins_alike(_plain(word), other) for other in said)
    )


def _plain(word: str) -> str:
    """Without the dots of a plural: Äpfel is of the Apfel in Apfelmus."""
    apart = unicodedata.normalize("NFD", word)
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


def _begins_alike(one: str, other: str) -> bool:
    common = next(
        (n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )
    is_whole = common == min(len(one), len(other))
    return common >= (SHORTEST_WHOLE if is_whole else SHORTEST_COMMON)
