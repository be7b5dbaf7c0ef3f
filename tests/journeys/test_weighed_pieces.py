"""A slab cut to size: weights off the scale, on a phone, to a sheet with a label for each piece."""

import pypdfium2
import pytest
from django.urls import reverse

from labels.models import WeighedRun
from tests.builders import a_cook
from tests.journeys.hands import Hands, pdf_of
from tests.labels.services.test_batch_labels import a_printable, a_weighed

pytestmark = pytest.mark.django_db(transaction=True)


def test_pieces_are_weighed_labelled_and_a_long_run_is_cancelled(
    sign_in_as, live_server, axe_faults, monkeypatch
):
    for where in ("labels.services.weighed.A_STEP", "labels.views.weighed.A_STEP"):
        monkeypatch.setattr(where, 3)
    design = a_printable()
    design.product.stall_price = "1.98"
    design.product.save()
    batch = a_weighed(design.product.recipe)
    page = sign_in_as(a_cook(design.kitchen))
    hands = Hands(page, axe_faults=axe_faults, width="phone", journey="weighed-pieces")
    page.goto(live_server.url + reverse("batch_labels", args=[design.kitchen_id, batch.pk]))
    hands.follow(f"Weigh pieces of {design.product.name}")
    hands.look(f"Weighed pieces of {design.product.name}")
    # The price of a kilo is the product's: 1.98 for 100 g.
    assert page.get_by_label("Price of a kilo").input_value() == "19.8"
    page.get_by_label("Weights").fill("124\n98,5\n0.201 kg\n150")
    hands.press("Make the labels")
    # The page draws step after step by itself, until there is nothing left.
    page.get_by_role("link", name="Open the sheets").wait_for()
    hands.look(f"Weighed pieces of {design.product.name}, lot {batch.lot}")
    pdf = pdf_of(page, page.get_by_role("link", name="Open the sheets"))
    text = pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()
    # 0.124, 0.0985, 0.201 and 0.15 kg at 19.80, each rounded once.
    assert all(price in text for price in ("€2.46", "€1.95", "€3.98", "€2.97"))
    assert text.count(batch.lot) == 4
    assert hands.faults == []


def test_a_run_in_the_browser_stops_when_it_is_cancelled(sign_in_as, live_server, monkeypatch):
    for where in ("labels.services.weighed.A_STEP", "labels.views.weighed.A_STEP"):
        monkeypatch.setattr(where, 2)
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    page = sign_in_as(a_cook(design.kitchen))
    where = reverse("label_weighed", args=[design.kitchen_id, design.product_id])
    page.goto(live_server.url + where)
    page.get_by_label("Price of a kilo").fill("19.80")
    page.get_by_label("Weights").fill("\n".join(["14"] * 400))
    page.get_by_role("button", name="Make the labels").click()
    page.get_by_text("of 400 labels drawn").wait_for()
    page.get_by_role("button", name="Cancel").click()
    page.get_by_text("This run was cancelled after").wait_for()
    run = WeighedRun.objects.get()
    assert (run.status, run.printed, run.batch) == (WeighedRun.Status.CANCELLED, None, batch)
    assert run.done < len(run.pieces)
    assert not run.parts.exists()
