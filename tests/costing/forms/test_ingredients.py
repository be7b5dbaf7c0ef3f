"""An ingredient as typed: allergens with three answers, parts, and where figures come from."""

import pytest

from costing.forms.ingredients import AllergenForm, IngredientForm
from costing.models import AllergenAnswer

ALL = AllergenAnswer.Group.values


def typed(**answers):
    return {f"allergen-{name}": value for name, value in answers.items()}


def test_nobody_has_answered_until_somebody_has():
    form = AllergenForm(typed())
    assert form.is_valid()
    assert form.answers() == dict.fromkeys(ALL, ("unknown", ""))


def test_none_of_the_fourteen_answers_all_of_them_at_once():
    form = AllergenForm(typed(none_of_them="on", **dict.fromkeys(ALL, "unknown")))
    assert form.is_valid()
    assert form.answers() == dict.fromkeys(ALL, ("free", ""))


def test_what_is_in_it_is_named_as_it_must_be_printed():
    form = AllergenForm(typed(mustard="contains"))
    assert "as it must be printed" in form.errors["mustard_name"][0]
    form = AllergenForm(typed(mustard="contains", mustard_name="mustard"))
    assert form.is_valid()
    assert form.answers()["mustard"] == ("contains", "mustard")


def test_one_that_is_marked_and_none_besides_answer_all_fourteen():
    form = AllergenForm(typed(none_of_them="on", milk="contains", milk_name="milk"))
    assert form.is_valid()
    answers = form.answers()
    assert answers.pop("milk") == ("contains", "milk")
    assert set(answers.values()) == {("free", "")}


def test_a_fourth_answer_is_refused():
    assert "milk" in AllergenForm(typed(milk="perhaps")).errors


def test_there_are_fourteen_groups():
    # Regulation (EU) No 1169/2011, Annex II, points 1 to 14.
    assert len(AllergenForm().lines()) == 14


@pytest.mark.parametrize(("share", "allowed"), [("100", True), ("100.1", False), ("0", False)])
def test_what_is_left_to_use_is_a_share_of_what_was_bought(share, allowed):
    form = IngredientForm({"name": "Plums", "kind": "food", "usable_pct": share})
    assert form.is_valid() is allowed, form.errors


def test_a_range_of_ph_starts_at_its_lower_end():
    data = {"name": "Plums", "kind": "food", "usable_pct": "90", "ph_low": "3,4", "ph_high": "3"}
    assert "below the lower one" in IngredientForm(data).errors["ph_high"][0]
