from dataclasses import replace
from decimal import Decimal

import pytest
from django.utils import timezone

from costing.models import Batch
from costing.services.batches import InputGiven, correct_batch
from labels.services.lot_prints import outdated, printed_of
from labels.services.printing import print_labels
from tests.builders import a_finished_batch
from tests.labels.services.test_batch_labels import a_printable, a_weighed, order

pytestmark = pytest.mark.django_db


def filled_from(source, paste):
    """A pan of the paste with 9 kg of this very puree in it."""
    inputs = [InputGiven(i, Decimal(g)) for i, g in enumerate((9000, 8100, 180))]
    inputs[0] = replace(inputs[0], from_batch=source)
    return a_finished_batch(paste, inputs=inputs, pot_g=14500, net_g=14000, end_brix=68)


def test_labels_printed_before_a_correction_are_counted():
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    print_labels(design, by=None, order=order(batch, copies=12))
    assert outdated(batch, runs=printed_of(batch)) is None
    correct_batch(batch, by=None, values={"pot_g": Decimal(14600)}, reason="Scale read wrong")
    print_labels(design, by=None, order=order(batch, copies=5))
    found = outdated(batch, runs=printed_of(batch))
    assert found.copies == 12
    assert found.since <= timezone.now()
    assert found.sentence.startswith("12 labels of this lot were printed before it was corrected")


def test_what_was_printed_of_a_pan_that_was_given_up_is_taken_out_of_use():
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    print_labels(design, by=None, order=order(batch, copies=1))
    correct_batch(batch, by=None, values={"texture": "Glass in it"}, reason="Broken jar")
    batch.status = Batch.Status.GIVEN_UP
    found = outdated(batch, runs=printed_of(batch))
    assert found.sentence == (
        "1 label of this lot was printed before it was given up: take them out of use."
    )


def test_a_puree_put_right_afterwards_warns_of_the_labels_of_every_pan_filled_from_it():
    design = a_printable()
    paste = design.product.recipe
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    first = a_finished_batch(puree, net_g=17_000)
    # A second sieving of the first: two steps away from the label.
    second = a_finished_batch(puree, net_g=9_500, inputs=[InputGiven(0, Decimal(9_700))])
    second.inputs.create(
        kitchen=second.kitchen, position=1, preparation=puree, from_batch=first, weighed_g=9_600
    )
    batch = filled_from(second, paste)
    print_labels(design, by=None, order=order(batch, copies=12))
    assert outdated(batch, runs=printed_of(batch)) is None
    correct_batch(first, by=None, values={"end_brix": Decimal("13.4")}, reason="Hot drop")
    found = outdated(batch, runs=printed_of(batch))
    assert (found.copies, found.sentence[:73]) == (
        12,
        "12 labels of this lot were printed before a batch that went into it was c",
    )


def test_a_correction_of_a_batch_that_did_not_go_in_warns_of_nothing():
    design = a_printable()
    paste = design.product.recipe
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    used, unused = (a_finished_batch(puree, net_g=17_000) for _ in range(2))
    batch = filled_from(used, paste)
    print_labels(design, by=None, order=order(batch, copies=12))
    correct_batch(unused, by=None, values={"texture": "Thin"}, reason="Forgotten")
    assert outdated(batch, runs=printed_of(batch)) is None
