"""Temperature correction of the refractometer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import OutsideValidRange, brix_at_20_c, brix_with_invert_and_acid


@pytest.mark.parametrize(
    ("reading", "temperature_c", "add"),
    [
        (60, 15, -0.38),  # OIV-MA-AS2-02, Table I
        (15, 15, -0.33),  # OIV-MA-AS2-02, Table I
        (20, 22, 0.15),  # ISO 2173 type table, as reprinted in a GOST method
    ],
)
def test_the_correction_is_that_of_the_official_tables(reading, temperature_c, add):
    corrected = brix_at_20_c(reading_brix=reading, temperature_c=temperature_c)
    assert corrected - reading == pytest.approx(add, abs=0.015)


def test_at_30_c_the_extrapolation_still_meets_the_published_figure():
    # Published correction 0.8 at 70 Brix and 30 C (from memory).
    assert brix_at_20_c(reading_brix=70.0, temperature_c=30.0) - 70 == pytest.approx(0.8, abs=0.05)


@given(st.floats(min_value=0, max_value=85))
def test_at_20_c_nothing_is_corrected(reading):
    assert brix_at_20_c(reading_brix=reading, temperature_c=20.0) == reading


@given(st.floats(min_value=10, max_value=75), st.floats(min_value=10, max_value=29.9))
def test_a_warmer_sample_reads_too_low_and_needs_more_added(reading, temperature_c):
    cooler = brix_at_20_c(reading_brix=reading, temperature_c=temperature_c)
    assert brix_at_20_c(reading_brix=reading, temperature_c=temperature_c + 0.1) > cooler


@pytest.mark.parametrize(
    ("reading", "temperature_c"), [(85.1, 20), (-0.1, 20), (66, 30.1), (66, 9.9)]
)
def test_a_hot_sample_or_an_impossible_reading_is_refused(reading, temperature_c):
    with pytest.raises(OutsideValidRange):
        brix_at_20_c(reading_brix=reading, temperature_c=temperature_c)


def test_arrays_give_what_single_values_give():
    readings = np.array([[0.0, 12.5], [60.0, 85.0]])
    together = brix_at_20_c(reading_brix=readings, temperature_c=15.0)
    assert together.shape == readings.shape
    for one, corrected in zip(readings.flat, together.flat, strict=True):
        alone = brix_at_20_c(reading_brix=float(one), temperature_c=15.0)
        assert type(alone) is float
        assert alone == pytest.approx(corrected, rel=1e-13)


# AOAC syrup method: 0.022 per % invert, about +0.5 at 23 %; Stevens & Baier 1939: about +0.2 at
# 1 % acid (both from memory).
@pytest.mark.parametrize(
    ("invert_pct", "acid_pct", "add"),
    [(0, 0, 0.0), (23, 0, 0.506), (0, 1, 0.2046), (23, 1, 0.7106)],
)
def test_invert_sugar_and_acid_read_low(invert_pct, acid_pct, add):
    found = brix_with_invert_and_acid(
        brix_at_20_c=60.0, invert_pct=float(invert_pct), acid_pct=float(acid_pct)
    )
    assert found - 60 == pytest.approx(add, abs=1e-9)


@pytest.mark.parametrize(
    "wrong", [{"brix_at_20_c": 85.1}, {"invert_pct": -0.1}, {"acid_pct": 10.1}]
)
def test_shares_of_the_sample_that_cannot_be_are_refused(wrong):
    right = {"brix_at_20_c": 85.0, "invert_pct": 0.0, "acid_pct": 10.0}
    brix_with_invert_and_acid(**right)
    with pytest.raises(OutsideValidRange):
        brix_with_invert_and_acid(**(right | wrong))


def test_corrections_of_many_samples_are_those_of_each():
    acids = np.array([0.0, 0.5, 2.0])
    together = brix_with_invert_and_acid(brix_at_20_c=60.0, invert_pct=10.0, acid_pct=acids)
    for one, found in zip(acids, together, strict=True):
        alone = brix_with_invert_and_acid(brix_at_20_c=60.0, invert_pct=10.0, acid_pct=float(one))
        assert alone == pytest.approx(found, rel=1e-13)
