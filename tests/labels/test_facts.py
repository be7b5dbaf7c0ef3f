"""The types law and drawing share refuse nonsense and answer simple questions."""

from decimal import Decimal

import pytest

from labels.facts import Allergen, LabelFacts, Particular, TextRun, UsedIngredient
from tests.labels.law.eu.builders import a_label, used


@pytest.mark.parametrize(
    ("finished_g", "usable"),
    [(None, None), ("0", None), ("-1", None), ("NaN", None), ("Infinity", None), ("8", Decimal(8))],
)
def test_only_a_positive_number_can_be_divided_by(finished_g, usable):
    assert a_label(finished_g=finished_g).usable_finished_g == usable


def test_parts_are_reached_however_deep():
    whole = used("sauce", 3, parts=(used("base", 2, parts=(used("salt", 1),)), used("oil", 1)))
    assert [each.name for each in whole.with_parts()] == ["sauce", "base", "salt", "oil"]


def test_all_that_went_in_counts_water_too():
    assert a_label(used("pear", 900), used("water", 100, category="water")).ingoing_g == 1000
    assert LabelFacts().ingoing_g == 0


def test_a_statement_reads_with_its_heading():
    particular = Particular(
        "allergens",
        (TextRun("milk", is_emphasised=True), TextRun(" and salt")),
        citation=None,
        heading="Contains:",
    )
    assert particular.text == "Contains: milk and salt"
    assert particular.emphasised == ("milk",)


@pytest.mark.parametrize(
    "make",
    [
        lambda: UsedIngredient(" ", Decimal(1)),
        lambda: UsedIngredient("pear", Decimal(-1)),
        lambda: Allergen("pollen", "pollen"),
        lambda: Allergen("milk", ""),
    ],
)
def test_nonsense_is_refused_where_it_is_made(make):
    with pytest.raises(ValueError, match=r"."):
        make()
