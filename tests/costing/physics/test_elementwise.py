"""The two ways of computing give the same number in the right type."""

import math

import numpy as np
import pytest

from costing.physics.elementwise import (
    at_most,
    choose,
    exp,
    is_everywhere,
    log,
    magnitude,
    not_negative,
    sqrt,
)


@pytest.mark.parametrize(
    ("function", "value", "expected"),
    [
        (exp, 1.0, math.e),
        (log, math.e, 1.0),
        (sqrt, 9.0, 3.0),
        (magnitude, -2.5, 2.5),
        (not_negative, -2.5, 0.0),
        (not_negative, 2.5, 2.5),
    ],
)
def test_a_float_gives_a_float_and_an_array_an_array(function, value, expected):
    alone = function(value)
    assert type(alone) is float
    assert alone == expected
    together = function(np.array([value, value]))
    assert together.tolist() == pytest.approx([expected, expected])


def test_a_limit_holds_for_one_value_and_for_each_against_one_limit_or_many():
    assert at_most(2.0, 3.0) == 2.0
    assert at_most(4.0, 3.0) == 3.0
    assert at_most(np.array([2.0, 4.0]), 3.0).tolist() == [2.0, 3.0]
    assert at_most(4.0, np.array([3.0, 5.0])).tolist() == [3.0, 4.0]


def test_a_choice_is_made_for_one_value_or_for_each():
    assert choose(True, 1.0, 2.0) == 1.0
    assert choose(False, 1.0, 2.0) == 2.0
    assert choose(np.array([True, False]), 1.0, 2.0).tolist() == [1.0, 2.0]


def test_a_condition_holds_everywhere_only_if_it_holds_for_each():
    assert is_everywhere(True)
    assert not is_everywhere(False)
    assert is_everywhere(np.array([True, True]))
    assert not is_everywhere(np.array([True, False]))
