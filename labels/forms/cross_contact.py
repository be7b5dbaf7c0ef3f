"""The form of one look at cross-contact, and the filter of the allergen matrix."""

from typing import Any

from django import forms

from costing.forms.fields import DayField, Line, form_layout, side_by_side
from costing.models import AllergenAnswer, Product
from labels.models import CrossContact
from labels.services.allergens import CONTAINS, FREE, MAY_CONTAIN, NOT_KNOWN

GROUPS = tuple(AllergenAnswer.Group.choices)


class CrossContactForm(forms.Form):
    """What was looked at, for which allergens, by whom, on which day, and what was found."""

    product = forms.ModelChoiceField(
        label="Of which product",
        queryset=Product.objects.none(),
        required=False,
        empty_label="The whole kitchen",
        help_text="A product's own look goes before the kitchen's.",
    )
    groups = forms.MultipleChoiceField(
        label="For which allergens",
        choices=GROUPS,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Say for which allergens somebody looked."},
    )
    outcome = forms.ChoiceField(
        label="What was found",
        choices=CrossContact.Outcome.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what was found: a risk that remains, or none."},
    )
    named_as = forms.CharField(
        label="The word for the label",
        max_length=60,
        required=False,
        help_text="Where a risk remains: the allergen by its name, in the language of the label, "
        "such as “hazelnuts”. One look for each word.",
    )
    looked_at = forms.CharField(
        label="What was looked at",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="Shared pans, sieves, spoons and cloths; flour and nut dust; the order of work; "
        "how it is cleaned and how you know; what the suppliers say of their own kitchens.",
    )
    assessed_by = forms.CharField(label="Looked by", max_length=80)
    assessed_on = DayField(label="Looked on")
    review_by = DayField(
        label="Look again by",
        required=False,
        help_text="Empty: in a year. Sooner where something will change.",
    )

    def __init__(self, *args: Any, products: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["product"]
        if isinstance(field, forms.ModelChoiceField):
            field.queryset = products
        self.helper = form_layout(
            Line("product", silent=True),
            Line("groups"),
            Line("outcome"),
            Line("named_as", silent=True),
            Line("looked_at"),
            side_by_side(
                Line("assessed_by"),
                Line("assessed_on", short=True),
                Line("review_by", short=True),
            ),
        )


class MatrixFilter(forms.Form):
    """Which rows and columns of the matrix to show; what cannot be read shows all."""

    q = forms.CharField(max_length=80, required=False)
    group = forms.ChoiceField(choices=(("", "All fourteen"), *GROUPS), required=False)
    state = forms.ChoiceField(
        choices=(
            ("", "Any answer"),
            (NOT_KNOWN, "Not known"),
            (CONTAINS, "Contains"),
            (MAY_CONTAIN, "May contain"),
            (FREE, "Not used"),
        ),
        required=False,
    )
