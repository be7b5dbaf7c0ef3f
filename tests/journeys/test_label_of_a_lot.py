"""From the record of a pan to its labels, on a phone: what was really cooked is what is printed."""

import re

import pypdfium2
import pytest
from django.urls import reverse

from costing.services.batches import YieldGiven
from labels.models import PrintedLabel
from tests.builders import a_cook
from tests.journeys.hands import Hands, pdf_of
from tests.labels.services.test_batch_labels import a_printable, a_weighed

pytestmark = pytest.mark.django_db(transaction=True)


def text_of(pdf):
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())


def test_labels_of_a_lot_are_printed_from_its_record(sign_in_as, live_server, axe_faults):
    design = a_printable()
    product = design.product
    batch = a_weighed(product.recipe, yields=[YieldGiven(product=product, units=24)])
    page = sign_in_as(a_cook(design.kitchen))
    hands = Hands(page, axe_faults=axe_faults, width="phone", journey="label-of-a-lot")
    page.goto(live_server.url + reverse("cook", args=[design.kitchen_id, batch.pk]))
    hands.follow("Labels for this lot")
    hands.look(f"Labels for lot {batch.lot}")
    # 9 / 14.5 kg: Regulation (EU) No 1169/2011, Annex VIII, point 4(a); the plan's is by its Brix.
    assert "plan 73 %, this pan 62 %" in page.locator("main").inner_text()
    hands.follow(f"Print labels of {product.name}")
    hands.look(f"Print labels of {product.name}")
    hands.press("Make the sheets")
    hands.look(f"{product.name}, lot {batch.lot}")
    printed = text_of(pdf_of(page, page.get_by_role("link", name="Open the sheets")))
    # As many labels as were filled, each with the lot and the share of this pan.
    assert len(re.findall(re.escape(batch.lot), printed)) == 24
    assert printed.count("(62 %)") == 24
    assert PrintedLabel.objects.get().batch == batch
    assert hands.faults == []
    # From the record to the sheets without a field to fill in.
    assert (hands.fields, hands.clicks) == (0, 3)
