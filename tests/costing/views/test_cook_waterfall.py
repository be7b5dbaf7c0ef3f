"""The steps from the plan's cost to the batch's own: each begins where the last one ended."""

from decimal import Decimal

import pytest

from costing.services.batch_differences import KINDS, Difference
from costing.views.cook_waterfall import waterfall_picture
from costing.views.recipe_words import Pen
from tests.builders import a_kitchen

pytestmark = pytest.mark.django_db


def picture(*amounts, planned="9.13"):
    parts = [
        Difference(kind, Decimal(amount), kind)
        for kind, amount in zip(KINDS, amounts, strict=False)
    ]
    return waterfall_picture(parts, planned=Decimal(planned), pen=Pen(a_kitchen()))


def test_without_parts_there_is_no_picture():
    assert picture() is None


@pytest.mark.parametrize("size", [0, 1])
def test_each_step_begins_where_the_last_one_ended(size):
    # 9.13 - 0.20 + 0.50 - 0.05 + 0.02 + 0.00 = 9.40: the scale spans 8.93 to 9.43.
    _, chart = picture("-0.20", "0.50", "-0.05", "0.02", "0").drawings[size]
    planned, price, trim, steam, *_, last = chart.steps
    per_unit = (chart.width - 12) / 0.50
    assert price.width == pytest.approx(0.20 * per_unit, abs=0.2)
    assert trim.width == pytest.approx(0.50 * per_unit, abs=0.2)
    assert price.x == trim.x  # down to 8.93, then up from there
    assert steam.x + steam.width == pytest.approx(trim.x + trim.width, abs=0.2)
    assert planned.drop_x == pytest.approx(price.x + price.width, abs=0.2)
    assert last.drop_x == pytest.approx(6 + 0.47 * per_unit, abs=0.2)
    assert all(step.x >= 0 and step.x + step.width <= chart.width for step in chart.steps)


def test_dearer_and_cheaper_are_said_in_words_and_the_table_adds_up():
    shown = picture("-0.20", "0.50", "-0.05", "0.02", "0.004")
    assert "€0.20 cheaper" in shown.description
    assert "€0.50 dearer" in shown.description
    assert "Minutes at the pan as planned" in shown.description
    assert "This batch €9.40" in shown.description
    figures = [Decimal(row[1].replace("€", "").replace("\u2212", "-")) for row in shown.rows]
    assert sum(figures[:-1]) == figures[-1] == Decimal("9.404")


def test_a_batch_exactly_as_planned_can_be_drawn():
    _, chart = picture("0", "0", "0", "0", "0").drawings[0]
    assert len({step.x for step in chart.steps}) == 1
