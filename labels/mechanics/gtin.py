"""The number of an article as the tills of shops read it, and its check digit.

GS1 General Specifications, section 7.9 (check digit) and section 1.4 (prefixes that each shop gives
out itself); the prefixes are from memory.
"""

from labels.mechanics.text import one_line

__all__ = ["check_digit", "read_gtin"]

_DIGITS = 13
_OF_THE_SHOP = ("02", "04", "2")


def check_digit(digits: str) -> str:
    """The last digit for all that stand before it: weights of 3 and 1 in turn, from the right.

    >>> check_digit("629104150021")
    '3'
    """
    turned = enumerate(reversed(digits))
    total = sum(int(digit) * (3 if place % 2 == 0 else 1) for place, digit in turned)
    return str(-total % 10)


def read_gtin(text: str) -> str:
    """A number as it was typed, as thirteen digits; "" for nothing. Raises ValueError, a sentence.

    Twelve digits are one of thirteen that begins with nought.
    """
    typed = "".join(one_line(text).replace("-", " ").split())
    if not typed:
        return ""
    if not (typed.isascii() and typed.isdigit()):
        raise ValueError(f"{text!r} has more than digits in it; copy the number from GS1’s list.")
    if len(typed) == _DIGITS - 1:
        typed = f"0{typed}"
    if len(typed) != _DIGITS:
        raise ValueError(f"{typed} has {len(typed)} digits; the number of an article has 13.")
    expected = check_digit(typed[:-1])
    if typed[-1] != expected:
        raise ValueError(
            f"{typed} ends with {typed[-1]}, but by its other digits it must end with {expected}. "
            "Compare each digit with your list."
        )
    if typed.startswith(_OF_THE_SHOP):
        raise ValueError(
            f"{typed} begins with {typed[:2]}: each shop gives out such numbers for its own tills, "
            "those with a weight or a price inside too. Ask your shop which to print for it."
        )
    return typed
