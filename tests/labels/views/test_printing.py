from datetime import timedelta

import pypdfium2
import pytest
from django.utils import timezone

from costing.models import Member, Product
from labels.models import OwnSheet, PrintedLabel
from labels.stock import sheet
from labels.views.plan import plan_picture
from tests.builders import a_member
from tests.labels.services.test_designs import OURS

pytestmark = pytest.mark.django_db
A4 = "a4-3x7-63.5x38.1"


@pytest.fixture
def kitchen(demo, client):
    client.force_login(a_member(demo, role=Member.Role.COOK).user)
    return demo


def print_page(kitchen, name="Damson cheese"):
    product = Product.objects.get(kitchen=kitchen, recipe__name=name)
    return f"/labels/k/{kitchen.pk}/{product.pk}/print/"


def batch(**values):
    today = timezone.localdate()
    until = (today + timedelta(days=275)).isoformat()
    usual = {"made_on": today.isoformat(), "law_on": today.isoformat(), "sheet": A4, "copies": "3"}
    return usual | {"start_at": "1", "best_before": until} | values


def test_a_cook_prints_and_gets_the_sheets(client, kitchen):
    answer = client.post(print_page(kitchen), batch(copies="24", start_at="5"), follow=True)
    assert "24" in answer.content.decode()
    run = PrintedLabel.objects.get()
    pdf = client.get(f"/labels/k/{kitchen.pk}/printed/{run.pk}/sheets.pdf").content
    assert len(pypdfium2.PdfDocument(pdf)) == 2
    single = client.get(f"/labels/k/{kitchen.pk}/printed/{run.pk}/label.pdf").content
    assert single == bytes(run.label_pdf)


def test_the_next_run_is_offered_the_label_where_the_last_one_stopped(client, kitchen):
    def offered():
        return client.get(print_page(kitchen)).context["form"]["start_at"].value()

    assert offered() == 1
    client.post(print_page(kitchen), batch(copies="3", start_at="5"))
    assert offered() == 8
    client.post(print_page(kitchen), batch(copies="14", start_at="8"))  # to the last of 21
    assert offered() == 1


def test_a_fault_prints_nothing_and_says_what_to_mend(client, kitchen):
    answer = client.post(print_page(kitchen, "Spiced pear and apple paste"), batch())
    assert "Nothing was printed" in answer.content.decode()
    assert "star anise" in answer.content.decode()
    assert not PrintedLabel.objects.exists()


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"copies": "0"}, "greater than or equal to 1"),
        ({"copies": "-4"}, "greater than or equal to 1"),
        ({"copies": "1000000000000"}, "At most 5000"),
        ({"copies": "a few"}, "whole number"),
        ({"copies": ""}, "required"),
        ({"start_at": "22"}, "21 labels"),
        ({"start_at": "0"}, "greater than or equal to 1"),
        ({"sheet": "<b>"}, "not one of the available choices"),
        ({"made_on": "31 June"}, "not a day"),
        ({"best_before": "2020-12-02"}, "later than the day it was made"),
        ({"made_on": "9999-12-31"}, "Check the year"),
        ({"law_on": "0001-01-01"}, "Check the year"),
        ({"offset_x_mm": "1.250"}, "1.250"),
        ({"offset_x_mm": "99"}, "at most 10"),
        ({"offset_y_mm": "🍇"}, "🍇"),
        ({"lot": "x" * 41}, "40"),
    ],
)
def test_each_mistake_gets_a_sentence_and_keeps_what_was_typed(client, kitchen, values, sentence):
    answer = client.post(print_page(kitchen), batch(**values))
    assert answer.status_code == 200
    assert sentence in answer.content.decode()
    for name, typed in values.items():
        assert answer.context["form"][name].value() == typed
    assert not PrintedLabel.objects.exists()


def test_comma_and_dot_give_the_same_shift(client, kitchen):
    for typed in ("0,4", "0.4"):
        client.post(print_page(kitchen), batch(offset_x_mm=typed))
    first, second = PrintedLabel.objects.all()
    assert first.sheet["offset_x_mm"] == second.sheet["offset_x_mm"] == "0.4"
    assert first.pdf_sha256 == second.pdf_sha256


def test_the_plan_counts_used_printed_and_free():
    # Start at 5 and print 40 on sheets of 21: 17 here, then 21, then 2: three sheets.
    plan = plan_picture(sheet(A4), copies=40, start_at=5)
    states = [label.state for label in plan.labels]
    assert (states.count("used"), states.count("printed"), plan.pages) == (4, 17, 3)
    assert plan_picture(sheet(A4), copies=0, start_at=1).pages == 0


def test_the_plan_is_drawn_whatever_is_in_the_form(client, kitchen):
    address = print_page(kitchen).replace("print/", "plan/")
    for typed in ("", "x", "-1", "9" * 40, "٣", "<b>"):
        answer = client.get(address, {"copies": typed, "start_at": typed, "sheet": typed})
        assert answer.status_code == 200


def test_a_sheet_of_ones_own_must_add_up(client, kitchen):
    typed = {name: str(value) for name, value in OURS.items()}
    answer = client.post(f"/labels/k/{kitchen.pk}/sheets/new/", typed | {"pitch_x_mm": "70"})
    assert "210.75" in answer.content.decode()
    assert answer.context["form"]["pitch_x_mm"].value() == "70"
    answer = client.post(f"/labels/k/{kitchen.pk}/sheets/new/", typed, follow=True)
    assert "Drawer, blue box" in answer.content.decode()
    assert OwnSheet.objects.get().kitchen == kitchen
    test_page = client.get(
        f"/labels/k/{kitchen.pk}/sheets/own-{OwnSheet.objects.get().pk}/test.pdf"
    )
    assert test_page.content.startswith(b"%PDF-")


def test_an_unknown_sheet_is_not_found(client, kitchen):
    assert client.get(f"/labels/k/{kitchen.pk}/sheets/none/test.pdf").status_code == 404
