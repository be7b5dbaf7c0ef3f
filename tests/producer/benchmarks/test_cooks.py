"""A reading is really kept each time, and the empty view really is behind the same door."""

import pytest
from django.test import Client, override_settings
from django.urls import reverse

from costing.models import Batch, Kitchen
from producer.benchmarks.cooks import cook_tables
from producer.benchmarks.reporting import MET, NOT_MET
from producer.benchmarks.throwaway_database import throwaway_folder
from tests.builders import TODAY, a_kitchen, an_owner

pytestmark = pytest.mark.django_db


@pytest.mark.own_database
def test_draws_curve_and_answers_are_measured_and_the_sites_database_is_left_alone():
    with throwaway_folder() as folder:
        physics, answers = cook_tables(folder, on=TODAY, is_quick=True)
    assert [row[0].split()[0] for row in physics.rows] == ["10000", "curve"]
    assert all(float(row[1]) > 0.5 and row[2] in {MET, NOT_MET} for row in physics.rows)
    assert "3 readings" in answers.title
    # Whatever the machine: a page that is drawn takes longer than none.
    assert all(float(row[1]) > 1 for row in answers.rows)
    assert not Batch.objects.exists()
    assert not Kitchen.objects.exists()


def test_the_empty_view_lets_in_who_may_cook_and_nobody_else(client):
    kitchen = a_kitchen()
    owner, stranger = an_owner(kitchen), an_owner()
    with override_settings(ROOT_URLCONF="producer.benchmarks.cooks"):
        address = reverse("nothing", args=[kitchen.pk])
        assert client.get(address).status_code == 302
        client.force_login(owner)
        answer = client.get(address)
        assert (answer.status_code, answer.content) == (200, b"")
        other = Client()
        other.force_login(stranger)
        assert other.get(address).status_code == 404
