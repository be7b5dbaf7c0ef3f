"""Suppliers and prices as typed."""

from datetime import date
from decimal import Decimal
from typing import Any

from crispy_forms.layout import Div
from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import (
    AmountField,
    Chapter,
    DayField,
    Line,
    form_layout,
    side_by_side,
)
from costing.models import Kitchen, Supplier, SupplierPrice
from costing.services.purchases import PriceEntry
from costing.units import UnitsError, read_pack

NEW = "new"
WITHOUT, WITH = "without", "with"
MOST_MONEY = 99_999_999


class SupplierForm(forms.Form):
    """Who sells to the kitchen."""

    name = forms.CharField(label="Name", max_length=80)
    contact = forms.CharField(
        label="How to reach them", max_length=300, required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Telephone, the person to ask for. You will want it if there is a recall.",
    )  # fmt: skip
    minimum_order = AmountField(
        label="Smallest order", required=False, least=0, most=MOST_MONEY, places=2
    )
    delivery_charge = AmountField(
        label="Delivery", required=False, least=0, most=MOST_MONEY, places=2,
        help_text="What they charge an order. 0 if they bring it free, or you collect.",
    )  # fmt: skip
    is_archived = forms.BooleanField(label="I no longer buy from them", required=False)

    def __init__(
        self, data: Any = None, *, kitchen: Kitchen, supplier: Supplier | None = None
    ) -> None:
        subject = supplier or Supplier()
        super().__init__(data, initial={name: getattr(subject, name) for name in self.base_fields})
        if supplier is None:
            del self.fields["is_archived"]
        last = [] if supplier is None else [Line("is_archived")]
        self.helper = form_layout(
            Line("name"),
            Line("contact"),
            side_by_side(
                Line("minimum_order", unit=kitchen.currency),
                Line("delivery_charge", unit=kitchen.currency),
            ),
            *last,
        )


class PriceForm(forms.Form):
    """A price as the supplier writes it: a pack, what it costs, from which day."""

    supplier = forms.ChoiceField(label="Supplier")
    new_supplier = forms.CharField(label="Name of the new supplier", max_length=80, required=False)
    pack_text = forms.CharField(
        label="A pack is",
        max_length=60,
        help_text="As on the price list: 25 kg, 6 x 1 kg, 40 each, 5 l, 1 crate of 10 kg.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    pack_price = AmountField(label="It costs", least=0, most=MOST_MONEY, places=4)
    tax = forms.ChoiceField(
        label="This price is",
        choices=[(WITHOUT, "without tax"), (WITH, "with tax")],
        widget=forms.RadioSelect,
    )
    tax_pct = AmountField(label="Tax rate", required=False, least=0, most=100, places=2)
    tax_recoverable_pct = AmountField(
        label="Of that you get back", required=False, least=0, most=100, places=2
    )
    delivery_per_pack = AmountField(
        label="Delivery, for each pack", required=False, least=0, most=MOST_MONEY, places=4,
        help_text="Its share of what the delivery costs, with or without tax as the price is.",
    )  # fmt: skip
    valid_from = DayField(label="From")
    note = forms.CharField(label="Note", max_length=200, required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        kitchen: Kitchen,
        suppliers: list[Supplier],
        on: date,
        usual: int | None = None,
    ) -> None:
        super().__init__(data, initial=_usual(kitchen, on=on, supplier=usual))
        self.by_id = {str(supplier.pk): supplier for supplier in suppliers}
        names = [(pk, supplier.name) for pk, supplier in self.by_id.items()]
        self.fields["supplier"].choices = [*names, (NEW, "A new supplier")]  # type: ignore[attr-defined]
        if not names:
            self.fields["supplier"].initial = self.initial["supplier"] = NEW
            self.fields["supplier"].widget = forms.HiddenInput()
            self.fields["new_supplier"].label = "Supplier"
        self.helper = _price_layout(kitchen, has_suppliers=bool(names))

    def clean_pack_text(self) -> str:
        """Say at once when a pack cannot be read, whatever else is amiss."""
        typed = str(self.cleaned_data["pack_text"])
        try:
            read_pack(typed)
        except UnitsError as problem:
            raise ValidationError(str(problem), code="not_read") from problem
        return typed

    def clean(self) -> dict[str, Any]:
        """A new supplier needs a name; a price with tax needs its rate when some comes back."""
        data = super().clean() or {}
        if data.get("supplier") == NEW and not data.get("new_supplier"):
            self.add_error("new_supplier", "What is the supplier called?")
        self._ask_for_the_rate(data)
        return data

    def _ask_for_the_rate(self, data: dict[str, Any]) -> None:
        """An unknown rate is not nought where it changes what the kitchen pays."""
        if data.get("tax_pct") is not None or "tax_pct" in self.errors:
            return
        gets_back = data.get("tax_recoverable_pct") or Decimal(0)
        if data.get("tax") == WITH and gets_back > 0:
            self.add_error(
                "tax_pct", "Which rate of tax is in this price? It stands on the invoice."
            )
        if data.get("tax") == WITHOUT and gets_back < 100:
            self.add_error(
                "tax_pct",
                "Which rate of tax comes on top? You do not get all of it back, so it is part of "
                "what a kilo costs. Type 0 if there is none.",
            )

    def entry(self) -> PriceEntry:
        """The price as the sums take it. Call after validation."""
        data = self.cleaned_data
        nothing = Decimal(0)
        return PriceEntry(
            pack_text=data["pack_text"],
            pack_price=data["pack_price"],
            valid_from=data["valid_from"],
            price_includes_tax=data["tax"] == WITH,
            tax_pct=data.get("tax_pct") or nothing,
            tax_recoverable_pct=data.get("tax_recoverable_pct") or nothing,
            delivery_per_pack=data.get("delivery_per_pack") or nothing,
            note=data.get("note", ""),
        )


def _usual(kitchen: Kitchen, *, on: date, supplier: int | None) -> dict[str, Any]:
    """A registered kitchen reads prices without tax; for others the tax is part of the price."""
    is_registered = kitchen.is_tax_registered
    return {
        "supplier": str(supplier) if supplier else "",
        "tax": WITHOUT if is_registered else WITH,
        "tax_recoverable_pct": kitchen.tax_recoverable_pct if is_registered else Decimal(0),
        "valid_from": on,
    }


def _price_layout(kitchen: Kitchen, *, has_suppliers: bool) -> Any:
    new = Line("new_supplier", silent=True)
    who = (
        [Line("supplier"), Div(new, css_class="only-if-new")]
        if has_suppliers
        else ["supplier", new]
    )
    return form_layout(
        *who,
        side_by_side(Line("pack_text"), Line("pack_price", unit=kitchen.currency)),
        Line("tax"),
        Line("valid_from", short=True),
        Chapter(
            "Tax, delivery, note",
            side_by_side(Line("tax_pct", unit="%"), Line("tax_recoverable_pct", unit="%")),
            Line("delivery_per_pack", unit=kitchen.currency),
            Line("note"),
            opens=True,
        ),
    )


class VoidForm(forms.Form):
    """Why a recorded price was wrong."""

    reason = forms.CharField(
        label="What was wrong with it?",
        max_length=200,
        help_text="It stays in the history, struck through, with this reason.",
    )
    helper = form_layout(Line("reason"))


def usual_supplier(history: list[SupplierPrice]) -> int | None:
    """Whom this was bought from last; prices that were mistakes do not count."""
    return next((price.supplier_id for price in history if price.voided_at is None), None)
