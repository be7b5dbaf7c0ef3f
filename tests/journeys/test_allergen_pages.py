"""An allergy at the stall: from the matrix to a written look, to the label and the sheet."""

import pypdfium2
import pytest
from django.urls import reverse

from costing.models import AllergenAnswer
from tests.builders import a_cook, a_stall_hand
from tests.journeys.hands import Hands, pdf_of
from tests.labels.services.test_batch_labels import a_printable

pytestmark = pytest.mark.django_db(transaction=True)


def text_of(pdf):
    pages = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_a_look_is_written_down_and_reaches_label_matrix_and_sheet(
    sign_in_as, live_server, axe_faults, width
):
    design = a_printable()
    product = design.product
    lemons = AllergenAnswer.objects.get(ingredient__name="Lemon juice", group="sulphites")
    AllergenAnswer.objects.filter(pk=lemons.pk).update(answer="unknown")
    page = sign_in_as(a_cook(design.kitchen))
    hands = Hands(page, axe_faults=axe_faults, width=width, journey="allergens")
    page.goto(live_server.url + reverse("label_allergens", args=[design.kitchen_id]))
    hands.look("Allergens")
    assert "1 answer not known" in " ".join(page.locator(".answer").inner_text().split())
    unknown = page.locator(".matrix-unknown")
    assert "ask about Lemon juice" in unknown.inner_text()
    # The name of the product stays in sight while the table is drawn aside.
    name = page.locator(".matrix tbody th").first
    page.locator(".matrix-scroll").evaluate("el => el.scrollLeft = el.scrollWidth")
    assert name.bounding_box()["x"] >= 0
    assert unknown.bounding_box()["x"] < page.viewport_size["width"]
    hands.picture("drawn aside")
    hands.follow("Write down a look at cross-contact")
    hands.press("Write it down")
    hands.look("Cross-contact")
    assert "Say for which allergens somebody looked." in page.locator("main").inner_text()
    hands.tick("Nuts")
    hands.tick("A risk remains")
    hands.fill("The word for the label", "hazelnuts")
    hands.fill("What was looked at", "The sieve is shared with the praline; washed wet.")
    hands.fill("Looked by", "Ana")
    hands.press("Write it down")
    hands.look("Cross-contact")
    assert "Nuts: a risk remains, “hazelnuts”" in page.locator("main").inner_text()
    page.get_by_role("navigation", name="Labels").get_by_role("link", name="Allergens").click()
    assert "may contain" in page.locator(".matrix-may").inner_text()
    sheet = text_of(pdf_of(page, page.get_by_role("link", name="Sheet for the stall")))
    assert "may contain hazelnuts" in sheet
    assert "NOT KNOWN" in sheet
    page.goto(live_server.url + reverse("label", args=[design.kitchen_id, product.pk]))
    assert "May contain hazelnuts." in page.locator(".statements").inner_text()
    assert hands.faults == []


def test_a_stall_hand_answers_a_customer_from_her_phone(sign_in_as, live_server, axe_faults):
    design = a_printable()
    page = sign_in_as(a_stall_hand(design.kitchen))
    hands = Hands(page, axe_faults=axe_faults, width="phone", journey="allergens-stall")
    page.goto(live_server.url + reverse("products", args=[design.kitchen_id]))
    hands.go_to("Allergens")
    hands.look("Allergens")
    assert page.locator(".matrix tbody tr").count() == 1
    assert hands.faults == []
    assert hands.clicks == 1
