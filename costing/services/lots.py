"""Lots: the scheme a kitchen writes them by, what is wrong with one, and the next that is free."""

import re
import unicodedata
from collections.abc import Iterable
from datetime import date

from costing.models import Batch, Kitchen, Recipe

USUAL = "{letters}-{yy}{ddd}"
LONGEST = 40
TOKENS = {
    "letters": "letters of the recipe's name",
    "yy": "year, 27",
    "yyyy": "year, 2027",
    "ddd": "day of the year, 001 to 366",
    "mm": "month",
    "dd": "day of the month",
    "n": "1, 2, 3 for the pans of a day",
}
"""What stands in braces in a scheme, and what it becomes."""

MONEY = "A lot stands on the label and must not look like a price: leave the money out."

_TOKEN = re.compile(r"\{([^{}]*)\}")
_PLAIN = re.compile(r"[A-Za-z0-9 ./_-]*")
_AMOUNT = re.compile(r"\d[.,]\d")
_MOST_PANS = 9999


def scheme_fault(scheme: str, *, currency: str = "") -> str:
    """What is wrong with a scheme, in a sentence that says what to do; empty when it can be used.

    A lot must lead back to one day of one year, be readable on a small label, and say nothing of
    money: a buyer would take it for a price.
    """
    names = _TOKEN.findall(scheme)
    rest = _TOKEN.sub("", scheme)
    if not scheme.strip():
        return f"Say how a lot is made up, for example {USUAL}."
    unknown = next((name for name in names if name not in TOKENS), None)
    if unknown is not None:
        known = " ".join(f"{{{name}}}" for name in TOKENS)
        return f"{{{unknown}}} is not known. There are {known}."
    if "{" in rest or "}" in rest:
        return "A brace stands alone: write each part as {yy}, with both braces."
    if _AMOUNT.search(rest) or money_in(rest, currency=currency):
        return MONEY
    if not _PLAIN.fullmatch(rest) or scheme != scheme.strip():
        return "Besides the braces use plain letters, digits, spaces inside, and . / _ - only."
    return _day_fault(set(names)) or _length_fault(scheme)


def money_in(text: str, *, currency: str = "") -> str:
    """That a lot names money, in a sentence; empty when it does not.

    >>> money_in("DC-27248")
    ''
    """
    has_sign = any(unicodedata.category(sign) == "Sc" for sign in text)
    has_code = bool(currency) and currency.upper() in re.findall(r"[A-Z]+", text.upper())
    return MONEY if has_sign or has_code else ""


def _day_fault(names: set[str]) -> str:
    if "ddd" not in names and not {"mm", "dd"} <= names:
        return "A lot leads back to its day: put in {ddd}, or both {mm} and {dd}."
    if not names & {"yy", "yyyy"}:
        return "Next year the same day comes round again: put in {yy} or {yyyy}."
    return ""


def _length_fault(scheme: str) -> str:
    longest = _filled(scheme, letters="WW", on=date(2027, 12, 31), number=99) + "WW"
    if len(longest) > LONGEST:
        return f"Filled in, this can reach {len(longest)} characters; {LONGEST} are the most."
    return ""


def next_lot(recipe: Recipe, *, on: date) -> str:
    """A lot nobody has yet, by the kitchen's scheme.

    By the usual one: letters of the name, year and day of the year; 5 September 2027 of Damson
    cheese is DC-27248. The second pan of a day gets B, unless the scheme counts with {n}. It
    contains no money and is never used twice.
    """
    scheme = recipe.kitchen.lot_scheme
    if scheme_fault(scheme):  # kept before it was checked: a cook must not stop because of it
        scheme = USUAL
    letters = letters_of(recipe.name)
    start = _filled(scheme.split("{n}")[0], letters=letters, on=on, number=1)
    rows = Batch.objects.filter(kitchen_id=recipe.kitchen_id, lot__istartswith=start)
    return _first_free(scheme, letters=letters, on=on, taken=rows.values_list("lot", flat=True))


def example_lot(kitchen: Kitchen, scheme: str, *, name: str, on: date) -> str:
    """What a scheme gives for a recipe of that name; empty where the scheme cannot be used."""
    if scheme_fault(scheme, currency=kitchen.currency):
        return ""
    return _first_free(scheme, letters=letters_of(name), on=on, taken=())


def letters_of(name: str) -> str:
    """First letters of the first two words, or the first two of one; K where there are none.

    >>> letters_of("Damson cheese"), letters_of("Äpfel"), letters_of("77")
    ('DC', 'AP', 'K')
    """
    bare = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().upper()
    words = re.findall(r"[A-Z]+", bare)
    if len(words) > 1:
        return words[0][0] + words[1][0]
    return "".join(words)[:2] or "K"


def _first_free(scheme: str, *, letters: str, on: date, taken: Iterable[str]) -> str:
    used = {lot.upper() for lot in taken}
    counts = "{n}" in scheme
    for number in range(1, _MOST_PANS):
        lot = _filled(scheme, letters=letters, on=on, number=number)
        if not counts and number > 1:
            lot += _letter(number)
        if lot.upper() not in used:
            return lot
    raise AssertionError("one more lot than are taken cannot be taken")


def _filled(scheme: str, *, letters: str, on: date, number: int) -> str:
    parts = {
        "letters": letters,
        "yy": f"{on:%y}",
        "yyyy": f"{on.year:04d}",
        "ddd": f"{on.timetuple().tm_yday:03d}",
        "mm": f"{on.month:02d}",
        "dd": f"{on.day:02d}",
        "n": str(number),
    }
    return _TOKEN.sub(lambda found: parts[found[1]], scheme)


def _letter(number: int) -> str:
    """2 gives B, 26 Z, 27 AA: the pans of one day."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
