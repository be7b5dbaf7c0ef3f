"""Sucrose solubility and graining."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import OutsideValidRange, saturation_ratio, sucrose_solubility_pct


# Charles 1960, Int. Sugar J. 62:126 (coefficients from memory).
@pytest.mark.parametrize(("temperature_c", "expected_pct"), [(20.0, 66.60), (25.0, 67.35)])
def test_solubility_is_that_of_charles(temperature_c, expected_pct):
    assert sucrose_solubility_pct(temperature_c=temperature_c) == pytest.approx(
        expected_pct, abs=0.05
    )


# Older handbook table; it differs from Charles by up to 0.6 % m/m.
@pytest.mark.parametrize(
    ("temperature_c", "handbook_pct"),
    [(0, 64.18), (10, 65.58), (20, 67.09), (25, 67.89), (30, 68.8), (50, 72.25), (100, 82.97)],
)
def test_solubility_is_near_the_older_handbook_table(temperature_c, handbook_pct):
    assert sucrose_solubility_pct(temperature_c=temperature_c) == pytest.approx(
        handbook_pct, abs=0.65
    )


@pytest.mark.parametrize(
    ("brix", "sucrose_share", "ratio"),
    [
        (68.04, 0.8714, 0.93),  # 0.8714 x 68.04/31.96 = 1.855; 66.60/33.40 = 1.994
        (70.0, 1.0, 1.17),  # 70/30 = 2.333; over 1.994
        (68.0, 1.0, 1.07),  # 68/32 = 2.125; over 1.994
        (65.84, 0.6461, 0.62),  # 0.6461 x 65.84/34.16 = 1.245; over 1.994
    ],
)
def test_saturation_ratio_of_pastes_and_syrups(brix, sucrose_share, ratio):
    found = saturation_ratio(brix=brix, sucrose_share=sucrose_share, temperature_c=20.0)
    assert found == pytest.approx(ratio, abs=0.01)


@given(st.floats(min_value=0, max_value=99))
def test_warm_water_holds_more_sugar(temperature_c):
    cool_pct = sucrose_solubility_pct(temperature_c=temperature_c)
    assert sucrose_solubility_pct(temperature_c=temperature_c + 1) > cool_pct


@given(st.floats(min_value=0, max_value=100))
def test_a_saturated_solution_has_ratio_one(temperature_c):
    brix = sucrose_solubility_pct(temperature_c=temperature_c)
    ratio = saturation_ratio(brix=brix, sucrose_share=1.0, temperature_c=temperature_c)
    assert ratio == pytest.approx(1, rel=1e-12)


@pytest.mark.parametrize(
    "wrong",
    [
        {"brix": 95.1},
        {"brix": -0.1},
        {"sucrose_share": 60.0},
        {"temperature_c": 100.1},
        {"temperature_c": -0.1},
    ],
)
def test_what_lies_outside_the_range_is_refused(wrong):
    with pytest.raises(OutsideValidRange):
        saturation_ratio(**({"brix": 68.0, "sucrose_share": 0.6, "temperature_c": 20.0} | wrong))


def test_arrays_give_what_single_values_give():
    brix = np.array([0.0, 40.0, 68.0])
    together = saturation_ratio(brix=brix, sucrose_share=0.6, temperature_c=20.0)
    for one, ratio in zip(brix, together, strict=True):
        alone = saturation_ratio(brix=float(one), sucrose_share=0.6, temperature_c=20.0)
        assert type(alone) is float
        assert alone == pytest.approx(ratio, rel=1e-13)
