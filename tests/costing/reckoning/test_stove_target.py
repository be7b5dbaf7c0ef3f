"""Where a pan stops, with bands, against sums by hand and published rules."""

from decimal import Decimal

import pytest

from costing.reckoning.book import FINAL_WEIGHT, READING, RISE, SHARE, KitchenRecord
from costing.reckoning.stove import target
from tests.costing.reckoning.stove_pans import AS_STATED, a_plan, changed, damson, strawberry

D = Decimal


def near(value, *, within):
    return pytest.approx(value, abs=within)


def test_a_damson_paste_to_a_true_104_8_degrees():
    # A quarter of 1436.825 g sucrose splits and binds 18.015/342.30 of itself: S = 1667.81 g.
    # At 4.826 K above boiling water the liquid is at 65.84 Brix: 1667.81/0.6584 + 36 = 2569.0 g;
    # 3440 - 2569 = 871 g of steam; less 30 g on the pan 2539.0 g.
    found = target(damson(form=RISE, stop="4.826", spreads=AS_STATED))

    assert float(found.brix.value) == near(65.84, within=0.03)
    assert float(found.pot_g.value) == near(2569.0, within=0.8)
    assert float(found.gross_g.value) == near(4069.0, within=0.8)
    assert float(found.water_g.value) == near(871.0, within=0.8)
    assert float(found.finished_g.value) == near(2539.0, within=0.8)
    assert float(found.reading_c.value) == near(104.8, within=0.01)


@pytest.mark.parametrize(
    ("inverted_pct", "pot_g", "boils_c"),
    # S = 1078.4: 1078.4/0.65 + 20 = 1679.1; a quarter inverted, S = 1091.71: 1699.6.
    [(0, 1679.1, 103.92), (25, 1699.6, 104.47)],
)
def test_a_strawberry_jam_to_65_brix(inverted_pct, pot_g, boils_c):
    found = target(strawberry(inverted_pct=inverted_pct))

    assert float(found.pot_g.value) == near(pot_g, within=0.3)
    assert float(found.reading_c.value) == near(boils_c, within=0.02)


def test_a_jam_sets_between_103_and_105_degrees_at_65_brix():
    # McGee, On Food and Cooking, 2004: 103-105 C, 65 %. Common practice.
    assert 103 < target(strawberry(inverted_pct=25)).reading_c.value < 105


def test_water_plus_four_and_a_half_to_five_degrees_makes_jam_at_any_height():
    # Practical Action, Jams: boiling water + 4.5 to 5 C. Common practice.
    for metres, boils in ((0, "99.97"), (2000, "93.32")):
        kitchen = KitchenRecord(altitude_m=D(metres))
        for rise in ("4.5", "5"):
            plan = damson(form=RISE, stop=rise, kitchen=kitchen, water_reading_c=D(boils))
            assert 63 < target(plan).brix.value < 68


def test_the_reading_follows_the_thermometer_in_boiling_water():
    # 2 degrees more in boiling water are 2 degrees more in the paste.
    true, off = target(damson()), target(damson(water_reading_c=D("101.97")))

    assert off.reading_c.value - true.reading_c.value == D(2)
    assert any("difference is taken into account" in said for said in off.cautions)


def test_a_recipes_reading_is_kept_as_its_rise_on_another_day():
    # Written as 105 on a thermometer that read 99; today it reads 98: stop at 104.
    plan = damson(form=READING, stop=105, cook={"water_reading_c": D(99)}, water_reading_c=D(98))
    assert target(plan).reading_c.value == D(104)


def test_a_checked_thermometer_narrows_the_band():
    checked, not_checked = damson(), damson(water_reading_c=None)
    widths = [
        target(plan).reading_c.high - target(plan).reading_c.low for plan in (checked, not_checked)
    ]
    assert widths[0] < widths[1]


def test_an_unchecked_thermometer_is_named_as_the_weakest_link():
    said = target(damson(form=RISE, stop=5, water_reading_c=None)).weakest
    assert "thermometer is the weakest link" in said
    assert "boiling water" in said


def test_fruit_of_unmeasured_brix_is_named_where_the_stop_is_a_brix():
    # All dissolved solids but 100 g come with the fruit: 12 % of it outweighs all else.
    assert "Brix of the fruit" in target(changed(damson(), fruit_soluble_g=D(1500))).weakest


def test_measured_fruit_narrows_the_pots_band():
    usual, measured = damson(), damson(fruit_brix_is_measured=True)
    widths = [target(plan).pot_g.high - target(plan).pot_g.low for plan in (usual, measured)]
    assert widths[1] < widths[0]


def test_a_weight_needs_the_pans_own_weight_and_asks_for_it():
    found = target(damson(pan_tare_g=None))
    assert found.gross_g is None
    assert "tare" in [ask.about for ask in found.asks]


def test_minutes_are_asked_for_not_guessed_without_a_rate():
    found = target(damson(evaporation_g_per_min=None))
    assert found.minutes is None
    assert "rate" in [ask.about for ask in found.asks]


def test_unknown_fruit_leaves_weight_unknown_and_still_gives_a_reading():
    found = target(changed(damson(), solids=None))
    assert found.pot_g is None
    # A preserve at 66 Brix boils 4.99 K above water (Norrish 1966, Starzak & Peacock 1997).
    assert float(found.rise_k.value) == near(4.99, within=0.02)
    assert [ask.about for ask in found.asks] == ["brix"]


@pytest.mark.parametrize(
    "plan",
    [
        damson(stop=40),  # raw it stands at 49 Brix already
        damson(form=FINAL_WEIGHT, stop=1700),  # 1703.8 g are solids: no water left
        damson(form=READING, stop=95),  # below boiling water
    ],
)
def test_a_stop_that_cannot_be_reached_is_asked_about(plan):
    assert [ask.about for ask in target(plan).asks] == ["stop"]


@pytest.mark.parametrize(("read", "word"), [("212", "Fahrenheit"), ("80", "full boil")])
def test_a_reading_that_is_not_boiling_water_is_asked_about(read, word):
    (ask,) = target(damson(water_reading_c=D(read))).asks
    assert ask.about == "water"
    assert word in ask.sentence


def test_a_pan_without_any_solids_asks():
    assert target(a_plan(ingoing=1000, solids=None, stop=66)).asks


@pytest.mark.parametrize(
    # 2569 g in the pot: 100 x 1667.81 / (2569 - 36) = 65.84 Brix; 2569/3440 = 74.68 %.
    ("form", "stop"),
    [(FINAL_WEIGHT, "2569"), (SHARE, "74.6802")],
)
def test_a_stop_by_weight_or_share_sets_the_mass_and_doubts_the_brix(form, stop):
    found = target(damson(form=form, stop=stop))

    assert found.pot_g.low == found.pot_g.high
    assert float(found.brix.value) == near(65.84, within=0.02)
    assert found.brix.low < found.brix.value < found.brix.high


def test_a_fruit_butter_is_finished_by_weight():
    # 45 Brix of fruit solids rise less than 2.4 K: too little for a kitchen thermometer.
    found = target(damson(stop=50))
    assert found.rise_k.value < D("2.5")
    assert any("finish by weight" in said for said in found.cautions)


def test_a_chutney_with_vinegar_is_finished_by_weight():
    assert any("vinegar" in said for said in target(damson(names=("Malt vinegar",))).cautions)
