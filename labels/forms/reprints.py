"""The forms of printing an old label again, and of asking where something went."""

from collections.abc import Sequence
from typing import Any

from django import forms

from costing.forms.fields import AmountField, Line, form_layout, side_by_side
from labels.forms.printing import MOST_COPIES


class ReprintForm(forms.Form):
    """How often, where on the sheet, and why."""

    copies = forms.IntegerField(
        label="How many labels",
        min_value=1,
        max_value=MOST_COPIES,
        error_messages={"max_value": f"At most {MOST_COPIES} at a time; print the rest after."},
    )
    start_at = forms.IntegerField(label="First free label on the sheet", min_value=1)
    offset_x_mm = AmountField(
        label="Printer prints too far left by", least=-10, most=10, places=1, required=False
    )
    offset_y_mm = AmountField(
        label="Printer prints too high by", least=-10, most=10, places=1, required=False
    )
    reason = forms.CharField(
        label="Why it is printed again",
        max_length=300,
        required=False,
        help_text="Asked for where the label is superseded, and kept with the print run.",
    )

    helper = form_layout(
        side_by_side(Line("copies", short=True), Line("start_at", short=True)),
        Line("reason", silent=True),
        side_by_side(Line("offset_x_mm", unit="mm"), Line("offset_y_mm", unit="mm")),
    )

    def __init__(self, *args: Any, per_page: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.per_page = per_page

    def clean_start_at(self) -> int:
        """The first free label must be on the sheet."""
        start_at = int(self.cleaned_data["start_at"])
        if start_at > self.per_page:
            raise forms.ValidationError(
                f"This sheet has {self.per_page} labels; there is no {start_at}."
            )
        return start_at


class WhereForm(forms.Form):
    """An ingredient, or a lot: of a supplier's delivery or of the kitchen's own."""

    ingredient = forms.ChoiceField(label="Ingredient", required=False)
    lot = forms.CharField(
        label="Lot",
        max_length=60,
        required=False,
        help_text="The supplier’s, or one of your own.",
    )

    helper = form_layout(side_by_side(Line("ingredient"), Line("lot", short=True)))

    def __init__(self, *args: Any, ingredients: Sequence[tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["ingredient"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [("", "any"), *ingredients]
