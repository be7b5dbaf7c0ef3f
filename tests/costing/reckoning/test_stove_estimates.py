"""Brix by each instrument, and by all of them."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.reckoning.stove import (
    combined,
    now,
)
from tests.costing.reckoning.stove_pans import (
    at,
    damson,
    hot,
    lens,
    put_in,
    strawberry,
    weighed,
)

D = Decimal
PLAN = damson()
JAM = strawberry()
SANE = st.floats(0.2, 4)


def state(*events, plan=PLAN, minutes=0):
    return now(plan, events, at=at(minutes))


def test_brix_from_the_weight_alone():
    # 100 x 1078.4 / (1750 - 20) = 62.34.
    assert float(state(weighed(3250), plan=JAM).brix.value) == pytest.approx(62.34, abs=0.01)


def test_brix_from_the_thermometer_alone():
    # A strawberry jam without inversion boils at 103.92 C at 65 Brix.
    found = state(hot("103.92"), plan=JAM)
    assert float(found.brix.value) == pytest.approx(65, abs=0.15)


def test_a_cool_drop_is_corrected_to_20_degrees():
    # OIV-MA-AS2-02, Table I: at 15 C take 0.38 off 60 Brix.
    found = state(lens(60, sample="15"), plan=JAM)
    assert float(found.brix.value) == pytest.approx(59.62, abs=0.015)


def test_two_readings_weigh_by_their_inverse_variance():
    # (64/1 + 67/4) / (1/1 + 1/4) = 64.6; sd = sqrt(1/1.25).
    value, sd = combined([(64.0, 1.0), (67.0, 2.0)])
    assert value == pytest.approx(64.6)
    assert sd == pytest.approx(math.sqrt(0.8))


def test_the_rate_is_measured_between_two_weighings():
    # 3400 - 3300 = 100 g in 5 min; 50 g of water put in between were boiled off too: 30 g/min.
    found = state(weighed(3400), put_in("water", 50, minutes=2), weighed(3300, minutes=5), plan=JAM)

    assert found.rate_g_per_min == D("30.0")
    assert found.rate_from == "this cook"


def test_an_earlier_weight_is_carried_to_the_newest_reading():
    # 1780 g at 0 min; at 30 g a minute 1690 g at 3 min: 100 x 1078.4/1670 = 64.57 Brix.
    found = state(weighed(3280), hot("103.8", minutes=3), plan=JAM, minutes=3)
    weight = next(one for one in found.estimates if one.kind == "weight")
    assert float(weight.brix) == pytest.approx(64.57, abs=0.02)


@given(
    st.lists(st.tuples(st.floats(40, 80), SANE), min_size=1, max_size=3), st.floats(40, 80), SANE
)
def test_another_reading_never_widens_the_band(readings, brix, sd):
    assert combined([*readings, (brix, sd)])[1] <= combined(readings)[1] + 1e-12
