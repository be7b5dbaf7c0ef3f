"""The curve of a cook as figures."""

from decimal import Decimal

import pytest

from costing.reckoning.stove import (
    curve,
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


def test_a_curve_without_solids_is_empty():
    assert curve(changed(PLAN, solids=None), []).plan == ()
