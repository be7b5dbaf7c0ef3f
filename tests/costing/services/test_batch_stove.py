"""A batch as the stove sees it: what is in the pan before the fire, and what counts of it."""

from datetime import timedelta
from decimal import Decimal

import pytest

from costing.reckoning.stove_plan import water_reads_c
from costing.services.batches import InputGiven, correct_event, note_event, stove_events, stove_plan
from tests.builders import (
    NOON,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_pan,
    a_recipe,
    sugar,
)

pytestmark = pytest.mark.django_db


def rounded(value, places=4):
    return round(value, places)


def test_the_stove_is_told_the_solids_before_any_sugar_inverts():
    # 9 kg x 12.5 % + 8.1 kg + 0.18 kg x 9 % = 9.2412 kg, of which 8100 g sucrose is the sugar's,
    # 15 % of the lemon's 16.2 g, and of the puree's 1125 g what its own fire left: of 15 % a
    # quarter split, and each gram that splits binds 0.0526 g of water:
    # 1125 x 0.1125 / (1 + 0.0375 x 0.0526) = 126.31.
    pan = a_pan(residue_g=200, evaporation_g_per_min=60)
    paste = a_damson_paste(pan.kitchen)
    plan = stove_plan(a_batch(paste, pan=pan, water_reading_c=Decimal("99.1")))
    assert rounded(plan.solids.soluble_g, 3) == Decimal("9241.200")
    assert rounded(plan.solids.sucrose_g, 2) == Decimal("8228.74")
    assert plan.water_reading_c == Decimal("99.1")
    assert (plan.pan_tare_g, plan.pan_residue_g, plan.evaporation_g_per_min) == (3000, 200, 60)


def test_a_fruit_of_unknown_brix_leaves_the_solids_unknown():
    kitchen = a_kitchen()
    quinces = a_fruit(kitchen, brix=None)
    recipe = a_recipe(kitchen, lines=[(quinces, 10)], cook_kind="cook loss", cook_loss_pct=40)
    assert stove_plan(a_batch(recipe)).solids is None
    measured = [InputGiven(0, Decimal(10000), measured_brix=Decimal(14))]
    plan = stove_plan(a_batch(recipe, inputs=measured))
    assert plan.solids.soluble_g == Decimal(1400)
    assert plan.fruit_brix_is_measured


def test_a_puree_whose_own_brix_was_measured_counts_with_it():
    # 9 kg x 14 % + 8.1 kg + 0.18 kg x 9 % = 9.3762 kg.
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    own = a_finished_batch(puree, net_g=18000, end_brix=14)
    batch = a_batch(paste, inputs=[InputGiven(0, Decimal(9000), from_batch=own)])
    plan = stove_plan(batch)
    assert rounded(plan.solids.soluble_g, 3) == Decimal("9376.200")
    assert plan.fruit_brix_is_measured
    assert not stove_plan(a_batch(paste)).fruit_brix_is_measured


@pytest.mark.parametrize(("measured", "is_sure"), [((), False), ((0,), False), ((0, 1), True)])
def test_fruit_counts_as_measured_only_when_all_of_the_base_is(measured, is_sure):
    kitchen = a_kitchen()
    pears, apples = a_fruit(kitchen, brix=13), a_fruit(kitchen, brix=12)
    lemons = a_fruit(kitchen, brix=9)
    recipe = a_recipe(
        kitchen, base_g=10000, lines=[(pears, 60, "%"), (apples, 40, "%"), (lemons, 2, "%")],
        cook_kind="boil down", stop_form="brix", stop_value=65,
    )  # fmt: skip
    recipe.versions.get().lines.filter(position__lt=2).update(is_base=True)
    read = [InputGiven(place, Decimal(5000), measured_brix=Decimal(13)) for place in measured]
    assert stove_plan(a_batch(recipe, inputs=read)).fruit_brix_is_measured is is_sure


def test_without_a_named_base_every_fruit_and_no_sugar_must_be_measured():
    kitchen = a_kitchen()
    plums, pears, white = a_fruit(kitchen), a_fruit(kitchen), sugar(kitchen)
    recipe = a_recipe(kitchen, lines=[(plums, 5), (pears, 5), (white, 8)],
                      cook_kind="cook loss", cook_loss_pct=30)  # fmt: skip
    of = {place: InputGiven(place, Decimal(5000), measured_brix=Decimal(13)) for place in (0, 1)}
    assert not stove_plan(a_batch(recipe, inputs=[of[0]])).fruit_brix_is_measured
    assert stove_plan(a_batch(recipe, inputs=list(of.values()))).fruit_brix_is_measured


def test_only_events_in_force_reach_the_stove():
    batch = a_batch()
    wrong = note_event(
        batch,
        by=None,
        kind="weight",
        value=Decimal(19000),
        key="a",
        read_at=NOON + timedelta(minutes=5),
        tare_g=Decimal(3000),
    )
    correct_event(wrong, by=None, value=Decimal(18000), reason="slip", key="b")
    (event,) = stove_events(batch)
    assert (event.kind, event.value, event.tare_g) == ("weight", 18000, 3000)
    assert event.at == NOON + timedelta(minutes=5)


def test_a_weather_report_counts_where_nobody_read_the_thermometer_in_water():
    # 1000 hPa reported at 240 m (ISO 2533: 0.9718 of sea level) is 971.8 hPa in the kitchen;
    # the steam tables (IAPWS-IF97) boil water there at 98.8 C.
    paste = a_damson_paste(a_kitchen(altitude_m=240))
    by_report = stove_plan(a_batch(paste, report_hpa=Decimal(1000)))
    assert rounded(water_reads_c(by_report), 1) == Decimal("98.8")
    by_water = stove_plan(a_batch(paste, report_hpa=Decimal(1000), water_reading_c=Decimal("99.4")))
    assert by_water.report_hpa is None
    assert water_reads_c(by_water) == Decimal("99.4")
