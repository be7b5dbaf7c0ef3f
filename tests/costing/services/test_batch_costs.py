"""What a batch cost, and why it differs: sums written out by hand, and a past that stays."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import Batch, BatchInput, BatchReading, Ingredient
from costing.reckoning.coming_out import THROWN_AWAY
from costing.services.batch_costs import costs_of
from costing.services.batches import (
    InputGiven,
    YieldGiven,
    against_plan,
    batch_cost,
    correct_batch,
    correct_event,
    note_event,
    put_in,
    stove_plan,
)
from costing.services.recipes import cost_recipe
from tests.builders import (
    NOON,
    TODAY,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_price,
    a_recipe,
    an_ingredient,
)

pytestmark = pytest.mark.django_db


def puree_of(paste):
    return paste.versions.get().lines.get(preparation__isnull=False).preparation


def rounded(value, places=4):
    return round(value, places)


def heat(ingoing_kg, evaporated_kg):
    """Energy bought: (kg x 3.7 x 85 + kg x 2257) / 3600 / 0.55 kWh at 0.28 (heat balance)."""
    kj = Decimal(str(ingoing_kg)) * Decimal("3.7") * 85 + Decimal(str(evaporated_kg)) * 2257
    return kj / 3600 / Decimal("0.55") * Decimal("0.28")


@pytest.mark.parametrize(
    ("net_g", "per_kg"), [(17700, "4.477804"), (18000, "4.403174"), (18300, "4.330991")]
)
def test_a_puree_costs_its_total_over_what_was_weighed(net_g, per_kg):
    # 24 kg x 1.80 + 1.5 h x 15 + 1.5571 of energy + 1.5 h x 8 = 79.2571, whatever the sieve gave:
    # 79.2571 / 17.7 = 4.477804.
    sheet = batch_cost(a_finished_batch(puree_of(a_damson_paste()), net_g=net_g))
    assert rounded(sheet.cost_total) == Decimal("79.2571")
    assert rounded(sheet.cost_per_kg_finished, 6) == Decimal(per_kg)
    assert sheet.is_complete


def test_a_paste_costs_its_own_puree_and_its_own_heat():
    # 9 kg of the puree at 79.2571 / 17.7 = 40.3002; sugar 7.6950; lemon 1.3500; 2.5 h x 23 = 57.50;
    # 17.28 kg in, 12.33 kg in the pan: 4.95 kg of steam. Over 11.9 kg.
    paste = a_damson_paste()
    puree = a_finished_batch(puree_of(paste), net_g=17700)
    batch = a_finished_batch(
        paste,
        inputs=[InputGiven(0, Decimal(9000), from_batch=puree)],
        net_g=11900,
        pot_g=12330,
        end_brix="74.5",
    )
    sheet = batch_cost(batch)
    total = Decimal("40.30024") + Decimal("7.695") + Decimal("1.35") + Decimal("57.50")
    assert abs(sheet.cost_total - total - heat("17.28", "4.95")) < Decimal("0.0001")
    assert sheet.cost_per_kg_finished * 11900 / 1000 == pytest.approx(sheet.cost_total)
    assert sheet.balance.evaporated_g == Decimal(4950)
    assert sheet.balance.pan_residue_g == Decimal(430)
    assert sheet.balance.finishing_brix == Decimal("74.5")
    # The labour that came in with the puree stays labour: 37.50 + 22.50 x 9 / 17.7.
    assert rounded(sheet.breakdown["labour"]) == rounded(
        Decimal("37.5") + Decimal("22.5") * 9 / Decimal("17.7")
    )


def test_without_a_pot_weight_the_plans_losses_say_what_was_in_the_pan():
    # 11580 g / (100 - 3.5) % = 12000 g were in the pan.
    balance = batch_cost(a_finished_batch(net_g=11580)).balance
    assert balance.pot_g == Decimal(12000)
    assert balance.evaporated_g == Decimal(5280)


def test_offcuts_thrown_away_were_in_the_pan_all_the_same():
    # 11580 g / (100 - 3.5) % = 12000 g were in the pan, of which 300 g of offcuts cost, too.
    thrown = YieldGiven(Decimal(300), what=THROWN_AWAY)
    all_kept, some_thrown = (
        batch_cost(a_finished_batch(net_g=net_g, yields=yields))
        for net_g, yields in ((11580, ()), (11280, [thrown]))
    )
    assert some_thrown.balance.pot_g == all_kept.balance.pot_g == Decimal(12000)
    assert some_thrown.balance.pan_residue_g == Decimal(720)
    assert some_thrown.cost_total == all_kept.cost_total
    assert some_thrown.cost_per_kg_finished > all_kept.cost_per_kg_finished


def test_mass_is_conserved_in_every_batch():
    for values in ({"net_g": 11900}, {"net_g": 11900, "pot_g": 12200}):
        balance = batch_cost(a_finished_batch(**values)).balance
        assert balance.ingoing_g == (
            balance.evaporated_g
            + balance.sieved_out_g
            + balance.pan_residue_g
            + balance.handling_loss_g
            + balance.finished_g
        )


def everything_moves(kitchen):
    """New prices, rates, figures of ingredients and recipes, the day after."""
    for food in Ingredient.objects.filter(kitchen=kitchen, prices__isnull=False):
        a_price(food, per_kg=99, valid_from=TODAY)
    Ingredient.objects.filter(kitchen=kitchen).update(usable_pct=50, each_g=77, brix=3)
    kitchen.labour_rate_per_h = kitchen.overhead_rate_per_h = Decimal(99)
    kitchen.energy_price_per_kwh, kitchen.hob_efficiency_pct = Decimal(9), Decimal(10)
    kitchen.altitude_m, kitchen.price_policy = Decimal(2000), "worst"
    kitchen.save()


def test_no_later_price_rate_or_recipe_moves_a_past_batch():
    paste = a_damson_paste()
    puree = a_finished_batch(puree_of(paste), net_g=17700)
    batch = a_finished_batch(
        paste, inputs=[InputGiven(0, Decimal(9000), from_batch=puree)], net_g=11900
    )
    whole = a_finished_batch(paste, net_g=11900)
    before = [batch_cost(one) for one in (batch, whole)]
    parts = against_plan(batch)
    today = cost_recipe(paste, on=TODAY).cost_per_kg_finished

    everything_moves(paste.kitchen)
    for version in (paste.versions.get(), puree.recipe.versions.get()):
        version.lines.update(amount=Decimal(1))
        type(version).objects.filter(pk=version.pk).update(attended_minutes=1, finished_g=1)

    again = [Batch.objects.get(pk=one.pk) for one in (batch, whole)]
    assert [batch_cost(one) for one in again] == before
    assert against_plan(again[0]) == parts
    # And it did move what is reckoned with today's figures.
    assert cost_recipe(paste, on=TODAY).cost_per_kg_finished != today


def test_an_input_without_a_price_is_asked_about_and_never_free():
    kitchen = a_kitchen()
    quinces = an_ingredient(kitchen, name="Quinces")
    batch = a_finished_batch(a_recipe(kitchen, lines=[(quinces, 1)]), net_g=900)
    sheet = batch_cost(batch)
    assert sheet.unpriced == ("Quinces",)
    assert sheet.questions[0].ingredient_id == quinces.pk
    assert against_plan(batch) == ()
    a_price(quinces, per_kg=2, valid_from=TODAY)
    assert not batch_cost(Batch.objects.get(pk=batch.pk)).is_complete


def test_a_batch_on_the_fire_asks_what_there_is_in_the_end():
    sheet = batch_cost(a_batch())
    assert sheet.cost_per_kg_finished is None
    assert [question.about for question in sheet.questions] == ["finished weight"]


def test_the_measured_mass_of_a_fruit_bought_whole_counts_as_bought():
    # 10 kg whole at 3.00, of which 80 % are used: 8 kg go in, 30.00 are paid; 5 % more is 31.50.
    kitchen = a_kitchen()
    plums = a_fruit(kitchen, usable_pct=80)
    a_price(plums, per_kg=3)
    recipe = a_recipe(kitchen, lines=[(plums, 10, "kg", "as purchased")])
    as_planned = batch_cost(a_finished_batch(recipe, net_g=7000))
    assert (as_planned.ingoing_g, as_planned.cost_total) == (8000, 30)
    more = a_finished_batch(recipe, net_g=7000, inputs=[InputGiven(0, Decimal(10500))])
    assert batch_cost(more).cost_total == Decimal("31.5")


def added(batch, kind, value, key):
    return note_event(
        batch, by=None, kind=kind, value=Decimal(value), key=key, read_at=NOON + timedelta(hours=1)
    )


def test_sugar_and_water_added_at_the_stove_count():
    paste = a_damson_paste()
    plain, more = a_batch(paste), a_batch(paste)
    water = added(more, BatchReading.Kind.WATER, 500, "w")
    added(more, BatchReading.Kind.SUGAR, 100, "s")
    # 100 g of sugar at 0.95 a kilo; water is free.
    materials = [batch_cost(one).breakdown["materials"] for one in (plain, more)]
    assert materials[1] - materials[0] == Decimal("0.095")
    assert batch_cost(more).ingoing_g == Decimal(17880)
    correct_event(water, by=None, value=None, reason="not added", key="x")
    assert batch_cost(more).ingoing_g == Decimal(17380)
    # The stove is told of additions apart.
    assert stove_plan(more).ingoing_g == Decimal(17280)


def again(batch, number):
    """The same batch once more under another lot, as a page of a season is full of."""
    rows = list(batch.inputs.all())
    copy = Batch.objects.get(pk=batch.pk)
    copy.pk, copy._state.adding, copy.lot = None, True, f"{batch.lot}-{number}"
    copy.net_g = batch.net_g - number
    copy.save()
    for row in rows:
        row.pk, row.batch = None, copy
    BatchInput.objects.bulk_create(rows)
    return copy


def test_a_page_of_batches_costs_what_each_costs_alone_in_as_many_queries_as_two(
    django_assert_num_queries,
):
    paste = a_damson_paste()
    purees = [a_finished_batch(puree_of(paste), net_g=net_g) for net_g in (17700, 18300)]
    two = [
        a_finished_batch(
            paste, inputs=[InputGiven(0, Decimal(9000), from_batch=puree)], net_g=11800
        )
        for puree in purees
    ]
    added(two[0], BatchReading.Kind.WATER, 500, "w")
    forty = [*two, *(again(two[number % 2], number) for number in range(38))]
    # Inputs of the pastes, inputs of the purees they were filled from, what was added, offcuts.
    for some in (two, forty):
        with django_assert_num_queries(4):
            sheets = costs_of(some)
        assert list(sheets) == [one.pk for one in some]
    for one in (*forty[:4], forty[-1]):
        assert sheets[one.pk] == batch_cost(one)
    assert len({sheet.cost_per_kg_finished for sheet in sheets.values()}) == 40


def test_a_source_that_is_corrected_changes_what_was_made_of_it():
    # 79.2571 / 17.7 kg = 4.477804 a kilo of puree; with 18.0 kg 4.403174: over 9 kg 0.67167 less.
    paste = a_damson_paste()
    puree = a_finished_batch(puree_of(paste), net_g=17700)
    source = InputGiven(0, Decimal(9000), from_batch=puree)
    batch = a_finished_batch(paste, inputs=[source], net_g=11900)
    before = batch_cost(batch).cost_total
    correct_batch(puree, by=None, values={"net_g": Decimal(18000)}, reason="Read off the wrong tub")
    after = batch_cost(Batch.objects.get(pk=batch.pk)).cost_total
    assert rounded(before - after, 5) == Decimal("0.67167")


def test_no_batch_can_come_to_be_made_of_itself():
    # Only what is finished is filled from, and what is finished is put right without a circle.
    kitchen = a_kitchen()
    food = a_fruit(kitchen)
    a_price(food, per_kg=2)
    base = a_recipe(kitchen, is_preparation=True, lines=[(food, 1)])
    top = a_recipe(kitchen, is_preparation=True, lines=[(base, 1)])
    bottom = a_batch(base)
    with pytest.raises(ValidationError, match="not finished"):
        a_batch(top, inputs=[InputGiven(0, Decimal(500), from_batch=bottom)])
    done = a_finished_batch(base, net_g=900)
    made = a_finished_batch(top, net_g=450, inputs=[InputGiven(0, Decimal(500), from_batch=done)])
    with pytest.raises(ValidationError, match="not on the fire"):
        put_in(done, by=None, inputs=[InputGiven(0, Decimal(500), from_batch=made)])
    circle = [InputGiven(0, Decimal(999), from_batch=made)]
    with pytest.raises(ValidationError, match="which this line is not"):
        correct_batch(done, by=None, values={}, reason="Try", inputs=circle)
    assert not done.inputs.filter(from_batch__isnull=False).exists()
