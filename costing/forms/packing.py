"""Parts of a packing as typed: read one by one, kept as they stand, each with its own sentence."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from costing.forms.fields import Mistake, as_typed
from costing.models import ProductPart
from costing.services.products import PackingInput
from costing.units import UnitsError, read_number

MOST_PARTS = 30
MOST_OF_A_PART = Decimal(99999)
ONE, NOUGHT = "1", "0"

_BOX = re.compile(r"^part-(\d{1,3})-(?:item|quantity|loss)$")
_OF_PART = re.compile(r"^Part (\d+)(?: \([^)]*\))?: (.*)$", re.DOTALL)
_DIVIDED = re.compile(r"[^/]*\d[^/]*/[^/]*\d[^/]*")
_KEPT = Decimal("1e-8")
_LARGEST_SHEET = 400


def read_share(text: str) -> Decimal:
    """A number, or one divided by another: a sheet of 21 labels gives 1/21 to each piece.

    Kept to eight decimals. Raises UnitsError with a sentence.

    >>> read_share("1/21"), read_share("2,5")
    (Decimal('0.04761905'), Decimal('2.5'))
    """
    if _DIVIDED.fullmatch(text) is None:
        return read_number(text)
    above, _, below = text.partition("/")
    number, divisor = read_number(above), read_number(below)
    if divisor <= 0:
        raise UnitsError("Nothing can be shared among none: type it such as 1/21.")
    return (number / divisor).quantize(_KEPT, rounding=ROUND_HALF_UP)


def share_as_typed(value: Decimal) -> str:
    """A stored quantity as somebody would type it, 1/21 rather than 0.04761905.

    >>> share_as_typed(Decimal("0.04761905")), share_as_typed(Decimal("1.00000000"))
    ('1/21', '1')
    """
    if 0 < value < 1 and value != round(value, 4):
        for divisor in range(2, _LARGEST_SHEET):
            number = (value * divisor).to_integral_value(ROUND_HALF_UP)
            if (number / divisor).quantize(_KEPT, rounding=ROUND_HALF_UP) == value:
                return f"{number:f}/{divisor}"
    return as_typed(value)


@dataclass
class TypedPart:
    """One row of the form: what stands in its boxes, and what is wrong with them."""

    item: str = ""
    quantity: str = ONE
    loss: str = NOUGHT
    is_focus: bool = False
    errors: dict[str, str] = field(default_factory=dict)

    @property
    def is_blank(self) -> bool:
        """Nothing was chosen or changed: such a row is passed over."""
        return not self.item and self.quantity in {"", ONE} and self.loss in {"", NOUGHT}

    def read(self) -> PackingInput | None:
        """The part as sums take it; None, with sentences in `errors`, when it cannot be read."""
        self.errors = {}
        if not re.fullmatch(r"\d{1,15}", self.item, re.ASCII):
            self.errors["item"] = "Choose what this is, or take the row out."
        quantity = self._figure("quantity", self.quantity, "Type 1, or 1/21 for a share of a sheet")
        loss = Decimal(0)
        if self.loss:
            loss = self._figure("loss", self.loss, "Type 0 if none of it is spoilt") or Decimal(0)
        if quantity is not None and not 0 < quantity <= MOST_OF_A_PART:
            self.errors["quantity"] = (
                f"{self.quantity[:30]} cannot be right: more than 0, at most {MOST_OF_A_PART}."
            )
        if not 0 <= loss < 100:
            self.errors["loss"] = (
                f"{self.loss[:30]} % cannot be right: what is spoilt is at least 0 and below 100 %."
            )
        if self.errors or quantity is None:
            return None
        return PackingInput(int(self.item), quantity, loss)

    def _figure(self, box: str, text: str, advice: str) -> Decimal | None:
        if not text:
            self.errors[box] = f"How many of it does one take? {advice}."
            return None
        try:
            figure = read_share(text) if box == "quantity" else read_number(text)
        except UnitsError as problem:
            self.errors[box] = str(problem)
            return None
        places = 8 if box == "quantity" else 2
        if figure != round(figure, places):
            self.errors[box] = f"{text[:30]} has too many decimals: at most {places} are kept here."
            return None
        return figure


class TypedParts:
    """All rows of the packing, in their order."""

    def __init__(self, rows: Iterable[TypedPart]) -> None:
        self.rows = list(rows)
        self.faults: list[str] = []
        self._read: list[int] = []

    @classmethod
    def posted(cls, data: Mapping[str, Any]) -> "TypedParts":
        """The rows of a posted form. Numbers may have gaps: a row may have been taken out."""
        numbers = sorted({int(found[1]) for name in data if (found := _BOX.match(name))})
        return cls(_posted_row(data, number) for number in numbers[:MOST_PARTS])

    @classmethod
    def stored(cls, parts: Iterable[ProductPart]) -> "TypedParts":
        """The rows of a saved product, written as they would be typed."""
        return cls(
            TypedPart(str(part.item_id), share_as_typed(part.quantity), as_typed(part.loss_pct))
            for part in parts
        )

    def read(self) -> list[PackingInput]:
        """Every row that can be read; sentences stand at the others."""
        inputs, self._read = [], []
        for place, row in enumerate(self.rows):
            row.errors = {}
            part = None if row.is_blank else row.read()
            if part is not None:
                inputs.append(part)
                self._read.append(place)
        return inputs

    @property
    def is_readable(self) -> bool:
        """Whether no row has a mistake."""
        return not any(row.errors for row in self.rows) and not self.faults

    def change(self, wanted: str) -> None:
        """Do what a button of the rows asks: "add" one, or take one out ("out-2")."""
        word, _, place = wanted.partition("-")
        if word == "add" and len(self.rows) < MOST_PARTS:
            self.rows.append(TypedPart(is_focus=True))
        if word == "out" and place.isascii() and place.isdigit() and len(place) <= 3:
            self.rows[int(place) : int(place) + 1] = []
            if self.rows:
                self.rows[min(int(place), len(self.rows) - 1)].is_focus = True

    def blame(self, sentence: str) -> None:
        """Put a sentence of a service at the row it names ("Part 2 (Lid): ..."), or at all."""
        found = _OF_PART.match(sentence)
        place = int(found[1]) - 1 if found else -1
        if found and 0 <= place < len(self._read):
            told = found[2]
            self.rows[self._read[place]].errors["item"] = told[:1].upper() + told[1:]
        else:
            self.faults.append(sentence)

    def mistakes(self) -> list[Mistake]:
        """Every sentence with the box it leads to."""
        found = [Mistake(fault, "Packing", "packing") for fault in self.faults]
        for place, row in enumerate(self.rows):
            found += [
                Mistake(told, f"Part {place + 1}", f"part-{place}-{box}")
                for box, told in row.errors.items()
            ]
        return found


def _posted_row(data: Mapping[str, Any], number: int) -> TypedPart:
    def box(name: str) -> str:
        typed = str(data.get(f"part-{number}-{name}") or "")
        return typed.replace("\x00", "").strip()[:200]

    return TypedPart(item=box("item"), quantity=box("quantity"), loss=box("loss"))
