"""Numbers as people type them: comma or point, groups of three, digits of any script."""

import re
import unicodedata
from decimal import Decimal

from costing.units.errors import AmbiguousNumber, NumberNotUnderstood, NumberTooLarge, shown

_MOST_DIGITS = 20

_GROUPING = " '"
_SAME_AS = {
    **dict.fromkeys("\u00a0\u202f\u2009\u2007\t", " "),
    **dict.fromkeys("\u2019\u02bc\uff07\u066c", "'"),
    **dict.fromkeys("\u066b\uff0e", "."),
    "\uff0c": ",",
    "\u2212": "-",
    "\uff0d": "-",
    "\uff0b": "+",
}
_DIGITS_AND_MARKS = re.compile(r"[+-]?[0-9.,' ]+")


def read_number(text: str) -> Decimal:
    """Read a number as people write it: 2,5 or 2.5, 1 250,50, 1'250.50, 1.250,50 or 1,250.50.

    Digits of other scripts are read when they are decimal digits. Raises AmbiguousNumber for
    1.250 and 1,250, NumberTooLarge from 10^9, NumberNotUnderstood for anything else.

    >>> read_number("1 250,50")
    Decimal('1250.50')
    """
    plain = _plain_digits(text)
    if not plain:
        raise NumberNotUnderstood("No number was typed. Type one such as 2.5 or 2,5.")
    digits = re.sub(r"\D", "", plain)
    if not _DIGITS_AND_MARKS.fullmatch(plain) or not digits:
        raise NumberNotUnderstood(
            f"“{shown(text)}” is not a number that can be read. Type digits only, "
            "such as 2.5 or 2,5 or 1250."
        )
    sign = -1 if plain.startswith("-") else 1
    whole, fraction = _whole_and_fraction(plain.lstrip("+-").strip(), text)
    if len(whole.lstrip("0")) > 9:
        raise NumberTooLarge(
            f"{shown(text)} is more than any kitchen has. Check the zeros and the unit."
        )
    if len(digits) > _MOST_DIGITS:
        raise NumberNotUnderstood(
            f"{shown(text)} has more digits than anything can be weighed to. "
            "Round it to a few decimals."
        )
    return sign * Decimal(f"{whole or '0'}.{fraction}" if fraction else whole or "0")


def _plain_digits(text: str) -> str:
    """The same text with ASCII digits and marks; a mixture of scripts is left for refusal."""
    marked = "".join(_SAME_AS.get(char, char) for char in text.strip())
    scripts = {ord(char) - unicodedata.decimal(char, 0) for char in marked if char.isdecimal()}
    if len(scripts) != 1:
        return marked
    return "".join(str(unicodedata.decimal(c)) if c.isdecimal() else c for c in marked).strip()


def _whole_and_fraction(plain: str, text: str) -> tuple[str, str]:
    """Split at the decimal mark, having found out which of the marks that is."""
    points, commas = plain.count("."), plain.count(",")
    if points and commas:
        decimal_mark = max(".,", key=plain.rfind)
        group_mark = "," if decimal_mark == "." else "."
        if any(mark in plain for mark in _GROUPING):
            raise _muddled(text)
    elif points + commas > 1:
        decimal_mark, group_mark = "", "." if points else ","
    elif points + commas == 1:
        decimal_mark, group_mark = ("." if points else ","), ""
        _refuse_if_ambiguous(plain, decimal_mark)
    else:
        decimal_mark, group_mark = "", ""
    if decimal_mark and plain.count(decimal_mark) > 1:
        raise _muddled(text)
    whole, _, fraction = plain.partition(decimal_mark) if decimal_mark else (plain, "", "")
    if fraction and not fraction.isdigit():
        raise _muddled(text)
    marks = {mark for mark in whole if not mark.isdigit()}
    if len(marks) > 1 or (group_mark and marks - {group_mark}):
        raise _muddled(text)
    if marks and not re.fullmatch(r"[0-9]{1,3}([^0-9][0-9]{3})+", whole):
        raise _muddled(text)
    return re.sub(r"\D", "", whole), fraction


def _refuse_if_ambiguous(plain: str, mark: str) -> None:
    whole, _, fraction = plain.partition(mark)
    if re.fullmatch(r"[1-9][0-9]{0,2}", whole) and re.fullmatch(r"[0-9]{3}", fraction):
        small = fraction.rstrip("0")
        as_decimal = whole if not small else f"{whole}.{small}"
        if len(small) == 3:
            as_decimal += "0"  # 2.375 would be asked about again; 2.3750 is not
        raise AmbiguousNumber(
            f"{whole}{mark}{fraction}: {_decimal_in_words(whole, small)} (type {as_decimal}) "
            f"or {_in_words(int(whole + fraction))} (type {whole}{fraction})?"
        )


def _muddled(text: str) -> NumberNotUnderstood:
    return NumberNotUnderstood(
        f"“{shown(text)}” has its commas, points or spaces in places that do not make one "
        "number. Type it without separators, such as 1250.5."
    )


_SMALL = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"),
    *("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen"),
    *("eighteen", "nineteen"),
)
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_PARTS = {"": "", "25": " and a quarter", "5": " and a half", "75": " and three quarters"}


def _in_words(number: int) -> str:
    if number < 20:
        return _SMALL[number]
    if number < 100:
        return _TENS[number // 10] + (f"-{_SMALL[number % 10]}" if number % 10 else "")
    size, name = (1000, "thousand") if number >= 1000 else (100, "hundred")
    rest = number % size
    joiner = " and " if rest < 100 else " "
    return f"{_in_words(number // size)} {name}" + (joiner + _in_words(rest) if rest else "")


def _decimal_in_words(whole: str, fraction: str) -> str:
    if fraction in _PARTS:
        return _in_words(int(whole)) + _PARTS[fraction]
    return f"{_in_words(int(whole))} point " + " ".join(_SMALL[int(digit)] for digit in fraction)
