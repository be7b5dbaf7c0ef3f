"""Brix by each instrument, and by all of them."""

import math
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.reckoning.stove import (
    Estimate,
    Rate,
    combined,
    now,
    refractometer_shows,
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
    # OIV-MA-AS2-02, Table I: at 15 C take 0.38 off 60 Brix. Of its solids 5.45 % are hexose and
    # 0.73 % acid: 3.25 % x 0.022 (AOAC syrup method, from memory) and 0.012 + 0.193 x 0.43 %
    # (Stevens & Baier 1939, from memory) come back: 59.62 + 0.07 + 0.10 = 59.79.
    found = state(lens(60, sample="15"), plan=JAM)
    assert float(found.brix.value) == pytest.approx(59.79, abs=0.02)


def test_what_inverted_in_the_pan_is_added_to_what_the_sugar_scale_shows():
    # 30 % of 1011.76 g of sucrose: 303.5 g become 319.5 g of hexose, 378.3 of 1094.4 g: 34.6 %.
    # At 65 Brix 22.5 % x 0.022 = 0.49, and 0.012 + 0.193 x 0.47 % = 0.10 for acid: 65.59.
    found = state(lens(65), plan=strawberry(inverted_pct=30))
    assert float(found.brix.value) == pytest.approx(65.59, abs=0.02)
    assert not any("not corrected for invert" in note for note in found.notes)


def test_where_nobody_knows_what_the_sugar_is_it_is_said_that_nothing_was_added():
    found = state(lens(65), plan=replace(JAM, solids=None))
    assert float(found.brix.value) == 65
    assert any("not corrected for invert sugar and acid" in note for note in found.notes)


def read(brix, sd, kind="weight"):
    return Estimate(kind, D(str(round(brix, 6))), D(str(round(sd, 6))), weighed(3250))


def test_two_readings_weigh_by_their_inverse_variance():
    # (64/1 + 65/4) / (1/1 + 1/4) = 64.2; sd = sqrt(1/1.25). They agree: 1 apart, 2.2 allowed.
    value, sd = combined([read(64, 1), read(65, 2, "brix")])
    assert value == pytest.approx(64.2)
    assert sd == pytest.approx(math.sqrt(0.8))


def test_two_readings_that_disagree_widen_the_band():
    # 60 and 68, each +-1: mean 64, chi-square 16 + 16 = 32 for one degree of freedom; Birge,
    # Physical Review 40 (1932) 207: sd = sqrt(1/2) x sqrt(32) = 4, as far as either is off.
    value, sd = combined([read(60, 1), read(68, 1, "temperature")])
    assert value == pytest.approx(64)
    assert sd == pytest.approx(4)


def test_a_band_holds_both_of_two_readings_that_disagree():
    apart = state(weighed(3100), hot("103.0"), plan=JAM)
    low, high = sorted(one.brix for one in apart.estimates)
    assert apart.contradictions
    assert apart.brix.low <= low
    assert apart.brix.high >= high


def test_the_rate_is_measured_between_two_weighings():
    # 3480 - 3380 = 100 g in 5 min; 50 g of water put in between were boiled off too: 30 g/min.
    found = state(weighed(3480), put_in("water", 50, minutes=2), weighed(3380, minutes=5), plan=JAM)

    assert found.rate == Rate(D("30.0"), "this cook")


@pytest.mark.parametrize(
    # 58 Brix is at 1078.4/0.58 + 20 = 1879.3 g: a mean weight of 1890 g is not there, 1870 g is.
    ("first", "second", "is_low"),
    [(3440, 3340, False), (3420, 3320, True)],
)
def test_a_rate_measured_where_it_is_thick_is_that_of_the_low_fire(first, second, is_low):
    found = state(weighed(first), weighed(second, minutes=5), plan=JAM)
    assert found.rate == Rate(D("20.0"), "this cook", is_turned_down=is_low)


def test_an_earlier_weight_is_carried_to_the_newest_reading():
    # 1780 g at 0 min are 100 x 1078.4/1760 = 61.3 Brix: past 58, so that of the pan's 30 g a minute
    # at full fire 40 % go. 1744 g at 3 min: 100 x 1078.4/1724 = 62.55 Brix.
    found = state(weighed(3280), hot("103.8", minutes=3), plan=JAM, minutes=3)
    weight = next(one for one in found.estimates if one.kind == "weight")
    assert float(weight.brix) == pytest.approx(62.55, abs=0.02)


@given(st.lists(SANE, min_size=1, max_size=2), SANE)
def test_another_reading_that_agrees_never_widens_the_band(sds, sd):
    kinds = ("weight", "temperature", "brix")
    all_read = [read(64, one, kind) for one, kind in zip([*sds, sd], kinds, strict=False)]
    assert combined(all_read)[1] <= combined(all_read[:-1])[1] + 1e-9


def test_the_refractometer_shows_less_than_the_pan_holds_when_it_is_done():
    # Of the jam with 30 % inverted: 65.59 Brix in the pan are 65 on the scale.
    shown = refractometer_shows(strawberry(inverted_pct=30), D("65.59"))
    assert float(shown) == pytest.approx(65, abs=0.02)
    assert refractometer_shows(replace(JAM, solids=None), D(65)) is None
