"""What a new pan reckons with: what was learnt when its fire was lit, unless typed since."""

from datetime import timedelta
from decimal import Decimal

import pytest

from costing.services.batch_learnt import learnt_words
from costing.services.batches import InputGiven, finish_batch, note_event, put_in, stove_plan
from costing.services.learning import About, pin
from tests.builders import NOON, TODAY, a_batch, a_damson_paste, a_finished_batch, a_pan

pytestmark = pytest.mark.django_db
D = Decimal


@pytest.fixture
def paste():
    return a_damson_paste()


@pytest.fixture
def pan(paste):
    return a_pan(paste.kitchen, residue_g=500, evaporation_g_per_min=40)


def cooked(paste, pan, *, residue_g, rate):
    """A cook that left so many grams in the pan and lost so much water a minute for an hour.

    At 58 Brix the fire was not turned down yet.
    """
    batch = a_batch(paste, pan=pan)
    for minute, gross_g in ((10, 20000), (70, 20000 - 60 * rate)):
        note_event(
            batch, by=None, kind="weight", value=D(gross_g), tare_g=D(3000),
            key=f"{batch.pk}-{minute}", read_at=NOON + timedelta(minutes=minute),
        )  # fmt: skip
    values = {"pot_g": D(12593), "net_g": D(12593 - residue_g), "end_brix": D(58)}
    return finish_batch(batch, by=None, finished_at=NOON + timedelta(hours=2), values=values)


def test_the_first_pan_reckons_with_what_was_entered(paste, pan):
    batch = a_batch(paste, pan=pan)
    plan = stove_plan(batch)
    assert (plan.pan_residue_g, plan.evaporation_g_per_min) == (500, 40)
    assert learnt_words(batch, inputs=batch.inputs.all()) == ()


def test_the_next_pan_reckons_with_the_blend_and_says_so(paste, pan):
    # (2 x 500 + 400 + 440) / 4 = 460 g; (2 x 40 + 50 + 46) / 4 = 44 g a minute.
    cooked(paste, pan, residue_g=400, rate=50)
    cooked(paste, pan, residue_g=440, rate=46)
    batch = a_batch(paste, pan=pan)
    plan = stove_plan(batch)
    assert (plan.pan_residue_g, plan.evaporation_g_per_min) == (460, 44)
    told = " ".join(learnt_words(batch, inputs=batch.inputs.all()))
    assert "from 2 of your batches: 460 g" in told
    assert "from 2 of your batches: 44 g/min" in told


def test_what_later_batches_teach_does_not_move_a_pan_that_is_on_the_fire(paste, pan):
    cooked(paste, pan, residue_g=400, rate=50)
    batch = a_batch(paste, pan=pan)
    before = stove_plan(batch)
    cooked(paste, pan, residue_g=300, rate=60)
    batch.refresh_from_db()
    assert stove_plan(batch) == before


def test_a_figure_entered_with_the_pan_today_counts_before_what_was_learnt(paste, pan):
    cooked(paste, pan, residue_g=400, rate=50)
    batch = a_batch(paste, pan=pan)
    pan.residue_g = D(350)
    pan.save()
    batch.refresh_from_db()
    plan = stove_plan(batch)
    assert plan.pan_residue_g == 350
    assert plan.evaporation_g_per_min != 40  # nobody typed that one
    (said,) = learnt_words(batch, inputs=batch.inputs.all())
    assert said.startswith("Water lost from")


def test_the_brix_of_a_puree_is_as_learnt_until_the_tub_itself_is_named(paste):
    """Puree entered as 12.5 Brix, two batches read 13.5 and 13.9: (25 + 27.4) / 4 = 13.1.

    9 kg of it bring 0.6 % x 9000 = 54 g more than planned; named, the second tub brings 1.4 %.
    """
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    entered = stove_plan(a_batch(paste)).solids.soluble_g
    first, second = (
        a_finished_batch(puree, net_g=18000, end_brix=brix, on=TODAY) for brix in ("13.5", "13.9")
    )
    batch = a_batch(paste)
    assert round(stove_plan(batch).solids.soluble_g - entered) == 54
    assert (
        "Brix of Damson puree: from 2 of your batches: 13.1 Brix"
        in learnt_words(batch, inputs=batch.inputs.all())[0]
    )
    put_in(batch, by=None, inputs=[InputGiven(0, D(9000), from_batch=second)])
    assert learnt_words(batch, inputs=batch.inputs.all()) == ()
    assert round(stove_plan(batch).solids.soluble_g - entered) == 126
    assert first.end_brix == D("13.5")


def test_a_pinned_figure_is_reckoned_with_without_a_batch(paste, pan):
    pin(paste.kitchen, "evaporation", by=None, about=About(pan=pan), value=D(55))
    assert stove_plan(a_batch(paste, pan=pan)).evaporation_g_per_min == 55


def test_four_batches_say_how_sure_the_figures_of_a_pan_are(paste, pan):
    """400, 440, 420, 420 g: mean 420, sd 16.33; with the usual 500 twice 446.67, 26.67 away.

    sqrt(16.33^2 + 26.67^2) = 31.27 g, where half to double of 447 g would be far wider.
    """
    usual = stove_plan(a_batch(paste, pan=pan)).spreads
    for residue_g in (400, 440, 420, 420):
        assert stove_plan(a_batch(paste, pan=pan)).spreads == usual
        cooked(paste, pan, residue_g=residue_g, rate=50)
    plan = stove_plan(a_batch(paste, pan=pan))
    assert round(plan.spreads.residue_g, 2) == D("31.27")
    # 50 four times and 40 twice: 46.67, 3.33 away, which is 7.14 % of it.
    assert plan.spreads.rate_pct == D("7.14")
