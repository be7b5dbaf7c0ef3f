"""Across the border between Decimal and float and back."""

from decimal import Decimal

import pytest

from costing.units import as_float, exact


@pytest.mark.parametrize(
    ("value", "step", "stored"),
    [(66.125, "0.01", "66.13"), (2.5, "1", "3"), (8395.384615, "0.1", "8395.4"), (0.1, "1", "0")],
)
def test_what_physics_gives_is_rounded_half_up_to_a_step(value, step, stored):
    assert str(exact(value, step=step)) == stored


def test_a_stored_figure_survives_the_round_trip():
    assert exact(as_float(Decimal("12.345")), step="0.001") == Decimal("12.345")


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_not_a_number_does_not_come_back(value):
    with pytest.raises(ValueError, match="No figure"):
        exact(value, step="0.1")
