"""Pages of the cook: the list, the start, the stove, the finish, the record."""

from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from costing.models import Batch, BatchReading, Pan
from costing.services.batches import finish_batch, start_batch
from tests.builders import a_cook, a_damson_paste, a_kitchen, an_owner

pytestmark = pytest.mark.django_db
KEY = "0123456789abcdef0123456789abcdef"


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def paste(kitchen):
    return a_damson_paste(kitchen)


@pytest.fixture
def batch(kitchen, paste):
    pan = Pan.objects.create(
        kitchen=kitchen, name="Copper", tare_g=Decimal(4200), capacity_l=Decimal(40)
    )
    return start_batch(
        paste, by=None, on=timezone.localdate(), started_at=timezone.now(), pan=pan,
        water_reading_c=Decimal("99.4"),
    )  # fmt: skip


def _at(name, kitchen, *more):
    return reverse(name, args=[kitchen.pk, *more])


def test_an_empty_kitchen_is_told_the_one_way_on(client, kitchen):
    client.force_login(a_cook(kitchen))
    assert "Write the first recipe" in client.get(_at("cooks", kitchen)).content.decode()
    assert client.get(_at("cook_start", kitchen)).status_code == 200
    assert "Add a pan" in client.get(_at("pans", kitchen)).content.decode()


def test_a_cook_is_started_by_the_puree_in_hand(client, kitchen, paste):
    client.force_login(a_cook(kitchen))
    typed = {"recipe": paste.pk, "size_by": "base", "base_kg": "4,5", "water_reading_c": "99,4"}
    seen = client.post(_at("cook_start", kitchen), typed | {"do": "see"})
    assert "4.50" in seen.content.decode()
    assert not Batch.objects.exists()
    client.post(_at("cook_start", kitchen), typed | {"do": "start"})
    batch = Batch.objects.get(kitchen=kitchen)
    assert batch.water_reading_c == Decimal("99.4")
    assert f"/cooks/{batch.pk}/" in client.get(_at("cooks", kitchen)).content.decode()


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"size_by": "base"}, "How many kilos of it"),
        ({"size_by": "net"}, "in the end"),
        ({"size_by": "units"}, "How many of them"),
        ({"size_by": "pan"}, "half full"),
        ({"size_by": "net", "net_kg": "lots"}, "number"),
    ],
)
def test_a_size_that_cannot_be_read_is_asked_for_and_nothing_is_lit(
    client, kitchen, paste, typed, sentence
):
    client.force_login(a_cook(kitchen))
    answer = client.post(_at("cook_start", kitchen), {"recipe": paste.pk, "do": "start"} | typed)
    assert answer.status_code == 200
    assert sentence in answer.content.decode()
    assert not Batch.objects.exists()


def test_a_reading_sent_twice_by_the_script_is_kept_once_and_gives_the_panel(
    client, kitchen, batch
):
    client.force_login(a_cook(kitchen))
    sent = {"kind": "temperature", "value": "101,5", "key": KEY}
    for _ in range(2):
        answer = client.post(_at("cook_event", kitchen, batch.pk), sent,
                             headers={"X-Requested-With": "stove"})  # fmt: skip
        assert answer.status_code == 200
        assert "101.5" in answer.content.decode()
    assert BatchReading.objects.get(batch=batch).value == Decimal("101.5")


def test_without_a_script_a_reading_is_kept_or_stands_in_its_box_again(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    address = _at("cook_event", kitchen, batch.pk)
    refused = client.post(address, {"kind": "temperature", "value": "131,5", "key": KEY})
    assert "at most 130" in refused.content.decode()
    assert 'value="131,5"' in refused.content.decode()
    kept = client.post(address, {"kind": "weight", "value": "18", "key": KEY})
    assert kept.status_code == 302
    assert BatchReading.objects.get(batch=batch).tare_g == Decimal(4200)


def test_the_script_is_told_why_a_reading_is_refused(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    answer = client.post(
        _at("cook_event", kitchen, batch.pk), {"kind": "brix", "value": "abc", "key": KEY},
        headers={"X-Requested-With": "stove"},
    )  # fmt: skip
    assert answer.status_code == 422
    assert "number" in answer.content.decode()


def test_a_reading_put_right_stays_in_the_record_struck_through(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    client.post(_at("cook_event", kitchen, batch.pk),
                {"kind": "temperature", "value": "103", "key": KEY})  # fmt: skip
    reading = BatchReading.objects.get(batch=batch)
    address = f"{_at('cook_correct', kitchen, batch.pk)}?reading={reading.pk}"
    assert client.get(address).status_code == 200
    without_reason = client.post(address, {"value": "104", "key": KEY[::-1]})
    assert "Say why" in without_reason.content.decode()
    right = {"value": "104", "reason": "Misread", "key": KEY[::-1]}
    assert client.post(address, right).status_code == 302
    finish_batch(batch, by=None, finished_at=timezone.now(), values={"net_g": Decimal(11000)})
    text = client.get(_at("cook", kitchen, batch.pk)).content.decode()
    assert 'class="struck"' in text
    assert "Misread" in text


def test_finishing_needs_the_weight_and_the_owner_alone_sees_what_it_cost(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    address = _at("cook_finish", kitchen, batch.pk)
    assert "How many kilos" in client.post(address, {"do": "finish"}).content.decode()
    client.post(address, {"do": "finish", "net_kg": "11", "end_brix": "74", "texture": "cuts",
                          "weighed-1": "8,05", "lot-1": "SF-0816"})  # fmt: skip
    batch.refresh_from_db()
    assert (batch.status, batch.net_g) == ("finished", Decimal(11000))
    sugar = batch.inputs.get(position=1)
    assert (sugar.weighed_g, sugar.supplier_lot) == (Decimal(8050), "SF-0816")
    page = _at("cook", kitchen, batch.pk)
    assert "€" not in client.get(page).content.decode()
    client.force_login(an_owner(kitchen))
    assert "€" in client.get(page).content.decode()


def test_a_pan_that_came_to_nothing_needs_a_reason(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    address = _at("cook_finish", kitchen, batch.pk)
    assert "Say what happened" in client.post(address, {"do": "give up"}).content.decode()
    client.post(address, {"do": "give up", "reason": "Burnt"})
    batch.refresh_from_db()
    assert batch.status == "given up"


def test_the_sheet_has_the_target_and_boxes(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    text = client.get(_at("cook_sheet", kitchen, batch.pk)).content.decode()
    assert batch.lot in text
    assert "Checked by" in text


def test_a_pan_is_added_and_changed(client, kitchen):
    client.force_login(a_cook(kitchen))
    client.post(_at("pan_new", kitchen), {"name": "Copper", "tare_kg": "4,2"})
    pan = Pan.objects.get(kitchen=kitchen)
    assert pan.tare_g == Decimal(4200)
    answer = client.post(_at("pan_edit", kitchen, pan.pk), {"name": "Copper", "tare_kg": "4.25"})
    assert answer.status_code == 302
    pan.refresh_from_db()
    assert pan.tare_g == Decimal(4250)
