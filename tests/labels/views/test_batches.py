from datetime import date
from decimal import Decimal

import pytest
from django.utils import timezone

from costing.models import Batch, Member
from costing.services.batches import YieldGiven, correct_batch
from labels.models import PrintedLabel
from tests.builders import a_batch, a_member, a_product
from tests.labels.services.test_batch_labels import A4, a_printable, a_weighed

pytestmark = pytest.mark.django_db


@pytest.fixture
def design():
    return a_printable()


@pytest.fixture
def batch(design):
    return a_weighed(design.product.recipe, yields=[YieldGiven(product=design.product, units=120)])


@pytest.fixture
def cook(client, design):
    client.force_login(a_member(design.kitchen, role=Member.Role.COOK).user)
    return client


def lot_page(batch):
    return f"/labels/k/{batch.kitchen_id}/batches/{batch.pk}/"


def print_page(product, batch):
    return f"/labels/k/{product.kitchen_id}/{product.pk}/print/?batch={batch.pk}"


def text_of(answer):
    return " ".join(answer.content.decode().split())


def test_the_lot_page_sets_the_pan_beside_its_plan(cook, batch):
    # Planned: 9 kg of puree of 12.5 Brix, 8.1 kg of sugar and 180 g of juice of 9 Brix, to 75 Brix:
    # (1.125 + 8.1 + 0.0162) / 0.75 = 12.3216 kg; 9 / 12.3216 = 73 %. This pan: 9 / 14.5 = 62 %.
    page = cook.get(lot_page(batch))
    text = text_of(page)
    share = page.context["first"]
    assert (share.planned, share.shown) == ("73 %", "62 %")
    assert f"{share.name}: plan 73 %, this pan 62 %" in text
    assert "Brix: plan 75.0, this pan 68.0" in text
    assert page.context["rows"][0].units == 120


def test_the_lot_page_asks_as_often_however_many_products(
    cook, batch, django_assert_max_num_queries
):
    with django_assert_max_num_queries(60) as few:
        cook.get(lot_page(batch))
    for _ in range(4):
        a_product(batch.recipe)
    with django_assert_max_num_queries(len(few)):
        cook.get(lot_page(batch))


def test_storage_words_are_proposed_from_brix_and_ph_and_not_promised(cook, batch):
    text = text_of(cook.get(lot_page(batch)))
    assert "never promised" in text
    assert "Store in a cool, dry place." in text
    assert "What is the pH of the finished, cooled food?" in text


@pytest.mark.parametrize(("status", "words"), [
    ("on the fire", "still on the fire"), ("given up", "was given up"),
])  # fmt: skip
def test_a_batch_that_is_not_finished_gets_a_sentence_and_no_form(cook, design, status, words):
    batch = a_batch(design.product.recipe)
    Batch.objects.filter(pk=batch.pk).update(status=status)
    assert words in text_of(cook.get(lot_page(batch)))
    for ask in (cook.get, cook.post):
        answer = ask(print_page(design.product, batch))
        assert words in text_of(answer)
        assert "Make the sheets" not in text_of(answer)
    assert not PrintedLabel.objects.exists()


def test_as_many_labels_as_were_filled_with_the_lot_and_day_of_the_batch(cook, design, batch):
    page = cook.get(print_page(design.product, batch))
    form = page.context["form"]
    assert form["copies"].value() == 120
    assert not {"lot", "made_on", "best_before"} & set(form.fields)
    typed = {"copies": "120", "start_at": "1", "sheet": A4, "batch": str(batch.pk)}
    typed |= {"law_on": timezone.localdate().isoformat(), "lot": "X 9", "made_on": "2020-01-01"}
    answer = cook.post(print_page(design.product, batch), typed, follow=True)
    run = PrintedLabel.objects.get()
    assert (run.batch, run.lot, run.copies) == (batch, batch.lot, 120)
    assert run.best_before == date(2027, 6, 20)
    assert lot_page(batch) in answer.content.decode()


def test_labels_that_are_older_than_a_correction_are_told_of(cook, design, batch):
    typed = {"copies": "12", "start_at": "1", "sheet": A4, "batch": str(batch.pk)}
    typed |= {"law_on": timezone.localdate().isoformat()}
    cook.post(print_page(design.product, batch), typed)
    correct_batch(batch, by=None, values={"pot_g": Decimal(14600)}, reason="Scale read wrong")
    for page in (lot_page(batch), print_page(design.product, batch)):
        assert "12 labels of this lot were printed before it was corrected" in text_of(
            cook.get(page)
        )


def test_a_batch_of_another_recipe_or_another_kitchen_is_refused(cook, design, batch):
    assert cook.get(print_page(design.product, a_batch())).status_code == 404
    puree = design.quantified.get().preparation
    other = a_batch(puree)
    assert "not made of that" in text_of(cook.get(print_page(design.product, other)))


@pytest.mark.parametrize("named", ["x", "0", "-1", "99999999999999999999999", "٣", "1.5"])
def test_nonsense_for_a_batch_is_not_there(cook, design, named):
    address = f"/labels/k/{design.kitchen_id}/{design.product_id}/print/?batch={named}"
    assert cook.get(address).status_code == 404


def test_the_print_page_offers_the_latest_lots(cook, design, batch):
    page = cook.get(f"/labels/k/{design.kitchen_id}/{design.product_id}/print/")
    assert page.context["lots"] == [batch]
    assert f"?batch={batch.pk}" in page.content.decode()


def test_the_design_form_offers_the_words_and_chooses_none(client, design, batch):
    client.force_login(a_member(design.kitchen).user)
    design.storage = ""
    design.save()
    page = client.get(f"/labels/k/{design.kitchen_id}/{design.product_id}/design/")
    text = text_of(page)
    assert f"From lot {batch.lot}" in text
    assert '<option value="Once opened keep in the fridge."></option>' in text
    assert page.context["form"]["storage"].value() == ""
