"""A finished pan: its boxes, odd figures, the record beside the plan, and what is put right."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from costing.models import AuditEntry, BatchReading, Mould, Pan
from costing.services.batches import (
    InputGiven,
    YieldGiven,
    correct_batch,
    finish_batch,
    note_event,
    start_batch,
)
from tests.builders import (
    a_cook,
    a_damson_paste,
    a_finished_batch,
    a_kitchen,
    a_product,
    a_supplier,
    an_owner,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def paste(kitchen):
    return a_damson_paste(kitchen)


@pytest.fixture
def piece(paste):
    return a_product(paste, name="Damson 100 g", form="piece", net_quantity_g=100, fill_g="103.5")


@pytest.fixture
def tray(kitchen):
    return Mould.objects.create(
        kitchen=kitchen, name="Tray", length_mm=400, width_mm=300, depth_mm=30, owned=2
    )


@pytest.fixture
def batch(kitchen, paste):
    pan = Pan.objects.create(kitchen=kitchen, name="Copper", tare_g=Decimal(4200))
    began = timezone.now() - timedelta(hours=2)
    return start_batch(
        paste, by=a_cook(kitchen), on=timezone.localdate(), started_at=began, pan=pan
    )


def at(name, batch):
    return reverse(name, args=[batch.kitchen_id, batch.pk])


def text_of(answer):
    return answer.content.decode()


def puree_of(paste):
    return paste.versions.get().lines.get(preparation__isnull=False).preparation


def test_everything_that_came_out_is_kept_in_the_record(client, kitchen, batch, piece, tray):
    # 110 x 103.5 g = 11.385 kg; 0.3 kg thrown away; 11.8 - 0.3 = 11.5 kg bear the cost.
    puree = a_finished_batch(puree_of(batch.recipe), net_g=18000)
    client.force_login(a_cook(kitchen))
    answer = client.post(
        at("cook_finish", batch),
        {
            "do": "finish", "net_kg": "11,8", "pot_kg": "16,45", "mould": tray.pk,
            "moulds_filled": "2", f"units-{piece.pk}": "110", "offcuts_kg": "0,1",
            "thrown_kg": "0,3", "fill_c": "92", "ph": "3,2", "taste": "Sharp",
            "weighed-0": "9,1", "source-0": puree.pk, "brix-0": "12,5",
        },
    )  # fmt: skip
    assert answer.status_code == 302, text_of(answer)
    batch.refresh_from_db()
    assert (batch.net_g, batch.pot_g) == (11500, 12250)
    assert (batch.mould, batch.moulds_filled, batch.fill_c) == (tray, 2, 92)
    filled = batch.inputs.get(position=0)
    assert (filled.weighed_g, filled.from_batch) == (9100, puree)
    assert filled.measured_brix == Decimal("12.5")
    text = text_of(client.get(at("cook", batch)))
    # Both at once: 11.385 + 0.1 + 0.3 = 11.785 of 11.8.
    assert {row.what: row.mass_g for row in batch.yields.filter(product=None)} == {
        "Offcuts, kept": 100, "Offcuts, thrown away": 300,
    }  # fmt: skip
    for words in ("110 of Damson 100 g", "Offcuts, thrown away", "Filled, Tray", puree.lot):
        assert words in text


def test_the_sum_follows_what_is_typed_without_keeping_anything(client, kitchen, batch, piece):
    client.force_login(a_cook(kitchen))
    answer = client.post(
        at("cook_finish", batch),
        {"net_kg": "11,8", f"units-{piece.pk}": "110", "offcuts_kg": "0.2", "ph": "4.7"},
        headers={"HX-Request": "true"},
    )
    # 11.8 - 11.385 - 0.2 = 0.215.
    text = text_of(answer).replace("\xa0", " ")
    assert "<h1" not in text
    assert "0.215 kg" in text
    assert "Not counted yet" in text
    assert "botulism" in text
    batch.refresh_from_db()
    assert batch.status == "on the fire"


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"net_kg": "12.5", "pot_kg": "16.4"}, "was the pan&#x27;s own weight taken off twice"),
        ({"net_kg": "9"}, "more than the pan gave"),
        ({"net_kg": "11.8", "mould": "99"}, "Select a valid choice"),
        ({"net_kg": "11.8", "moulds_filled": "2"}, "Which mould were they?"),
        ({"net_kg": "11.8", "source-0": "99"}, "Choose one that is offered"),
    ],
)
def test_what_cannot_be_is_refused_even_when_it_was_looked_at_again(
    client, kitchen, batch, piece, tray, typed, words
):
    client.force_login(a_cook(kitchen))
    sent = {"do": "finish", f"units-{piece.pk}": "110", "checked": "on"} | typed
    answer = client.post(at("cook_finish", batch), sent)
    assert answer.status_code == 200
    assert words in text_of(answer).replace("\n", " ")
    batch.refresh_from_db()
    assert batch.status == "on the fire"


def test_what_is_seldom_so_is_asked_about_once(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    asked = client.post(at("cook_finish", batch), {"do": "finish", "net_kg": "1.18"})
    assert "did the point slip" in text_of(asked)
    assert 'value="1.18"' in text_of(asked)
    client.post(at("cook_finish", batch), {"do": "finish", "net_kg": "1.18", "checked": "on"})
    batch.refresh_from_db()
    assert batch.net_g == Decimal(1180)


# --- The record -----------------------------------------------------------------------------------


def a_reading(batch, *, minutes, value, kind="temperature", read_at=None):
    return note_event(
        batch, by=None, kind=kind, value=Decimal(value), key=f"{minutes:032x}",
        read_at=read_at or timezone.now() - timedelta(minutes=minutes),
    )  # fmt: skip


def done(batch, **values):
    figures = {"net_g": Decimal(11600), "pot_g": Decimal(12200)} | values
    return finish_batch(batch, by=None, finished_at=timezone.now(), values=figures)


def test_the_owner_sees_why_a_kilo_differs_and_the_cook_sees_masses(client, kitchen, batch):
    done(batch, attended_minutes=Decimal(170), end_brix=Decimal(75))
    client.force_login(an_owner(kitchen))
    text = text_of(client.get(at("cook", batch))).replace("\xa0", " ")
    for words in ("A kilo costs", "Why a kilo differs from the plan", "Minutes at the pan", "€"):
        assert words in text
    # 11.6 / 17.28 = 67.1 %; planned 11.8903 / 17.28 = 68.8 %.
    assert "67.1 %" in text
    assert "68.8 %" in text
    client.force_login(a_cook(kitchen))
    text = text_of(client.get(at("cook", batch))).replace("\xa0", " ")
    assert "67.1 %" in text
    for words in ("A kilo costs", "Why a kilo differs", "€"):
        assert words not in text


def test_a_reading_that_came_late_is_told_with_both_times(client, kitchen, batch):
    a_reading(batch, minutes=0, value="101")
    late = a_reading(batch, minutes=30, value="103")
    assert late.received_at - late.read_at > timedelta(minutes=29)
    done(batch)
    client.force_login(a_cook(kitchen))
    assert text_of(client.get(at("cook", batch))).count("reached us") == 1


def test_readings_copied_in_later_are_told_so_once(client, kitchen, batch):
    for minutes in (30, 20, 10):
        a_reading(batch, minutes=minutes, value="101")
    done(batch)
    client.force_login(a_cook(kitchen))
    text = text_of(client.get(at("cook", batch)))
    assert text.count("reached us") == 1
    assert "reached us together" in text


def test_the_record_takes_as_many_queries_however_much_was_told(
    client, kitchen, paste, django_assert_num_queries
):
    purees = [a_finished_batch(puree_of(paste), net_g=18000) for _ in range(3)]
    full = start_batch(
        paste, by=None, on=timezone.localdate(), started_at=timezone.now() - timedelta(hours=1),
        inputs=[InputGiven(0, Decimal(4000), from_batch=purees[0]), InputGiven(0, Decimal(5000))],
    )  # fmt: skip
    for minutes in range(1, 21):
        a_reading(full, minutes=minutes, value="101")
    done(full)
    correct_batch(full, by=None, values={"ph": Decimal("3.1")}, reason="Read late")
    client.force_login(an_owner(kitchen))
    client.get(at("cook", full))
    with CaptureQueriesContext(connection) as caught:
        client.get(at("cook", full))
    more = start_batch(
        paste, by=None, on=timezone.localdate(), started_at=timezone.now() - timedelta(hours=1),
        inputs=[InputGiven(0, Decimal(3000), from_batch=one) for one in purees],
    )  # fmt: skip
    for minutes in range(1, 41):
        a_reading(more, minutes=minutes, value="101")
    done(more)
    correct_batch(more, by=None, values={"ph": Decimal("3.1")}, reason="Read late")
    with django_assert_num_queries(len(caught)):
        client.get(at("cook", more))


# --- Put right ------------------------------------------------------------------------------------


def boxes(client, batch):
    """What the page would send if nothing were changed."""
    form = client.get(at("cook_put_right", batch)).context
    sent = {name: form["form"][name].value() for name in form["form"].fields}
    sent |= {row.name: row.typed for row in (*form["rows"], *form["inputs"])}
    for row in form["inputs"]:
        sent |= {f"lot-{row.key}": row.lot, f"supplier-{row.key}": row.supplier}
        sent |= {f"brix-{row.key}": row.brix} if row.takes_brix else {}
    return {name: "" if value is None else str(value) for name, value in sent.items()}


def test_a_figure_is_put_right_with_a_reason_and_the_old_one_stays(client, kitchen, batch, piece):
    done(batch)
    person = a_cook(kitchen)
    client.force_login(person)
    sent = boxes(client, batch)
    unchanged = client.post(at("cook_put_right", batch), sent | {"reason": "Nothing"})
    assert "Nothing here is other than what stands in the record" in text_of(unchanged)
    right = sent | {"net_kg": "11.5", "weighed-1": "8,2", f"units-{piece.pk}": "100"}
    assert "Say why" in text_of(client.post(at("cook_put_right", batch), right))
    assert not AuditEntry.objects.filter(subject="batch", field="reason").exists()
    answer = client.post(at("cook_put_right", batch), right | {"reason": "A tray was on the scale"})
    assert answer.status_code == 302
    batch.refresh_from_db()
    assert batch.net_g == Decimal(11500)
    assert batch.inputs.get(position=1).weighed_g == Decimal(8200)
    assert batch.yields.get().mass_g == Decimal(10350)
    text = text_of(client.get(at("cook", batch))).replace("\xa0", " ")
    for words in ("A tray was on the scale", person.get_username(), "11.60 kg", "11.50 kg"):
        assert words in text


def test_boxes_that_are_left_keep_what_they_had(client, kitchen, batch):
    seller = a_supplier(kitchen)
    given = InputGiven(1, Decimal("8123.5"), supplier=seller, supplier_lot="SF-9")
    finish_batch(
        batch, by=None, finished_at=timezone.now(), values={"net_g": Decimal(11600)}, inputs=[given]
    )
    client.force_login(a_cook(kitchen))
    sent = boxes(client, batch) | {"texture": "Cuts clean", "reason": "Tasted later"}
    assert client.post(at("cook_put_right", batch), sent).status_code == 302
    batch.refresh_from_db()
    row = batch.inputs.get(position=1)
    assert (row.weighed_g, row.supplier, row.supplier_lot) == (Decimal("8123.5"), seller, "SF-9")
    assert (batch.texture, batch.net_g) == ("Cuts clean", Decimal(11600))
    assert BatchReading.objects.filter(batch=batch).count() == 0


def test_only_a_finished_batch_is_put_right(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    assert client.get(at("cook_put_right", batch)).status_code == 302


def test_what_has_no_box_stays_and_counts(client, kitchen, batch, piece):
    # 11.6 = 100 x 0.1035 + 0.5 of ends + 0.75 not counted.
    finish_batch(
        batch, by=None, finished_at=timezone.now(), values={"net_g": Decimal(11600)},
        yields=[YieldGiven(product=piece, units=100), YieldGiven(Decimal(500), what="Ends")],
    )  # fmt: skip
    client.force_login(a_cook(kitchen))
    sent = boxes(client, batch) | {f"units-{piece.pk}": "104", "reason": "Four were in the fridge"}
    summed = client.post(at("cook_put_right", batch), sent, headers={"HX-Request": "true"})
    # 11.6 - 104 x 0.1035 - 0.5 = 0.336.
    assert "0.336 kg" in text_of(summed).replace("\xa0", " ")
    client.post(at("cook_put_right", batch), sent)
    assert {row.what or row.units: row.mass_g for row in batch.yields.all()} == {
        104: Decimal(10764), "Ends": Decimal(500),
    }  # fmt: skip


def test_the_batch_a_line_came_from_and_who_cooked_are_put_right(client, kitchen, batch):
    puree = puree_of(batch.recipe)
    wrong, right = a_finished_batch(puree, net_g=18000), a_finished_batch(puree, net_g=17500)
    given = InputGiven(0, Decimal(9000), from_batch=wrong)
    finish_batch(
        batch, by=None, finished_at=timezone.now(), values={"net_g": Decimal(11600)}, inputs=[given]
    )
    person, other = a_cook(kitchen), a_cook(kitchen)
    client.force_login(person)
    sent = boxes(client, batch) | {
        "source-0": right.pk, "cooked_by": other.pk, "reason": "Two tubs mixed up",
    }  # fmt: skip
    assert client.post(at("cook_put_right", batch), sent).status_code == 302
    batch.refresh_from_db()
    assert batch.inputs.get(position=0).from_batch == right
    assert batch.cooked_by == other
    text = text_of(client.get(at("cook", batch)))
    for words in (other.get_username(), wrong.lot, right.lot, "Two tubs mixed up"):
        assert words in text
    stranger = a_cook()
    refused = client.post(at("cook_put_right", batch), sent | {"cooked_by": stranger.pk})
    assert "Select a valid choice" in text_of(refused)


def test_more_than_is_left_of_a_tub_is_asked_about_once_when_the_pan_is_done(
    client, kitchen, batch
):
    tub = a_finished_batch(puree_of(batch.recipe), net_g=3200)
    client.force_login(a_cook(kitchen))
    sent = {"do": "finish", "net_kg": "11.6", "weighed-0": "9", "source-0": tub.pk}
    text = text_of(client.post(at("cook_finish", batch), sent))
    assert f"Of {tub.lot} there are 3.2 kg left; you typed 9 kg" in text
    assert client.post(at("cook_finish", batch), sent | {"checked": "on"}).status_code == 302
    assert batch.inputs.get(position=0).from_batch == tub
