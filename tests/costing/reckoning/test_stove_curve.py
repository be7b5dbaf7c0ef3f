"""The curve of a cook as figures."""

from decimal import Decimal

import pytest

from costing.reckoning.stove import (
    curve,
    target,
)
from tests.costing.reckoning.stove_pans import (
    changed,
    damson,
    hot,
    strawberry,
    weighed,
)

D = Decimal
PLAN = damson()
JAM = strawberry()


def test_the_curve_runs_from_raw_to_the_stop_and_carries_the_readings():
    found = curve(JAM, [weighed(3250, minutes=8), hot("103.5", minutes=9)])

    assert found.plan[0].pot_g == D("2000.0")
    assert float(found.plan[-1].brix) == pytest.approx(65, abs=0.01)
    assert [one.kind for one in found.readings] == ["weight", "temperature"]
    assert all(a.brix < b.brix for a, b in zip(found.plan, found.plan[1:], strict=False))


def test_the_curve_takes_as_long_as_the_plan_with_the_fire_turned_down():
    # 120.7 g to 58 Brix at 30 g a minute, then 200.2 g at 12: 4.0 + 16.7 min.
    last = curve(JAM, []).plan[-1].minutes
    assert last == target(JAM).minutes.value
    assert float(last) == pytest.approx(20.7, abs=0.1)


def test_a_curve_without_solids_is_empty():
    assert curve(changed(PLAN, solids=None), []).plan == ()
