"""Corrections read out of a batch's history: each with its reason, and nothing from before."""

from decimal import Decimal

import pytest

from costing.selectors.batch_corrections import corrections_of
from costing.selectors.kitchens import changes_of
from costing.services.batches import InputGiven, YieldGiven, correct_batch
from tests.builders import a_batch, a_finished_batch, a_user

pytestmark = pytest.mark.django_db


def read(batch):
    return corrections_of(changes_of(batch, limit=200))


def test_a_batch_that_was_only_finished_has_none():
    assert read(a_batch()) == ()
    assert read(a_finished_batch(net_g=11900)) == ()
    added_up = a_finished_batch(net_g=11800, yields=[YieldGiven(Decimal(11800), what="Block")])
    assert read(added_up) == ()


def test_each_correction_has_its_own_figures_and_its_reason():
    person = a_user(username="mara")
    batch = a_finished_batch(net_g=11900, pot_g=12300)
    sugar = InputGiven(1, Decimal(8200), supplier_lot="SF-1")
    correct_batch(
        batch, by=person, values={"net_g": Decimal(11800)}, reason="Tray not taken off",
        inputs=[sugar], yields=[YieldGiven(Decimal(300), what="Tasted")],
    )  # fmt: skip
    correct_batch(batch, by=None, values={"ph": Decimal("3.1")}, reason="Read late")
    first, second = read(batch)
    assert (first.by, first.reason) == ("mara", "Tray not taken off")
    assert {one.field: (one.old, one.new) for one in first.changes} == {
        "net_g": ("11900", "11800"),
        # Only the line that differs, not the whole list.
        "inputs": ("White sugar not weighed", "White sugar 8200 g SF-1"),
        "yields": ("", "Tasted 300 g"),
    }
    assert (second.by, second.reason) == ("", "Read late")
    assert [(one.field, one.old, one.new) for one in second.changes] == [("ph", "", "3.1")]
