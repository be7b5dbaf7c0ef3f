"""Water activity against published measurements, and against frozen values of the model."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import (
    INVERT,
    PRESERVE,
    SUCROSE,
    Composition,
    OutsideValidRange,
    norrish_water_activity,
    ross_water_activity,
    water_activity,
)
from costing.physics.water_activity import activity_of, brix_at_activity

COMPOSITIONS = [SUCROSE, PRESERVE, INVERT]


# Robinson & Stokes, osmotic coefficients of sucrose at 25 C (from memory): 1, 3, 5, 6 mol/kg.
@pytest.mark.parametrize(
    ("brix", "measured"), [(25.50, 0.9806), (50.66, 0.9328), (63.12, 0.8776), (67.25, 0.8493)]
)
def test_sucrose_agrees_with_robinson_and_stokes(brix, measured):
    activity = water_activity(brix=brix, temperature_c=25.0, composition=SUCROSE)
    assert activity == pytest.approx(measured, abs=0.0015)


def test_saturated_sucrose_keeps_at_0_85():
    # FAO fruit-processing text, section 8.6: 67.89 % gives 0.848.
    activity = water_activity(brix=67.89, temperature_c=25.0, composition=SUCROSE)
    assert activity == pytest.approx(0.848, abs=0.006)


# Frozen values of the extended Norrish equation, from a second implementation.
@pytest.mark.parametrize(
    ("composition", "brix", "expected"),
    [
        (SUCROSE, 40, 0.9585),
        (SUCROSE, 60, 0.8947),
        (SUCROSE, 65, 0.8654),
        (SUCROSE, 70, 0.8258),
        (INVERT, 40, 0.9293),
        (INVERT, 60, 0.8369),
        (INVERT, 70, 0.7481),
        (PRESERVE, 60, 0.8703),
        (PRESERVE, 65, 0.8367),
        (PRESERVE, 70, 0.7924),
    ],
)
def test_the_equation_gives_its_frozen_values_at_25_c(composition, brix, expected):
    activity = water_activity(brix=brix, temperature_c=25.0, composition=composition)
    assert activity == pytest.approx(expected, abs=0.0002)


def test_the_model_lies_below_raoults_law():
    # Raoult at 60 Brix of hexose: (40/18.01528) / (40/18.01528 + 60/180.156) = 0.8696.
    raoult = (40 / 18.01528) / (40 / 18.01528 + 60 / 180.156)
    assert raoult == pytest.approx(0.8696, abs=5e-5)
    assert water_activity(brix=60.0, temperature_c=25.0, composition=INVERT) < raoult


def test_the_norrish_equation_for_one_solute():
    # Norrish 1966, K = 6.47 for sucrose (from memory): 0.9 x exp(-6.47 x 0.1^2) = 0.8436.
    activity = norrish_water_activity(solute_mole_fraction=0.10, norrish_k=6.47)
    assert activity == pytest.approx(0.8436, abs=0.0001)


# Ross 1975: the activities of the single solutes multiply, e.g. 0.90 x 0.95 = 0.855. For the
# preserve composition at 20 C: 0.883, 0.846, 0.814, from a second implementation.
@pytest.mark.parametrize(("brix", "expected"), [(60, 0.883), (66, 0.846), (70, 0.814)])
def test_ross_reads_higher_than_norrish_in_a_mixture(brix, expected):
    ross = ross_water_activity(brix=brix, temperature_c=20.0, composition=PRESERVE)
    norrish = water_activity(brix=brix, temperature_c=20.0, composition=PRESERVE)
    assert ross == pytest.approx(expected, abs=0.001)
    assert 0.01 < ross - norrish < 0.03


def test_ross_is_the_product_of_each_solute_alone_in_all_the_water():
    # 100 g of preserve at 60 Brix: 40 water with 36 sucrose, 22.2 hexose, 1.8 acid.
    product = 1.0
    for grams, alone in ((36, SUCROSE), (22.2, INVERT), (1.8, Composition(0.0, 0.0, 1.0))):
        brix = 100 * grams / (grams + 40)
        product *= water_activity(brix=brix, temperature_c=20.0, composition=alone)
    ross = ross_water_activity(brix=60.0, temperature_c=20.0, composition=PRESERVE)
    assert ross == pytest.approx(product, rel=1e-12)


@pytest.mark.parametrize("composition", COMPOSITIONS)
def test_ross_and_norrish_agree_for_a_single_solute(composition):
    if composition is PRESERVE:
        composition = Composition(sucrose=0.0, hexose=0.0, acid=1.0)
    ross = ross_water_activity(brix=65.0, temperature_c=20.0, composition=composition)
    norrish = water_activity(brix=65.0, temperature_c=20.0, composition=composition)
    assert ross == pytest.approx(norrish, rel=1e-12)


# Sugar-industry note: 1 kg of sugar to 1 kg of berries reads 0.92 in the cold. The weaker mix,
# 500 g, reads 0.97 and the model 0.957 (0.013 lower, cause unknown): it is not asserted.
def test_equal_weights_of_sugar_and_berries_read_0_92():
    # 1000 g berries of 8 to 10 Brix, 2 % fibre: (1000 + 78.4) / (2000 - 20) = 54.5 Brix.
    uncooked = Composition.from_masses(sucrose_g=1000 + 11.8, hexose_g=58.8, acid_g=7.8)
    activity = water_activity(brix=54.5, temperature_c=20.0, composition=uncooked)
    assert activity == pytest.approx(0.92, abs=0.006)


@pytest.mark.parametrize("composition", COMPOSITIONS)
@pytest.mark.parametrize("temperature_c", [20.0, 25.0, 105.0])
def test_activity_falls_strictly_from_one_as_brix_rises(composition, temperature_c):
    brix = np.linspace(0, 95, 381)
    activity = water_activity(brix=brix, temperature_c=temperature_c, composition=composition)
    assert activity[0] == 1
    assert np.all(np.diff(activity) < 0)
    assert activity[-1] > 0


@given(
    st.floats(min_value=1, max_value=80),
    st.floats(min_value=0, max_value=0.9),
    st.floats(min_value=0.001, max_value=0.1),
)
def test_swapping_sucrose_for_hexose_lowers_activity(brix, hexose, more):
    few = Composition(sucrose=1 - hexose, hexose=hexose, acid=0.0)
    many = Composition(sucrose=1 - hexose - more, hexose=hexose + more, acid=0.0)
    assert water_activity(brix=brix, temperature_c=20.0, composition=many) < water_activity(
        brix=brix, temperature_c=20.0, composition=few
    )


def test_arrays_give_what_single_values_give():
    brix = np.array([[0.0, 20.0], [66.0, 80.0]])
    together = water_activity(brix=brix, temperature_c=20.0, composition=PRESERVE)
    assert together.shape == brix.shape
    for one, activity in zip(brix.flat, together.flat, strict=True):
        alone = water_activity(brix=float(one), temperature_c=20.0, composition=PRESERVE)
        assert type(alone) is float
        assert alone == pytest.approx(activity, rel=1e-13)


@pytest.mark.parametrize("formula", [water_activity, ross_water_activity])
@pytest.mark.parametrize(
    ("brix", "temperature_c"),
    [(-0.1, 20.0), (95.1, 20.0), (66.0, -0.1), (66.0, 160.1), (math.nan, 20)],
)
def test_what_lies_outside_the_range_is_refused(formula, brix, temperature_c):
    with pytest.raises(OutsideValidRange):
        formula(brix=brix, temperature_c=temperature_c, composition=PRESERVE)


@pytest.mark.parametrize(("x", "k"), [(-0.01, 6.47), (1.01, 6.47), (0.1, -6.47), (0.1, 21.0)])
def test_norrish_refuses_impossible_fractions_and_constants(x, k):
    with pytest.raises(OutsideValidRange):
        norrish_water_activity(solute_mole_fraction=x, norrish_k=k)


def test_the_way_back_from_an_activity_holds_for_every_mixture_to_95_brix():
    # Any mixture, from plain water to 95 Brix, from a cool shelf to a hot pan; the two ends too.
    generator = np.random.default_rng(11)
    sucrose, hexose, acid = generator.dirichlet((0.5, 0.5, 0.5), 20_000).T
    many = Composition(sucrose=sucrose, hexose=hexose, acid=acid)
    brix = generator.uniform(0, 95, 20_000)
    brix[:100], brix[100:200] = 95, 0
    temperature_c = generator.uniform(5, 150, 20_000)
    back = brix_at_activity(activity_of(many)(brix, temperature_c), temperature_c, many)
    assert back == pytest.approx(brix, abs=1e-9)


@pytest.mark.parametrize("activity", [0.45, 0.75, 0.83, 0.9, 0.999])
def test_the_way_back_from_an_activity_is_where_halving_ends_too(activity):
    # A second way: halve 0 to 95 Brix sixty times, on the water activity itself.
    low, high = 0.0, 95.0
    for _ in range(60):
        middle = (low + high) / 2
        found = water_activity(brix=middle, temperature_c=104.8, composition=PRESERVE)
        low, high = (middle, high) if found > activity else (low, middle)
    assert brix_at_activity(activity, 104.8, PRESERVE) == pytest.approx(low, abs=1e-9)


def test_more_than_free_water_is_no_brix_and_less_than_the_thickest_is_95():
    assert brix_at_activity(1.000001, 100.0, PRESERVE) == 0
    assert brix_at_activity(0.01, 100.0, PRESERVE) == pytest.approx(95)


# One solute at 25 C by hand, Norrish's constants (from memory): hexose 2.25, citric acid 6.17.
# 30 g of acid in 70 g of water: x = 0.156149 / (0.156149 + 3.885590) = 0.038634,
# aw = 0.961366 exp(-6.17 x 0.0014926) = 0.95255. 60 g of hexose in 40: x = 0.130434, 0.83691.
@pytest.mark.parametrize(
    ("composition", "brix", "expected"),
    [
        (Composition(sucrose=0.0, hexose=0.0, acid=1.0), 30.0, 0.95255),
        (Composition(sucrose=0.0, hexose=1.0, acid=0.0), 60.0, 0.83691),
    ],
)
def test_each_solute_pulls_with_its_own_constant(composition, brix, expected):
    activity = water_activity(brix=brix, temperature_c=25.0, composition=composition)
    assert activity == pytest.approx(expected, abs=2e-5)
