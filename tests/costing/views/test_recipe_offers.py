"""The batches' figure beside the recipe, taken over by one tap and with its source."""

from decimal import Decimal

import pytest
from django.urls import reverse

from costing.models import AuditEntry, Member, Recipe
from tests.builders import a_cook, an_accountant

pytestmark = pytest.mark.django_db


@pytest.fixture
def puree(demo):
    return Recipe.objects.get(kitchen=demo, name="Damson puree")


def at(name, recipe):
    return reverse(name, args=[recipe.kitchen_id, recipe.pk])


def test_the_brix_of_a_puree_is_taken_over_by_one_tap(client, demo, puree):
    # Entered 12.5; 12.6, 13.0, 12.8, 12.9, 13.1 were read: (25 + 64.4) / 7 = 12.77, kept as 12.8.
    client.force_login(Member.objects.filter(kitchen=demo, role="owner")[0].user)
    text = client.get(at("recipe", puree)).content.decode()
    assert "from 5 of your batches: 12.8 Brix" in text
    assert "Use 12.8 Brix" in text
    client.post(at("recipe_learnt", puree), {"subject": "brix"})
    assert puree.versions.get(is_current=True).measured_brix == Decimal("12.8")
    source = AuditEntry.objects.get(field="measured_brix_source", subject_id=puree.pk)
    assert source.new.startswith("Own batches: from 5 of your batches")
    again = client.post(at("recipe_learnt", puree), {"subject": "brix"}, follow=True)
    assert "say nothing else" in again.content.decode()


def test_what_sticks_to_the_pan_is_offered_of_a_paste_and_its_brix_is_not(client, demo):
    paste = Recipe.objects.get(kitchen=demo, name="Damson cheese")
    client.force_login(a_cook(demo))
    text = client.get(at("recipe", paste)).content.decode()
    assert "left in the pan, from 6 of your batches: 3.1 %" in text
    refused = client.post(at("recipe_learnt", paste), {"subject": "brix"}, follow=True)
    assert "say nothing else" in refused.content.decode()


def test_who_does_not_cook_takes_nothing_over(client, demo, puree):
    client.force_login(an_accountant(demo))
    assert client.post(at("recipe_learnt", puree), {"subject": "brix"}).status_code == 403
    assert puree.versions.get(is_current=True).measured_brix == Decimal("12.5")
