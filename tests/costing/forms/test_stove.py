"""A pH as typed: with a comma or a point, and nothing that no food has."""

from decimal import Decimal

import pytest

from costing.forms.stove import PhForm


@pytest.mark.parametrize("typed", ["3,4", "3.4", " 3.40 "])
def test_a_ph_is_read_with_a_comma_or_a_point(typed):
    form = PhForm({"ph": typed})
    assert form.is_valid()
    assert form.cleaned_data["ph"] == Decimal("3.4")


@pytest.mark.parametrize(
    ("typed", "is_read"), [("1", True), ("0.9", False), ("9", True), ("9.1", False), ("", False)]
)
def test_what_no_food_has_is_refused(typed, is_read):
    assert PhForm({"ph": typed}).is_valid() is is_read
