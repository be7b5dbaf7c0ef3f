"""One figure a batch: which events and weights count for it."""

from datetime import timedelta
from decimal import Decimal

import pytest

from costing.reckoning.coming_out import THROWN_AWAY
from costing.selectors.batch_figures import RESIDUE, every_figure
from costing.selectors.batch_lessons import (
    Key,
    evaporation_rates,
    rate_between_weights,
    residues_g,
)
from costing.services.batches import YieldGiven, correct_event, finish_batch, note_event
from tests.builders import NOON, a_batch, a_damson_paste, a_finished_batch, a_kitchen, a_pan

pytestmark = pytest.mark.django_db


def weigh(batch, minute, value):
    return note_event(
        batch,
        by=None,
        kind="weight",
        value=Decimal(value),
        key=str(minute),
        read_at=NOON + timedelta(minutes=minute),
    )


def test_a_rate_needs_two_weights():
    batch = a_batch()
    assert rate_between_weights(batch.readings.all()) is None
    weigh(batch, 0, 17000)
    assert rate_between_weights(batch.readings.all()) is None


@pytest.mark.parametrize(("minute", "rate"), [(4, None), (5, 80)])
def test_a_rate_needs_five_minutes(minute, rate):
    batch = a_batch()
    weigh(batch, 0, 17000)
    weigh(batch, minute, 16600)
    assert rate_between_weights(batch.readings.all()) == rate


def test_a_corrected_weight_counts_as_corrected():
    batch = a_batch()
    weigh(batch, 0, 17000)
    last = weigh(batch, 10, 19000)
    correct_event(last, by=None, value=Decimal(16000), reason="read 9 for 6", key="c")
    assert rate_between_weights(batch.readings.all()) == 100


def test_offcuts_thrown_away_did_not_stay_on_the_pan():
    # 12330 g in the pan, 11600 g finished, 300 g of offcuts thrown away: 430 g stayed behind.
    kitchen = a_kitchen()
    pan = a_pan(kitchen)
    a_finished_batch(
        a_damson_paste(kitchen),
        pan=pan,
        pot_g=12330,
        net_g=11600,
        yields=[YieldGiven(Decimal(300), what=THROWN_AWAY)],
    )
    assert [one.value for one in residues_g(kitchen, pan=pan)] == [Decimal(430)]
    found = every_figure(kitchen)[Key(RESIDUE, pan_id=pan.pk)]
    assert [one.value for one in found] == [Decimal(430)]


def test_what_was_lost_on_a_low_fire_counts_as_at_full_fire():
    # Done with 14 500 g at 68 Brix: at 58 Brix 17 000 g. 500 g before, 1000 g on 0.4 of the fire.
    kitchen = a_kitchen()
    pan = a_pan(kitchen)
    batch = a_batch(a_damson_paste(kitchen), pan=pan)
    weigh(batch, 0, 17500)
    weigh(batch, 60, 16000)
    values = {"pot_g": Decimal(14500), "net_g": Decimal(14000), "end_brix": Decimal(68)}
    finish_batch(batch, by=None, finished_at=NOON + timedelta(hours=2), values=values)
    # (500 + 1000/0.4)/60 = 50 g a minute, where the whole of it lost 25.
    assert [one.value for one in evaporation_rates(kitchen, pan=pan)] == [Decimal(50)]
    found = every_figure(kitchen)[Key("evaporation", pan_id=pan.pk)]
    assert [one.value for one in found] == [Decimal(50)]
