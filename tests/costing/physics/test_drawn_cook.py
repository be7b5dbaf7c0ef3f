"""A cook drawn many times: against a second implementation, hand sums and its own symmetries."""

from dataclasses import replace

import numpy as np
import pytest

from costing.physics import (
    Normal,
    OutsideValidRange,
    PhysicsError,
    Spread,
    StopAtBrix,
    StopAtPotMass,
    StopAtRise,
    StopAtTemperature,
    Triangular,
    UncertainCook,
    UncertainFruit,
    contributions,
    draw_cook,
    water_boiling_point_c,
)

SEA_LEVEL_PA = 101_325.0
DAMSON = UncertainFruit(
    mass_g=2000.0, brix=Triangular(11.0, 12.5, 14.0), insoluble_pct=Triangular(1.2, 1.8, 2.4)
)
# 2000 g puree, 1400 g sugar, 40 g lemon juice (3.4 g of solids, 70 % acid) to a true 104.8 C.
PASTE = UncertainCook(
    ingoing_g=3440.0,
    fruits=(DAMSON,),
    sucrose_g=1400.0,
    hexose_g=1.02,
    acid_g=2.38,
    inverted_share=Triangular(0.10, 0.25, 0.45),
    pan_loss_g=Triangular(15.0, 30.0, 60.0),
    stop=StopAtTemperature(Normal(104.8, 0.25), Normal(SEA_LEVEL_PA, 0.0)),
)


@pytest.mark.parametrize("seed", [1, 20240917])
def test_the_damson_paste_comes_out_as_in_a_second_implementation(seed):
    # 10 000 draws: delivered 2544 +-3 g on average, standard deviation 56 +-3 g, 5th to 95th
    # percentile 2456 to 2640 g, 65.7 +-1.2 Brix.
    found = draw_cook(PASTE, seed=seed, draws=10_000).summary()
    delivered = found["delivered_g"]
    assert delivered.mean == pytest.approx(2544, abs=3)
    assert delivered.sd == pytest.approx(56, abs=3)
    assert delivered.p5 == pytest.approx(2456, abs=5)
    assert delivered.p95 == pytest.approx(2640, abs=5)
    assert found["brix"].mean == pytest.approx(65.7, abs=0.1)
    assert found["brix"].sd == pytest.approx(1.2, abs=0.05)


def test_each_input_alone_widens_the_band_as_in_a_second_implementation():
    # Standard deviations in g; the weather is 8 hPa that nobody measured.
    weather = replace(
        PASTE, stop=StopAtTemperature(Normal(104.8, 0.25), Normal(SEA_LEVEL_PA, 800.0))
    )
    found = contributions(weather, seed=3, draws=10_000)
    expected = {
        "temperature": 39.4,
        "pressure": 35.6,
        "inverted_share": 32.0,
        "fruit_brix": 19.8,
        "pan_loss": 9.3,
        "insoluble_solids": 3.9,
    }
    assert [one.what for one in found] == list(expected)
    for one in found:
        assert one.sd_g == pytest.approx(expected[one.what], rel=0.03)


def test_the_parts_add_in_quadrature_to_the_whole():
    # GUM 5.1.2: independent inputs, nearly straight in each.
    parts = [one.sd_g for one in contributions(PASTE, seed=3, draws=10_000)]
    whole = draw_cook(PASTE, seed=3).summary()["delivered_g"].sd
    assert np.sqrt(np.sum(np.square(parts))) == pytest.approx(whole, rel=0.03)


def test_the_same_seed_gives_the_same_draws_and_another_does_not():
    first, again, other = (draw_cook(PASTE, seed=seed, draws=1000) for seed in (5, 5, 6))
    assert first.seed == 5
    assert np.array_equal(first.delivered_g, again.delivered_g)
    assert not np.array_equal(first.delivered_g, other.delivered_g)


def test_in_every_draw_water_out_and_what_is_left_make_what_went_in():
    drawn = draw_cook(PASTE, seed=2)
    assert drawn.water_boiled_off_g + drawn.pot_mass_g == pytest.approx(
        np.full(10_000, 3440.0), rel=1e-12
    )
    solids_g = drawn.brix / 100 * (drawn.pot_mass_g - drawn.insoluble_solids_g)
    assert solids_g == pytest.approx(drawn.soluble_solids_g, rel=1e-9)


def test_a_batch_so_many_times_larger_has_a_band_so_many_times_wider():
    double = replace(
        PASTE,
        ingoing_g=6880.0,
        fruits=(replace(DAMSON, mass_g=4000.0),),
        sucrose_g=2800.0,
        hexose_g=2.04,
        acid_g=4.76,
        pan_loss_g=Triangular(30.0, 60.0, 120.0),
    )
    one, two = (draw_cook(cook, seed=4).delivered_g for cook in (PASTE, double))
    assert two == pytest.approx(2 * one, rel=1e-9)


def test_the_same_puree_in_two_lots_of_the_same_fruit_is_steadier_than_in_one():
    # Independent lots: the part of fruit Brix falls by the root of two, 19.8 to 14.0 g each half.
    half = replace(DAMSON, mass_g=1000.0)
    found = contributions(replace(PASTE, fruits=(half, half)), seed=3, draws=10_000)
    by_fruit = {one.fruit: one.sd_g for one in found if one.what == "fruit_brix"}
    assert by_fruit == pytest.approx({0: 19.8 / 2, 1: 19.8 / 2}, rel=0.03)


def test_without_spread_every_draw_is_the_plan():
    # Frozen: a quarter inverted, 2539.0 g delivered, 65.84 Brix (second implementation).
    certain = replace(
        PASTE,
        fruits=(
            replace(
                DAMSON, brix=Triangular(12.5, 12.5, 12.5), insoluble_pct=Triangular(1.8, 1.8, 1.8)
            ),
        ),
        inverted_share=Triangular(0.25, 0.25, 0.25),
        pan_loss_g=Triangular(30.0, 30.0, 30.0),
        stop=StopAtTemperature(Normal(104.8, 0.0), Normal(SEA_LEVEL_PA, 0.0)),
    )
    delivered = draw_cook(certain, seed=1, draws=100).summary()["delivered_g"]
    assert delivered.mean == pytest.approx(2539.0, abs=0.8)
    assert delivered.sd == pytest.approx(0.0, abs=1e-9)


def test_a_rise_above_boiling_water_is_the_reading_without_the_weather():
    water_c = water_boiling_point_c(pressure_pa=SEA_LEVEL_PA)
    by_rise = replace(PASTE, stop=StopAtRise(Normal(104.8 - water_c, 0.25), SEA_LEVEL_PA))
    one, other = (draw_cook(cook, seed=9).summary()["delivered_g"] for cook in (PASTE, by_rise))
    assert other.mean == pytest.approx(one.mean, abs=2)
    assert other.sd == pytest.approx(one.sd, abs=2)
    assert "pressure" not in {one.what for one in contributions(by_rise, seed=9, draws=100)}


def test_stopped_on_the_scale_the_mass_is_sure_and_the_brix_varies():
    # 5 g of the scale and the pan's 15-30-60 g: sqrt(5^2 + 9.35^2) = 10.6 g.
    drawn = draw_cook(replace(PASTE, stop=StopAtPotMass(Normal(2569.0, 5.0))), seed=9).summary()
    assert drawn["delivered_g"].sd == pytest.approx(10.6, abs=0.3)
    # u(S) = 13.3 g of 1668 g is 0.53 Brix; the scale adds 0.13 and fibre 0.13.
    assert drawn["brix"].sd == pytest.approx(0.56, abs=0.03)


def test_stopped_by_refractometer_the_mass_follows_the_first_order():
    # 1 Brix: 1667.81 x 100 / 65.84^2 = 38.5 g; solids 13.3 x 1.519 = 20.2; with pan and fibre
    # sqrt(38.5^2 + 20.2^2 + 9.4^2 + 4.9^2) = 44.8 g.
    drawn = draw_cook(replace(PASTE, stop=StopAtBrix(Normal(65.84, 1.0))), seed=9).summary()
    assert drawn["delivered_g"].sd == pytest.approx(44.8, rel=0.03)


def test_draws_beyond_the_model_are_held_and_counted():
    # 84 +-1 Brix: a sixth of the draws lies above 85 (normal distribution, one sigma).
    drawn = draw_cook(replace(PASTE, stop=StopAtBrix(Normal(84.0, 1.0))), seed=9)
    assert drawn.brix.max() == 85
    assert drawn.share_at_limits == pytest.approx(0.1587, abs=0.012)
    assert draw_cook(PASTE, seed=9).share_at_limits == 0


@pytest.mark.parametrize(
    "stop",
    [
        StopAtBrix(Normal(85.1, 1.0)),  # beyond the model
        StopAtBrix(Normal(40.0, 1.0)),  # thinner than the pan began: 49 Brix
        StopAtPotMass(Normal(1600.0, 5.0)),  # lighter than its solids
        StopAtPotMass(Normal(3600.0, 5.0)),  # heavier than what went in
        StopAtTemperature(Normal(101.0, 0.25), Normal(SEA_LEVEL_PA, 0.0)),  # not yet at its boil
        StopAtTemperature(Normal(104.8, 0.25), Normal(1013.0, 0.0)),  # hectopascal by mistake
    ],
)
def test_a_plan_that_cannot_be_is_refused_and_not_held_at_a_limit(stop):
    with pytest.raises(OutsideValidRange):
        draw_cook(replace(PASTE, stop=stop), seed=1, draws=100)


def test_figures_out_of_order_or_below_zero_are_refused():
    with pytest.raises(PhysicsError, match="in that order"):
        Triangular(14.0, 12.5, 11.0)
    with pytest.raises(PhysicsError, match="in that order"):
        Triangular(11.0, float("nan"), 14.0)
    with pytest.raises(OutsideValidRange):
        Normal(104.8, -0.25)
    with pytest.raises(OutsideValidRange):
        draw_cook(PASTE, seed=1, draws=99)


def test_a_spread_is_read_off_the_values():
    # 0 to 100 in whole steps: percentiles are the values themselves; sd of 0..n is
    # sqrt(n (n + 2) / 12) = sqrt(850).
    spread = Spread.of(np.arange(101.0))
    assert (spread.p5, spread.p50, spread.p95, spread.mean) == (5, 50, 95, 50)
    assert spread.sd == pytest.approx(np.sqrt(850))
