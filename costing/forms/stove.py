"""What is typed beside the pan and is not a reading of it."""

from django import forms

from costing.forms.fields import AmountField


class PhForm(forms.Form):
    """The pH of the finished, cooled food."""

    ph = AmountField(
        label="pH", least=1, most=9, places=2,
        error_messages={"required": "Type what the meter shows, then press the button."},
    )  # fmt: skip
