"""The floor leaves everything out but the sums: it must find what the physics finds."""

import numpy as np
import pytest

from costing.physics import draw_cook
from producer.benchmarks.cook_floor import bare_bands, bare_draws
from producer.benchmarks.cooks import BARE, COOK_DRAWN, curve, floor_of_the_curve

FIGURES = (
    "soluble_solids_g", "insoluble_solids_g", "inverted_share", "brix", "pot_mass_g",
    "water_boiled_off_g", "delivered_g",
)  # fmt: skip


def test_the_floor_draws_the_same_cook_value_for_value():
    ours = draw_cook(COOK_DRAWN, seed=5, draws=2000)
    assert ours.share_at_limits == 0, "a draw held at a limit is not in the floor"
    for name, bare in zip(FIGURES, bare_draws(BARE, seed=5, draws=2000), strict=True):
        assert bare == pytest.approx(getattr(ours, name), rel=1e-9), name


def test_the_floor_says_the_same_bands():
    ours = draw_cook(COOK_DRAWN, seed=6, draws=1000).summary()
    bands = bare_bands(BARE, seed=6, draws=1000)
    assert list(ours) == list(FIGURES)
    for name, column in zip(FIGURES, bands.T, strict=True):
        spread = ours[name]
        expected = [spread.p5, spread.p50, spread.p95, spread.mean, spread.sd]
        assert column.tolist() == pytest.approx(expected, rel=1e-9), name


def test_the_floor_draws_the_same_curve():
    ours = curve()
    names = ("brix", "rise_k", "boiling_c", "pot_mass_g", "water_boiled_off_g")
    for name, bare in zip(names, floor_of_the_curve(), strict=True):
        assert bare.shape == (200,)
        assert bare == pytest.approx(getattr(ours, name), rel=1e-9, abs=1e-7), name


def test_a_wrong_sum_would_be_seen():
    other = np.array(bare_draws(BARE, seed=7, draws=100)[3])
    ours = draw_cook(COOK_DRAWN, seed=8, draws=100).brix
    assert other != pytest.approx(ours, rel=1e-9)
