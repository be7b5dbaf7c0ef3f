"""What really goes in, line by line: weighed, from whom or from which own batch, at what Brix."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import AmountField, Line, as_typed, form_layout
from costing.forms.stock_left import Taking, overdrawn
from costing.models import Ingredient, Supplier
from costing.selectors.cook_lines import Stock
from costing.services.batches import InputGiven
from costing.units import MASS, UnitsError, read_amount, to_grams

MOST_G = 999_000
MOST_BRIX = 95
_FAR_TOO_LITTLE = Decimal(100)
"""So many times less than planned is kilos typed where grams are meant."""


class MassField(forms.CharField):
    """A weight in grams, or with its unit: 180; 8,1 kg. 0 says that none went in."""

    def __init__(self, **options: Any) -> None:
        super().__init__(required=False, max_length=20, **options)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """No help from the browser's memory; letters may be typed for the unit."""
        return {**super().widget_attrs(widget), "autocomplete": "off"}

    def to_python(self, value: Any) -> Any:
        """Grams, or None for an empty box."""
        text = str(super().to_python(value) or "").strip()
        if not text:
            return None
        if text == "0":
            return Decimal(0)
        try:
            amount = read_amount(text, default_unit="g")
            if amount.dimension != MASS:
                raise ValidationError("Type a weight here, such as 180 or 8,1 kg.")
            grams = to_grams(amount.quantity, unit=amount.unit, name="it")
        except UnitsError as problem:
            raise ValidationError(str(problem)) from problem
        if grams > MOST_G:
            raise ValidationError(
                f"{text} is more than any pan here. Check the zeros and the unit."
            )
        return grams.quantize(Decimal("0.001"))

    def run_validators(self, value: Any) -> None:
        """Text validators do not apply to a weight."""

    def prepare_value(self, value: Any) -> Any:
        """Stored grams as they would be typed."""
        return as_typed(value) if isinstance(value, Decimal) else value


@dataclass(frozen=True)
class LineToFill:
    """A line of the plan, or one of its parts, and what it can be filled from.

    planned: in words. part: 1, 2 ... for another lot of the same line; is_more: nothing is put
    down of it yet. ingredient: only for what stands beside the plan or in place of a line.
    """

    position: int
    name: str
    planned: str = ""
    part: int = 0
    is_more: bool = False
    note: str = ""
    suppliers: tuple[Supplier, ...] = ()
    sources: tuple[Stock, ...] = ()
    is_bought: bool = True
    takes_brix: bool = True
    ingredient: Ingredient | None = None

    @property
    def key(self) -> str:
        """What its boxes are called by."""
        return f"{self.position}-{self.part}"


@dataclass(frozen=True)
class LineRow:
    """A line with its boxes, for the page."""

    line: LineToFill
    weighed: forms.BoundField
    supplier: forms.BoundField | None
    lot: forms.BoundField | None
    source: forms.BoundField | None
    brix: forms.BoundField | None
    hand: forms.BoundField | None

    @property
    def has_errors(self) -> bool:
        """Whether one of its boxes has to be mended."""
        return any(box.errors for box in self.boxes)

    @property
    def boxes(self) -> list[forms.BoundField]:
        """Those that there are, in the order they are filled."""
        every = (self.weighed, self.source, self.supplier, self.lot, self.brix)
        return [box for box in every if box is not None]


class LinesForm(forms.Form):
    """A row of boxes for each line; all of them may stay empty."""

    def __init__(
        self,
        data: Any = None,
        *,
        lines: Sequence[LineToFill],
        initial: dict[str, Any] | None = None,
        asks_in_hand: bool = False,
    ) -> None:
        super().__init__(data, initial=initial)
        self.lines = tuple(lines)
        self.is_asked_again = False
        self.fields["looked_again"] = forms.BooleanField(
            label="I looked again: it is right as typed", required=False
        )
        self.again = form_layout(Line("looked_again"))
        for line in self.lines:
            self._add(line)
            if asks_in_hand:
                self.fields[f"hand-{line.key}"] = MassField(label=line.name)

    def _add(self, line: LineToFill) -> None:
        fields, key = self.fields, line.key
        fields[f"weighed-{key}"] = MassField(label="Weighed, g")
        if line.sources:
            fields[f"source-{key}"] = forms.ChoiceField(
                label="From our batch", required=False, choices=_sources(line.sources)
            )
        if line.suppliers:
            named = [(str(one.pk), one.name) for one in line.suppliers]
            fields[f"supplier-{key}"] = forms.ChoiceField(
                label="From", required=False, choices=[("", "Not noted"), *named]
            )
        if line.is_bought:
            fields[f"lot-{key}"] = forms.CharField(
                label="Supplier’s lot", required=False, max_length=60
            )
        if line.takes_brix:
            fields[f"brix-{key}"] = AmountField(
                label="Brix measured", required=False, least=0, most=MOST_BRIX, places=2
            )

    def ask_about_kilos(self, planned_g: Mapping[int, Decimal]) -> None:
        """A weight a hundred times too small is kilos in a box for grams: put the question there.

        planned_g: by position of the line. Call it when the form was found valid.
        """
        for line in self.lines:
            weighed_g, meant_g = self._got("weighed", line), planned_g.get(line.position)
            if weighed_g and meant_g and weighed_g * _FAR_TOO_LITTLE < meant_g:
                self.add_error(
                    f"weighed-{line.key}",
                    f"{line.name}: {weighed_g.normalize():f} g, where {meant_g:.0f} g are planned?"
                    " If these are kilos, type kg behind the figure.",
                )

    def ask_about_stock(self, planned_g: Mapping[int, Decimal]) -> None:
        """More of an own batch than is left of it is asked about until it was looked at again.

        planned_g: by position of the line. Call it when the form was found valid.
        """
        left_g = {one.batch.pk: one.left_g for line in self.lines for one in line.sources}
        asked = overdrawn(self._takings(planned_g), left_g=left_g)
        self.is_asked_again = bool(asked)
        if self.is_asked_again and not self.cleaned_data.get("looked_again"):
            for key, sentence in asked.items():
                self.add_error(f"weighed-{key}", sentence)

    def _takings(self, planned_g: Mapping[int, Decimal]) -> list[Taking]:
        takings = []
        for line in self.lines:
            source = _found(line.sources, self._got("source", line))
            weighed_g = self._got("weighed", line)
            meant_g = planned_g.get(line.position, Decimal(0)) if line.part == 0 else Decimal(0)
            if source is not None:
                taking = Taking(
                    line.key,
                    source,
                    meant_g if weighed_g is None else weighed_g,
                    is_typed=weighed_g is not None,
                    is_new=bool({f"weighed-{line.key}", f"source-{line.key}"} & self._changed),
                )
                takings.append(taking)
        return takings

    @property
    def _changed(self) -> set[str]:
        return set(self.changed_data)

    @property
    def rows(self) -> list[LineRow]:
        """The lines with their boxes."""

        def box(word: str, line: LineToFill) -> forms.BoundField | None:
            name = f"{word}-{line.key}"
            return self[name] if name in self.fields else None

        return [
            LineRow(
                line=line,
                weighed=self[f"weighed-{line.key}"],
                **{word: box(word, line) for word in ("supplier", "lot", "source", "brix", "hand")},
            )
            for line in self.lines
        ]

    @property
    def has_something(self) -> bool:
        """Whether anything was typed or chosen in any box."""
        return any(str(self[name].value() or "").strip() for name in self.fields)

    def in_hand_g(self) -> dict[int, Decimal]:
        """What there is, by position of the line; lines left empty are not in it."""
        found = {line.position: self._got("hand", line) for line in self.lines}
        return {position: grams for position, grams in found.items() if grams is not None}

    def inputs(self, *, with_empty: bool = False) -> list[InputGiven]:
        """What was given, for the service. with_empty: lines left empty too, as planned."""
        given = [one for line in self.lines if (one := self._input(line)) is not None]
        there = {one.position for one in given}
        if with_empty:
            given += [
                InputGiven(position=line.position, ingredient=line.ingredient)
                for line in self.lines
                if line.part == 0 and line.position not in there
            ]
        return given

    def _input(self, line: LineToFill) -> InputGiven | None:
        one = InputGiven(
            position=line.position,
            weighed_g=self._got("weighed", line),
            from_batch=_found(line.sources, self._got("source", line)),
            supplier=_found(line.suppliers, self._got("supplier", line)),
            supplier_lot=self._got("lot", line) or "",
            measured_brix=self._got("brix", line),
            ingredient=line.ingredient,
        )
        return None if one == InputGiven(line.position, ingredient=line.ingredient) else one

    def _got(self, word: str, line: LineToFill) -> Any:
        return getattr(self, "cleaned_data", {}).get(f"{word}-{line.key}")


def _sources(stock: Sequence[Stock]) -> list[tuple[str, str]]:
    """Own batches, oldest first, with what is left of them."""
    named = [
        (str(one.batch.pk), f"{one.batch.lot}, {one.left_g / 1000:.2f} kg left") for one in stock
    ]
    return [("", "Not noted"), *named]


def _found(choices: Sequence[Any], pk: str | None) -> Any:
    """The row that was chosen among those offered."""
    for one in choices:
        row = one.batch if isinstance(one, Stock) else one
        if pk and str(row.pk) == pk:
            return row
    return None
