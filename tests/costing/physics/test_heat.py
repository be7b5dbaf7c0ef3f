"""Latent heat against IAPWS-95, heat capacity against Bubnik, and the energy of one paste."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    BURN_ON_W_PER_CM2,
    HOB_EFFICIENCY,
    Composition,
    OutsideValidRange,
    boiling_off_kj,
    boiling_temperature_c,
    energy_bought_kwh,
    evaporation_g_per_min,
    fibre_heat_capacity_kj_per_kg_k,
    heating_kj,
    latent_heat_kj_per_kg,
    measured_evaporation_g_per_min,
    minutes_at_power,
    net_power_from_boiling_kw,
    power_per_base_w_per_cm2,
    syrup_heat_capacity_kj_per_kg_k,
)


# IAPWS-95: 2256.4 kJ/kg at 100 C, 2243.1 at 105 C.
@pytest.mark.parametrize(("temperature_c", "reference"), [(100.0, 2256.4), (105.0, 2243.1)])
def test_latent_heat_is_that_of_iapws_95(temperature_c, reference):
    assert latent_heat_kj_per_kg(temperature_c=temperature_c) == pytest.approx(reference, abs=0.5)


@pytest.mark.parametrize("temperature_c", [60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 120.0, 130.0])
def test_latent_heat_agrees_with_coolprop(temperature_c):
    steam, water = (PropsSI("H", "T", temperature_c + 273.15, "Q", q, "Water") for q in (1, 0))
    assert latent_heat_kj_per_kg(temperature_c=temperature_c) == pytest.approx(
        (steam - water) / 1000, abs=0.3
    )


# Bubnik et al. 1995, Sugar Technologists Manual (named from memory), purity 100 %.
@pytest.mark.parametrize(
    ("brix", "temperature_c", "expected"), [(65, 20, 2.653), (65, 100, 3.043), (0, 20, 4.187)]
)
def test_syrup_heat_capacity_is_that_of_bubnik(brix, temperature_c, expected):
    found = syrup_heat_capacity_kj_per_kg_k(brix=brix, temperature_c=temperature_c)
    assert found == pytest.approx(expected, abs=0.002)


def test_water_heat_capacity_is_near_that_of_iapws_95():
    reference = PropsSI("C", "T", 293.15, "P", 101_325, "Water") / 1000
    assert syrup_heat_capacity_kj_per_kg_k(brix=0.0, temperature_c=20.0) == pytest.approx(
        reference, rel=0.005
    )


def test_fibre_heat_capacity_is_that_of_choi_and_okos():
    # Choi & Okos 1986 (from memory): 1.8459 + 0.0018306 x 50 - 4.6509e-6 x 2500 = 1.9258.
    assert fibre_heat_capacity_kj_per_kg_k(temperature_c=50.0) == pytest.approx(1.9258, abs=1e-4)


def test_a_net_kilowatt_boils_off_26_6_grams_a_minute():
    # 60 s x 1 kW / 2256.4 kJ/kg = 26.59 g.
    rate = evaporation_g_per_min(net_power_kw=1.0, temperature_c=100.0)
    assert rate == pytest.approx(26.6, abs=0.1)


def test_a_kilo_of_water_from_15_to_90_c_takes_87_wh():
    # 1 kg x 4.187 x 75 K = 314 kJ = 87.2 Wh; the heat-up half of the EU hob test.
    useful = heating_kj(
        liquid_g=1000.0, brix=0.0, insoluble_solids_g=0.0, pan_g=0.0, from_c=15.0, to_c=90.0
    )
    assert useful / 3.6 == pytest.approx(87, abs=0.5)


def test_damson_paste_on_an_induction_hob():
    # 3440 g in a 1.5 kg steel pan from 20 C on 2 kW at 0.84: heating 957 kJ, steam 1958 kJ and
    # 26 kJ of warming while it boils, together 2941 kJ; 0.973 kWh; 9.5 + 19.7 min. From a
    # second implementation, which integrates step by step.
    composition = Composition(sucrose=0.6461, hexose=0.3378, acid=0.0161)
    start_brix = 100 * 1667.81 / (3440 - 36)
    start_c = boiling_temperature_c(brix=start_brix, pressure_pa=101_325.0, composition=composition)
    heat_up = heating_kj(
        liquid_g=3404.0,
        brix=start_brix,
        insoluble_solids_g=36.0,
        pan_g=1500.0,
        from_c=20.0,
        to_c=start_c,
    )
    steam = boiling_off_kj(water_g=871.0, start_c=start_c, finish_c=104.8)
    climb = 0.0
    for liquid_g, brix in ((3404.0, start_brix), (2533.0, 65.84)):
        climb += 0.5 * heating_kj(
            liquid_g=liquid_g,
            brix=brix,
            insoluble_solids_g=36.0,
            pan_g=1500.0,
            from_c=start_c,
            to_c=104.8,
        )
    assert heat_up == pytest.approx(957, abs=8)
    assert steam == pytest.approx(1958, abs=2)
    assert climb == pytest.approx(26, abs=2)
    total = heat_up + steam + climb
    assert total == pytest.approx(2941, abs=8)
    efficiency = HOB_EFFICIENCY["induction"].usual
    assert energy_bought_kwh(useful_kj=total, efficiency=efficiency) == pytest.approx(
        0.973, abs=0.005
    )
    hob = {"hob_kw": 2.0, "efficiency": efficiency, "loss_kw": 0.0}
    assert minutes_at_power(useful_kj=heat_up, **hob) == pytest.approx(9.50, abs=0.1)
    assert minutes_at_power(useful_kj=steam + climb, **hob) == pytest.approx(19.68, abs=0.1)


@given(st.floats(min_value=1, max_value=1e6), st.floats(min_value=0.1, max_value=1))
def test_half_the_efficiency_doubles_energy_and_time(useful_kj, efficiency):
    good, bad = (
        energy_bought_kwh(useful_kj=useful_kj, efficiency=e) for e in (efficiency, efficiency / 2)
    )
    assert bad == pytest.approx(2 * good, rel=1e-12)
    fast, slow = (
        minutes_at_power(useful_kj=useful_kj, hob_kw=2.0, efficiency=e, loss_kw=0.0)
        for e in (efficiency, efficiency / 2)
    )
    assert slow == pytest.approx(2 * fast, rel=1e-12)


@given(st.floats(min_value=0.5, max_value=10), st.floats(min_value=0.5, max_value=10))
def test_without_loss_the_energy_does_not_depend_on_power(one_kw, other_kw):
    spent = [
        kw * minutes_at_power(useful_kj=2941.0, hob_kw=kw, efficiency=0.84, loss_kw=0.0)
        for kw in (one_kw, other_kw)
    ]
    assert spent[0] == pytest.approx(spent[1], rel=1e-12)


def test_half_the_water_takes_half_the_steam_heat():
    whole, half = (boiling_off_kj(water_g=g, start_c=102.0, finish_c=105.0) for g in (800, 400))
    assert half == pytest.approx(whole / 2, rel=1e-12)


def test_time_agrees_with_the_rate_of_evaporation():
    # 500 g at 1.5 net kW: by rate and by energy.
    rate = evaporation_g_per_min(net_power_kw=1.5, temperature_c=104.0)
    useful = boiling_off_kj(water_g=500.0, start_c=104.0, finish_c=104.0)
    minutes = minutes_at_power(useful_kj=useful, hob_kw=2.0, efficiency=0.8, loss_kw=0.1)
    assert minutes == pytest.approx(500 / rate, rel=1e-12)


@given(st.floats(min_value=60, max_value=129))
def test_hotter_water_needs_less_heat_to_boil_away(temperature_c):
    assert latent_heat_kj_per_kg(temperature_c=temperature_c + 1) < latent_heat_kj_per_kg(
        temperature_c=temperature_c
    )


def test_every_hob_has_its_usual_value_inside_its_range():
    assert set(HOB_EFFICIENCY) == {"induction", "electric", "solid plate", "gas"}
    for hob in HOB_EFFICIENCY.values():
        assert 0 < hob.low <= hob.usual <= hob.high < 1


HEATING = {
    "liquid_g": 1000.0,
    "brix": 50.0,
    "insoluble_solids_g": 20.0,
    "pan_g": 1500.0,
    "from_c": 20.0,
    "to_c": 101.0,
}
TIME = {"useful_kj": 100.0, "hob_kw": 2.0, "efficiency": 0.84, "loss_kw": 0.1}


@pytest.mark.parametrize(
    ("formula", "right", "wrong"),
    [
        (latent_heat_kj_per_kg, {"temperature_c": 130.0}, {"temperature_c": 130.1}),
        (latent_heat_kj_per_kg, {"temperature_c": 60.0}, {"temperature_c": 59.9}),
        (
            syrup_heat_capacity_kj_per_kg_k,
            {"brix": 85.0, "temperature_c": 20.0},
            {"brix": 85.1},
        ),
        (fibre_heat_capacity_kj_per_kg_k, {"temperature_c": 0.0}, {"temperature_c": -1.0}),
        (
            evaporation_g_per_min,
            {"net_power_kw": 0.0, "temperature_c": 100.0},
            {"net_power_kw": -0.1},
        ),
        (heating_kj, HEATING, {"liquid_g": -1.0}),
        (heating_kj, HEATING, {"insoluble_solids_g": -1.0}),
        (heating_kj, HEATING, {"pan_g": -1.0}),
        (heating_kj, HEATING, {"to_c": 19.9}),
        (heating_kj, HEATING, {"to_c": 130.1}),
        (
            boiling_off_kj,
            {"water_g": 0.0, "start_c": 100.0, "finish_c": 105.0},
            {"water_g": -1.0},
        ),
        (energy_bought_kwh, {"useful_kj": 0.0, "efficiency": 1.0}, {"efficiency": 84.0}),
        (energy_bought_kwh, {"useful_kj": 0.0, "efficiency": 1.0}, {"efficiency": 0.0}),
        (energy_bought_kwh, {"useful_kj": 0.0, "efficiency": 1.0}, {"useful_kj": -1.0}),
        (minutes_at_power, TIME, {"hob_kw": 0.0}),
        (minutes_at_power, TIME, {"loss_kw": 1.68}),
        (minutes_at_power, TIME, {"loss_kw": -0.1}),
    ],
)
def test_the_ranges_hold_on_both_sides(formula, right, wrong):
    formula(**right)
    with pytest.raises(OutsideValidRange):
        formula(**(right | wrong))


def test_arrays_give_what_single_values_give():
    temperatures_c = np.array([60.0, 100.0, 105.0, 130.0])
    together = latent_heat_kj_per_kg(temperature_c=temperatures_c)
    for one_c, heat in zip(temperatures_c, together, strict=True):
        alone = latent_heat_kj_per_kg(temperature_c=float(one_c))
        assert type(alone) is float
        assert alone == pytest.approx(heat, rel=1e-13)


def test_boiling_water_off_calibrates_a_pan():
    # 1 kg of water loses 150 g in 10 min: 150 g x 2.2564 kJ/g / 600 s = 0.564 kW (IAPWS-95).
    kw = net_power_from_boiling_kw(water_lost_g=150.0, minutes=10.0, temperature_c=100.0)
    assert kw == pytest.approx(0.564, abs=0.001)


@given(st.floats(min_value=0.1, max_value=20), st.floats(min_value=90, max_value=115))
def test_calibration_undoes_the_rate_of_evaporation(net_kw, temperature_c):
    rate = evaporation_g_per_min(net_power_kw=net_kw, temperature_c=temperature_c)
    back = net_power_from_boiling_kw(
        water_lost_g=rate * 7.0, minutes=7.0, temperature_c=temperature_c
    )
    assert back == pytest.approx(net_kw, rel=1e-12)


def test_a_watt_and_a_half_per_cm2_is_0_7_kw_on_a_24_cm_pan():
    # pi x 12^2 = 452 cm2; 1.5 W/cm2 is 0.68 kW (judgement: 0.5-0.7 kW against burning on).
    assert BURN_ON_W_PER_CM2 == 1.5
    assert power_per_base_w_per_cm2(net_power_kw=0.6786, base_diameter_mm=240.0) == pytest.approx(
        1.5, abs=0.001
    )


@pytest.mark.parametrize(
    ("formula", "right", "wrong"),
    [
        (
            net_power_from_boiling_kw,
            {"water_lost_g": 0.0, "minutes": 10.0, "temperature_c": 60.0},
            {"temperature_c": 59.9},
        ),
        (
            measured_evaporation_g_per_min,
            {"water_lost_g": 0.0, "minutes": 0.1},
            {"water_lost_g": -0.1},
        ),
        (
            measured_evaporation_g_per_min,
            {"water_lost_g": 100.0, "minutes": 0.1},
            {"minutes": 0.0},
        ),
        (
            power_per_base_w_per_cm2,
            {"net_power_kw": 0.0, "base_diameter_mm": 240.0},
            {"base_diameter_mm": 0.0},
        ),
        (
            power_per_base_w_per_cm2,
            {"net_power_kw": 0.0, "base_diameter_mm": 240.0},
            {"net_power_kw": -0.1},
        ),
    ],
)
def test_a_measurement_that_cannot_be_is_refused(formula, right, wrong):
    formula(**right)
    with pytest.raises(OutsideValidRange):
        formula(**(right | wrong))
