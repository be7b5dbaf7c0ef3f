"""Packs as suppliers write them, and amounts as recipes do."""

import re
from dataclasses import dataclass
from decimal import Decimal

from costing.units.errors import NumberTooLarge, UnitNotUnderstood, UnitsError, shown
from costing.units.numbers import read_number
from costing.units.table import BASE_UNITS, PERCENT, Unit, base_factor, find_unit, is_unit, plain

TOO_LARGE = Decimal(10) ** 9
"""A thousand tonnes in grams. Above it, a zero or a unit was mistyped."""

_CONTAINERS = (
    "crate|sack|box|tray|bag|can|net|case|carton|bottle|jar|tub|bucket|pack|packet|tin|drum|"
    "pallet|barrel|basket|punnet|pail|jerrycan|keg"
)
_A_CONTAINER = re.compile(rf"(?i)(?:{_CONTAINERS})(?:e?s)?")
_CONTAINER_INSIDE = re.compile(rf"(?i)^(.*?)\b(?:{_CONTAINERS})(?:e?s)?\b(?: of|:)?(.*)$")


@dataclass(frozen=True)
class Amount:
    """A quantity in a unit, as one line of a recipe has it."""

    quantity: Decimal
    unit: str
    dimension: str

    @property
    def base_quantity(self) -> Decimal:
        """In grams, millilitres, pieces or percent."""
        return self.quantity * base_factor(self.unit)


@dataclass(frozen=True)
class Pack:
    """What one pack holds. total is in grams, millilitres or pieces; text is it written tidily."""

    count: Decimal
    inner: Decimal
    unit: str
    dimension: str
    total: Decimal
    text: str

    @property
    def base_unit(self) -> str:
        """The unit of `total`: g, ml or each."""
        return BASE_UNITS[self.dimension]


def read_amount(text: str, *, default_unit: str) -> Amount:
    """Read what a recipe line says: 8,1 kg; 200 g; 90 %; 8 each; 4 l; or a number alone.

    Raises UnitsError with a sentence. Zero and less are refused.

    >>> read_amount("8,1 kg", default_unit="g")
    Amount(quantity=Decimal('8.1'), unit='kg', dimension='mass')
    """
    number, word = _number_and_word(text)
    unit = find_unit(word or default_unit)
    quantity = Decimal(1) if not number and word else read_number(number)
    _refuse_nothing(quantity, text)
    if quantity * base_factor(unit.code) >= TOO_LARGE:
        raise NumberTooLarge(
            f"{shown(text)} is more than any kitchen has. Check the zeros and the unit."
        )
    return Amount(quantity=quantity, unit=unit.code, dimension=unit.dimension)


def read_pack(text: str) -> Pack:
    """Read a pack as suppliers write it: 25 kg; 6 x 1 kg; 40 each; 1 crate of 10 kg; 2 dozen.

    Raises UnitsError with a sentence: unknown or ambiguous units, other dimensions, nothing,
    too much.

    >>> read_pack("6x1kg").text
    '6 × 1 kg'
    """
    tidied = " ".join(text.split())
    if not tidied:
        raise UnitNotUnderstood("No pack was typed. Type what one pack holds, such as 25 kg.")
    counts, content = _outside_and_content(tidied)
    *more, last = re.split(r"\s*(?:[*×]|(?<![a-zA-Z])[xX](?![a-zA-Z]))\s*", content)
    counts += [read_number(part) for part in more]
    number, word = _number_and_word(last)
    if _A_CONTAINER.fullmatch(word) and not is_unit(word):
        raise UnitNotUnderstood(
            f"“{shown(text)}”: how much is in it? Type it such as “1 crate of 10 kg”."
        )
    unit = find_unit(word or "each")
    if unit.dimension == PERCENT:
        raise UnitNotUnderstood("A pack is a weight, a volume or a count, not a percentage.")
    inner = read_number(number) if number or not word else Decimal(1)
    return _pack(counts, inner, unit, text)


def _outside_and_content(tidied: str) -> tuple[list[Decimal], str]:
    """Cut "2 crates of 10 kg" into 2 and "10 kg", and "25 kg sack" into nothing and "25 kg"."""
    found = _CONTAINER_INSIDE.match(tidied)
    if found is None:
        return [], tidied
    before, after = found[1].strip(), found[2].strip()
    if after:
        return [read_number(before)] if before else [], after
    # A container at the end says nothing new, if a unit stands before it.
    return [], before if re.search(r"[^\W\d_]", before) else tidied


def _pack(counts: list[Decimal], inner: Decimal, unit: Unit, text: str) -> Pack:
    count = Decimal(1)
    for one in counts:
        count *= one
    for quantity in (*counts, inner):
        _refuse_nothing(quantity, text)
    total = count * inner * base_factor(unit.code)
    if total >= TOO_LARGE:
        raise NumberTooLarge(
            f"A pack of {shown(text)} is more than any kitchen buys. Check the zeros and the unit."
        )
    tidy = f"{plain(inner)} {unit.code}"
    return Pack(
        count=count,
        inner=inner,
        unit=unit.code,
        dimension=unit.dimension,
        total=total,
        text=tidy if count == 1 else f"{plain(count)} × {tidy}",
    )


def _number_and_word(text: str) -> tuple[str, str]:
    """Cut "8,1 kg" into its number and its unit word, either of which may be empty."""
    found = re.match(r"^([^a-zA-Z%°€$£À-ɏ]*)(.*)$", " ".join(text.split()))
    number, word = (found[1].strip(), found[2].strip()) if found else (text, "")
    if re.match(r"^[eE][+-]?\d", word) or word.lower() in {"nan", "inf", "infinity"}:
        return text, ""  # 1e5, nan and inf are no numbers here; read_number says so
    return number, word


def _refuse_nothing(quantity: Decimal, text: str) -> None:
    if quantity <= 0:
        raise UnitsError(f"“{shown(text)}” must be more than nothing.")
