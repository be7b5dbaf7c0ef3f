"""The curve of a cook against the formulas it is made of, and the minutes left."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.physics import (
    PRESERVE,
    Composition,
    OutsideValidRange,
    boiling_point_rise_k,
    boiling_temperature_c,
    cook_down_curve,
    minutes_left,
)

PASTE = {
    "ingoing_g": 3440.0,
    "soluble_solids_g": 1667.81,
    "insoluble_solids_g": 36.0,
    "finishing_brix": 65.84,
    "pressure_pa": 101_325.0,
    "composition": Composition(sucrose=0.6461, hexose=0.3378, acid=0.0161),
}


def test_the_curve_runs_from_what_went_in_to_the_finished_pot():
    # Start 166781 / 3404 = 48.996 Brix; finish 2569.0 g after 871.0 g, at 104.8 C.
    curve = cook_down_curve(**PASTE)
    assert len(curve.brix) == 200
    assert curve.pot_mass_g[0] == pytest.approx(3440.0, rel=1e-12)
    assert curve.brix[0] == pytest.approx(48.996, abs=0.001)
    assert curve.pot_mass_g[-1] == pytest.approx(2569.0, abs=0.8)
    assert curve.water_boiled_off_g[-1] == pytest.approx(871.0, abs=0.8)
    assert curve.brix[-1] == pytest.approx(65.84, rel=1e-12)
    assert curve.boiling_c[-1] == pytest.approx(104.8, abs=0.01)
    # 104.80 - 99.97, boiling water of IAPWS-IF97.
    assert curve.rise_k[-1] == pytest.approx(4.83, abs=0.01)


def test_along_the_curve_water_out_and_what_is_left_make_what_went_in():
    curve = cook_down_curve(**PASTE)
    together = curve.pot_mass_g + curve.water_boiled_off_g
    assert together == pytest.approx(np.full(200, 3440.0), rel=1e-12)
    solids = curve.brix / 100 * (curve.pot_mass_g - 36.0)
    assert solids == pytest.approx(np.full(200, 1667.81), rel=1e-9)


def test_the_pot_gets_lighter_sweeter_and_hotter_all_the_way():
    curve = cook_down_curve(**PASTE)
    assert np.all(np.diff(curve.pot_mass_g) < 0)
    assert np.all(np.diff(curve.brix) > 0)
    assert np.all(np.diff(curve.rise_k) > 0)


def test_each_point_is_what_the_single_formulas_give():
    curve = cook_down_curve(**PASTE, points=7)
    at = {"pressure_pa": 101_325.0, "composition": PASTE["composition"]}
    for brix, boils_c, rise_k in zip(curve.brix, curve.boiling_c, curve.rise_k, strict=True):
        assert boiling_temperature_c(brix=float(brix), **at) == pytest.approx(boils_c, abs=1e-9)
        assert boiling_point_rise_k(brix=float(brix), **at) == pytest.approx(rise_k, abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(min_value=0.1, max_value=50))
def test_a_batch_so_many_times_larger_has_the_same_temperatures(times):
    masses = {name: PASTE[name] * times for name in PASTE if name.endswith("_g")}
    one, other = cook_down_curve(**PASTE), cook_down_curve(**(PASTE | masses))
    assert other.brix == pytest.approx(one.brix, rel=1e-9)
    assert other.boiling_c == pytest.approx(one.boiling_c, rel=1e-9)
    assert other.pot_mass_g == pytest.approx(times * one.pot_mass_g, rel=1e-9)


@settings(max_examples=20, deadline=None)
@given(st.floats(min_value=0.05, max_value=0.95))
def test_a_batch_split_in_two_pans_gives_the_same_mass_together(share):
    names = ("ingoing_g", "soluble_solids_g", "insoluble_solids_g")
    parts = [
        cook_down_curve(**(PASTE | {name: PASTE[name] * part for name in names}))
        for part in (share, 1 - share)
    ]
    together = parts[0].pot_mass_g[-1] + parts[1].pot_mass_g[-1]
    assert together == pytest.approx(cook_down_curve(**PASTE).pot_mass_g[-1], rel=1e-9)


@pytest.mark.parametrize(
    "wrong",
    [
        {"finishing_brix": 48.9},  # the pan began thicker
        {"finishing_brix": 85.1},
        {"soluble_solids_g": 0.0},
        {"pressure_pa": 1013.0},
        {"points": 1},
    ],
)
def test_what_cannot_be_drawn_is_refused(wrong):
    with pytest.raises(OutsideValidRange):
        cook_down_curve(**(PASTE | wrong))


def test_minutes_left_at_a_measured_rate():
    # 300 g at 25 g/min.
    assert minutes_left(water_to_boil_off_g=300.0, evaporation_g_per_min=25.0) == 12
    assert minutes_left(water_to_boil_off_g=0.0, evaporation_g_per_min=25.0) == 0
    together = minutes_left(water_to_boil_off_g=np.array([300.0, 50.0]), evaporation_g_per_min=25.0)
    assert list(together) == [12, 2]


@pytest.mark.parametrize(("water_g", "rate"), [(-1.0, 25.0), (300.0, 0.0), (300.0, -1.0)])
def test_a_pot_past_its_finish_or_not_boiling_has_no_minutes_left(water_g, rate):
    with pytest.raises(OutsideValidRange):
        minutes_left(water_to_boil_off_g=water_g, evaporation_g_per_min=rate)


def test_a_pot_that_starts_at_its_finish_is_a_flat_curve():
    curve = cook_down_curve(
        ingoing_g=1000.0,
        soluble_solids_g=660.0,
        insoluble_solids_g=0.0,
        finishing_brix=66.0,
        pressure_pa=101_325.0,
        composition=PRESERVE,
    )
    assert curve.water_boiled_off_g[-1] == pytest.approx(0, abs=1e-9)
    assert curve.brix == pytest.approx(np.full(200, 66.0))
