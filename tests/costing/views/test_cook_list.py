"""The list of cooks: what each gave and cost for the owner, masses alone for a cook."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import Batch, BatchInput
from costing.services.batches import give_up
from tests.builders import a_batch, a_cook, a_damson_paste, a_finished_batch, a_kitchen, an_owner

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


def seen(client, person, kitchen):
    client.force_login(person)
    return client.get(reverse("cooks", args=[kitchen.pk])).content.decode().replace("\xa0", " ")


def test_the_owner_sees_yield_and_cost_and_a_cook_neither(client, kitchen):
    # 11.58 kg of 17.28 kg is 67.0 %.
    paste = a_damson_paste(kitchen)
    a_finished_batch(paste, net_g=11580)
    give_up(a_batch(paste), by=None, reason="Burnt")
    text = seen(client, an_owner(kitchen), kitchen)
    assert "A kilo cost" in text
    assert "67" in text
    assert "€9." in text
    assert text.count("not known") == 0
    text = seen(client, a_cook(kitchen), kitchen)
    assert "11.58" in text
    for words in ("A kilo cost", "Of what went in", "€"):
        assert words not in text


def test_forty_cooks_take_as_many_queries_as_two(client, kitchen):
    paste = a_damson_paste(kitchen)
    first, second = (a_finished_batch(paste, net_g=net_g) for net_g in (11580, 11600))
    owner = an_owner(kitchen)
    seen(client, owner, kitchen)
    with CaptureQueriesContext(connection) as of_two:
        seen(client, owner, kitchen)
    rows = list(first.inputs.all())
    for number in range(38):
        copy = Batch.objects.get(pk=second.pk)
        copy.pk, copy._state.adding, copy.lot = None, True, f"{second.lot}-{number}"
        copy.net_g -= Decimal(number)
        copy.save()
        for row in rows:
            row.pk, row.batch = None, copy
        BatchInput.objects.bulk_create(rows)
    with CaptureQueriesContext(connection) as of_forty:
        text = seen(client, owner, kitchen)
    assert text.count('data-label="A kilo cost"') == 40
    # Signing in again is part of both.
    assert len(of_forty) == len(of_two)
