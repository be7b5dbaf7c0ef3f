"""The form in which the maker says why what is missing of a trace counts as nothing."""

from typing import Any

from django import forms

from costing.forms.fields import Line, form_layout


class TraceForm(forms.Form):
    """A reason that somebody else can follow in a year."""

    reason = forms.CharField(
        label="Why it counts as nothing",
        max_length=200,
        help_text="Such as: “Ground mace, 4 g in a pan of 9 kg; even pure it would bring 0.04 g in "
        "100 g.”",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = form_layout(Line("reason"))
