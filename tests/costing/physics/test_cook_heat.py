"""Energy and minutes of a whole cook, against a second implementation and metamorphic rules."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.physics import (
    HOB_EFFICIENCY,
    Composition,
    Hob,
    OutsideValidRange,
    boiling_off_kj,
    cook_down_curve,
    cook_heat,
)

PASTE = {
    "ingoing_g": 3440.0,
    "soluble_solids_g": 1667.81,
    "insoluble_solids_g": 36.0,
    "finishing_brix": 65.84,
    "pressure_pa": 101_325.0,
    "composition": Composition(sucrose=0.6461, hexose=0.3378, acid=0.0161),
}
CURVE = cook_down_curve(**PASTE)
POT = {"curve": CURVE, "insoluble_solids_g": 36.0, "pan_g": 1500.0}
INDUCTION = Hob(power_kw=2.0, efficiency=HOB_EFFICIENCY["induction"].usual)


def test_damson_paste_on_induction_with_and_without_the_cut():
    # 3440 g in a 1.5 kg steel pan from 20 C, 2 kW at 0.84 (second implementation): heating 957,
    # steam 1958, warming 26, together 2941 kJ; 0.973 kWh; 9.50 + 19.68 min; 31.3 min of boil with
    # the power cut to 40 % from 58 Brix.
    heat = cook_heat(**POT, hob=INDUCTION)
    assert heat.heating_kj == pytest.approx(957, abs=4)
    assert heat.steam_kj == pytest.approx(1958, abs=2)
    assert heat.warming_kj == pytest.approx(26, abs=0.5)
    assert heat.useful_kj == pytest.approx(2941, abs=8)
    assert heat.bought_kwh == pytest.approx(0.973, abs=0.005)
    assert heat.heat_up_minutes == pytest.approx(9.50, abs=0.1)
    assert heat.boil_minutes == pytest.approx(19.68, abs=0.1)
    assert heat.boil_minutes_with_cut == pytest.approx(31.3, abs=0.1)


# The same paste on other hobs, from a second implementation.
@pytest.mark.parametrize(
    ("hob", "heat_up", "boil", "with_cut", "kwh"),
    [
        (Hob(power_kw=1.8, efficiency=0.70), 12.7, 26.2, 41.8, 1.167),
        (Hob(power_kw=3.0, efficiency=0.40), 13.3, 27.6, 43.9, 2.04),
    ],
)
def test_damson_paste_on_other_hobs(hob, heat_up, boil, with_cut, kwh):
    heat = cook_heat(**POT, hob=hob)
    assert heat.heat_up_minutes == pytest.approx(heat_up, abs=0.1)
    assert heat.boil_minutes == pytest.approx(boil, abs=0.1)
    assert heat.boil_minutes_with_cut == pytest.approx(with_cut, abs=0.1)
    assert heat.bought_kwh == pytest.approx(kwh, abs=0.005)


def test_the_integral_of_the_steam_meets_the_mean_of_its_ends():
    steam = boiling_off_kj(
        water_g=float(CURVE.water_boiled_off_g[-1]),
        start_c=float(CURVE.boiling_c[0]),
        finish_c=float(CURVE.boiling_c[-1]),
    )
    assert cook_heat(**POT, hob=INDUCTION).steam_kj == pytest.approx(steam, rel=1e-3)


@settings(max_examples=20, deadline=None)
@given(st.floats(min_value=0.2, max_value=1.0))
def test_half_the_efficiency_doubles_energy_and_every_time(efficiency):
    good, bad = (
        cook_heat(**POT, hob=Hob(power_kw=2.0, efficiency=e)) for e in (efficiency, efficiency / 2)
    )
    assert bad.bought_kwh == pytest.approx(2 * good.bought_kwh, rel=1e-12)
    for name in ("heat_up_minutes", "boil_minutes", "boil_minutes_with_cut"):
        assert getattr(bad, name) == pytest.approx(2 * getattr(good, name), rel=1e-12)


def test_half_the_water_takes_roughly_half_the_boil():
    # Same solids, 871 g and 435.5 g to lose.
    half = cook_down_curve(**(PASTE | {"ingoing_g": 3440 - 435.5}))
    whole_kj = cook_heat(**POT, hob=INDUCTION).steam_kj
    half_kj = cook_heat(**(POT | {"curve": half}), hob=INDUCTION).steam_kj
    assert half_kj == pytest.approx(whole_kj / 2, rel=0.01)


@settings(max_examples=20, deadline=None)
@given(st.floats(min_value=0.5, max_value=10))
def test_without_loss_the_energy_does_not_depend_on_power(power_kw):
    heat = cook_heat(**POT, hob=replace(INDUCTION, power_kw=power_kw))
    reference = cook_heat(**POT, hob=INDUCTION)
    assert heat.bought_with_loss_kwh == pytest.approx(reference.bought_kwh, rel=1e-12)
    assert heat.bought_kwh == pytest.approx(reference.bought_kwh, rel=1e-12)


def test_with_a_loss_a_slow_boil_costs_more():
    fast, slow = (
        cook_heat(**POT, hob=Hob(power_kw=kw, efficiency=0.84, loss_kw=0.15)) for kw in (3.0, 1.5)
    )
    assert slow.bought_with_loss_kwh > fast.bought_with_loss_kwh > fast.bought_kwh


@settings(max_examples=20, deadline=None)
@given(st.floats(min_value=0.1, max_value=20))
def test_a_batch_and_pan_so_many_times_larger_take_as_many_times_the_heat(times):
    masses = {name: PASTE[name] * times for name in PASTE if name.endswith("_g")}
    larger = cook_heat(
        curve=cook_down_curve(**(PASTE | masses)),
        insoluble_solids_g=36.0 * times,
        pan_g=1500.0 * times,
        hob=INDUCTION,
    )
    assert larger.useful_kj == pytest.approx(
        times * cook_heat(**POT, hob=INDUCTION).useful_kj, rel=1e-9
    )


def test_the_cut_counts_only_where_the_cook_reaches_it():
    never = cook_heat(**POT, hob=INDUCTION, cut_from_brix=70.0)
    assert never.boil_minutes_with_cut == pytest.approx(never.boil_minutes, rel=1e-12)
    always = cook_heat(**POT, hob=INDUCTION, cut_from_brix=40.0)
    assert always.boil_minutes_with_cut == pytest.approx(always.boil_minutes / 0.4, rel=1e-12)


@pytest.mark.parametrize(
    "wrong",
    [
        {"hob": Hob(power_kw=2.0, efficiency=84.0)},
        {"hob": Hob(power_kw=0.0, efficiency=0.84)},
        {"hob": Hob(power_kw=2.0, efficiency=0.84, loss_kw=0.7)},  # the cut leaves 0.67 kW
        {"cut_to_share": 0.0},
        {"cut_to_share": 40.0},
        {"pan_g": -1.0},
        {"from_c": 120.0},
    ],
)
def test_a_hob_or_pot_that_cannot_be_is_refused(wrong):
    with pytest.raises(OutsideValidRange):
        cook_heat(**(POT | {"hob": INDUCTION} | wrong))
