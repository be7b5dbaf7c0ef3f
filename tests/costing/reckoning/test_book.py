"""The records hang together: frozen, with words that the database stores too."""

from dataclasses import FrozenInstanceError, replace
from decimal import Decimal

import pytest

from costing.reckoning.book import (
    COOK_KINDS,
    NATURES,
    STOP_FORMS,
    CookRecord,
    Question,
)
from costing.reckoning.recipes import cost_recipe
from tests.costing.reckoning.builders import R1, rookfold

D = Decimal


def test_records_cannot_be_changed_after_the_sum():
    sheet = cost_recipe(rookfold(), R1)
    for record in (sheet, sheet.balance, sheet.recipe, sheet.lines[0], rookfold().kitchen):
        with pytest.raises(FrozenInstanceError):
            record.name = "other"


def test_words_are_those_the_columns_hold():
    # Columns of 11 and 12 characters hold them; renaming one would orphan stored rows.
    assert COOK_KINDS == ("boil down", "cook loss", "weighed out", "no cook")
    assert STOP_FORMS == ("reading", "rise", "brix", "final weight", "share")
    assert NATURES == ("materials", "labour", "energy", "packaging", "overhead")
    assert CookRecord().kind in COOK_KINDS


def test_unpriced_names_each_ingredient_once_and_nothing_else():
    sheet = replace(
        cost_recipe(rookfold(), R1),
        questions=(
            Question("What does a kilo cost?", "price", ingredient_id=1, name="Damsons"),
            Question("And here?", "price", ingredient_id=1, name="Damsons"),
            Question("Its Brix?", "brix", ingredient_id=2, blocks="mass", name="Pears"),
        ),
    )
    assert sheet.unpriced == ("Damsons",)
    assert not sheet.is_complete


def test_the_finished_mass_is_that_of_the_balance_or_not_known():
    sheet = cost_recipe(rookfold(), R1)
    assert sheet.finished_g == sheet.balance.finished_g
    assert replace(sheet, balance=None).finished_g is None
