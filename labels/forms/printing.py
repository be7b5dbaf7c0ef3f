"""The forms of one print run and of a sheet that the kitchen describes itself."""

from collections.abc import Sequence
from typing import Any

from django import forms

from costing.forms.fields import (
    AmountField,
    Chapter,
    DayField,
    Line,
    form_layout,
    side_by_side,
)
from labels import law
from labels.services.comparison import WAYS_OF_SALE
from labels.stock import LabelSheet

MOST_COPIES = 5000


class UsualChoiceField(forms.ChoiceField):
    """A choice that always stands at something: a page that does not send it means the usual."""

    def clean(self, value: Any) -> str:
        """Nothing sent stays empty, which the order reads as what is usual."""
        return super().clean(value) if value else ""


class OrderForm(forms.Form):
    """Which batch the label is for, and which paper."""

    made_on = DayField(label="Made on")
    lot = forms.CharField(
        label="Lot",
        max_length=40,
        required=False,
        help_text="Empty: made from the letters of the design and the day.",
    )
    best_before = DayField(
        label="Best before",
        required=False,
        help_text="Empty: the day it was made plus the design's shelf life.",
    )
    law_on = DayField(label="Law as on")
    market = UsualChoiceField(
        label="Sold in", choices=[(market.code, market.name) for market in law.MARKETS]
    )
    way_of_sale = UsualChoiceField(
        label="Sold how",
        choices=WAYS_OF_SALE,
        help_text="The same jar may need two labels: one for your stall, one for a shop.",
    )
    sheet = forms.ChoiceField(label="Label sheet")

    helper: Any = None

    def __init__(self, *args: Any, sheets: Sequence[LabelSheet] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["sheet"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [(sheet.code, sheet.name) for sheet in sheets]
        self.by_code = {sheet.code: sheet for sheet in sheets}
        self.helper = self.lines()

    def lines(self) -> Any:
        """The lines of the form, in the order they are filled in."""
        return form_layout(
            side_by_side(Line("made_on", short=True), Line("best_before", short=True)),
            side_by_side(Line("lot", short=True), Line("law_on", short=True)),
            side_by_side(Line("market", short=True), Line("way_of_sale", short=True)),
            Line("sheet"),
        )

    def clean(self) -> dict[str, Any]:
        """A food cannot be best before the day it was made."""
        data = super().clean() or {}
        made_on, best_before = data.get("made_on"), data.get("best_before")
        if made_on and best_before and best_before <= made_on:
            self.add_error("best_before", "This must be later than the day it was made.")
        return data

    @property
    def label_sheet(self) -> LabelSheet:
        """The chosen sheet as geometry."""
        return self.by_code[self.cleaned_data["sheet"]]


class PrintForm(OrderForm):
    """How many, from which label of the sheet on, and by how much the printer misses."""

    copies = forms.IntegerField(
        label="How many labels",
        min_value=1,
        max_value=MOST_COPIES,
        error_messages={"max_value": f"At most {MOST_COPIES} at a time; print the rest after."},
    )
    start_at = forms.IntegerField(
        label="First free label on the sheet",
        min_value=1,
        help_text="Where the last run on such a sheet stopped; a new sheet starts at 1. "
        "Count along the rows, as one reads.",
    )
    offset_x_mm = AmountField(
        label="Printer prints too far left by", least=-10, most=10, places=1, required=False
    )
    offset_y_mm = AmountField(
        label="Printer prints too high by", least=-10, most=10, places=1, required=False
    )

    def lines(self) -> Any:
        """Batch first, then the sheet, then the printer's own error."""
        return form_layout(
            Chapter(
                "The batch",
                side_by_side(Line("made_on", short=True), Line("best_before", short=True)),
                side_by_side(Line("lot", short=True), Line("law_on", short=True)),
                side_by_side(Line("market", short=True), Line("way_of_sale", short=True)),
            ),
            Chapter(
                "The sheet",
                Line("sheet"),
                side_by_side(Line("copies", short=True), Line("start_at", short=True)),
            ),
            self.printer(),
        )

    def printer(self) -> Any:
        """By how much the printer misses: folded away, for it is measured once."""
        return Chapter(
            "The printer",
            side_by_side(Line("offset_x_mm", unit="mm"), Line("offset_y_mm", unit="mm")),
            lead="Print the test page on plain paper, hold it against a sheet of labels and "
            "measure. In the printer's own window choose 100 %, not “fit to page”.",
            opens=True,
        )

    def clean(self) -> dict[str, Any]:
        """The first free label must be on the sheet."""
        data = super().clean()
        sheet = self.by_code.get(data.get("sheet", ""))
        start_at = data.get("start_at")
        if sheet and start_at and start_at > sheet.per_page:
            self.add_error(
                "start_at", f"This sheet has {sheet.per_page} labels; there is no {start_at}."
            )
        return data


class BatchPrintForm(PrintForm):
    """Labels of one finished batch: its lot and its days are fixed, so they are not asked for."""

    made_on = None  # type: ignore[assignment]
    lot = None  # type: ignore[assignment]
    best_before = None  # type: ignore[assignment]
    batch = forms.IntegerField(widget=forms.HiddenInput)

    def lines(self) -> Any:
        """The sheet first: what is printed is settled."""
        sheet = Chapter(
            "The sheet",
            Line("sheet"),
            side_by_side(Line("copies", short=True), Line("start_at", short=True)),
            Line("law_on", short=True),
            side_by_side(Line("market", short=True), Line("way_of_sale", short=True)),
        )
        return form_layout("batch", sheet, self.printer())


class SheetForm(forms.Form):
    """A sheet of labels, by numbers measured with a ruler."""

    name = forms.CharField(label="Name", max_length=60)
    page_width_mm = AmountField(label="Page width", above=0, most=1200, places=2)
    page_height_mm = AmountField(label="Page height", above=0, most=1200, places=2)
    columns = forms.IntegerField(label="Labels across", min_value=1, max_value=100)
    rows = forms.IntegerField(label="Labels down", min_value=1, max_value=100)
    label_width_mm = AmountField(label="Label width", above=0, most=1200, places=2)
    label_height_mm = AmountField(label="Label height", above=0, most=1200, places=2)
    margin_left_mm = AmountField(label="Left margin", least=0, most=1200, places=2)
    margin_top_mm = AmountField(label="Top margin", least=0, most=1200, places=2)
    pitch_x_mm = AmountField(
        label="Step across",
        above=0,
        most=1200,
        places=2,
        help_text="From the left edge of one label to the left edge of the next.",
    )
    pitch_y_mm = AmountField(
        label="Step down",
        above=0,
        most=1200,
        places=2,
        help_text="From the top edge of one label to the top edge of the next.",
    )
    corner_radius_mm = AmountField(
        label="Corner radius", least=0, most=100, places=2, required=False
    )

    helper = form_layout(
        Line("name"),
        side_by_side(Line("page_width_mm", unit="mm"), Line("page_height_mm", unit="mm")),
        side_by_side(Line("columns", short=True), Line("rows", short=True)),
        side_by_side(Line("label_width_mm", unit="mm"), Line("label_height_mm", unit="mm")),
        side_by_side(Line("margin_left_mm", unit="mm"), Line("margin_top_mm", unit="mm")),
        side_by_side(Line("pitch_x_mm", unit="mm"), Line("pitch_y_mm", unit="mm")),
        Line("corner_radius_mm", unit="mm"),
    )

    def clean_corner_radius_mm(self) -> Any:
        """Square corners unless a radius is given."""
        return self.cleaned_data["corner_radius_mm"] or 0
