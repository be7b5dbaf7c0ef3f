"""Everything learnt at once: in order, by supplier where there are two, and as often as decided."""

from decimal import Decimal

import pytest

from costing.models import Ingredient
from costing.services.batches import InputGiven
from costing.services.learning import About, pin
from costing.services.lessons import every_lesson
from tests.builders import a_damson_paste, a_finished_batch, a_kitchen, a_pan, a_supplier

pytestmark = pytest.mark.django_db


def purees(*suppliers):
    """One batch of 24 kg of damsons from each supplier: 17.7, 18.0, 18.3 kg."""
    paste = a_damson_paste()
    kitchen = paste.kitchen
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    rows = {name: a_supplier(kitchen, name=name) for name in suppliers}
    for number, name in enumerate(suppliers):
        inputs = [InputGiven(0, Decimal(24000), supplier=rows[name])]
        a_finished_batch(puree, net_g=17700 + 300 * number, inputs=inputs)
    return kitchen


def said(kitchen):
    return [
        (one.subject, str(one.about.supplier or ""), one.learnt.batches)
        for one in every_lesson(kitchen)
    ]


def test_nothing_is_learnt_of_nothing():
    assert every_lesson(a_kitchen()) == ()


def test_a_supplier_is_told_apart_only_where_there_is_another():
    assert said(purees("Orchard")) == [("usable", "", 1)]
    assert said(purees("Orchard", "Market")) == [
        ("usable", "", 2),
        ("usable", "Market", 1),
        ("usable", "Orchard", 1),
    ]


def test_what_was_pinned_is_there_without_a_batch():
    kitchen = a_kitchen()
    pan = a_pan(kitchen, residue_g=300)
    pin(kitchen, "residue", by=None, about=About(pan=pan), value=Decimal(250))
    (lesson,) = every_lesson(kitchen)
    assert lesson.learnt.is_pinned
    assert (lesson.learnt.value, lesson.learnt.default) == (250, 300)


def test_another_kitchens_batches_teach_nothing_here():
    theirs = purees("Orchard", "Market")
    ours = purees("Orchard")
    damsons = Ingredient.objects.get(kitchen=ours, name="Damsons")
    assert [one.about.ingredient for one in every_lesson(ours)] == [damsons]
    assert theirs != ours
