"""Learning from a kitchen's own batches: what counts, what is asked, what was decided."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import Ingredient, Lesson
from costing.services.batches import InputGiven, finish_batch, note_event
from costing.services.learning import About, forget, learnt, pin, predictions
from tests.builders import (
    NOON,
    TODAY,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_pan,
    a_price,
    a_recipe,
    a_supplier,
    an_owner,
)

pytestmark = pytest.mark.django_db

YIELDS_G = (17700, 18300, 17400, 18600, 18000)


def purees(yields_g=YIELDS_G, *, usable_pct=72, supplier=None):
    """Batches of 24 kg of damsons each, a week apart, and the damsons."""
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    damsons = Ingredient.objects.get(kitchen=paste.kitchen, name="Damsons")
    damsons.usable_pct = Decimal(usable_pct)
    damsons.save()
    for week, net_g in enumerate(yields_g):
        a_finished_batch(
            puree,
            on=TODAY + timedelta(weeks=week),
            net_g=net_g,
            inputs=[InputGiven(0, Decimal(24000), supplier=supplier and supplier(paste.kitchen))],
        )
    return damsons


def test_five_purees_teach_what_the_sieve_lets_through():
    # (2 x 72 + 73.75 + 76.25 + 72.5 + 77.5 + 75) / 7 = 74.1429; s.e. 0.8839 (see the sums by hand).
    damsons = purees()
    answer = learnt(damsons.kitchen, "usable", ingredient=damsons)
    assert round(answer.value, 4) == Decimal("74.1429")
    assert round(answer.spread, 4) == Decimal("1.9764")
    assert answer.sentence == "from 5 of your batches: 74.1 % ± 0.9"
    assert (answer.batches, answer.default, answer.questions) == (5, 72, ())


def test_before_any_batch_the_usual_figure_is_said_to_be_one():
    damsons = purees(())
    answer = learnt(damsons.kitchen, "usable", ingredient=damsons)
    assert answer.value == 72
    assert answer.sentence == "the usual figure, no batch of yours yet: 72 %"


def test_a_mistyped_weight_is_left_out_with_a_question():
    damsons = purees((*YIELDS_G, 1800))
    answer = learnt(damsons.kitchen, "usable", ingredient=damsons)
    assert round(answer.value, 4) == Decimal("74.1429")
    assert "Was a weight wrong" in answer.questions[0]


def test_only_the_batches_of_the_supplier_asked_for_count():
    def orchard(kitchen):
        return a_supplier(kitchen)

    damsons = purees((17700, 18300), supplier=orchard)
    first = damsons.kitchen.pk
    suppliers = list(type(a_supplier()).objects.filter(kitchen=first).order_by("pk"))[-2:]
    answers = [
        learnt(damsons.kitchen, "usable", ingredient=damsons, supplier=one) for one in suppliers
    ]
    # (2 x 72 + 73.75) / 3 and (2 x 72 + 76.25) / 3.
    assert [round(one.value, 4) for one in answers] == [Decimal("72.5833"), Decimal("73.4167")]


def test_a_paste_of_the_fruit_says_nothing_about_its_sieve():
    kitchen = a_kitchen()
    plums = a_fruit(kitchen)
    a_finished_batch(a_recipe(kitchen, lines=[(plums, 10)]), net_g=9000)
    assert learnt(kitchen, "usable", ingredient=plums).batches == 0


def test_the_next_prediction_gets_better_than_the_usual_figure():
    damsons = purees()
    told = predictions(damsons.kitchen, "usable", about=About(ingredient=damsons))
    assert [one.measured for one in told][:2] == [Decimal("73.75"), Decimal("76.25")]
    # Before the second: (2 x 72 + 73.75) / 3 = 72.5833.
    assert [round(one.expected, 4) for one in told][:2] == [72, Decimal("72.5833")]
    learnt_error = sum(one.error for one in told)
    assert learnt_error < sum(one.usual_error for one in told)


def test_what_is_pinned_stands_until_it_is_let_go():
    damsons, owner = purees(), an_owner()
    about = About(ingredient=damsons)
    pin(damsons.kitchen, "usable", by=owner, about=about, value=Decimal(70))
    answer = learnt(damsons.kitchen, "usable", ingredient=damsons)
    assert (answer.value, answer.is_pinned, answer.sentence) == (70, True, "pinned by you: 70 %")
    pin(damsons.kitchen, "usable", by=owner, about=about, value=None)
    assert not learnt(damsons.kitchen, "usable", ingredient=damsons).is_pinned
    assert [lesson.decided_by for lesson in Lesson.objects.all()] == [owner, owner]


@pytest.mark.parametrize(("value", "is_kept"), [("100", True), ("100.1", False), ("-1", False)])
def test_a_share_that_cannot_be_is_not_pinned(value, is_kept):
    damsons = purees(())
    about = About(ingredient=damsons)
    if is_kept:
        pin(damsons.kitchen, "usable", by=None, about=about, value=Decimal(value))
        return
    with pytest.raises(ValidationError, match="pinned"):
        pin(damsons.kitchen, "usable", by=None, about=about, value=Decimal(value))


def test_what_was_before_a_new_sieve_is_forgotten_and_a_pin_stays():
    damsons = purees()
    about = About(ingredient=damsons)
    forget(damsons.kitchen, "usable", by=None, about=about, before=TODAY + timedelta(weeks=4))
    # Only the last: (2 x 72 + 75) / 3.
    answer = learnt(damsons.kitchen, "usable", ingredient=damsons)
    assert (answer.value, answer.batches) == (73, 1)


def test_another_kitchens_fruit_and_an_unknown_subject_are_refused():
    damsons = purees(())
    with pytest.raises(ValidationError, match="not in this kitchen"):
        learnt(a_kitchen(), "usable", ingredient=damsons)
    for subject, words in (("colour", "Nothing is learnt"), ("evaporation", "Say what")):
        with pytest.raises(ValidationError, match=words):
            learnt(damsons.kitchen, subject, ingredient=damsons)


def test_the_brix_of_a_fruit_and_of_a_puree_are_learnt_from_what_was_read():
    kitchen = a_kitchen()
    plums = a_fruit(kitchen, brix=12)
    a_price(plums)
    recipe = a_recipe(kitchen, lines=[(plums, 10)], measured_brix=12)
    for brix in (14, 15):
        a_finished_batch(
            recipe,
            net_g=9000,
            end_brix=brix + 1,
            inputs=[InputGiven(0, Decimal(10000), measured_brix=Decimal(brix))],
        )
    # (2 x 12 + 14 + 15) / 4 and (2 x 12 + 15 + 16) / 4.
    assert learnt(kitchen, "brix", ingredient=plums).value == Decimal("13.25")
    assert learnt(kitchen, "brix", recipe=recipe).value == Decimal("13.75")


def test_a_pan_teaches_what_sticks_to_it_and_a_recipe_its_share():
    pan = a_pan(residue_g=300)
    paste = a_damson_paste(pan.kitchen)
    for net_g in (11600, 11500):
        a_finished_batch(paste, pan=pan, net_g=net_g, pot_g=12000)
    # (2 x 300 + 400 + 500) / 4 g; (2 x 3.5 + 3.3333 + 4.1667) / 4 %.
    assert learnt(pan.kitchen, "residue", pan=pan).value == 375
    of_recipe = learnt(pan.kitchen, "residue", recipe=paste)
    assert (round(of_recipe.value, 4), of_recipe.unit) == (Decimal("3.6250"), "%")


def test_a_pan_teaches_how_fast_it_loses_water():
    # 17000 g with the pan, 16000 g 20 minutes later, 200 g of water added between: 60 g a minute.
    # With the rate of the pan, 90, worth two batches: (2 x 90 + 60) / 3 = 80.
    pan = a_pan(evaporation_g_per_min=90)
    batch = a_batch(a_damson_paste(pan.kitchen), pan=pan)
    for minute, kind, value in ((10, "weight", 17000), (15, "water", 200), (30, "weight", 16000)):
        note_event(
            batch,
            by=None,
            kind=kind,
            value=Decimal(value),
            key=str(minute),
            read_at=NOON + timedelta(minutes=minute),
            tare_g=Decimal(3000) if kind == "weight" else None,
        )
    assert learnt(pan.kitchen, "evaporation", pan=pan).batches == 0  # still on the fire
    finish_batch(
        batch, by=None, finished_at=NOON + timedelta(hours=1), values={"net_g": Decimal(11900)}
    )
    answer = learnt(pan.kitchen, "evaporation", pan=pan)
    assert (answer.value, answer.unit) == (80, "g/min")


def test_inversion_is_not_measured_in_a_kitchen_and_that_is_said():
    paste = a_damson_paste()
    answer = learnt(paste.kitchen, "inversion", recipe=paste)
    assert answer.batches == 0
    assert "do not tell" in answer.sentence
