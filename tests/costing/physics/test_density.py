"""Density against the CRC handbook and sugar-industry tables."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    OutsideValidRange,
    paste_kg_per_m3,
    slab_height_mm,
    sucrose_solution_kg_per_m3,
    water_kg_per_m3,
)


# Frozen values of the ICUMSA SPS-4 polynomial, from a second implementation.
@pytest.mark.parametrize(
    ("brix", "expected"),
    [(10, 1038.12), (30, 1127.03), (50, 1229.65), (65, 1316.56), (70, 1347.48)],
)
def test_the_polynomial_gives_its_frozen_values_at_20_c(brix, expected):
    assert sucrose_solution_kg_per_m3(brix=brix, temperature_c=20.0) == pytest.approx(
        expected, abs=0.05
    )


# CRC Handbook of Chemistry and Physics, sucrose solutions at 20 C.
@pytest.mark.parametrize(
    ("brix", "handbook"), [(10, 1038.1), (40, 1176.5), (60, 1286.4), (70, 1347.2)]
)
def test_syrup_density_agrees_with_the_crc_handbook(brix, handbook):
    assert sucrose_solution_kg_per_m3(brix=brix, temperature_c=20.0) == pytest.approx(
        handbook, abs=0.4
    )


# Beet-sugar handbook, Table A.1, specific gravity 20/20 (Asadi 2007, named from memory).
@pytest.mark.parametrize(("brix", "gravity"), [(10, 1.03998), (15, 1.06104), (20, 1.08287)])
def test_specific_gravity_agrees_with_the_beet_sugar_handbook(brix, gravity):
    ratio = sucrose_solution_kg_per_m3(brix=brix, temperature_c=20.0) / water_kg_per_m3(
        temperature_c=20.0
    )
    assert ratio == pytest.approx(gravity, abs=0.0001)


@pytest.mark.parametrize("temperature_c", [1.0, 20.0, 40.0, 60.0, 80.0, 99.0])
def test_water_density_agrees_with_iapws_95_as_coolprop_computes_it(temperature_c):
    reference = PropsSI("D", "T", temperature_c + 273.15, "P", 101_325, "Water")
    assert water_kg_per_m3(temperature_c=temperature_c) == pytest.approx(reference, abs=0.05)


def test_hot_syrup_is_lighter():
    # Frozen value of ICUMSA SPS-4: 1281.5 kg/m3 at 65 Brix and 80 C.
    hot = sucrose_solution_kg_per_m3(brix=65.0, temperature_c=80.0)
    assert hot == pytest.approx(1281.5, abs=0.3)


def test_a_paste_with_fibre():
    # 1 / (0.978/1322.7 + 0.022/1304.2) = 1322.2; fibre by Choi & Okos 1986 (from memory).
    density = paste_kg_per_m3(brix=66.0, temperature_c=20.0, insoluble_share=0.022, air_share=0.0)
    assert density == pytest.approx(1322.2, abs=0.5)


def test_air_whipped_in_makes_a_paste_lighter_by_its_share():
    ask = {"brix": 66.0, "temperature_c": 20.0, "insoluble_share": 0.022}
    whipped = paste_kg_per_m3(**ask, air_share=0.03)
    assert whipped == pytest.approx(0.97 * paste_kg_per_m3(**ask, air_share=0.0), rel=1e-12)


# 900 g of paste in a 20 x 20 cm tray: 900 / 1.3222 / 400 cm = 17.0 mm set, 17.6 mm at filling.
@pytest.mark.parametrize(("temperature_c", "height_mm"), [(20.0, 17.0), (90.0, 17.6)])
def test_a_slab_is_filled_higher_than_it_sets(temperature_c, height_mm):
    density = paste_kg_per_m3(
        brix=66.0, temperature_c=temperature_c, insoluble_share=0.022, air_share=0.0
    )
    height = slab_height_mm(mass_g=900.0, tray_area_cm2=400.0, density_kg_per_m3=density)
    assert height == pytest.approx(height_mm, abs=0.05)


def test_a_paste_shrinks_by_3_2_percent_from_filling_to_setting():
    hot, cold = (sucrose_solution_kg_per_m3(brix=66.0, temperature_c=t) for t in (90.0, 20.0))
    assert 1 - hot / cold == pytest.approx(0.032, abs=0.001)


def test_a_litre_cube_of_water_stands_10_cm_high():
    # 1000 g at 1000 kg/m3 over 100 cm2 is 10 cm.
    height = slab_height_mm(mass_g=1000.0, tray_area_cm2=100.0, density_kg_per_m3=1000.0)
    assert height == pytest.approx(100.0, abs=1e-9)


@given(st.floats(min_value=0, max_value=84), st.floats(min_value=5, max_value=99))
def test_more_sugar_is_denser_and_more_heat_lighter(brix, temperature_c):
    density = sucrose_solution_kg_per_m3(brix=brix, temperature_c=temperature_c)
    assert sucrose_solution_kg_per_m3(brix=brix + 1, temperature_c=temperature_c) > density
    assert sucrose_solution_kg_per_m3(brix=brix, temperature_c=temperature_c + 1) < density


@given(st.floats(min_value=1, max_value=1e5), st.floats(min_value=0.1, max_value=10))
def test_height_grows_with_mass(mass_g, times):
    tray = {"tray_area_cm2": 400.0, "density_kg_per_m3": 1322.0}
    assert slab_height_mm(mass_g=times * mass_g, **tray) == pytest.approx(
        times * slab_height_mm(mass_g=mass_g, **tray), rel=1e-12
    )


@pytest.mark.parametrize(
    ("formula", "right", "wrong"),
    [
        (water_kg_per_m3, {"temperature_c": 100.0}, {"temperature_c": 100.1}),
        (water_kg_per_m3, {"temperature_c": 0.0}, {"temperature_c": -0.1}),
        (sucrose_solution_kg_per_m3, {"brix": 85.0, "temperature_c": 20.0}, {"brix": 85.1}),
        (
            paste_kg_per_m3,
            {"brix": 66.0, "temperature_c": 20.0, "insoluble_share": 0.3, "air_share": 0.3},
            {"insoluble_share": 0.31},
        ),
        (
            paste_kg_per_m3,
            {"brix": 66.0, "temperature_c": 20.0, "insoluble_share": 0.02, "air_share": 0.0},
            {"air_share": 3.0},
        ),
        (
            slab_height_mm,
            {"mass_g": 0.0, "tray_area_cm2": 400.0, "density_kg_per_m3": 1322.0},
            {"tray_area_cm2": 0.0},
        ),
        (
            slab_height_mm,
            {"mass_g": 0.0, "tray_area_cm2": 400.0, "density_kg_per_m3": 1322.0},
            {"density_kg_per_m3": 1.32},
        ),
        (
            slab_height_mm,
            {"mass_g": 0.0, "tray_area_cm2": 400.0, "density_kg_per_m3": 1322.0},
            {"mass_g": -1.0},
        ),
    ],
)
def test_the_ranges_hold_on_both_sides(formula, right, wrong):
    formula(**right)
    with pytest.raises(OutsideValidRange):
        formula(**(right | wrong))


def test_arrays_give_what_single_values_give():
    brix = np.array([[0.0, 30.0], [66.0, 85.0]])
    together = sucrose_solution_kg_per_m3(brix=brix, temperature_c=20.0)
    assert together.shape == brix.shape
    for one, density in zip(brix.flat, together.flat, strict=True):
        alone = sucrose_solution_kg_per_m3(brix=float(one), temperature_c=20.0)
        assert type(alone) is float
        assert alone == pytest.approx(density, rel=1e-13)
