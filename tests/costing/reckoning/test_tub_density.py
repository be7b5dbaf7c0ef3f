"""The density test with a tub: against tables of sugar solutions, and what it refuses."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.reckoning.errors import ReckoningError
from costing.reckoning.tub_density import tub_density

D = Decimal


def weighed(tub="20", water="120", product="158", **more):
    return tub_density(
        tub_g=D(tub),
        with_water_g=D(water),
        with_product_g=D(product),
        **{key: D(value) for key, value in more.items()},
    )


# Water: CRC Handbook, 0.99821 g/ml at 20 C, 0.99705 at 25, 0.99222 at 40 (from memory).
@pytest.mark.parametrize(
    ("water_c", "density"), [("20", "0.9982"), ("25", "0.9970"), ("40", "0.9922")]
)
def test_water_against_water_is_the_density_of_water(water_c, density):
    found = weighed(product="120", water_c=water_c)
    assert round(found.density_g_per_ml, 4) == D(density)


def test_a_saturated_syrup_comes_out_as_the_handbook_has_it():
    # Saturated sucrose at 20 C: 1.333 g/ml. A tub of 100 ml takes 99.82 g of water, 133.3 g of it.
    found = weighed(water="119.82", product="153.3", scale_step_g="0.01")
    assert round(found.density_g_per_ml, 3) == D("1.333")
    assert round(found.tub_ml, 2) == 100


def test_what_it_may_be_off_by():
    # Constructed, level_pct 0: 100 g water, 138 g product, 1 g steps, u = 1 / sqrt(12) = 0.288675.
    # sqrt(1/138^2 + 1/100^2 + (1/100 - 1/138)^2) = 0.0126553; x u x 2 = 0.73066 %.
    scale_only = weighed(level_pct="0")
    assert round(scale_only.uncertainty_pct, 3) == D("0.731")
    # Levelling 0.5 % twice: 2 x sqrt(0.365330^2 + 2 x 0.5^2) = 1.5918 %
    assert round(weighed().uncertainty_pct, 3) == D("1.592")


def test_the_uncertainty_is_what_scattered_weighings_show():
    # Independent of the formula: each reading moved by one standard deviation, one at a time,
    # and the changes added in squares (JCGM 100:2008, 5.1.3 note 2, from memory).
    step = D("0.1")
    moved = step / D(12).sqrt()
    at = weighed(level_pct="0", scale_step_g="0.1")
    base = {"tub": D(20), "water": D(120), "product": D(158)}
    squares = D(0)
    for which, value in base.items():
        shifted = weighed(**{**base, which: value + moved}, scale_step_g="0.1")
        squares += (shifted.density_g_per_ml - at.density_g_per_ml) ** 2
    assert at.uncertainty_g_per_ml == pytest.approx(2 * squares.sqrt(), rel=D("0.01"))


@pytest.mark.parametrize(
    ("product", "is_said"),
    # (product - 20) x 0.9982 / 100: 1.1499 and 1.1509; 1.4494 and 1.4504
    [("135.2", True), ("135.3", False), ("165.2", False), ("165.3", True)],
)
def test_an_unusual_density_is_asked_about(product, is_said):
    found = weighed(product=product, scale_step_g="0.01", level_pct="0.1")
    assert any("unusual" in caution for caution in found.cautions) is is_said


def test_a_small_tub_on_a_coarse_scale_is_not_good_enough():
    # 20 g of water in 1 g steps: 2 x 0.288675 x 0.0633 = 3.65 % and the levelling
    rough = weighed(tub="5", water="25", product="32.6")
    assert "larger tub" in rough.cautions[0]
    assert not weighed().cautions


@pytest.mark.parametrize(
    ("asked", "field", "sentence"),
    [
        ({"tub": "-1"}, "tub_g", "cannot be below"),
        ({"water": "20"}, "with_water_g", "with the tub on"),
        ({"water": "29.9"}, "with_water_g", "too little"),
        ({"product": "15"}, "with_product_g", "with the tub on"),
        ({"product": "NaN"}, "with_product_g", "not a number"),
        ({"water": "158", "product": "120"}, "with_product_g", "swapped"),
        ({"product": "200"}, "with_product_g", "denser than solid sugar"),
        ({"water_c": "68"}, "water_c", "degrees Celsius"),  # Fahrenheit
        ({"water_c": "0.9"}, "water_c", "degrees Celsius"),
        ({"scale_step_g": "0"}, "scale_step_g", "more than 0"),
        ({"level_pct": "-1"}, "level_pct", "below 0"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(asked, field, sentence):
    with pytest.raises(ReckoningError, match=sentence) as refused:
        weighed(**asked)
    assert refused.value.field == field


@settings(max_examples=60, deadline=None)
@given(
    st.decimals(D(5), D(200), places=1),
    st.decimals(D(50), D(500), places=1),
    st.decimals(D("1.0"), D("1.5"), places=3),
    st.integers(1, 40),
)
def test_the_density_of_the_tub_comes_back(tub_g, water_g, ratio, water_c):
    found = tub_density(
        tub_g=tub_g,
        with_water_g=tub_g + water_g,
        with_product_g=tub_g + water_g * ratio,
        water_c=D(water_c),
    )
    assert abs(found.density_g_per_ml * found.tub_ml - water_g * ratio) < D("1e-15")
    finer = tub_density(
        tub_g=tub_g,
        with_water_g=tub_g + water_g,
        with_product_g=tub_g + water_g * ratio,
        water_c=D(water_c),
        scale_step_g=D("0.1"),
    )
    assert finer.uncertainty_g_per_ml < found.uncertainty_g_per_ml
