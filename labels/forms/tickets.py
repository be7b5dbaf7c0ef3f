"""The form of price tickets: which products, how many, where they stand, on which sheet."""

from collections.abc import Sequence
from typing import Any

from django import forms

from costing.forms.fields import DayField, Line, form_layout, side_by_side
from costing.models import Product
from labels import law
from labels.services.tickets import TicketWish
from labels.stock import LabelSheet

__all__ = ["PLACES", "TicketForm"]

PLACES = (
    ("stall", "A stall"),
    ("small shop", "A small shop"),
    ("shop", "A larger shop"),
)
_MOST = 100


class TicketForm(forms.Form):
    """Where and when, and for each product how many tickets and whether it is sold loose."""

    market = forms.ChoiceField(
        label="Sold in", choices=[(market.code, market.name) for market in law.MARKETS]
    )
    place = forms.ChoiceField(label="Where it stands", choices=PLACES)
    sheet = forms.ChoiceField(label="Sheet")
    start_at = forms.IntegerField(label="First free label on the sheet", min_value=1)
    law_on = DayField(label="Law as on")

    def __init__(
        self,
        *args: Any,
        sheets: Sequence[LabelSheet] = (),
        products: Sequence[Product] = (),
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.by_code = {sheet.code: sheet for sheet in sheets}
        self.products = list(products)
        field = self.fields["sheet"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [(sheet.code, sheet.name) for sheet in sheets]
        for product in self.products:
            self.fields[f"copies_{product.pk}"] = forms.IntegerField(
                label=f"Tickets of {product.name}",
                min_value=0,
                max_value=_MOST,
                required=False,
                widget=forms.NumberInput(attrs={"inputmode": "numeric", "class": "box-short"}),
            )
            self.fields[f"loose_{product.pk}"] = forms.BooleanField(
                label=f"{product.name} is sold loose", required=False
            )
        self.helper = form_layout(
            side_by_side(Line("market", short=True), Line("place", short=True)),
            side_by_side(Line("sheet"), Line("start_at", short=True)),
            Line("law_on", short=True),
        )

    @property
    def rows(self) -> list[dict[str, Any]]:
        """Each product with its two boxes."""
        return [
            {
                "product": product,
                "copies": self[f"copies_{product.pk}"],
                "loose": self[f"loose_{product.pk}"],
            }
            for product in self.products
        ]

    def clean(self) -> dict[str, Any]:
        """At least one ticket, and a first free label that is on the sheet."""
        data = super().clean() or {}
        sheet, start_at = self.by_code.get(data.get("sheet", "")), data.get("start_at")
        if sheet and start_at and start_at > sheet.per_page:
            self.add_error(
                "start_at", f"This sheet has {sheet.per_page} labels; there is no {start_at}."
            )
        if not self.errors and not self.wishes:
            self.add_error(None, "Nothing is chosen: type how many tickets beside a product.")
        return data

    @property
    def wishes(self) -> list[TicketWish]:
        """The products of which a ticket is wanted."""
        data = self.cleaned_data
        return [
            TicketWish(product, data[f"copies_{product.pk}"], data[f"loose_{product.pk}"])
            for product in self.products
            if data.get(f"copies_{product.pk}")
        ]

    @property
    def label_sheet(self) -> LabelSheet:
        """The chosen sheet as geometry."""
        return self.by_code[self.cleaned_data["sheet"]]
