"""Inversion: stoichiometry, and Vukov's rate."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    DEFAULT_INVERTED_SHARE,
    PRESERVE,
    SUCROSE,
    USUAL_INVERTED_SHARES,
    Composition,
    OutsideValidRange,
    composition_after_inversion,
    hexose_formed_g,
    inversion_rate_per_min,
    inverted_share_after,
    sucrose_left_g,
    water_bound_g,
)

SHARE = st.floats(min_value=0, max_value=0.95)


def test_a_quarter_of_100_g_of_sucrose():
    # C12H22O11 + H2O -> 2 C6H12O6: 25 g x 360.312/342.2965 = 26.316 g from 1.316 g of water.
    ask = {"sucrose_g": 100.0, "inverted_share": 0.25}
    assert sucrose_left_g(**ask) == pytest.approx(75.00, abs=0.002)
    assert hexose_formed_g(**ask) == pytest.approx(26.316, abs=0.002)
    assert hexose_formed_g(**ask) == pytest.approx(25 * 2 * 180.156 / 342.2965, abs=0.001)
    assert water_bound_g(**ask) == pytest.approx(1.316, abs=0.002)


def test_500_g_of_sugar_gains_6_6_g_of_solids_at_the_default():
    assert DEFAULT_INVERTED_SHARE == 0.25
    gain_g = water_bound_g(sucrose_g=500.0, inverted_share=DEFAULT_INVERTED_SHARE)
    assert gain_g == pytest.approx(6.6, abs=0.03)


def test_the_usual_range_lies_inside_what_was_observed():
    # Tolman, Munson & Bigelow 1901, quoted by Lowe: 4.9 % (orange) to 58.8 % (crab apple).
    low, high = USUAL_INVERTED_SHARES
    assert 0.049 < low < DEFAULT_INVERTED_SHARE < high < 0.588


@given(st.floats(min_value=0, max_value=1e6), SHARE)
def test_sucrose_and_water_become_sucrose_and_hexose_and_nothing_is_lost(sucrose_g, share):
    ask = {"sucrose_g": sucrose_g, "inverted_share": share}
    after_g = sucrose_left_g(**ask) + hexose_formed_g(**ask)
    assert after_g == pytest.approx(sucrose_g + water_bound_g(**ask), rel=1e-9)


@given(SHARE)
def test_shares_after_inversion_match_the_masses(share):
    # 100 g of preserve solids: 60 sucrose, 37 hexose, 3 acid.
    ask = {"sucrose_g": 60.0, "inverted_share": share}
    by_mass = Composition.from_masses(
        sucrose_g=sucrose_left_g(**ask), hexose_g=37 + hexose_formed_g(**ask), acid_g=3.0
    )
    after = composition_after_inversion(composition=PRESERVE, inverted_share=share)
    assert after.sucrose == pytest.approx(by_mass.sucrose, abs=1e-12)
    assert after.hexose == pytest.approx(by_mass.hexose, abs=1e-12)
    assert after.acid == pytest.approx(by_mass.acid, abs=1e-12)


def test_without_inversion_nothing_changes():
    after = composition_after_inversion(composition=PRESERVE, inverted_share=0.0)
    assert after.sucrose == pytest.approx(PRESERVE.sucrose, abs=1e-15)
    assert water_bound_g(sucrose_g=100.0, inverted_share=0.0) == 0


# Vukov 1965 (read second-hand, through Rein 2012), at 103 C and 55 Brix.
@pytest.mark.parametrize(("minutes", "share"), [(10, 0.217), (20, 0.387)])
def test_vukovs_rate_at_ph_3_2(minutes, share):
    found = inverted_share_after(minutes=minutes, brix=55.0, temperature_c=103.0, ph=3.2)
    assert found == pytest.approx(share, abs=0.003)


@pytest.mark.parametrize(
    ("ph", "shares"),
    [(3.0, (0.18, 0.32, 0.54)), (3.5, (0.06, 0.12, 0.22)), (4.0, (0.02, 0.04, 0.08))],
)
def test_vukovs_rate_at_other_acidities(ph, shares):
    for minutes, share in zip((5, 10, 20), shares, strict=True):
        found = inverted_share_after(minutes=minutes, brix=55.0, temperature_c=103.0, ph=ph)
        assert found == pytest.approx(share, abs=0.006)


def test_one_ph_unit_is_ten_times_the_rate():
    ask = {"brix": 55.0, "temperature_c": 103.0}
    assert inversion_rate_per_min(**ask, ph=3.0) == pytest.approx(
        10 * inversion_rate_per_min(**ask, ph=4.0), rel=1e-12
    )


@given(st.floats(min_value=0, max_value=84), st.floats(min_value=20, max_value=129))
def test_hotter_is_faster_and_less_water_is_slower(brix, temperature_c):
    rate = inversion_rate_per_min(brix=brix, temperature_c=temperature_c, ph=3.2)
    assert inversion_rate_per_min(brix=brix, temperature_c=temperature_c + 1, ph=3.2) > rate
    assert inversion_rate_per_min(brix=brix + 1, temperature_c=temperature_c, ph=3.2) < rate


@pytest.mark.parametrize(
    ("share", "allowed"), [(0.0, True), (0.95, True), (0.951, False), (-0.01, False)]
)
def test_the_share_inverted_lies_between_0_and_95_percent(share, allowed):
    for formula in (sucrose_left_g, water_bound_g, hexose_formed_g):
        if allowed:
            assert formula(sucrose_g=100.0, inverted_share=share) >= 0
        else:
            with pytest.raises(OutsideValidRange, match=r"0\.25 is usual"):
                formula(sucrose_g=100.0, inverted_share=share)
    if not allowed:
        with pytest.raises(OutsideValidRange):
            composition_after_inversion(composition=SUCROSE, inverted_share=share)


@pytest.mark.parametrize(
    "wrong",
    [
        {"ph": 1.9},
        {"ph": 7.1},
        {"brix": 85.1},
        {"temperature_c": 19.0},
        {"temperature_c": 131.0},
        {"minutes": -1.0},
        {"minutes": 1441.0},
        {"ph": math.nan},
    ],
)
def test_the_rate_refuses_what_it_was_not_made_for(wrong):
    right = {"minutes": 10.0, "brix": 55.0, "temperature_c": 103.0, "ph": 3.2}
    with pytest.raises(OutsideValidRange):
        inverted_share_after(**(right | wrong))


def test_negative_sucrose_is_refused():
    with pytest.raises(OutsideValidRange, match="negative amount"):
        water_bound_g(sucrose_g=-1.0, inverted_share=0.25)


def test_arrays_give_what_single_values_give():
    minutes = np.array([0.0, 5.0, 10.0, 20.0])
    together = inverted_share_after(minutes=minutes, brix=55.0, temperature_c=103.0, ph=3.2)
    assert together.shape == minutes.shape
    for one, share in zip(minutes, together, strict=True):
        alone = inverted_share_after(minutes=float(one), brix=55.0, temperature_c=103.0, ph=3.2)
        assert type(alone) is float
        assert alone == pytest.approx(share, rel=1e-12)
