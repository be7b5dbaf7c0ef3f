"""What went into a batch: from whom, from which batch, at the price of its day."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from costing.services.batches import InputGiven, correct_batch, put_in
from tests.builders import (
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_price,
    a_recipe,
    a_user,
    an_ingredient,
    sugar,
)

pytestmark = pytest.mark.django_db


def refused(words, field=None):
    match = words if field is None else f"{field}.*{words}"
    return pytest.raises(ValidationError, match=match)


def test_an_input_carries_its_price_of_the_day():
    batch = a_batch()
    assert batch.inputs.get(ingredient__name="White sugar").per_kg == Decimal("0.95")


def test_a_line_may_come_from_two_batches_of_the_preparation():
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    old, new = a_finished_batch(puree, net_g=17700), a_finished_batch(puree, net_g=18300)
    batch = a_batch(
        paste,
        inputs=[
            InputGiven(0, Decimal(8700), from_batch=old),
            InputGiven(0, Decimal(300), from_batch=new),
        ],
    )
    assert [row.from_batch for row in batch.inputs.filter(position=0)] == [old, new]
    assert old.used_in.get().batch == batch


def test_a_batch_of_something_else_does_not_fill_a_line():
    paste = a_damson_paste()
    other = a_finished_batch(a_recipe(paste.kitchen, lines=[(an_ingredient(paste.kitchen), 1)]))
    with refused("which this line is not", "inputs"):
        a_batch(paste, inputs=[InputGiven(0, Decimal(9000), from_batch=other)])


def test_a_puree_still_on_the_fire_fills_nothing():
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    with refused("not finished", "inputs"):
        a_batch(paste, inputs=[InputGiven(0, Decimal(9000), from_batch=a_batch(puree))])


def test_rows_of_another_kitchen_are_refused():
    stranger = a_finished_batch()
    with refused("not in this kitchen"):
        a_batch(inputs=[InputGiven(0, Decimal(9000), from_batch=stranger)])


def test_something_beside_the_plan_says_what_and_how_much():
    batch = a_batch()
    ginger = an_ingredient(batch.kitchen, name="Ginger")
    a_price(ginger, per_kg=12)
    with refused("Beside the plan", "inputs"):
        put_in(batch, by=None, inputs=[InputGiven(3, ingredient=ginger)])
    put_in(batch, by=None, inputs=[InputGiven(3, Decimal(50), ingredient=ginger)])
    assert batch.inputs.get(position=3).per_kg == Decimal(12)


def test_each_line_keeps_what_the_scale_was_to_show():
    # Common practice: 50 g above 10 kg, 10 g below; a spice to the gram.
    kitchen = a_kitchen()
    spice = an_ingredient(kitchen, name="Cinnamon", category="spice")
    white, plums = sugar(kitchen), a_fruit(kitchen)
    recipe = a_recipe(kitchen, lines=[(plums, "12.337"), (white, "8.104"), (spice, "0.0634")])
    rows = a_batch(recipe).inputs.order_by("position")
    assert [row.to_weigh_g for row in rows] == [Decimal(12350), Decimal(8100), Decimal(63)]


def test_put_right_a_line_costs_what_a_kilo_of_its_own_batch_does():
    # 24 kg of damsons at 2.40 gave 19.2 kg or 12 kg: the less came through, the dearer a kilo.
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    good, thin = a_finished_batch(puree, net_g=19200), a_finished_batch(puree, net_g=12000)
    batch = a_finished_batch(paste, inputs=[InputGiven(0, Decimal(9000), from_batch=good)])
    before = batch.inputs.get(position=0).per_kg
    moved = InputGiven(0, Decimal(9000), from_batch=thin)
    correct_batch(batch, by=None, values={}, reason="The other tub", inputs=[moved])
    row = batch.inputs.get(position=0)
    assert row.from_batch == thin
    assert row.per_kg / before == pytest.approx(Decimal(19200) / 12000)


def test_a_batch_is_not_made_out_of_what_was_made_out_of_it():
    kitchen = a_kitchen()
    puree = a_recipe(kitchen, lines=[(a_fruit(kitchen), 10)])
    twice = a_recipe(kitchen, lines=[(puree, 5)])
    first = a_finished_batch(puree, net_g=9000)
    second = a_finished_batch(twice, inputs=[InputGiven(0, Decimal(5000), from_batch=first)])
    # The puree was once stretched with what was left over: a line of the later recipe in it.
    first.inputs.create(kitchen=kitchen, position=1, preparation=twice, weighed_g=100)
    circle = InputGiven(1, Decimal(100), from_batch=second)
    with refused("was made out of this batch", "inputs"):
        correct_batch(first, by=None, values={}, reason="Slip", inputs=[circle])
    assert first.inputs.get(position=1).from_batch is None


def test_put_right_a_line_does_not_come_from_what_was_cooked_after_it():
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    batch = a_finished_batch(paste)
    late = a_finished_batch(puree, net_g=9500, on=batch.made_on + timedelta(days=1))
    moved = InputGiven(0, Decimal(9000), from_batch=late)
    with refused("after this batch", "inputs"):
        correct_batch(batch, by=None, values={}, reason="Slip", inputs=[moved])


def test_only_who_works_in_the_kitchen_can_have_cooked():
    batch = a_finished_batch()
    with refused("does not work in this kitchen", "cooked_by"):
        correct_batch(batch, by=None, values={"cooked_by": a_user()}, reason="Slip")


def test_the_database_moves_a_price_that_was_paid_only_with_the_batch_it_comes_from():
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    source = a_finished_batch(puree, net_g=19200)
    row = a_finished_batch(paste).inputs.get(position=0)
    rows = type(row).objects.filter(pk=row.pk)
    with pytest.raises(IntegrityError, match="what it cost stay"), transaction.atomic():
        rows.update(per_kg=Decimal(1))
    with pytest.raises(IntegrityError, match="what it cost stay"), transaction.atomic():
        rows.update(per_kg=Decimal(1), from_batch=source, planned_g=Decimal(1))
    assert rows.update(per_kg=Decimal(1), from_batch=source) == 1
