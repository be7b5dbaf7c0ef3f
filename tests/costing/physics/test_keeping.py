"""Water activity for a decision about keeping, and the published limits as figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    INVERT,
    KEEPING_LIMITS,
    PRESERVE,
    SUCROSE,
    OutsideValidRange,
    cautious_water_activity,
    keeping_activity,
    ross_water_activity,
    water_activity,
)


# Extended Norrish and Ross at 20 C, preserve composition, from a second implementation.
@pytest.mark.parametrize(
    ("brix", "norrish", "ross"), [(60, 0.870, 0.883), (66, 0.829, 0.846), (70, 0.792, 0.814)]
)
def test_the_higher_figure_is_the_one_for_a_decision(brix, norrish, ross):
    found = keeping_activity(brix=brix, composition=PRESERVE)
    assert found.temperature_c == 20
    assert found.planning == pytest.approx(norrish, abs=0.0015)
    assert found.ross == pytest.approx(ross, abs=0.001)
    assert found.cautious == found.ross
    assert (found.low, found.high) == pytest.approx(
        (found.planning - 0.02, max(found.planning + 0.02, found.cautious))
    )


def test_a_warm_room_frees_a_little_more_water():
    cool, warm = (
        keeping_activity(brix=66.0, composition=PRESERVE, temperature_c=t) for t in (20.0, 25.0)
    )
    assert cool.planning < warm.planning < cool.planning + 0.005


@given(st.floats(min_value=0, max_value=95), st.floats(min_value=0, max_value=40))
def test_the_cautious_figure_is_never_below_either_equation(brix, temperature_c):
    at = {"brix": brix, "temperature_c": temperature_c, "composition": PRESERVE}
    cautious = cautious_water_activity(**at)
    assert cautious == max(water_activity(**at), ross_water_activity(**at))
    found = keeping_activity(brix=brix, temperature_c=temperature_c, composition=PRESERVE)
    assert 0 <= found.low <= found.planning <= found.cautious <= found.high <= 1


@given(st.floats(min_value=0, max_value=94), st.floats(min_value=0.1, max_value=1))
def test_more_sugar_never_frees_water(brix, more):
    at = {"temperature_c": 20.0, "composition": PRESERVE}
    assert cautious_water_activity(brix=brix + more, **at) < cautious_water_activity(
        brix=brix, **at
    )


# Checked to 80 Brix; where glucose and fructose prevail, to 78.
@pytest.mark.parametrize(
    ("composition", "brix", "is_indicative"),
    [
        (PRESERVE, 80.0, False),
        (PRESERVE, 80.1, True),
        (INVERT, 78.0, False),
        (INVERT, 78.1, True),
        (SUCROSE, 80.0, False),
    ],
)
def test_outside_the_checked_range_it_says_so(composition, brix, is_indicative):
    assert keeping_activity(brix=brix, composition=composition).is_indicative is is_indicative


@pytest.mark.parametrize("wrong", [{"brix": 95.1}, {"temperature_c": 41.0}, {"temperature_c": -1}])
def test_what_is_no_shelf_is_refused(wrong):
    with pytest.raises(OutsideValidRange):
        keeping_activity(**({"brix": 66.0, "composition": PRESERVE} | wrong))


# Figures of the sources named; ICMSF, 21 CFR 113.3 and the Food Code from memory.
@pytest.mark.parametrize(
    ("code", "water_activity", "ph", "source", "is_from_memory"),
    [
        ("low-acid water activity", 0.85, None, "21 CFR 114.3", False),
        ("low-acid water activity, canned", 0.85, None, "21 CFR 113.3", True),
        ("acid boundary", None, 4.6, "21 CFR 114.3", False),
        ("saturated sugar", 0.848, None, "FAO", False),
        ("common moulds", 0.80, None, "ICMSF", True),
        ("driest growth", 0.61, None, "ICMSF", True),
        ("no time and temperature control, packed hot", 0.92, None, "Food Code", True),
        ("no time and temperature control, not packed", 0.88, None, "Food Code", True),
    ],
)
def test_limits_are_those_of_their_sources(code, water_activity, ph, source, is_from_memory):
    (limit,) = (row for row in KEEPING_LIMITS if row.code == code)
    assert (limit.water_activity, limit.ph) == (water_activity, ph)
    assert source in limit.source
    assert limit.is_from_memory is is_from_memory
    assert limit.meaning.endswith(".")


def test_every_limit_sets_one_figure_and_has_its_own_code():
    assert len(KEEPING_LIMITS) == len({limit.code for limit in KEEPING_LIMITS}) == 8
    for limit in KEEPING_LIMITS:
        assert (limit.water_activity is None) != (limit.ph is None)


def test_arrays_give_what_single_values_give():
    brix = np.array([0.0, 40.0, 66.0, 80.0])
    at = {"temperature_c": 20.0, "composition": PRESERVE}
    for one, activity in zip(brix, cautious_water_activity(brix=brix, **at), strict=True):
        alone = cautious_water_activity(brix=float(one), **at)
        assert type(alone) is float
        assert alone == pytest.approx(activity, rel=1e-13)
