"""The pages of weighed pieces: what is asked, what is refused, steps, and cancelling."""

import pypdfium2
import pytest
from django.utils import timezone

from costing.models import Member
from labels.models import PrintedLabel, WeighedRun
from labels.services import weighed
from tests.builders import a_member
from tests.labels.services.test_batch_labels import a_printable, a_weighed

pytestmark = pytest.mark.django_db
A4 = "a4-3x7-63.5x38.1"


@pytest.fixture
def design(client):
    design = a_printable()
    client.force_login(a_member(design.kitchen, role=Member.Role.COOK).user)
    return design


def at(design, name=""):
    return f"/labels/k/{design.kitchen_id}/{name or f'{design.product_id}/weighed'}/"


def filled(batch, **values):
    usual = {
        "batch": batch.pk, "price_per_kg": "19.80", "weights": "124\n98,5\n0.201 kg", "unit": "g",
        "law_on": timezone.localdate().isoformat(), "market": "eu", "sheet": A4, "start_at": "1",
    }  # fmt: skip
    return usual | values


def words(answer):
    return " ".join(answer.content.decode().split())


def test_weights_become_sheets_with_a_label_for_each(client, design):
    batch = a_weighed(design.product.recipe)
    answer = client.post(at(design), filled(batch), follow=True)
    run = WeighedRun.objects.get()
    # 0.124 + 0.0985 + 0.201 kg at 19.80: 2.46 + 1.95 + 3.98 = 8.39.
    assert "€8.39" in words(answer)
    pdf = client.get(at(design, f"weighed/{run.pk}/sheets.pdf").rstrip("/")).content
    assert len(pypdfium2.PdfDocument(pdf)) == 1
    # From the list of what was printed come the same sheets, not the first label three times.
    record = f"/labels/k/{design.kitchen_id}/printed/{run.printed_id}/sheets.pdf"
    assert client.get(record).content == pdf


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"weights": ""}, "required"),
        ({"weights": "\n \n"}, "required"),
        ({"weights": "124\nabc"}, "Line 2:"),
        ({"weights": "1.250"}, "one and a quarter"),
        ({"weights": "3", "tare_g": "4"}, "leaves nothing"),
        ({"weights": "\n".join(["x"] * 30)}, "And 22 more lines."),
        ({"price_per_kg": "0"}, "more than"),
        ({"price_per_kg": ""}, "required"),
        ({"start_at": "22"}, "21 labels"),
        ({"batch": "99999"}, "not one of the available choices"),
        ({"market": "mars"}, "not one of the available choices"),
        ({"law_on": "31 June"}, "not a day"),
    ],
)
def test_bad_input_is_told_and_what_was_typed_stays(client, design, values, sentence):
    batch = a_weighed(design.product.recipe)
    answer = client.post(at(design), filled(batch) | values)
    assert answer.status_code == 200
    assert sentence in words(answer)
    assert not WeighedRun.objects.exists()


def test_more_than_the_pan_has_is_asked_about_once(client, design):
    batch = a_weighed(design.product.recipe)  # 14 kg were filled
    exactly = filled(batch, weights="7\n7", unit="kg")
    more = filled(batch, weights="7\n7.001", unit="kg")
    answer = client.post(at(design), more)
    assert "14 kg was filled" in words(answer)
    assert not WeighedRun.objects.exists()
    client.post(at(design), exactly)
    assert WeighedRun.objects.count() == 1
    assert "and 14 kg of it has labels" in words(client.post(at(design), filled(batch)))
    client.post(at(design), more | {"is_more_than_left": "on"})
    assert WeighedRun.objects.count() == 2


def test_without_a_finished_pan_the_page_leads_to_the_pans(client, design):
    answer = client.get(at(design))
    assert "no pan of this recipe is finished yet" in words(answer)


def test_a_fault_of_the_label_prints_nothing_and_says_what_to_mend(client, design):
    type(design).objects.update(name_of_food="")
    answer = client.post(at(design), filled(a_weighed(design.product.recipe)))
    assert "Nothing was printed" in words(answer)
    assert not WeighedRun.objects.exists()


def test_a_long_run_shows_how_far_it_is_and_can_be_cancelled(client, design, monkeypatch):
    monkeypatch.setattr(weighed, "A_STEP", 2)
    monkeypatch.setattr("labels.views.weighed.A_STEP", 2)
    batch = a_weighed(design.product.recipe)
    weights = "\n".join(["124"] * 5)
    answer = client.post(at(design), filled(batch, weights=weights), follow=True)
    assert "of 5 labels drawn" in words(answer)
    run = WeighedRun.objects.get()
    part = client.post(at(design, f"weighed/{run.pk}/step"), headers={"HX-Request": "true"})
    assert 'value="2"' in words(part)
    assert "hx-post" in words(part)
    answer = client.post(at(design, f"weighed/{run.pk}/cancel"), follow=True)
    assert "cancelled after 2 of 5" in words(answer)
    assert "hx-post" not in words(answer)
    assert client.get(at(design, f"weighed/{run.pk}/sheets.pdf").rstrip("/")).status_code == 404
    assert not PrintedLabel.objects.exists()


def test_a_run_goes_on_without_scripts_to_its_end(client, design, monkeypatch):
    monkeypatch.setattr(weighed, "A_STEP", 2)
    monkeypatch.setattr("labels.views.weighed.A_STEP", 2)
    batch = a_weighed(design.product.recipe)
    client.post(at(design), filled(batch, weights="124\n125\n126"))
    run = WeighedRun.objects.get()
    for _ in range(2):
        answer = client.post(at(design, f"weighed/{run.pk}/step"), follow=True)
    assert "Open the sheets" in words(answer)


def test_another_kitchens_run_does_not_exist(client, design):
    batch = a_weighed(design.product.recipe)
    client.post(at(design), filled(batch))
    run = WeighedRun.objects.get()
    client.force_login(a_member().user)
    other = a_printable()
    client.force_login(a_member(other.kitchen).user)
    for name in ("", "step/", "cancel/", "sheets.pdf"):
        address = f"/labels/k/{other.kitchen_id}/weighed/{run.pk}/{name}"
        send = client.get if name in {"", "sheets.pdf"} else client.post
        assert send(address).status_code == 404


def test_the_form_asks_the_database_as_often_for_many_pans(
    client, design, django_assert_max_num_queries
):
    for number in range(3):
        a_weighed(design.product.recipe, lot=f"DC-{number}")
    with django_assert_max_num_queries(14):
        client.get(at(design))
