"""A decision about something the batches taught: pin a figure, forget, count one or leave it."""

from typing import Any

from django import forms

from costing.forms.fields import AmountField, DayField
from costing.services.learning import SUBJECTS

PIN, LET, FORGET, REMEMBER, COUNT, LEAVE, ASK = (
    "pin",
    "let",
    "forget",
    "remember",
    "count",
    "leave",
    "ask",
)
ABOUT_A_BATCH = {COUNT: True, LEAVE: False, ASK: None}
MOST = 2**63 - 1
"""Numbers that no row can have would stop the database."""


class LessonForm(forms.Form):
    """What is decided, and about what: the hidden boxes say which figure it is."""

    subject = forms.ChoiceField(choices=[(one, one) for one in SUBJECTS])
    ingredient = forms.IntegerField(required=False, min_value=1, max_value=MOST)
    supplier = forms.IntegerField(required=False, min_value=1, max_value=MOST)
    pan = forms.IntegerField(required=False, min_value=1, max_value=MOST)
    recipe = forms.IntegerField(required=False, min_value=1, max_value=MOST)
    batch = forms.IntegerField(required=False, min_value=1, max_value=MOST)
    do = forms.ChoiceField(
        choices=[(one, one) for one in (PIN, LET, FORGET, REMEMBER, COUNT, LEAVE, ASK)]
    )
    value = AmountField(label="Reckon with", required=False, least=0, most=99999, places=4)
    before = DayField(label="Forget what was before", required=False)

    def clean(self) -> dict[str, Any]:
        """Each decision needs its own figure."""
        data = super().clean() or {}
        do = data.get("do")
        if do == PIN and data.get("value") is None and "value" not in self.errors:
            self.add_error("value", "Which figure? Type the one you want to reckon with.")
        if do == FORGET and data.get("before") is None and "before" not in self.errors:
            self.add_error("before", "From which day on do the batches count? Choose it.")
        if do in ABOUT_A_BATCH and not data.get("batch"):
            self.add_error("do", "Say which batch it is about.")
        return data
