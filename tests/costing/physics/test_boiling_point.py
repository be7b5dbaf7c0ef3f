"""Boiling points against handbook tables, trade rules and frozen values of the model."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.physics import (
    INVERT,
    PRESERVE,
    SUCROSE,
    Composition,
    OutsideValidRange,
    boiling_point_rise_k,
    boiling_temperature_c,
    brix_from_rise,
    brix_from_temperature,
    composition_after_inversion,
    reliability,
    standard_pressure_pa,
    water_activity,
    water_boiling_point_c,
)

SEA_LEVEL_PA = 101_325.0
COMPOSITIONS = [SUCROSE, PRESERVE, INVERT]


# Frozen values of the model, from a second implementation.
@pytest.mark.parametrize(
    ("composition", "brix", "expected_c"),
    [
        (SUCROSE, 20, 100.368),
        (SUCROSE, 40, 101.121),
        (SUCROSE, 50, 101.798),
        (SUCROSE, 60, 102.912),
        (SUCROSE, 65, 103.767),
        (SUCROSE, 70, 104.963),
        (SUCROSE, 75, 106.716),
        (SUCROSE, 80, 109.438),
        (PRESERVE, 60, 103.692),
        (PRESERVE, 65, 104.720),
        (PRESERVE, 70, 106.138),
        (PRESERVE, 75, 108.180),
        (INVERT, 60, 104.807),
        (INVERT, 65, 106.075),
        (INVERT, 70, 107.800),
    ],
)
def test_the_model_gives_its_frozen_boiling_points(composition, brix, expected_c):
    boiling_c = boiling_temperature_c(brix=brix, pressure_pa=SEA_LEVEL_PA, composition=composition)
    assert boiling_c == pytest.approx(expected_c, abs=0.005)


# Producers' finishing rules for maple syrup: 66 Brix at +7.1 F, 66.9 at +7.3 to 7.5 F.
@pytest.mark.parametrize(("brix", "rise_k", "within"), [(66, 3.94, 0.12), (66.9, 4.12, 0.15)])
def test_maple_syrup_finishes_where_its_makers_say(brix, rise_k, within):
    rise = boiling_point_rise_k(brix=brix, pressure_pa=SEA_LEVEL_PA, composition=SUCROSE)
    assert rise == pytest.approx(rise_k, abs=within)


# Sugar-factory handbook table, Spencer-Meade / Honig lineage (from memory).
@pytest.mark.parametrize(
    ("brix", "rise_k"), [(60, 3.0), (65, 3.8), (70, 5.1), (75, 7.0), (80, 9.4)]
)
def test_sucrose_syrup_agrees_with_the_sugar_handbook(brix, rise_k):
    rise = boiling_point_rise_k(brix=brix, pressure_pa=SEA_LEVEL_PA, composition=SUCROSE)
    assert rise == pytest.approx(rise_k, abs=0.3)


# Crapiste & Lozano 1988, J. Food Sci. 53:865, sucrose (coefficients from memory):
# rise = 0.030612 B^0.0942 exp(0.05329 B) p^0.1356, p in mbar. At 700: 1.54, 2.68, 4.63.
@pytest.mark.parametrize(("brix", "published_k"), [(50, 1.54), (60, 2.68), (70, 4.63)])
def test_sucrose_agrees_with_crapiste_and_lozano_at_700_mbar(brix, published_k):
    by_their_equation = 3.0612e-2 * brix**0.0942 * math.exp(5.329e-2 * brix) * 700**0.1356
    assert by_their_equation == pytest.approx(published_k, abs=0.01)
    rise = boiling_point_rise_k(brix=brix, pressure_pa=70_000.0, composition=SUCROSE)
    assert rise == pytest.approx(published_k, abs=0.25)


# Frozen inverse, from a second implementation.
@pytest.mark.parametrize(
    ("temperature_c", "sucrose", "preserve", "invert"),
    [(104, 66.1, 61.7, 55.9), (105, 70.1, 66.1, 60.9), (107, 75.6, 72.4, 67.9)],
)
def test_brix_at_a_temperature_depends_on_composition(temperature_c, sucrose, preserve, invert):
    for composition, expected in zip(COMPOSITIONS, (sucrose, preserve, invert), strict=True):
        brix = brix_from_temperature(
            temperature_c=temperature_c, pressure_pa=SEA_LEVEL_PA, composition=composition
        )
        assert brix == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize("composition", COMPOSITIONS)
@settings(max_examples=60)
@given(brix=st.floats(min_value=5, max_value=85), pressure=st.floats(60_000, 108_000))
def test_brix_to_temperature_and_back_returns_the_brix(composition, brix, pressure):
    temperature_c = boiling_temperature_c(brix=brix, pressure_pa=pressure, composition=composition)
    back = brix_from_temperature(
        temperature_c=temperature_c, pressure_pa=pressure, composition=composition
    )
    assert back == pytest.approx(brix, abs=1e-6)


@settings(max_examples=60)
@given(brix=st.floats(min_value=5, max_value=85), pressure=st.floats(60_000, 108_000))
def test_brix_to_rise_and_back_returns_the_brix(brix, pressure):
    rise = boiling_point_rise_k(brix=brix, pressure_pa=pressure, composition=PRESERVE)
    back = brix_from_rise(rise_k=rise, pressure_pa=pressure, composition=PRESERVE)
    assert back == pytest.approx(brix, abs=1e-6)


@settings(max_examples=60)
@given(brix=st.floats(min_value=0, max_value=95), pressure=st.floats(60_000, 108_000))
def test_at_the_boiling_point_vapour_pressure_equals_air_pressure(brix, pressure):
    # The definition of boiling, with saturation taken from CoolProp's IAPWS-95.
    from CoolProp.CoolProp import PropsSI

    boiling_c = boiling_temperature_c(brix=brix, pressure_pa=pressure, composition=PRESERVE)
    activity = water_activity(brix=brix, temperature_c=boiling_c, composition=PRESERVE)
    saturated_pa = PropsSI("P", "T", boiling_c + 273.15, "Q", 0, "Water")
    assert activity * saturated_pa == pytest.approx(pressure, rel=2e-4)


@pytest.mark.parametrize("temperature_c", [0.0, 20.0, 99.0, 99.97])
def test_at_or_below_boiling_water_the_answer_is_0_brix_and_not_an_error(temperature_c):
    brix = brix_from_temperature(
        temperature_c=temperature_c, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE
    )
    assert brix == 0
    assert type(brix) is float


@pytest.mark.parametrize("rise_k", [0.0, -0.5, -20.0])
def test_no_rise_means_0_brix(rise_k):
    assert brix_from_rise(rise_k=rise_k, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE) == 0


def test_exactly_at_the_boiling_point_of_water_nothing_is_dissolved():
    at_c = water_boiling_point_c(pressure_pa=SEA_LEVEL_PA)
    brix = brix_from_temperature(temperature_c=at_c, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
    assert brix == 0
    assert boiling_temperature_c(
        brix=0.0, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE
    ) == pytest.approx(at_c, abs=1e-12)


def test_near_105_c_one_kelvin_is_almost_four_brix():
    # Frozen slope of the model: 3.89 Brix per K for a preserve.
    high, low = (
        brix_from_temperature(temperature_c=t, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
        for t in (105.05, 104.95)
    )
    assert (high - low) / 0.1 == pytest.approx(3.89, abs=0.05)


@pytest.mark.parametrize(
    ("altitude_m", "brix"), [(0, 66.1), (500, 71.6), (1000, 75.6), (1500, 78.6), (2000, 81.0)]
)
def test_the_same_reading_means_more_sugar_higher_up(altitude_m, brix):
    # Frozen values of the model with the ISO 2533 atmosphere.
    pressure_pa = standard_pressure_pa(altitude_m=altitude_m)
    found = brix_from_temperature(
        temperature_c=105.0, pressure_pa=pressure_pa, composition=PRESERVE
    )
    assert found == pytest.approx(brix, abs=0.1)


@pytest.mark.parametrize(("altitude_m", "rise_k"), [(0, 4.99), (2000, 4.81)])
def test_the_rise_hardly_depends_on_altitude(altitude_m, rise_k):
    pressure_pa = standard_pressure_pa(altitude_m=altitude_m)
    rise = boiling_point_rise_k(brix=66.0, pressure_pa=pressure_pa, composition=PRESERVE)
    assert rise == pytest.approx(rise_k, abs=0.02)


def test_strawberry_jam_sets_between_104_and_105_c():
    # 1000 g berries (78.4 g solids, split 0.15/0.75/0.10) and 1000 g sugar, a quarter inverted.
    # McGee 2004: jam sets at 103-105 C near 65 %; trade rule 104-105 C.
    before = Composition.from_masses(sucrose_g=1011.76, hexose_g=58.80, acid_g=7.84)
    after = composition_after_inversion(composition=before, inverted_share=0.25)
    boiling_c = boiling_temperature_c(brix=65.0, pressure_pa=SEA_LEVEL_PA, composition=after)
    assert boiling_c == pytest.approx(104.47, abs=0.05)
    assert 104 <= boiling_c <= 105
    at_1000_m = boiling_temperature_c(
        brix=65.0, pressure_pa=standard_pressure_pa(altitude_m=1000.0), composition=after
    )
    assert at_1000_m == pytest.approx(101.07, abs=0.02)


def test_strawberry_jam_without_inversion_boils_a_little_lower():
    before = Composition.from_masses(sucrose_g=1011.76, hexose_g=58.80, acid_g=7.84)
    boiling_c = boiling_temperature_c(brix=65.0, pressure_pa=SEA_LEVEL_PA, composition=before)
    # Cruess & McNair, quoted by Lowe, Experimental Cookery: 65 Brix boils at 103.9 C.
    assert boiling_c == pytest.approx(103.92, abs=0.03)


# Common practice, no source: firm fruit paste sets well at 104.5-105 C, is too firm at 106-107,
# and stays jam-like below 104. What Brix the model gives there, for the preserve composition:
@pytest.mark.parametrize(
    ("temperature_c", "lowest", "highest"),
    [
        (104.0, 60, 62),  # jam-like below this
        (104.5, 63, 65),  # sets well from here ...
        (105.0, 65, 67),  # ... to here
        (106.0, 69, 71),  # too firm from here ...
        (107.0, 71, 73),  # ... to here
    ],
)
def test_kitchen_rules_for_fruit_paste_fall_in_plausible_brix_bands(temperature_c, lowest, highest):
    brix = brix_from_temperature(
        temperature_c=temperature_c, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE
    )
    assert lowest <= brix <= highest


# Practical Action, Jams: finish 4.5 to 5 K above boiling water at any altitude.
@pytest.mark.parametrize(("altitude_m", "at_4_5", "at_5"), [(0, 63.9, 66.0), (2000, 64.7, 66.7)])
def test_water_plus_four_and_a_half_to_five_is_64_to_67_brix_anywhere(altitude_m, at_4_5, at_5):
    pressure_pa = standard_pressure_pa(altitude_m=altitude_m)
    for rise_k, expected in ((4.5, at_4_5), (5.0, at_5)):
        brix = brix_from_rise(rise_k=rise_k, pressure_pa=pressure_pa, composition=PRESERVE)
        assert brix == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize("composition", COMPOSITIONS)
@pytest.mark.parametrize("pressure_pa", [60_000.0, 90_000.0, 108_000.0])
def test_boiling_point_rises_strictly_with_brix(composition, pressure_pa):
    brix = np.linspace(0, 95, 191)
    boiling_c = boiling_temperature_c(brix=brix, pressure_pa=pressure_pa, composition=composition)
    assert np.all(np.diff(boiling_c) > 0)


@given(st.floats(min_value=5, max_value=85), st.floats(min_value=0, max_value=3900))
def test_boiling_point_falls_with_altitude(brix, altitude_m):
    lower, higher = (
        boiling_temperature_c(
            brix=brix, pressure_pa=standard_pressure_pa(altitude_m=h), composition=PRESERVE
        )
        for h in (altitude_m, altitude_m + 100)
    )
    assert higher < lower


@given(
    st.floats(min_value=5, max_value=80),
    st.floats(min_value=0, max_value=0.85),
    st.floats(min_value=0.001, max_value=0.1),
)
def test_boiling_point_rises_as_sucrose_becomes_hexose(brix, hexose, more):
    few = Composition(sucrose=0.97 - hexose, hexose=hexose, acid=0.03)
    many = Composition(sucrose=0.97 - hexose - more, hexose=hexose + more, acid=0.03)
    few_c, many_c = (
        boiling_temperature_c(brix=brix, pressure_pa=SEA_LEVEL_PA, composition=c)
        for c in (few, many)
    )
    assert many_c > few_c


def test_arrays_give_what_single_values_give():
    temperatures_c = np.array([[90.0, 99.97, 101.0], [104.0, 105.0, 112.0]])
    together = brix_from_temperature(
        temperature_c=temperatures_c, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE
    )
    assert together.shape == temperatures_c.shape
    assert together[0, 0] == 0
    for one_c, brix in zip(temperatures_c.flat, together.flat, strict=True):
        alone = brix_from_temperature(
            temperature_c=float(one_c), pressure_pa=SEA_LEVEL_PA, composition=PRESERVE
        )
        assert type(alone) is float
        assert alone == pytest.approx(brix, abs=1e-9)
        back_c = boiling_temperature_c(brix=alone, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
        assert type(back_c) is float
    boiling_c = boiling_temperature_c(brix=together, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
    assert boiling_c[1] == pytest.approx(temperatures_c[1], abs=1e-7)


def test_compositions_drawn_as_arrays_give_an_array():
    # Uncertain inversion: many compositions, one temperature.
    shares = np.array([0.10, 0.25, 0.45])
    many = composition_after_inversion(composition=SUCROSE, inverted_share=shares)
    brix = brix_from_temperature(temperature_c=105.0, pressure_pa=SEA_LEVEL_PA, composition=many)
    assert brix.shape == (3,)
    assert np.all(np.diff(brix) < 0)


@pytest.mark.parametrize(
    ("brix", "pressure_pa"),
    [(-0.1, 101_325.0), (95.1, 101_325.0), (66.0, 59_999.0), (66.0, 108_001.0), (66.0, 1013.0)],
)
def test_brix_and_pressure_outside_the_range_are_refused(brix, pressure_pa):
    for formula in (boiling_temperature_c, boiling_point_rise_k):
        with pytest.raises(OutsideValidRange):
            formula(brix=brix, pressure_pa=pressure_pa, composition=PRESERVE)


@pytest.mark.parametrize(("temperature_c", "refused"), [(145.0, False), (147.0, True)])
def test_a_pan_hotter_than_95_brix_boils_is_refused_with_its_temperature(temperature_c, refused):
    # 95 Brix of preserve boils at 145.8 C by the model.
    ask = {"pressure_pa": SEA_LEVEL_PA, "composition": PRESERVE}
    if not refused:
        assert brix_from_temperature(temperature_c=temperature_c, **ask) < 95
        return
    with pytest.raises(OutsideValidRange, match=r"is 147; .*95 Brix.*check the thermometer"):
        brix_from_temperature(temperature_c=temperature_c, **ask)
    with pytest.raises(OutsideValidRange, match="is 147;"):
        brix_from_temperature(temperature_c=np.array([105.0, temperature_c]), **ask)


@pytest.mark.parametrize("rise_k", [45.1, 105.0, -45.1, math.nan])
def test_a_reading_given_as_a_rise_is_refused(rise_k):
    with pytest.raises(OutsideValidRange, match="not the reading"):
        brix_from_rise(rise_k=rise_k, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)


@pytest.mark.parametrize(
    ("brix", "word"),
    [
        (0, "sound"),
        (80.0, "sound"),
        (80.1, "indicative"),
        (85.0, "indicative"),
        (85.1, "explanation only"),
        (95.0, "explanation only"),
    ],
)
def test_above_80_brix_the_answer_says_how_far_to_trust_it(brix, word):
    assert reliability(brix=brix) == word


def test_reliability_of_an_impossible_brix_is_refused():
    with pytest.raises(OutsideValidRange):
        reliability(brix=95.1)


def test_many_compositions_below_boiling_water_give_as_many_zeros():
    many = composition_after_inversion(composition=SUCROSE, inverted_share=np.array([0.1, 0.4]))
    brix = brix_from_temperature(temperature_c=90.0, pressure_pa=SEA_LEVEL_PA, composition=many)
    assert brix.tolist() == [0, 0]
