"""Break-even: what is refused. The sums stand among the worked examples."""

from decimal import Decimal

import pytest

from costing.reckoning.errors import ReckoningError
from costing.reckoning.selling import break_even_units, contribution_ratio, whole_units

D = Decimal


@pytest.mark.parametrize("each", ["0", "-0.01"])
def test_sales_that_leave_nothing_never_break_even(each):
    with pytest.raises(ReckoningError, match="no number of sales covers them"):
        break_even_units(fixed=D(100), contribution_each=D(each))


def test_nothing_sold_has_no_ratio():
    with pytest.raises(ReckoningError, match="Nothing was sold"):
        contribution_ratio([])


@pytest.mark.parametrize(("units", "whole"), [("113", 113), ("113.001", 114)])
def test_the_last_part_of_a_unit_is_sold_whole(units, whole):
    assert whole_units(D(units)) == whole
