"""Three ways to the same Brix: hand sums, agreement, contradiction."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    PRESERVE,
    SUCROSE,
    Estimate,
    OutsideValidRange,
    PhysicsError,
    boiling_point_rise_k,
    combine,
    estimate_from_refractometer,
    estimate_from_rise,
    estimate_from_weight,
    pot_mass_g,
)
from costing.physics.readings import DISAGREE_ABOVE, USUAL_BRIX_UNCERTAINTY

SEA_LEVEL_PA = 101_325.0
SOLIDS = {"soluble_solids_g": 1667.81, "insoluble_solids_g": 36.0}
SURE = {
    "pot_mass_uncertainty_g": 5.0,
    "soluble_solids_uncertainty_g": 30.0,
    "insoluble_solids_uncertainty_g": 5.0,
}
BRIX = st.floats(min_value=40, max_value=80)
UNCERTAINTY = st.floats(min_value=0.2, max_value=5)


def test_two_readings_are_weighed_by_inverse_variance():
    # 66 +-1 and 68 +-2: (66 x 1 + 68 x 0.25) / 1.25 = 66.4; u = 1/sqrt(1.25) = 0.894;
    # chi-square 0.4^2 + (1.6/2)^2 = 0.80; apart 2 / sqrt(5) = 0.894.
    found = combine([Estimate("weight", 66.0, 1.0), Estimate("temperature", 68.0, 2.0)])
    assert found.brix == pytest.approx(66.4)
    assert found.uncertainty == pytest.approx(0.8944, abs=1e-4)
    assert found.chi_square == pytest.approx(0.80)
    assert found.freedom == 1
    assert found.apart_brix == pytest.approx(2.0)
    assert found.apart_normalised == pytest.approx(0.8944, abs=1e-4)
    assert found.agree
    assert found.widened_uncertainty == found.uncertainty


def test_three_readings_name_the_two_that_contradict():
    # 66 +-1, 66.5 +-0.75, 72 +-1.5: weights 1, 1.7778, 0.4444; mean 216.22/3.2222 = 67.103;
    # chi-square 1.217 + 0.647 + 10.658 = 12.52; weight and temperature 6 / sqrt(3.25) = 3.33.
    found = combine(
        [
            Estimate("weight", 66.0, 1.0),
            Estimate("refractometer", 66.5, 0.75),
            Estimate("temperature", 72.0, 1.5),
        ]
    )
    assert found.brix == pytest.approx(67.103, abs=0.001)
    assert found.chi_square == pytest.approx(12.52, abs=0.01)
    assert found.most_apart == ("weight", "temperature")
    assert found.apart_brix == pytest.approx(6.0)
    assert found.apart_normalised == pytest.approx(3.328, abs=0.001)
    assert not found.agree
    # Birge: sqrt(12.52 / 2) = 2.50 times 1/sqrt(3.2222) = 0.557.
    assert found.widened_uncertainty == pytest.approx(2.50 * 0.5571, rel=0.002)


@pytest.mark.parametrize(("apart", "agree"), [(1.999, True), (2.001, False)])
def test_a_question_is_asked_beyond_twice_the_joint_uncertainty(apart, agree):
    # 0.6 and 0.8 make 1.0 together.
    assert DISAGREE_ABOVE == 2
    pair = [Estimate("weight", 66.0, 0.6), Estimate("refractometer", 66.0 + apart, 0.8)]
    assert combine(pair).agree is agree


def test_a_single_reading_stands_for_itself():
    found = combine([Estimate("weight", 66.0, 1.2)])
    assert (found.brix, found.uncertainty) == pytest.approx((66.0, 1.2))
    assert (found.freedom, found.most_apart, found.agree) == (0, None, True)
    assert found.widened_uncertainty == pytest.approx(1.2)


def test_no_reading_and_an_exact_reading_are_refused():
    with pytest.raises(PhysicsError, match="no reading"):
        combine([])
    with pytest.raises(OutsideValidRange, match="No reading is exact"):
        Estimate("weight", 66.0, 0.0)


@given(BRIX, UNCERTAINTY, BRIX, UNCERTAINTY)
def test_the_mean_lies_between_and_is_surer_than_either(one, u_one, other, u_other):
    pair = [Estimate("weight", one, u_one), Estimate("temperature", other, u_other)]
    found = combine(pair)
    assert min(one, other) - 1e-9 <= found.brix <= max(one, other) + 1e-9
    assert found.uncertainty < min(u_one, u_other)
    assert combine(pair[::-1]).brix == pytest.approx(found.brix, rel=1e-12)
    # For two readings chi-square is the normalised difference squared.
    assert found.chi_square == pytest.approx(found.apart_normalised**2, rel=1e-6, abs=1e-12)


@given(BRIX)
def test_three_true_readings_of_one_pot_agree(brix):
    rise_k = boiling_point_rise_k(brix=brix, pressure_pa=SEA_LEVEL_PA, composition=PRESERVE)
    found = combine(
        [
            estimate_from_weight(pot_mass_g=pot_mass_g(**SOLIDS, brix=brix), **SOLIDS, **SURE),
            estimate_from_rise(
                rise_k=rise_k,
                temperature_uncertainty_k=0.44,
                pressure_pa=SEA_LEVEL_PA,
                composition=PRESERVE,
            ),
        ]
    )
    assert found.brix == pytest.approx(brix, abs=1e-6)
    assert found.chi_square == pytest.approx(0, abs=1e-9)


def test_near_the_finish_the_uncertainties_are_the_usual_ones():
    by_rise = estimate_from_rise(
        rise_k=5.0,
        temperature_uncertainty_k=0.44,  # self-checked thermometer, stirring, model
        pressure_pa=SEA_LEVEL_PA,
        composition=PRESERVE,
    )
    low, high = USUAL_BRIX_UNCERTAINTY["temperature"]
    assert low <= by_rise.uncertainty <= high
    weighed = estimate_from_weight(pot_mass_g=2569.0, **SOLIDS, **SURE)
    low, high = USUAL_BRIX_UNCERTAINTY["weight"]
    assert low <= weighed.uncertainty <= high
    assert weighed.brix == pytest.approx(65.84, abs=0.02)


def test_early_in_the_cook_the_thermometer_counts_for_little():
    # At 30 Brix sucrose rises by 0.6-0.7 K (sugar handbook, from memory).
    early = estimate_from_rise(
        rise_k=0.7,
        temperature_uncertainty_k=0.44,
        pressure_pa=SEA_LEVEL_PA,
        composition=SUCROSE,
    )
    assert early.brix == pytest.approx(30, abs=2)
    assert early.uncertainty > 8


def test_a_refractometer_is_corrected_for_temperature_invert_and_acid():
    # OIV-MA-AS2-02: at 15 C and 60 Brix -0.38. Invert 59.62 x 0.37 = 22.06 %: +0.485 (AOAC, from
    # memory). Acid 59.62 x 0.03 = 1.789 %: 0.012 + 0.345 - 0.001 = +0.356 (Stevens & Baier 1939,
    # from memory). Together 60.46.
    found = estimate_from_refractometer(reading_brix=60.0, sample_c=15.0, composition=PRESERVE)
    assert found.brix == pytest.approx(60.46, abs=0.02)
    compensated = estimate_from_refractometer(
        reading_brix=60.0, sample_c=None, composition=SUCROSE, uncertainty_brix=0.75
    )
    assert (compensated.brix, compensated.uncertainty) == (60.0, 0.75)


def test_a_pot_not_boiling_or_lighter_than_its_solids_is_refused():
    boiling = {
        "temperature_uncertainty_k": 0.44,
        "pressure_pa": SEA_LEVEL_PA,
        "composition": PRESERVE,
    }
    for rise_k in (0.0, -2.0):
        with pytest.raises(OutsideValidRange, match="not at the boil"):
            estimate_from_rise(rise_k=rise_k, **boiling)
    with pytest.raises(OutsideValidRange, match="tare"):
        estimate_from_weight(pot_mass_g=1700.0, **SOLIDS, **SURE)  # 1703.81 g of solids
    with pytest.raises(OutsideValidRange, match="tare"):
        estimate_from_weight(pot_mass_g=1780.0, **SOLIDS, **SURE)  # 95.6 Brix
    with pytest.raises(OutsideValidRange, match="Cool"):
        estimate_from_refractometer(reading_brix=66.0, sample_c=60.0, composition=PRESERVE)


# Sound to 80 Brix, indicative to 85, above for explanation only. 166781 / B + 36 g.
@pytest.mark.parametrize(
    ("pot_g", "word"),
    [
        (2121.0, "sound"),
        (2120.0, "indicative"),
        (1998.5, "indicative"),
        (1998.0, "explanation only"),
    ],
)
def test_beyond_the_range_an_estimate_says_how_far_to_trust_it(pot_g, word):
    found = estimate_from_weight(pot_mass_g=pot_g, **SOLIDS, **SURE)
    assert found.reliability == word
    assert combine([found]).reliability == word
