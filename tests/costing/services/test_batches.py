"""Batches from the fire to the correction: what is kept, what is refused, and in which words."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, Batch, Mould
from costing.reckoning.coming_out import OFFCUTS_KEPT, THROWN_AWAY
from costing.services.batches import (
    InputGiven,
    YieldGiven,
    batch_cost,
    correct_batch,
    finish_batch,
    give_up,
    next_lot,
    plan_of,
    put_in,
    start_batch,
)
from tests.builders import (
    NOON,
    TODAY,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_kitchen,
    a_product,
    a_recipe,
    an_owner,
)

pytestmark = pytest.mark.django_db


def refused(words, field=None):
    """ValidationError with these words, of this field where one is named."""
    match = words if field is None else f"{field}.*{words}"
    return pytest.raises(ValidationError, match=match)


def test_a_lot_has_the_letters_of_the_recipe_the_year_and_the_day_of_the_year():
    # 5 September 2027 is day 31+28+31+30+31+30+31+31+5 = 248 of the year.
    recipe = a_recipe(name="Damson cheese")
    assert next_lot(recipe, on=date(2027, 9, 5)) == "DC-27248"


def test_the_second_pan_of_the_day_is_b_and_no_lot_is_used_twice():
    recipe = a_damson_paste()
    lots = [a_batch(recipe).lot for _ in range(3)]
    assert [lot[-1] for lot in lots[1:]] == ["B", "C"]
    assert len(set(lots)) == 3
    with refused("never used twice", "lot"):
        a_batch(recipe, lot=lots[0].lower())


def test_the_plan_is_the_scaled_recipe_and_stays_when_the_recipe_changes():
    recipe = a_damson_paste()
    batch = a_batch(recipe, factor=Decimal(2))
    recipe.versions.update(stop_value=Decimal(60))
    batch.refresh_from_db()

    plan = plan_of(batch)
    assert plan.base_g == Decimal(18000)
    assert plan.cook.stop_value == Decimal(75)
    # 90 % of 18 kg of puree.
    assert batch.inputs.get(ingredient__name="White sugar").planned_g == Decimal(16200)


def test_what_it_became_adds_up_to_the_net_weight():
    batch = a_batch()
    product = a_product(batch.recipe, form="piece", net_quantity_g=100, fill_g="103.5")
    finish(batch, yields=[YieldGiven(product=product, units=96), YieldGiven(Decimal(850))])
    # 96 x 103.5 g = 9936 g, and 850 g of ends.
    assert batch.net_g == Decimal("10786.0")
    assert batch.status == Batch.Status.FINISHED


def finish(batch, *, yields=(), **values):
    return finish_batch(
        batch,
        by=None,
        finished_at=NOON + timedelta(hours=2),
        values={name: Decimal(str(value)) for name, value in values.items()},
        yields=yields,
    )


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"net_g": 0}, "give the pan up"),
        ({"net_g": 11900, "pot_g": 11800}, "filled out of"),
        ({"net_g": 17281}, "more than the 17280 g that went in"),
        ({"net_g": 11900, "pot_g": 19000}, "Was the weight of the pan taken off"),
        ({}, "How much is there in the end"),
    ],
)
def test_weights_that_cannot_be_true_are_refused_and_the_pan_stays_on_the_fire(values, words):
    # 9 kg of puree, 90 % of sugar and 2 % of lemon juice: 17280 g went in.
    batch = a_batch()
    with refused(words):
        finish(batch, **values)
    # As the page holds it, and as it is stored.
    assert (batch.status, batch.net_g) == (Batch.Status.ON_THE_FIRE, None)
    batch.refresh_from_db()
    assert (batch.status, batch.net_g) == (Batch.Status.ON_THE_FIRE, None)


def test_what_it_became_cannot_weigh_more_than_there_was():
    with refused("more than the 1000 g", "yields"):
        finish(a_batch(), net_g=1000, yields=[YieldGiven(Decimal(1001), what="tray")])
    finish(a_batch(), net_g=1000, yields=[YieldGiven(Decimal(1000), what="tray")])


def test_a_pan_is_not_done_before_it_was_started():
    with refused("before it was started", "finished_at"):
        finish_batch(
            a_batch(), by=None, finished_at=NOON - timedelta(hours=1), values={"net_g": Decimal(1)}
        )


def test_a_pan_that_came_to_nothing_is_kept_with_its_reason():
    batch = a_batch()
    with refused("why it was given up", "reason"):
        give_up(batch, by=None, reason=" ")
    give_up(batch, by=None, reason="burnt")
    batch.refresh_from_db()
    assert batch.status == Batch.Status.GIVEN_UP
    assert "burnt" in batch.deviations
    with refused("not on the fire"):
        finish(batch, net_g=1000)


def test_what_went_in_can_be_said_while_the_pan_is_on_the_fire_and_the_change_is_written_down():
    batch = a_batch()
    put_in(batch, by=None, inputs=[InputGiven(1, Decimal(8000))])
    assert batch.inputs.get(position=1).weighed_g == Decimal(8000)
    assert batch.inputs.count() == 3
    assert AuditEntry.objects.filter(subject="batch", field="inputs").count() == 1


def test_a_correction_needs_a_reason_and_keeps_the_old_figure():
    batch, owner = a_finished_batch(net_g=11900), an_owner()
    with refused("why it is corrected", "reason"):
        correct_batch(batch, by=owner, values={"net_g": Decimal(11800)}, reason="")
    correct_batch(batch, by=owner, values={"net_g": Decimal(11800)}, reason="read 9 for 8")

    batch.refresh_from_db()
    assert batch.net_g == Decimal(11800)
    history = {
        (entry.field, entry.old, entry.new, entry.by)
        for entry in AuditEntry.objects.filter(subject="batch", subject_id=batch.pk)
    }
    assert ("net_g", "11900", "11800", owner) in history
    assert ("reason", "", "read 9 for 8", owner) in history


def test_a_correction_of_what_went_in_moves_the_cost():
    batch = a_finished_batch(net_g=11900)
    before = batch_cost(batch).cost_total
    correct_batch(
        batch, by=None, values={}, reason="bag was not full", inputs=[InputGiven(1, Decimal(8000))]
    )
    # 0.1 kg of sugar less at 0.95; and 0.1 kg less that was heated and boiled off:
    # 0.1 x (3.7 x 85 + 2257) / 3600 / 0.55 kWh x 0.28.
    less = Decimal("0.1") * (Decimal("3.7") * 85 + 2257) / 3600 / Decimal("0.55") * Decimal("0.28")
    moved = before - batch_cost(Batch.objects.get(pk=batch.pk)).cost_total
    assert abs(moved - Decimal("0.095") - less) < Decimal("1e-9")


def test_neither_lot_nor_plan_nor_a_batch_on_the_fire_is_corrected():
    with refused("cannot be changed"):
        correct_batch(a_finished_batch(), by=None, values={"lot": "X"}, reason="typed wrong")
    with refused("called done"):
        correct_batch(a_batch(), by=None, values={"ph": Decimal(3)}, reason="typed wrong")


def test_a_recipe_without_lines_is_not_cooked():
    with refused("no lines"):
        start_batch(a_recipe(), by=None, on=TODAY, started_at=datetime(2026, 9, 20, tzinfo=UTC))


@pytest.mark.parametrize("factor", ["0", "-1"])
def test_a_recipe_is_scaled_by_more_than_nothing(factor):
    with refused("more than nothing", "factor"):
        a_batch(factor=Decimal(factor))


def test_what_is_thrown_away_is_told_and_is_no_part_of_what_there_is():
    batch = a_finished_batch(
        net_g=11000,
        yields=[
            YieldGiven(Decimal(10800), what=OFFCUTS_KEPT),
            YieldGiven(Decimal(400), what=THROWN_AWAY),
        ],
    )
    assert batch.yields.count() == 2
    assert batch.net_g == Decimal(11000)
    with refused("11400.0 g together", "yields"):
        correct_batch(
            batch, by=None, values={}, reason="All kept",
            yields=[YieldGiven(Decimal(11400), what=OFFCUTS_KEPT)],
        )  # fmt: skip


def test_a_mould_of_another_kitchen_is_refused():
    strange = Mould.objects.create(
        kitchen=a_kitchen(), name="Tray", length_mm=400, width_mm=300, depth_mm=30
    )
    with refused("not in this kitchen"):
        a_finished_batch(net_g=11000, mould=strange)
