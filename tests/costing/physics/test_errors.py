"""The sentence a producer reads when a figure cannot be right."""

import math

import numpy as np
import pytest

from costing.physics import OutsideValidRange, PhysicsError, pot_mass_g
from costing.physics.errors import require


def test_the_message_carries_value_limit_and_next_step():
    with pytest.raises(OutsideValidRange) as caught:
        pot_mass_g(soluble_solids_g=600.0, insoluble_solids_g=20.0, brix=90.0)
    error = caught.value
    assert error.value == 90.0
    assert error.limit == "more than 0 and at most 85 Brix"
    assert str(error) == (
        "The finishing Brix is 90; it must be more than 0 and at most 85 Brix. "
        "Preserves finish between 40 and 80 Brix."
    )


def test_it_can_be_caught_as_a_physics_error_and_as_a_value_error():
    error = OutsideValidRange(what="The Brix", value=1.0, limit="less", next_step="Look again.")
    assert isinstance(error, PhysicsError)
    assert isinstance(error, ValueError)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, -0.1, 1.1])
def test_no_number_and_infinity_are_refused_like_any_value_outside(value):
    with pytest.raises(OutsideValidRange):
        require(value, what="The share", low=0, high=1, next_step="Give a share.")
    with pytest.raises(OutsideValidRange):
        require(np.array([0.5, value]), what="The share", low=0, high=1, next_step="Give a share.")


@pytest.mark.parametrize("value", [0, 0.0, 0.5, 1, 1.0])
def test_both_ends_of_a_range_belong_to_it(value):
    require(value, what="The share", low=0, high=1, next_step="Give a share.")
    require(np.array([value]), what="The share", low=0, high=1, next_step="Give a share.")


def test_of_an_array_the_first_bad_value_is_named():
    with pytest.raises(OutsideValidRange) as caught:
        require(np.array([0.2, 7.0, 9.0]), what="The share", low=0, high=1, next_step="Correct.")
    assert caught.value.value == 7.0


@pytest.mark.parametrize(
    ("limits", "words"),
    [
        ({"low": 0, "unit": "g"}, "0 g or more"),
        ({"low": 0, "low_is_allowed": False, "unit": "g"}, "more than 0 g"),
        ({"high": 5}, "5 or less"),
        ({"low": 0, "high": 85, "unit": "Brix"}, "from 0 to 85 Brix"),
        ({}, "a number"),
    ],
)
def test_every_kind_of_limit_is_put_in_words(limits, words):
    with pytest.raises(OutsideValidRange) as caught:
        require(math.nan, what="It", next_step="Look again.", **limits)
    assert caught.value.limit == words
