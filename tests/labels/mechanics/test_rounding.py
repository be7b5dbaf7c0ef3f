"""Rounding to a step, held to the decimal module of the standard library."""

from decimal import ROUND_HALF_UP, Decimal

import pytest

from labels.mechanics.rounding import digits_kept, nearest, up_to


@pytest.mark.parametrize("value", ["0", "0.04", "0.05", "0.15", "1.25", "68.44", "68.45", "99.96"])
def test_the_nearest_tenth_agrees_with_the_standard_library(value):
    tenth = Decimal("0.1")
    assert nearest(Decimal(value), tenth) == Decimal(value).quantize(tenth, ROUND_HALF_UP)


def test_a_step_that_is_no_power_of_ten():
    assert nearest(Decimal("4.74"), Decimal("0.5")) == Decimal("4.5")
    assert nearest(Decimal("4.75"), Decimal("0.5")) == Decimal("5.0")


def test_up_never_goes_below():
    assert up_to(Decimal("5.01"), Decimal("0.1")) == Decimal("5.1")
    assert up_to(Decimal("5.10"), Decimal("0.1")) == Decimal("5.1")


def test_significant_figures():
    assert digits_kept(Decimal("0.0237"), digits=1) == Decimal("0.02")
    assert digits_kept(Decimal(0), digits=2) == 0
