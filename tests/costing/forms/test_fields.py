"""Numbers as typed, and the summary of mistakes."""

from decimal import Decimal

import pytest
from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import AmountField, as_typed, mistakes, take_errors
from costing.units import read_number


class AForm(forms.Form):
    amount = AmountField(label="Amount", least=0, most=100, places=3)
    other = AmountField(label="Other", required=False)


@pytest.mark.parametrize("typed", ["2.5", "2,5", " 2,50 ", "٢٫٥"])
def test_a_comma_and_a_point_are_the_same_number(typed):
    form = AForm({"amount": typed})
    assert form.is_valid(), form.errors
    assert form.cleaned_data["amount"] == Decimal("2.5")


def test_an_empty_box_is_not_known_rather_than_nought():
    form = AForm({"amount": "1", "other": ""})
    assert form.is_valid()
    assert form.cleaned_data["other"] is None


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1.250", "one and a quarter (type 1.25) or one thousand two hundred and fifty"),
        ("1,250", "one and a quarter"),
        ("-1", "must be at least 0"),
        ("100.1", "must be at most 100"),
        ("0.00004", "more decimals than are kept here: at most 3"),
        ("1e5", "is not a number"),
        ("nan", "is not a number"),
        ("🍓", "is not a number"),
        ("{{ 7*7 }}", "is not a number"),
        ("9" * 40, "more than any kitchen has"),
        ("", "required"),
    ],
)
def test_what_cannot_be_read_is_asked_about_and_kept(typed, words):
    form = AForm({"amount": typed})
    assert not form.is_valid()
    assert words in " ".join(form.errors["amount"])
    assert form["amount"].value() == typed


def test_the_limits_themselves_are_allowed():
    assert AForm({"amount": "0"}).is_valid()
    assert AForm({"amount": "100"}).is_valid()


@pytest.mark.parametrize("stored", ["2.375", "12.125", "-1.250", "0.125", "1250", "1234.5", "0"])
def test_a_stored_figure_shown_in_its_box_is_read_back_as_itself(stored):
    # 2.375 as such would be asked about; the box shows 2.3750.
    assert read_number(as_typed(Decimal(stored))) == Decimal(stored)


def test_saving_a_form_untouched_changes_nothing():
    form = AForm({"amount": as_typed(Decimal("2.375"))}, initial={"amount": Decimal("2.375")})
    assert form.is_valid()
    assert "amount" not in form.changed_data


def test_every_mistake_leads_to_its_field_in_the_order_of_the_fields():
    form = AForm({"amount": "-1", "other": "x"})
    form.add_error(None, "As a whole this does not go.")
    found = mistakes(form)
    assert [mistake.anchor for mistake in found] == ["", "id_amount", "id_other"]
    assert found[1].label == "Amount"


def test_what_a_service_refuses_lands_at_its_field_and_the_rest_at_the_top():
    form = AForm({"amount": "1"})
    assert form.is_valid()
    take_errors(
        form,
        ValidationError({"mass": ["Too heavy."], "elsewhere": ["Not here."]}),
        names={"mass": "amount"},
    )
    assert form.errors["amount"] == ["Too heavy."]
    assert form.non_field_errors() == ["Not here."]
