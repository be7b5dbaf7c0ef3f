"""Temperature correction of the refractometer."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import OutsideValidRange, brix_at_20_c


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
