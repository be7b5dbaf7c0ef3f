"""Minutes of a boil whose fire is turned down once the pan is thick."""

import pytest

from costing.reckoning.book import RISE
from costing.reckoning.stove import target
from costing.reckoning.stove_plan import solids_with
from costing.reckoning.stove_time import (
    food_when_turned_down_g,
    full_fire_rate,
    minutes_to_boil_off,
)
from tests.costing.reckoning.stove_pans import D, damson


def boil(from_g, to_g, *, is_turned_down=False):
    solids = solids_with(damson())
    return minutes_to_boil_off(
        solids, from_g=from_g, to_g=to_g, rate=44.26, is_turned_down=is_turned_down
    )


def test_a_paste_takes_31_minutes_with_the_fire_at_40_percent_from_58_brix():
    # 871 g off 3440 g at 871/19.68 = 44.26 g a minute: 19.7 min on a full fire, 31.3 min with the
    # power cut to 40 % from 58 Brix (heat balance of the same pan by an independent program).
    assert boil(3440, 2569, is_turned_down=True) == pytest.approx(19.68, abs=0.05)
    assert boil(3440, 2569) == pytest.approx(31.3, abs=0.1)


def test_before_58_brix_nothing_is_cut_and_past_its_stop_nothing_is_left():
    # 58 Brix stands at 1667.8/0.58 + 36 = 2911.5 g.
    assert boil(3440, 2912) == pytest.approx(528 / 44.26)
    assert boil(2800, 2700) == pytest.approx(100 / (0.4 * 44.26))
    assert boil(2500, 2569) == 0


def test_the_plans_minutes_count_the_low_fire_and_hold_a_range():
    plan = damson(form=RISE, stop="4.826", evaporation_g_per_min=D("44.26"))
    minutes = target(plan).minutes
    assert float(minutes.value) == pytest.approx(31.3, abs=0.1)
    assert minutes.low < minutes.value < minutes.high


def test_the_rate_of_the_full_fire_is_found_again_from_what_the_whole_boil_took():
    # 528 g at 44.26 g and 343 g at 0.4 x 44.26 g take 11.93 + 19.37 = 31.30 min: 871/31.3 is 27.8 g
    # a minute over the whole of it, (528 + 343/0.4)/31.3 = 44.26 g at full fire.
    rate = full_fire_rate(
        lost_g=D(871), left_g=D(2569), thick_g=D(2912), minutes=D(str(boil(3440, 2569)))
    )
    assert float(rate) == pytest.approx(44.26, rel=1e-3)


def test_without_a_low_fire_the_rate_is_what_was_lost_in_the_minutes():
    figures = {"lost_g": D(600), "left_g": D(3000), "minutes": D(10)}
    assert full_fire_rate(thick_g=None, **figures) == 60
    assert full_fire_rate(thick_g=D(2900), **figures) == 60  # never so thick
    assert full_fire_rate(thick_g=D(9000), **figures) == 150  # all of it on the low fire


# 14 kg at 67 Brix hold 9380 g of sugars, in 9380/0.58 = 16172 g when at 58 Brix.
@pytest.mark.parametrize(
    ("brix", "grams"), [("67", D("16172.41")), ("58", None), ("45", None), (None, None)]
)
def test_the_fire_is_turned_down_only_on_what_gets_thick(brix, grams):
    found = food_when_turned_down_g(done_g=D(14000), end_brix=None if brix is None else D(brix))
    assert grams == (None if found is None else round(found, 2))
