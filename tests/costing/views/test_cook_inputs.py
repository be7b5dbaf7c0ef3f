"""What really went in, filled in while the pan is on the fire."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import AuditEntry
from tests.builders import a_batch, a_cook, a_damson_paste, a_finished_batch

pytestmark = pytest.mark.django_db


@pytest.fixture
def batch():
    return a_batch(a_damson_paste())


@pytest.fixture
def address(client, batch):
    client.force_login(a_cook(batch.kitchen))
    return reverse("cook_inputs", args=[batch.kitchen_id, batch.pk])


def test_lines_are_filled_and_what_stood_there_stays(client, address, batch):
    client.post(address, {"weighed-0-0": "9010", "brix-0-0": "12,9", "lot-1-0": "SF-0816"})
    fruit, white, lemon = batch.inputs.order_by("position")
    assert (fruit.weighed_g, fruit.measured_brix) == (Decimal(9010), Decimal("12.9"))
    assert (white.supplier_lot, white.weighed_g) == ("SF-0816", None)
    assert lemon.weighed_g is None
    shown = client.get(address).content.decode()
    assert 'value="9010"' in shown
    assert 'value="SF-0816"' in shown
    assert AuditEntry.objects.filter(field="inputs").exists()


def test_a_second_lot_of_the_same_line_has_its_own_boxes(client, address, batch):
    client.post(address, {"weighed-1-0": "5000", "lot-1-0": "A"})
    client.post(address, {"weighed-1-0": "5000", "lot-1-0": "A",
                          "weighed-1-1": "3100", "lot-1-1": "B"})  # fmt: skip
    rows = batch.inputs.filter(position=1).order_by("id")
    assert [(row.weighed_g, row.supplier_lot) for row in rows] == [(5000, "A"), (3100, "B")]
    # Emptied again, it is gone; the other stays.
    client.post(address, {"weighed-1-0": "8100", "lot-1-0": "A"})
    assert [row.supplier_lot for row in batch.inputs.filter(position=1)] == ["A"]


@pytest.mark.parametrize(
    ("typed", "word"),
    [
        ({"weighed-0-0": "9"}, "type kg behind"),
        ({"weighed-0-0": "12,345"}, "12,345"),
        ({"weighed-0-0": "2 l"}, "Type a weight"),
        ({"weighed-0-0": "2000 kg"}, "more than any pan"),
        ({"brix-0-0": "96"}, "at most 95"),
    ],
)
def test_what_cannot_be_is_said_at_its_box_and_stays_typed(client, address, batch, typed, word):
    text = client.post(address, typed).content.decode()
    assert word in text
    assert f'value="{next(iter(typed.values()))}"' in text
    assert not batch.inputs.filter(weighed_g__isnull=False).exists()


def test_a_pan_that_is_done_is_not_filled_any_more(client, batch, address):
    done = a_finished_batch(batch.recipe, net_g=11000)
    there = reverse("cook_inputs", args=[done.kitchen_id, done.pk])
    assert client.post(there, {"weighed-0-0": "1 kg"}).status_code == 302
    assert not done.inputs.filter(weighed_g__isnull=False).exists()


def test_the_page_asks_no_more_when_more_was_cooked(
    client, address, batch, django_assert_max_num_queries
):
    puree = batch.inputs.get(preparation__isnull=False).preparation
    a_finished_batch(puree, net_g=18000)
    client.get(address)
    with CaptureQueriesContext(connection) as before:
        client.get(address)
    for _ in range(3):
        a_finished_batch(puree, net_g=18000)
    with django_assert_max_num_queries(len(before)):
        client.get(address)


def test_more_than_is_left_of_a_tub_is_asked_about_once(client, address, batch):
    puree = batch.inputs.get(position=0).preparation
    tub = a_finished_batch(puree, net_g=3200)
    typed = {"weighed-0-0": "4 kg", "source-0-0": tub.pk}
    text = client.post(address, typed).content.decode()
    assert f"Of {tub.lot} there are 3.2 kg left; you typed 4 kg" in text
    assert 'name="looked_again"' in text
    assert batch.inputs.get(position=0).from_batch is None
    assert client.post(address, typed | {"looked_again": "on"}).status_code == 302
    assert batch.inputs.get(position=0).from_batch == tub
    # Kept with a tick, it is not asked about again when another line is filled in.
    assert client.post(address, typed | {"weighed-1-0": "8100"}).status_code == 302
    assert batch.inputs.get(position=1).weighed_g == Decimal(8100)
