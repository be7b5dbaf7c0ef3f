from decimal import Decimal

import pytest
from django.utils import timezone

from costing.models import Batch
from costing.services.batches import correct_batch
from labels.services.lot_prints import outdated, printed_of
from labels.services.printing import print_labels
from tests.labels.services.test_batch_labels import a_printable, a_weighed, order

pytestmark = pytest.mark.django_db


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
