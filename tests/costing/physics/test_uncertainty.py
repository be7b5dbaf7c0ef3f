"""First-order uncertainties against hand sums and against the spread of drawn values."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    PRESERVE,
    SUCROSE,
    OutsideValidRange,
    boiling_temperature_c,
    brix_from_pot_mass,
    brix_from_pot_uncertainty,
    brix_from_temperature,
    brix_per_k,
    pot_mass_uncertainty_g,
    temperature_uncertainty_k,
)

SEA_LEVEL_PA = 101_325.0
POT = {
    "pot_mass_g": 2250.0,
    "soluble_solids_g": 1648.9,
    "insoluble_solids_g": 36.0,
    "pot_mass_uncertainty_g": 5.0,
    "soluble_solids_uncertainty_g": 20.0,
    "insoluble_solids_uncertainty_g": 5.0,
}
FINISHED = {
    "soluble_solids_g": 1667.81,
    "brix": 65.84,
    "brix_uncertainty": 1.0,
    "soluble_solids_uncertainty_g": 10.0,
    "insoluble_solids_uncertainty_g": 5.0,
    "pan_loss_uncertainty_g": 9.0,
}


# Frozen slopes of the model at 105 C: 3.89 Brix/K preserve, 3.6 sucrose (rounded).
@pytest.mark.parametrize(
    ("composition", "slope", "within"), [(PRESERVE, 3.89, 0.05), (SUCROSE, 3.6, 0.15)]
)
def test_near_105_c_a_kelvin_is_almost_four_brix(composition, slope, within):
    at = {"pressure_pa": SEA_LEVEL_PA, "composition": composition}
    brix = brix_from_temperature(temperature_c=105.0, **at)
    assert brix_per_k(brix=brix, **at) == pytest.approx(slope, abs=within)


@given(st.floats(min_value=5, max_value=85), st.floats(min_value=65_000, max_value=105_000))
def test_the_slope_is_that_of_the_inverse_model(brix, pressure_pa):
    at = {"pressure_pa": pressure_pa, "composition": PRESERVE}
    slope = brix_per_k(brix=brix, **at)
    boils_c = boiling_temperature_c(brix=brix, **at)
    step_k = 0.001
    up, down = (brix_from_temperature(temperature_c=boils_c + d, **at) for d in (step_k, -step_k))
    assert slope == pytest.approx((up - down) / (2 * step_k), rel=1e-3)


def test_the_slope_in_plain_water_goes_upwards_only():
    slope = brix_per_k(brix=0.0, pressure_pa=SEA_LEVEL_PA, composition=SUCROSE)
    # Ebullioscopic constant of water 0.513 K kg/mol (handbook, from memory): the first gram in
    # 100 g is 10 g/kg / 342.3 g/mol = 0.02921 mol/kg, 0.01499 K, that is 66.7 Brix/K. Steam is
    # not an ideal gas, which the constant leaves out: 1.5 %.
    assert slope == pytest.approx(66.7, rel=0.02)


def test_thermometer_stirring_and_model_add_in_quadrature():
    # sqrt(0.25^2 + 0.2^2 + 0.3^2) = sqrt(0.1925) = 0.4387.
    combined = temperature_uncertainty_k(thermometer_k=0.25, stirring_k=0.2, model_k=0.3)
    assert combined == pytest.approx(0.4387, abs=1e-4)


def test_weighing_a_small_pot_beats_the_thermometer():
    # 5 g of 950 g at 66 Brix: 66 x 5/950 = 0.347; half a kelvin is 0.5 x 3.9 = 1.95 Brix.
    weighed = brix_from_pot_uncertainty(
        pot_mass_g=950.0,
        soluble_solids_g=627.0,
        insoluble_solids_g=0.0,
        pot_mass_uncertainty_g=5.0,
        soluble_solids_uncertainty_g=0.0,
        insoluble_solids_uncertainty_g=0.0,
    )
    assert weighed == pytest.approx(0.347, abs=0.001)
    slope = brix_per_k(brix=66.0, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
    assert 0.5 * slope == pytest.approx(1.95, abs=0.05)


def test_brix_by_weight_scatters_as_the_first_order_says():
    # GUM against 200 000 drawn pots.
    draw = np.random.default_rng(7)
    brix = brix_from_pot_mass(
        pot_mass_g=draw.normal(2250, 5, 200_000),
        soluble_solids_g=draw.normal(1648.9, 20, 200_000),
        insoluble_solids_g=draw.normal(36, 5, 200_000),
    )
    assert brix_from_pot_uncertainty(**POT) == pytest.approx(brix.std(), rel=0.01)


def test_the_mass_scatters_as_the_first_order_says():
    draw = np.random.default_rng(7)
    n = 200_000
    mass_g = (
        100 * draw.normal(1667.81, 10, n) / draw.normal(65.84, 1.0, n)
        + draw.normal(36, 5, n)
        - draw.normal(30, 9, n)
    )
    assert pot_mass_uncertainty_g(**FINISHED) == pytest.approx(mass_g.std(), rel=0.01)


def test_a_quarter_kelvin_is_39_g_of_the_damson_paste():
    # 1667.81 x 100 / 65.84^2 x s x 0.25 K, with s of the drawn cook: 39.4 g (second
    # implementation, by drawing).
    slope = brix_per_k(brix=65.84, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
    known = dict.fromkeys(
        (
            "soluble_solids_uncertainty_g",
            "insoluble_solids_uncertainty_g",
            "pan_loss_uncertainty_g",
        ),
        0.0,
    )
    grams = pot_mass_uncertainty_g(**(FINISHED | known | {"brix_uncertainty": 0.25 * slope}))
    assert grams == pytest.approx(39.4, rel=0.04)


@given(st.floats(min_value=0.1, max_value=20))
def test_a_batch_so_many_times_larger_is_as_many_times_less_certain_in_grams(times):
    grams = [name for name in FINISHED if name.endswith("_g")]
    larger = FINISHED | {name: FINISHED[name] * times for name in grams}
    assert pot_mass_uncertainty_g(**larger) == pytest.approx(
        times * pot_mass_uncertainty_g(**FINISHED), rel=1e-12
    )
    heavier = {name: value * times for name, value in POT.items()}
    assert brix_from_pot_uncertainty(**heavier) == pytest.approx(
        brix_from_pot_uncertainty(**POT), rel=1e-12
    )


@pytest.mark.parametrize("worse", [name for name in POT if "uncertainty" in name])
def test_a_worse_figure_never_gives_a_better_brix(worse):
    assert brix_from_pot_uncertainty(**(POT | {worse: 30.0})) > brix_from_pot_uncertainty(**POT)


@pytest.mark.parametrize(
    ("formula", "right", "wrong"),
    [
        (brix_from_pot_uncertainty, POT, {"pot_mass_uncertainty_g": -0.1}),
        (brix_from_pot_uncertainty, POT, {"soluble_solids_uncertainty_g": math.nan}),
        (brix_from_pot_uncertainty, POT, {"pot_mass_g": 1684.0}),
        (pot_mass_uncertainty_g, FINISHED, {"brix": 85.1}),
        (pot_mass_uncertainty_g, FINISHED, {"brix_uncertainty": -1.0}),
        (pot_mass_uncertainty_g, FINISHED, {"pan_loss_uncertainty_g": -1.0}),
        (pot_mass_uncertainty_g, FINISHED, {"soluble_solids_g": 0.0}),
        (
            temperature_uncertainty_k,
            {"thermometer_k": 0.0, "stirring_k": 0.0, "model_k": 0.0},
            {"stirring_k": -0.1},
        ),
        (
            brix_per_k,
            {"brix": 94.9, "pressure_pa": 60_000.0, "composition": PRESERVE},
            {"brix": 95.0},
        ),
    ],
)
def test_the_ranges_hold_on_both_sides(formula, right, wrong):
    formula(**right)
    with pytest.raises(OutsideValidRange):
        formula(**(right | wrong))


def test_arrays_give_what_single_values_give():
    brix = np.array([0.0, 40.0, 66.0, 84.0])
    at = {"pressure_pa": SEA_LEVEL_PA, "composition": PRESERVE}
    for one, slope in zip(brix, brix_per_k(brix=brix, **at), strict=True):
        alone = brix_per_k(brix=float(one), **at)
        assert type(alone) is float
        assert alone == pytest.approx(slope, rel=1e-9)
    finishes = np.array([50.0, 60.0, 66.0])
    together = pot_mass_uncertainty_g(**(FINISHED | {"brix": finishes}))
    for one, grams in zip(finishes, together, strict=True):
        assert pot_mass_uncertainty_g(**(FINISHED | {"brix": float(one)})) == pytest.approx(
            grams, rel=1e-13
        )
