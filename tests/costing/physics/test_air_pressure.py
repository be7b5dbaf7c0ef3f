"""Air pressure against ISO 2533, boiling water against IAPWS tables and CoolProp."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    OutsideValidRange,
    local_pressure_pa,
    saturation_pressure_pa,
    standard_pressure_pa,
    water_boiling_point_c,
)


# IAPWS R7-97(2012), Table 35 (table numbers from memory, values reproduced independently).
@pytest.mark.parametrize(
    ("t_k", "p_mpa"), [(300, 3.53658941e-3), (500, 2.63889776), (600, 12.3443146)]
)
def test_saturation_pressure_is_that_of_if97_table_35(t_k, p_mpa):
    assert saturation_pressure_pa(temperature_c=t_k - 273.15) / 1e6 == pytest.approx(
        p_mpa, rel=1e-8
    )


# IAPWS R7-97(2012), Table 36.
@pytest.mark.parametrize(("p_mpa", "t_k"), [(0.1, 372.755919), (1, 453.035632), (10, 584.149488)])
def test_saturation_temperature_is_that_of_if97_table_36(p_mpa, t_k):
    assert water_boiling_point_c(pressure_pa=p_mpa * 1e6) + 273.15 == pytest.approx(t_k, abs=1e-6)


def test_water_boils_just_below_100_c_at_standard_pressure():
    # IAPWS-IF97: 99.974 C at 101 325 Pa, 101 418 Pa at 100 C.
    assert water_boiling_point_c(pressure_pa=101_325.0) == pytest.approx(99.974, abs=0.001)
    assert saturation_pressure_pa(temperature_c=100.0) == pytest.approx(101_418, abs=1)


# ISO 2533:1975 / ICAO standard atmosphere; boiling points from IAPWS-IF97.
@pytest.mark.parametrize(
    ("altitude_m", "p_hpa", "boils_c"),
    [
        (0, 1013.25, 99.974),
        (500, 954.61, 98.312),
        (1000, 898.75, 96.649),
        (1500, 845.56, 94.983),
        (2000, 794.95, 93.315),
        (3000, 701.09, 89.972),
    ],
)
def test_the_standard_atmosphere_and_where_water_boils_in_it(altitude_m, p_hpa, boils_c):
    pressure_pa = standard_pressure_pa(altitude_m=altitude_m)
    assert pressure_pa / 100 == pytest.approx(p_hpa, abs=0.01)
    assert water_boiling_point_c(pressure_pa=pressure_pa) == pytest.approx(boils_c, abs=0.002)


def test_one_hectopascal_of_weather_moves_the_boiling_point_by_0_0276_k():
    # Slope of IAPWS-IF97 at 1013.25 hPa.
    high, low = (water_boiling_point_c(pressure_pa=101_325.0 + d) for d in (50, -50))
    assert high - low == pytest.approx(0.0276, abs=0.0002)


@pytest.mark.parametrize("t_c", [60.0, 75.0, 90.0, 95.0, 100.0, 105.0, 110.0, 120.0, 130.0])
def test_saturation_agrees_with_iapws_95_as_coolprop_computes_it(t_c):
    p_95 = PropsSI("P", "T", t_c + 273.15, "Q", 0, "Water")
    assert saturation_pressure_pa(temperature_c=t_c) == pytest.approx(p_95, rel=1e-4)
    # 1e-4 of pressure is 0.0034 K at 130 C, where the two formulations differ most.
    assert water_boiling_point_c(pressure_pa=p_95) == pytest.approx(t_c, abs=0.003)


def test_a_weather_report_is_brought_up_to_the_kitchen():
    # ISO 2533: 898.75/1013.25 of what the report says at 1000 m; at sea level the report itself.
    assert local_pressure_pa(sea_level_pressure_pa=98_000.0, altitude_m=0.0) == 98_000.0
    at_1000_m = local_pressure_pa(sea_level_pressure_pa=98_000.0, altitude_m=1000.0)
    assert at_1000_m == pytest.approx(98_000 * 898.75 / 1013.25, abs=1)


def test_ordinary_weather_moves_boiling_water_by_a_kelvin_and_a_half():
    # IAPWS-IF97: 980 hPa boils at 99.04 C, 1035 hPa at 100.57 C.
    assert water_boiling_point_c(pressure_pa=98_000.0) == pytest.approx(99.04, abs=0.005)
    assert water_boiling_point_c(pressure_pa=103_500.0) == pytest.approx(100.57, abs=0.005)


@given(st.floats(min_value=1.0, max_value=370.0))
def test_boiling_point_undoes_saturation_pressure(t_c):
    pressure_pa = saturation_pressure_pa(temperature_c=t_c)
    # IF97 states the two equations consistent to about 1e-7 relative; this is tighter in C.
    assert water_boiling_point_c(pressure_pa=pressure_pa) == pytest.approx(t_c, abs=1e-6)


@given(st.floats(min_value=-430, max_value=10_999), st.floats(min_value=0.5, max_value=500))
def test_higher_up_the_air_is_thinner_and_water_boils_cooler(altitude_m, step_m):
    low = standard_pressure_pa(altitude_m=altitude_m)
    high = standard_pressure_pa(altitude_m=min(altitude_m + step_m, 11_000))
    assert high < low
    assert water_boiling_point_c(pressure_pa=high) < water_boiling_point_c(pressure_pa=low)


@pytest.mark.parametrize(
    ("formula", "name", "allowed", "refused"),
    [
        (standard_pressure_pa, "altitude_m", 11_000.0, 11_000.1),
        (standard_pressure_pa, "altitude_m", -430.0, -430.1),
        (saturation_pressure_pa, "temperature_c", 0.0, -0.1),
        (saturation_pressure_pa, "temperature_c", 373.9, 374.0),
        (water_boiling_point_c, "pressure_pa", 611.3, 611.1),
        (water_boiling_point_c, "pressure_pa", 22.06e6, 22.07e6),
    ],
)
def test_the_ranges_hold_on_both_sides(formula, name, allowed, refused):
    formula(**{name: allowed})
    with pytest.raises(OutsideValidRange):
        formula(**{name: refused})


@pytest.mark.parametrize("report_pa", [1013.0, 86_999.0, 108_501.0])
def test_a_report_in_hectopascal_by_mistake_is_refused(report_pa):
    with pytest.raises(OutsideValidRange, match="times 100"):
        local_pressure_pa(sea_level_pressure_pa=report_pa, altitude_m=0.0)


def test_arrays_give_what_single_values_give():
    altitudes_m = np.linspace(0, 4000, 9)
    pressures_pa = standard_pressure_pa(altitude_m=altitudes_m)
    boils_c = water_boiling_point_c(pressure_pa=pressures_pa)
    assert boils_c.shape == altitudes_m.shape
    for altitude_m, pressure_pa, boil_c in zip(altitudes_m, pressures_pa, boils_c, strict=True):
        alone_pa = standard_pressure_pa(altitude_m=float(altitude_m))
        assert alone_pa == pytest.approx(pressure_pa, rel=1e-13)
        assert water_boiling_point_c(pressure_pa=alone_pa) == pytest.approx(boil_c, rel=1e-12)
