"""The form of a run of weighed pieces: which pan, what a kilo costs, and the weights."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms

from costing.forms.fields import AmountField, Chapter, DayField, Line, form_layout, side_by_side
from costing.models import Batch
from labels import law
from labels.services.comparison import WAYS_OF_SALE
from labels.services.weights import read_weights
from labels.stock import LabelSheet

__all__ = ["WeighedForm"]

_SHOWN_FAULTS = 8


class WeighedForm(forms.Form):
    """Weights one a line, with what they are weighed in and what is taken off each."""

    batch = forms.ChoiceField(label="Lot", help_text="A finished pan of this recipe.")
    price_per_kg = AmountField(
        label="Price of a kilo",
        above=0,
        most=100000,
        places=4,
        help_text="With tax, as the buyer pays it. If you change it, that is kept with your name.",
    )
    weights = forms.CharField(
        label="Weights",
        widget=forms.Textarea(attrs={"rows": 10, "inputmode": "text", "spellcheck": "false"}),
        max_length=100_000,
        help_text="One a line, typed or pasted: 124, 0.124 kg or 0,124 kg.",
    )
    unit = forms.ChoiceField(
        label="A line without a unit is in",
        choices=(("g", "g"), ("kg", "kg")),
        initial="g",
        required=False,
    )
    tare_g = AmountField(
        label="Tare, taken off each",
        least=0,
        most=5000,
        places=1,
        required=False,
        help_text="Paper, tray or bag that stood on the scale too.",
    )
    is_more_than_left = forms.BooleanField(
        label="Print them all the same: the weights are right", required=False
    )
    law_on = DayField(label="Law as on")
    market = forms.ChoiceField(
        label="Sold in", choices=[(market.code, market.name) for market in law.MARKETS]
    )
    way_of_sale = forms.ChoiceField(label="Sold how", choices=WAYS_OF_SALE, required=False)
    sheet = forms.ChoiceField(label="Label sheet")
    start_at = forms.IntegerField(label="First free label on the sheet", min_value=1)

    helper: Any = None

    def __init__(
        self,
        *args: Any,
        sheets: Sequence[LabelSheet] = (),
        batches: Sequence[Batch] = (),
        currency: str = "",
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.by_code = {sheet.code: sheet for sheet in sheets}
        self.by_pk = {str(batch.pk): batch for batch in batches}
        self.asks_about_more = bool(self.data.get("is_more_than_left"))
        self._choose("sheet", [(sheet.code, sheet.name) for sheet in sheets])
        self._choose("batch", [(pk, f"{batch.lot}, {batch.made_on:%-d %B %Y}")
                               for pk, batch in self.by_pk.items()])  # fmt: skip
        self.helper = self._lines(currency)

    def _choose(self, name: str, choices: list[tuple[str, str]]) -> None:
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = choices

    def _lines(self, currency: str) -> Any:
        return form_layout(
            Chapter(
                "The pieces",
                side_by_side(
                    Line("batch", short=True),
                    Line("price_per_kg", unit=f"{currency} / kg"),
                ),
                Line("weights"),
                side_by_side(Line("unit", short=True), Line("tare_g", unit="g")),
            ),
            Chapter(
                "The sheet",
                Line("sheet"),
                Line("start_at", short=True),
            ),
            Chapter(
                "Market and day",
                side_by_side(Line("market", short=True), Line("way_of_sale", short=True)),
                Line("law_on", short=True),
                opens=True,
            ),
        )

    def ask_about_more(self) -> None:
        """Put the box in the form that says the weights are right although there are too many."""
        self.helper.layout.fields.insert(0, Line("is_more_than_left"))

    def clean(self) -> dict[str, Any]:
        """Every weight must be one, and the first free label must be on the sheet."""
        data = super().clean() or {}
        if data.get("weights"):
            unit, tare_g = data.get("unit") or "g", data.get("tare_g") or Decimal(0)
            data["net_g"], faults = read_weights(data["weights"], unit=unit, tare_g=tare_g)
            for fault in faults[:_SHOWN_FAULTS]:
                self.add_error("weights", fault.sentence)
            if len(faults) > _SHOWN_FAULTS:
                self.add_error("weights", f"And {len(faults) - _SHOWN_FAULTS} more lines.")
            elif not faults and not data["net_g"]:
                self.add_error("weights", "There is no weight in it. Type one a line.")
        sheet, start_at = self.by_code.get(data.get("sheet", "")), data.get("start_at")
        if sheet and start_at and start_at > sheet.per_page:
            self.add_error(
                "start_at", f"This sheet has {sheet.per_page} labels; there is no {start_at}."
            )
        return data

    @property
    def label_sheet(self) -> LabelSheet:
        """The chosen sheet as geometry."""
        return self.by_code[self.cleaned_data["sheet"]]

    @property
    def chosen_batch(self) -> Batch:
        """The chosen pan."""
        return self.by_pk[self.cleaned_data["batch"]]
