"""Lines of a recipe as typed: read one by one, kept as they stand, each with its own sentence."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from costing.forms.fields import Mistake, as_typed
from costing.models import RecipeLine
from costing.reckoning.book import AS_PURCHASED, PREPARED
from costing.services.recipes import LineInput
from costing.units import UnitsError, read_amount

MOST_LINES = 120
INGREDIENT, PREPARATION = "i", "p"

_BOX = re.compile(r"^line-(\d{1,3})-(?:what|amount|state|base)$")
_WHAT = re.compile(r"^([ip])(\d{1,15})$")
_OF_LINE = re.compile(r"^Line (\d+)(?: \(.*?\))?: (.*)$", re.DOTALL)


@dataclass
class TypedLine:
    """One row of the form: what stands in its boxes, and what is wrong with them.

    what: "i12" for ingredient 12, "p5" for preparation 5, empty for nothing chosen yet.
    """

    what: str = ""
    amount: str = ""
    state: str = PREPARED
    is_base: bool = False
    is_focus: bool = False
    errors: dict[str, str] = field(default_factory=dict)

    @property
    def is_blank(self) -> bool:
        """Nothing was put into it: such a row is passed over."""
        return not self.what and not self.amount.strip()

    @property
    def is_unfinished(self) -> bool:
        """One of its boxes is still empty."""
        return not self.what or not self.amount.strip()

    @property
    def ingredient_id(self) -> int | None:
        """The ingredient chosen, None when it is a preparation or nothing."""
        return self._id(INGREDIENT)

    @property
    def recipe_id(self) -> int | None:
        """The preparation chosen, None when it is an ingredient or nothing."""
        return self._id(PREPARATION)

    def _id(self, sort: str) -> int | None:
        found = _WHAT.match(self.what)
        return int(found[2]) if found and found[1] == sort else None

    def read(self) -> LineInput | None:
        """The line as sums take it; None, with sentences in `errors`, when it cannot be read."""
        self.errors = {}
        if _WHAT.match(self.what) is None:
            self.errors["what"] = "Choose what this is, or empty the line."
        amount = None
        if not self.amount.strip():
            self.errors["amount"] = "How much? Type it such as 8,1 kg, 90 % or 8 each."
        else:
            try:
                amount = read_amount(self.amount, default_unit="kg")
            except UnitsError as problem:
                self.errors["amount"] = str(problem)
        if amount is None or self.errors:
            return None
        return LineInput(
            amount=amount.quantity,
            unit=amount.unit,
            ingredient_id=self.ingredient_id,
            recipe_id=self.recipe_id,
            state=self.state,
            is_base=self.is_base,
        )


class TypedLines:
    """All rows of the form, in their order."""

    def __init__(self, rows: Iterable[TypedLine]) -> None:
        self.rows = list(rows)
        self.faults: list[str] = []
        self._read: list[tuple[int, LineInput]] = []

    @classmethod
    def posted(cls, data: Mapping[str, Any]) -> "TypedLines":
        """The rows of a posted form. Numbers may have gaps: a row may have been taken out."""
        numbers = sorted({int(found[1]) for name in data if (found := _BOX.match(name))})
        return cls(_posted_row(data, number) for number in numbers[:MOST_LINES])

    @classmethod
    def stored(cls, lines: Iterable[RecipeLine]) -> "TypedLines":
        """The rows of a saved version, written as they would be typed."""
        return cls(_stored_row(line) for line in lines)

    def read(self) -> list[LineInput]:
        """Every row that can be read; sentences stand at the others."""
        self._read = []
        for place, row in enumerate(self.rows):
            if row.is_blank:
                row.errors = {}
                continue
            line = row.read()
            if line is not None:
                self._read.append((place, line))
        return [line for _, line in self._read]

    @property
    def is_readable(self) -> bool:
        """Whether no row has a mistake."""
        return not any(row.errors for row in self.rows) and not self.faults

    @property
    def is_clear(self) -> bool:
        """Whether all that was typed is understood, though a row may not be finished yet."""
        return not any(row.errors and not row.is_unfinished for row in self.rows)

    def forget_mistakes(self) -> None:
        """Nobody asked yet whether it is right."""
        for row in self.rows:
            row.errors = {}

    def add(self) -> None:
        """One more empty row, ready to be filled in."""
        if len(self.rows) < MOST_LINES:
            self.rows.append(TypedLine(is_focus=True))

    def take_out(self, place: int) -> None:
        """Drop one row; the next one is where the hand goes on."""
        if 0 <= place < len(self.rows):
            del self.rows[place]
        if self.rows:
            self.rows[min(place, len(self.rows) - 1)].is_focus = True

    def blame(self, sentence: str) -> None:
        """Put a sentence of a service at the row it names ("Line 2 (Sugar): ..."), or at all."""
        found = _OF_LINE.match(sentence)
        place = int(found[1]) - 1 if found else -1
        if found and 0 <= place < len(self._read):
            told = found[2]
            self.rows[self._read[place][0]].errors["amount"] = told[:1].upper() + told[1:]
        else:
            self.faults.append(sentence)

    def mistakes(self) -> list[Mistake]:
        """Every sentence with the box it leads to."""
        found = [Mistake(sentence=fault, label="Lines", anchor="lines") for fault in self.faults]
        for place, row in enumerate(self.rows):
            found += [
                Mistake(sentence=told, label=f"Line {place + 1}", anchor=f"line-{place}-{box}")
                for box, told in row.errors.items()
            ]
        return found


def _posted_row(data: Mapping[str, Any], number: int) -> TypedLine:
    def box(name: str) -> str:
        return str(data.get(f"line-{number}-{name}") or "").replace("\x00", "").strip()[:200]

    return TypedLine(
        what=box("what"),
        amount=box("amount"),
        state=AS_PURCHASED if box("state") == AS_PURCHASED else PREPARED,
        is_base=bool(box("base")),
    )


def _stored_row(line: RecipeLine) -> TypedLine:
    sort, pk = (
        (PREPARATION, line.preparation_id)
        if line.ingredient_id is None
        else (INGREDIENT, line.ingredient_id)
    )
    return TypedLine(
        what=f"{sort}{pk}",
        amount=amount_as_typed(line.amount, line.unit),
        state=line.state,
        is_base=line.is_base,
    )


def amount_as_typed(amount: Decimal, unit: str) -> str:
    """An amount as somebody would type it.

    >>> amount_as_typed(Decimal("8.10000"), "kg")
    '8.1 kg'
    """
    return f"{as_typed(amount)} {unit}"
