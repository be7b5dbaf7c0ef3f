"""Solids in, solids out: worked sums, inverses and conservation."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    Composition,
    OutsideValidRange,
    boiling_temperature_c,
    brix_from_finished_share,
    brix_from_pot_mass,
    brix_from_temperature,
    composition_after_inversion,
    delivered_g,
    pot_mass_g,
    saturation_ratio,
    solids_from_pot_g,
    soluble_solids_g,
    sugar_for_target_g,
    total_solids_pct,
    water_activity,
    water_bound_g,
    water_to_boil_off_g,
    water_to_thin_g,
)

SEA_LEVEL_PA = 101_325.0
SOLIDS_G = st.floats(min_value=1, max_value=1e6)
FIBRE_G = st.floats(min_value=0, max_value=1e5)
BRIX = st.floats(min_value=5, max_value=85)


# The sums behind these figures stand beside them and need a pocket calculator only.
@pytest.mark.parametrize(
    ("fruit_g", "brix", "fibre_pct", "expected_g"),
    [
        (2000, 12.5, 1.8, 245.50),  # 0.125 x (2000 - 36)
        (1000, 8.0, 2.0, 78.40),  # 0.08 x (1000 - 20)
    ],
)
def test_fruit_brings_its_brix_of_all_but_its_fibre(fruit_g, brix, fibre_pct, expected_g):
    solids_g = soluble_solids_g(
        fruit_g=fruit_g, brix=brix, insoluble_solids_g=fruit_g * fibre_pct / 100
    )
    assert solids_g == pytest.approx(expected_g, abs=0.01)


@pytest.mark.parametrize(
    ("soluble_g", "fibre_g", "brix", "expected_g", "within_g"),
    [
        (1648.90, 36.0, 68.04, 2459.4, 0.5),  # 1648.90 / 0.6804 + 36
        (1078.4, 20.0, 65.0, 1679.08, 0.02),  # 1078.4 / 0.65 + 20
    ],
)
def test_pot_mass_is_solids_over_brix_plus_fibre(soluble_g, fibre_g, brix, expected_g, within_g):
    mass_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g, brix=brix)
    assert mass_g == pytest.approx(expected_g, abs=within_g)


def test_damson_paste_from_fruit_to_slab():
    # 2000 g puree (12.5 Brix, 1.8 % fibre) + 1400 g sugar + 40 g lemon juice (8.5 Brix, its
    # solids 70 % acid and 30 % hexose), cooked to a true 104.8 C at sea level, a quarter of the
    # sucrose inverted. Fruit solids are split 0.15/0.75/0.10.
    fruit_g = soluble_solids_g(fruit_g=2000.0, brix=12.5, insoluble_solids_g=36.0)
    lemon_g = soluble_solids_g(fruit_g=40.0, brix=8.5, insoluble_solids_g=0.0)
    sucrose_g = 1400 + 0.15 * fruit_g
    before_g = 1400 + fruit_g + lemon_g
    assert before_g == pytest.approx(1648.90, abs=0.01)
    before = Composition.from_masses(
        sucrose_g=sucrose_g,
        hexose_g=0.75 * fruit_g + 0.3 * lemon_g,
        acid_g=0.10 * fruit_g + 0.7 * lemon_g,
    )

    # Without inversion: 68.04 Brix, 2459.3 g, aw 0.831 at 20 C, saturation ratio 0.93.
    ask = {"temperature_c": 104.8, "pressure_pa": SEA_LEVEL_PA}
    brix = brix_from_temperature(**ask, composition=before)
    assert brix == pytest.approx(68.04, abs=0.02)
    uninverted_g = pot_mass_g(soluble_solids_g=before_g, insoluble_solids_g=36.0, brix=brix)
    assert uninverted_g == pytest.approx(2459.3, abs=0.8)
    assert water_activity(brix=brix, temperature_c=20.0, composition=before) == pytest.approx(
        0.831, abs=0.001
    )
    ratio = saturation_ratio(brix=brix, sucrose_share=before.sucrose, temperature_c=20.0)
    assert ratio == pytest.approx(0.93, abs=0.01)

    # With a quarter inverted the solids grow by 1436.825 x 0.25 x 0.05263 = 18.9 g.
    soluble_g = before_g + water_bound_g(sucrose_g=sucrose_g, inverted_share=0.25)
    assert soluble_g == pytest.approx(1667.81, abs=0.02)
    after = composition_after_inversion(composition=before, inverted_share=0.25)
    assert (after.sucrose, after.hexose, after.acid) == pytest.approx(
        (0.6461, 0.3377, 0.0161), abs=1e-4
    )
    brix = brix_from_temperature(**ask, composition=after)
    assert brix == pytest.approx(65.84, abs=0.02)
    finished_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=36.0, brix=brix)
    assert finished_g == pytest.approx(2569.0, abs=0.8)
    boiled_off_g = water_to_boil_off_g(
        pot_mass_g=3440.0, soluble_solids_g=soluble_g, insoluble_solids_g=36.0, finishing_brix=brix
    )
    assert boiled_off_g == pytest.approx(871.0, abs=0.8)
    assert finished_g / 3440 == pytest.approx(0.747, abs=0.0005)
    solids_pct = total_solids_pct(
        pot_mass_g=finished_g, soluble_solids_g=soluble_g, insoluble_solids_g=36.0
    )
    assert solids_pct == pytest.approx(66.3, abs=0.05)
    sold_g = delivered_g(pot_mass_g=finished_g, pan_loss_g=30.0, handling_loss_share=0.0)
    assert sold_g == pytest.approx(2539.0, abs=0.8)
    assert water_activity(brix=brix, temperature_c=20.0, composition=after) == pytest.approx(
        0.833, abs=0.001
    )


# The same paste with other fruit or another end temperature, from a second implementation.
@pytest.mark.parametrize(
    ("fruit_brix", "end_c", "expected_g"),
    [(11.0, 104.8, 2520.4), (14.0, 104.8, 2617.6), (12.5, 104.3, 2655.5), (12.5, 105.3, 2497.8)],
)
def test_damson_paste_with_other_fruit_or_end_point(fruit_brix, end_c, expected_g):
    fruit_g = soluble_solids_g(fruit_g=2000.0, brix=fruit_brix, insoluble_solids_g=36.0)
    sucrose_g = 1400 + 0.15 * fruit_g
    before = Composition.from_masses(
        sucrose_g=sucrose_g, hexose_g=0.75 * fruit_g + 1.02, acid_g=0.10 * fruit_g + 2.38
    )
    brix = brix_from_temperature(
        temperature_c=end_c,
        pressure_pa=SEA_LEVEL_PA,
        composition=composition_after_inversion(composition=before, inverted_share=0.25),
    )
    soluble_g = 1403.4 + fruit_g + water_bound_g(sucrose_g=sucrose_g, inverted_share=0.25)
    finished_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=36.0, brix=brix)
    assert finished_g == pytest.approx(expected_g, abs=1.0)


# 1000 g strawberries (78.4 g of solids, 20 g fibre) and 1000 g sugar to 65 Brix.
@pytest.mark.parametrize(
    ("inverted", "solids_g", "finished_g", "boiled_off_g", "aw"),
    [(0.0, 1078.4, 1679.1, 320.9, 0.860), (0.25, 1091.71, 1699.6, 300.4, 0.843)],
)
def test_strawberry_jam_to_65_brix(inverted, solids_g, finished_g, boiled_off_g, aw):
    sucrose_g = 1000 + 0.15 * 78.4
    soluble_g = 1078.4 + water_bound_g(sucrose_g=sucrose_g, inverted_share=inverted)
    assert soluble_g == pytest.approx(solids_g, abs=0.02)
    mass_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=20.0, brix=65.0)
    assert mass_g == pytest.approx(finished_g, abs=0.05)
    assert water_to_boil_off_g(
        pot_mass_g=2000.0, soluble_solids_g=soluble_g, insoluble_solids_g=20.0, finishing_brix=65.0
    ) == pytest.approx(boiled_off_g, abs=0.05)
    before = Composition.from_masses(sucrose_g=sucrose_g, hexose_g=58.8, acid_g=7.84)
    after = composition_after_inversion(composition=before, inverted_share=inverted)
    assert water_activity(brix=65.0, temperature_c=20.0, composition=after) == pytest.approx(
        aw, abs=0.001
    )


def test_total_solids_of_the_jam_count_its_fibre():
    # (1091.71 + 20) / 1699.55 = 65.4 %, while the refractometer reads 65.
    solids_pct = total_solids_pct(
        pot_mass_g=1699.55, soluble_solids_g=1091.71, insoluble_solids_g=20.0
    )
    assert solids_pct == pytest.approx(65.4, abs=0.05)


def test_brix_from_weighing_the_pot():
    # 100 x 1648.90 / (2250 - 36) = 74.476.
    brix = brix_from_pot_mass(pot_mass_g=2250.0, soluble_solids_g=1648.90, insoluble_solids_g=36.0)
    assert brix == pytest.approx(74.48, abs=0.01)


def test_sugar_to_hit_a_mass_and_a_brix():
    # (2500 - 36) x 0.66 - 245.5 - 3.4 = 1377.34.
    sugar_g = sugar_for_target_g(
        target_g=2500.0, brix=66.0, insoluble_solids_g=36.0, other_soluble_solids_g=245.5 + 3.4
    )
    assert sugar_g == pytest.approx(1377.3, abs=0.05)


def test_water_to_thin_an_overcooked_pot():
    # 600 x (100/66 - 100/72) = 75.76.
    water_g = water_to_thin_g(soluble_solids_g=600.0, brix=72.0, target_brix=66.0)
    assert water_g == pytest.approx(75.76, abs=0.005)


def test_a_finish_written_as_a_share_of_what_went_in():
    # 2000 x 0.84 = 1680; 107840 / (1680 - 20) = 64.96 Brix.
    brix = brix_from_finished_share(
        ingoing_g=2000.0, finished_share=0.84, soluble_solids_g=1078.4, insoluble_solids_g=20.0
    )
    assert brix == pytest.approx(64.96, abs=0.005)


def test_pan_and_handling_losses_come_off_one_after_the_other():
    # (1000 - 20) x 0.95 = 931.
    sold_g = delivered_g(pot_mass_g=1000.0, pan_loss_g=20.0, handling_loss_share=0.05)
    assert sold_g == pytest.approx(931.0, abs=1e-9)


@given(SOLIDS_G, FIBRE_G, BRIX, st.floats(min_value=0, max_value=1e6))
def test_water_out_and_what_is_left_make_what_went_in(solids_g, fibre_g, brix, water_g):
    finished_g = pot_mass_g(soluble_solids_g=solids_g, insoluble_solids_g=fibre_g, brix=brix)
    ingoing_g = finished_g + water_g
    out_g = water_to_boil_off_g(
        pot_mass_g=ingoing_g,
        soluble_solids_g=solids_g,
        insoluble_solids_g=fibre_g,
        finishing_brix=brix,
    )
    assert out_g + finished_g == pytest.approx(ingoing_g, rel=1e-9)
    # Soluble solids are the same before and after; fibre is what is not liquid.
    left_g = solids_from_pot_g(pot_mass_g=finished_g, insoluble_solids_g=fibre_g, brix=brix)
    assert left_g == pytest.approx(solids_g, rel=1e-9)


@given(SOLIDS_G, FIBRE_G, BRIX)
def test_pot_mass_and_back_returns_the_brix(solids_g, fibre_g, brix):
    solids = {"soluble_solids_g": solids_g, "insoluble_solids_g": fibre_g}
    mass_g = pot_mass_g(**solids, brix=brix)
    assert brix_from_pot_mass(pot_mass_g=mass_g, **solids) == pytest.approx(brix, abs=1e-6)
    share = brix_from_finished_share(ingoing_g=2 * mass_g, finished_share=0.5, **solids)
    assert share == pytest.approx(brix, abs=1e-6)


@given(SOLIDS_G, FIBRE_G, BRIX, st.floats(min_value=0.01, max_value=0.99))
def test_thinning_brings_the_pot_to_the_brix_wanted(solids_g, fibre_g, brix, less):
    solids = {"soluble_solids_g": solids_g, "insoluble_solids_g": fibre_g}
    water_g = water_to_thin_g(soluble_solids_g=solids_g, brix=brix, target_brix=brix * less)
    thinned_g = pot_mass_g(**solids, brix=brix) + water_g
    assert brix_from_pot_mass(pot_mass_g=thinned_g, **solids) == pytest.approx(
        brix * less, abs=1e-6
    )


@given(SOLIDS_G, FIBRE_G, BRIX, st.floats(min_value=0, max_value=1))
def test_sugar_for_a_target_gives_that_target(other_g, fibre_g, brix, sugar_per_other):
    sugar_g = other_g * sugar_per_other
    target_g = pot_mass_g(soluble_solids_g=other_g + sugar_g, insoluble_solids_g=fibre_g, brix=brix)
    # Rounding must not turn "no sugar" into less than none.
    found_g = sugar_for_target_g(
        target_g=target_g + 1e-6,
        brix=brix,
        insoluble_solids_g=fibre_g,
        other_soluble_solids_g=other_g,
    )
    assert found_g == pytest.approx(sugar_g, rel=1e-9, abs=1e-6)


@given(SOLIDS_G, FIBRE_G, BRIX, st.floats(min_value=0.1, max_value=50))
def test_a_batch_so_many_times_larger_finishes_that_many_times_heavier(
    solids_g, fibre_g, brix, times
):
    one = pot_mass_g(soluble_solids_g=solids_g, insoluble_solids_g=fibre_g, brix=brix)
    many = pot_mass_g(
        soluble_solids_g=times * solids_g, insoluble_solids_g=times * fibre_g, brix=brix
    )
    assert many == pytest.approx(times * one, rel=1e-9)


@given(SOLIDS_G, FIBRE_G, st.floats(min_value=5, max_value=84))
def test_the_further_it_is_boiled_the_less_is_left(solids_g, fibre_g, brix):
    solids = {"soluble_solids_g": solids_g, "insoluble_solids_g": fibre_g}
    assert pot_mass_g(**solids, brix=brix + 1) < pot_mass_g(**solids, brix=brix)


def test_fibre_adds_its_own_mass_and_nothing_more():
    with_fibre_g = pot_mass_g(soluble_solids_g=650.0, insoluble_solids_g=20.0, brix=65.0)
    without_g = pot_mass_g(soluble_solids_g=650.0, insoluble_solids_g=0.0, brix=65.0)
    assert with_fibre_g - without_g == pytest.approx(20.0, abs=1e-9)


def test_a_pot_already_at_its_end_point_has_no_water_to_lose():
    at_g = pot_mass_g(soluble_solids_g=1078.4, insoluble_solids_g=20.0, brix=65.0)
    left_g = water_to_boil_off_g(
        pot_mass_g=at_g * (1 - 1e-12),
        soluble_solids_g=1078.4,
        insoluble_solids_g=20.0,
        finishing_brix=65.0,
    )
    assert left_g == 0


def test_a_pot_past_its_end_point_says_to_thin_it():
    with pytest.raises(OutsideValidRange, match="thin it with water"):
        water_to_boil_off_g(
            pot_mass_g=1600.0, soluble_solids_g=1078.4, insoluble_solids_g=20.0, finishing_brix=65.0
        )


@pytest.mark.parametrize(
    ("brix", "allowed"), [(85.0, True), (85.1, False), (0.1, True), (0, False)]
)
def test_finishing_brix_lies_above_0_and_up_to_85(brix, allowed):
    ask = {"soluble_solids_g": 100.0, "insoluble_solids_g": 0.0, "brix": brix}
    if allowed:
        assert pot_mass_g(**ask) >= 100
        return
    with pytest.raises(OutsideValidRange, match="finishing Brix"):
        pot_mass_g(**ask)


@pytest.mark.parametrize(
    ("formula", "arguments", "says"),
    [
        (pot_mass_g, {"soluble_solids_g": 0.0, "insoluble_solids_g": 0.0, "brix": 65.0}, "nothing"),
        (pot_mass_g, {"soluble_solids_g": 1.0, "insoluble_solids_g": -1.0, "brix": 65.0}, "fibre"),
        (
            pot_mass_g,
            {"soluble_solids_g": math.inf, "insoluble_solids_g": 0.0, "brix": 65.0},
            "soluble solids",
        ),
        (
            soluble_solids_g,
            {"fruit_g": -1.0, "brix": 10.0, "insoluble_solids_g": 0.0},
            "negative amount",
        ),
        (
            soluble_solids_g,
            {"fruit_g": 100.0, "brix": 10.0, "insoluble_solids_g": 101.0},
            "cannot weigh more than the fruit",
        ),
        (soluble_solids_g, {"fruit_g": 1.0, "brix": 86.0, "insoluble_solids_g": 0.0}, "fruit"),
        (
            brix_from_pot_mass,
            {"pot_mass_g": 119.0, "soluble_solids_g": 100.0, "insoluble_solids_g": 20.0},
            "tare",
        ),
        (
            brix_from_finished_share,
            {
                "ingoing_g": 200.0,
                "finished_share": 1.01,
                "soluble_solids_g": 100.0,
                "insoluble_solids_g": 0.0,
            },
            "only takes away",
        ),
        (
            solids_from_pot_g,
            {"pot_mass_g": 20.0, "insoluble_solids_g": 20.0, "brix": 50.0},
            "weighing",
        ),
        (
            delivered_g,
            {"pot_mass_g": 20.0, "pan_loss_g": 21.0, "handling_loss_share": 0.0},
            "cannot keep more",
        ),
        (
            delivered_g,
            {"pot_mass_g": 20.0, "pan_loss_g": 1.0, "handling_loss_share": 2.0},
            "0.02 for 2 %",
        ),
        (
            sugar_for_target_g,
            {
                "target_g": 100.0,
                "brix": 66.0,
                "insoluble_solids_g": 0.0,
                "other_soluble_solids_g": 67.0,
            },
            "fruit alone gives more",
        ),
        (
            water_to_thin_g,
            {"soluble_solids_g": 100.0, "brix": 60.0, "target_brix": 61.0},
            "boil on",
        ),
        (
            total_solids_pct,
            {"pot_mass_g": 100.0, "soluble_solids_g": 90.0, "insoluble_solids_g": 11.0},
            "cannot weigh less",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_what_to_do(formula, arguments, says):
    with pytest.raises(OutsideValidRange, match=says):
        formula(**arguments)


def test_arrays_give_what_single_values_give():
    brix = np.array([[40.0, 60.0], [66.0, 80.0]])
    together_g = pot_mass_g(soluble_solids_g=1000.0, insoluble_solids_g=20.0, brix=brix)
    back = brix_from_pot_mass(
        pot_mass_g=together_g, soluble_solids_g=1000.0, insoluble_solids_g=20.0
    )
    assert together_g.shape == back.shape == brix.shape
    assert back == pytest.approx(brix, rel=1e-12)
    out_g = water_to_boil_off_g(
        pot_mass_g=3000.0, soluble_solids_g=1000.0, insoluble_solids_g=20.0, finishing_brix=brix
    )
    assert out_g + together_g == pytest.approx(np.full((2, 2), 3000.0), rel=1e-12)
    for one, mass_g in zip(brix.flat, together_g.flat, strict=True):
        alone_g = pot_mass_g(soluble_solids_g=1000.0, insoluble_solids_g=20.0, brix=float(one))
        assert type(alone_g) is float
        assert alone_g == pytest.approx(mass_g, rel=1e-13)


def test_a_thousand_draws_give_the_spread_of_a_batch_and_not_one_number():
    # Damson paste with uncertain fruit, inversion, thermometer and pan loss (10 000 draws, from
    # a second implementation): delivered 2544 +-3 g on average, standard deviation 56 +-3 g.
    draw = np.random.default_rng(20240917)
    n = 10_000
    fibre_g = 2000 * draw.triangular(0.012, 0.018, 0.024, n)
    fruit_g = soluble_solids_g(
        fruit_g=2000.0, brix=draw.triangular(11, 12.5, 14, n), insoluble_solids_g=fibre_g
    )
    inverted = draw.triangular(0.10, 0.25, 0.45, n)
    sucrose_g = 1400 + 0.15 * fruit_g
    before = Composition.from_masses(
        sucrose_g=sucrose_g, hexose_g=0.75 * fruit_g + 1.02, acid_g=0.10 * fruit_g + 2.38
    )
    brix = brix_from_temperature(
        temperature_c=draw.normal(104.8, 0.25, n),
        pressure_pa=SEA_LEVEL_PA,
        composition=composition_after_inversion(composition=before, inverted_share=inverted),
    )
    soluble_g = 1403.4 + fruit_g + water_bound_g(sucrose_g=sucrose_g, inverted_share=inverted)
    sold_g = delivered_g(
        pot_mass_g=pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g, brix=brix),
        pan_loss_g=draw.triangular(15, 30, 60, n),
        handling_loss_share=0.0,
    )
    assert sold_g.mean() == pytest.approx(2544, abs=3)
    assert sold_g.std() == pytest.approx(56, abs=3)
    assert brix.mean() == pytest.approx(65.7, abs=0.1)


def test_the_end_point_of_the_paste_boils_where_it_was_read():
    composition = Composition(sucrose=0.6461, hexose=0.3378, acid=0.0161)
    boiling_c = boiling_temperature_c(brix=65.84, pressure_pa=SEA_LEVEL_PA, composition=composition)
    assert boiling_c == pytest.approx(104.8, abs=0.01)
