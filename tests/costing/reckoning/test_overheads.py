"""Overhead: what is refused. The sums stand among the worked examples."""

from decimal import Decimal

import pytest

from costing.reckoning.errors import ReckoningError
from costing.reckoning.overheads import overhead_rate, straight_line, under_absorbed

D = Decimal


def test_too_much_charged_shows_as_negative():
    # 8.00 x 510 = 4080 against 4000 spent.
    assert under_absorbed(spent=D(4000), rate_per_h=D(8), hours=D(510)) == -80


@pytest.mark.parametrize("hours", ["0", "-1"])
def test_overhead_needs_hours_to_be_spread_over(hours):
    with pytest.raises(ReckoningError, match="how many hours"):
        overhead_rate(planned=D(4000), planned_hours=D(hours))


@pytest.mark.parametrize(
    ("cost", "residual", "years"), [("100", "0", "0"), ("100", "101", "5"), ("100", "-1", "5")]
)
def test_equipment_that_cannot_be_is_refused(cost, residual, years):
    with pytest.raises(ReckoningError):
        straight_line(cost=D(cost), residual=D(residual), years=D(years))
