"""Rows of the page of a finished pan: how many of each product, and what really went in."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError

from costing.forms.fields import AmountField, Mistake, as_typed
from costing.forms.stock_left import Taking, overdrawn
from costing.models import Batch, BatchInput, BatchYield, Product, Supplier
from costing.reckoning.coming_out import Counted
from costing.services.batches import InputGiven, YieldGiven

_COUNT = AmountField(required=False, least=0, most=99_999, places=0)
_KILOS = AmountField(required=False, least=0, most=999, places=6)
_BRIX = AmountField(required=False, least=0, most=95, places=2)
_G_PER_KG = Decimal(1000)
NOT_OFFERED = "Choose one that is offered."
MOST_LOT = 60


@dataclass
class TypedYield:
    """How many of a product came out. before: what stands in the record, where something does."""

    product: Product
    typed: str
    before: BatchYield | None = None
    units: int | None = None
    error: str = ""

    @property
    def name(self) -> str:
        """Of its box."""
        return f"units-{self.product.pk}"

    @property
    def what(self) -> str:
        """For the summary of mistakes."""
        return self.product.name

    @property
    def mass_g(self) -> Decimal:
        """As weighed where the number still is what it was, else each at its fill."""
        if self.before is not None and self.before.units == self.units:
            return self.before.mass_g
        return self.product.fill_g * (self.units or 0)

    @property
    def is_changed(self) -> bool:
        """Whether the number is another than in the record."""
        return (self.units or None) != (self.before.units if self.before else None)


def typed_yields(
    products: Iterable[Product], data: Mapping[str, Any] | None, *, told: Sequence[BatchYield] = ()
) -> list[TypedYield]:
    """A row for each product, read as far as it can be."""
    before = {row.product_id: row for row in told if row.product_id is not None}
    rows = []
    for product in products:
        there = before.get(product.pk)
        stands = "" if there is None or there.units is None else str(there.units)
        row = TypedYield(product, stands, before=there)
        row.typed = row.typed if data is None else data.get(row.name, "")
        try:
            units = _COUNT.clean(row.typed)
        except ValidationError as error:
            row.error = error.messages[0]
        else:
            row.units = None if units is None else int(units)
        rows.append(row)
    return rows


def counted(rows: Iterable[TypedYield]) -> list[Counted]:
    """What was counted, for the sum."""
    return [Counted(row.product.name, row.units, row.mass_g) for row in rows if row.units]


def yields_given(
    rows: Iterable[TypedYield], *, offcuts: Iterable[tuple[str, Decimal]]
) -> list[YieldGiven]:
    """What it became, for the service. offcuts: (what they are, grams)."""
    made = [
        YieldGiven(product=row.product, units=row.units, mass_g=row.mass_g)
        for row in rows
        if row.units
    ]
    return made + [YieldGiven(mass_g, what=what) for what, mass_g in offcuts if mass_g]


@dataclass
class TypedInput:
    """What really went in for one row of a batch, as typed; and what it can come from.

    lot, supplier, source and brix are as in the boxes; suppliers and sources are what is offered.
    left_g: of each source, by its batch.
    """

    row: BatchInput
    key: str
    suppliers: Sequence[Supplier] = ()
    sources: Sequence[Batch] = ()
    takes_brix: bool = False
    left_g: Mapping[int, Decimal] = field(default_factory=dict)
    typed: str = ""
    lot: str = ""
    supplier: str = ""
    source: str = ""
    brix: str = ""
    errors: dict[str, str] = field(default_factory=dict)
    given: InputGiven | None = None

    @property
    def name(self) -> str:
        """Of the box of its weight."""
        return f"weighed-{self.key}"

    @property
    def what(self) -> str:
        """What it is."""
        return str(self.row.ingredient or self.row.preparation)

    @property
    def is_bought(self) -> bool:
        """Bought things have a supplier and a supplier's lot; own preparations have a batch."""
        return self.row.ingredient_id is not None

    @property
    def error(self) -> str:
        """The first thing to mend."""
        return next(iter(self.errors.values()), "")

    @property
    def is_changed(self) -> bool:
        """Whether anything is other than what stands in the record."""
        row, given = self.row, self.given
        return given is not None and (
            given.weighed_g,
            given.supplier and given.supplier.pk,
            given.supplier_lot,
            given.from_batch and given.from_batch.pk,
            given.measured_brix,
        ) != (row.weighed_g, row.supplier_id, row.supplier_lot, row.from_batch_id,
              row.measured_brix)  # fmt: skip

    def read(self, data: Mapping[str, Any] | None) -> None:
        """Fill the boxes from the record or from what was typed, and read them."""
        row = self.row
        stands = {
            "weighed": "" if row.weighed_g is None else as_typed(row.weighed_g / _G_PER_KG),
            "lot": row.supplier_lot,
            "supplier": str(row.supplier_id or ""),
            "source": str(row.from_batch_id or ""),
            "brix": "" if row.measured_brix is None else as_typed(row.measured_brix),
        }
        if data is not None:
            stands |= {
                word: str(data[f"{word}-{self.key}"])
                for word in stands
                if f"{word}-{self.key}" in data
            }
        self.typed, self.lot = stands["weighed"], stands["lot"].strip()[:MOST_LOT]
        self.supplier, self.source, self.brix = (
            stands["supplier"], stands["source"], stands["brix"],
        )  # fmt: skip
        kilos = self._clean("weighed", _KILOS, self.typed)
        brix = self._clean("brix", _BRIX, self.brix)
        supplier = self._chosen("supplier", self.suppliers, self.supplier)
        source = self._chosen("source", self.sources, self.source)
        if not self.errors:
            self.given = InputGiven(
                position=row.position,
                weighed_g=None if kilos is None else round(kilos * _G_PER_KG, 3),
                from_batch=source,
                supplier=supplier,
                supplier_lot=self.lot,
                measured_brix=brix,
                ingredient=row.ingredient,
            )

    def _clean(self, word: str, box: AmountField, typed: str) -> Decimal | None:
        try:
            value: Decimal | None = box.clean(typed)
        except ValidationError as error:
            self.errors[word] = error.messages[0]
            return None
        return value

    def _chosen(self, word: str, offered: Sequence[Any], typed: str) -> Any:
        found = next((one for one in offered if str(one.pk) == typed), None)
        if typed and found is None:
            self.errors[word] = NOT_OFFERED
        return found


def inputs_given(rows: Sequence[TypedInput]) -> list[InputGiven]:
    """For the service: every part of each line of which a part is another than in the record."""
    changed = {row.row.position for row in rows if row.is_changed}
    return [row.given for row in rows if row.given is not None and row.row.position in changed]


def ask_about_stock(rows: Sequence[TypedInput], *, is_looked_at: bool) -> list[str]:
    """More of an own batch than is left of it, put to its box until it was looked at again."""
    left_g = {pk: grams for row in rows for pk, grams in row.left_g.items()}
    asked = overdrawn([one for row in rows for one in _taking(row)], left_g=left_g)
    if is_looked_at:
        return []
    for row in rows:
        if row.key in asked:
            row.errors["weighed"] = asked[row.key]
    return list(dict.fromkeys(asked.values()))


def _taking(row: TypedInput) -> list[Taking]:
    given = row.given
    if given is None or given.from_batch is None:
        return []
    grams = row.row.planned_g or Decimal(0) if given.weighed_g is None else given.weighed_g
    is_typed = given.weighed_g is not None
    return [Taking(row.key, given.from_batch, grams, is_typed=is_typed, is_new=row.is_changed)]


def row_mistakes(*groups: Iterable[TypedYield | TypedInput]) -> list[Mistake]:
    """Every row that cannot be read, for the summary at the top."""
    return [
        Mistake(row.error, row.what, f"id_{row.name}")
        for rows in groups
        for row in rows
        if row.error
    ]
