"""The batches' figure beside the entered one, taken over by one tap and with its source."""

from decimal import Decimal

import pytest
from django.urls import reverse

from costing.models import Ingredient, Member
from tests.builders import a_cook, an_accountant

pytestmark = pytest.mark.django_db


@pytest.fixture
def damsons(demo):
    return Ingredient.objects.get(kitchen=demo, name="Damsons")


def page(demo, damsons):
    return reverse("ingredient", args=[demo.pk, damsons.pk])


def take(demo, damsons):
    return reverse("ingredient_learnt", args=[demo.pk, damsons.pk])


def test_what_the_batches_say_is_taken_over_by_one_tap(client, demo, damsons):
    # (2 x 75 + 73.75 + 73 + 73.333 + 74 + 72.708) / 7 = 73.83, kept as 73.8.
    client.force_login(Member.objects.filter(kitchen=demo, role="owner")[0].user)
    text = client.get(page(demo, damsons)).content.decode()
    assert "from 5 of your batches: 73.8 % ± 0.2" in text
    assert "Use 73.8 %" in text
    client.post(take(demo, damsons), {"subject": "usable"})
    damsons.refresh_from_db()
    assert damsons.usable_pct == Decimal("73.8")
    assert damsons.figure_sources["usable_pct"].startswith("Own batches: from 5 of your batches")
    # (2 x 73.8 + 366.79) / 7 = 73.5 would count the same five batches twice.
    assert "Your batches say" not in client.get(page(demo, damsons)).content.decode()


def test_a_figure_the_batches_agree_with_is_not_offered(client, demo, damsons):
    client.force_login(Member.objects.filter(kitchen=demo, role="owner")[0].user)
    sugar = Ingredient.objects.get(kitchen=demo, name="White sugar")
    assert "Your batches say" not in client.get(page(demo, sugar)).content.decode()
    before = damsons.usable_pct
    for subject in ("brix", "residue", ""):
        answer = client.post(take(demo, damsons), {"subject": subject}, follow=True)
        assert "say nothing else" in answer.content.decode()
    damsons.refresh_from_db()
    assert damsons.usable_pct == before


def test_who_may_change_the_figures_may_take_it_over(client, demo, damsons):
    client.force_login(a_cook(demo))
    assert "Use 73.8 %" in client.get(page(demo, damsons)).content.decode()
    client.force_login(an_accountant(demo))
    assert "Use 73.8 %" not in client.get(page(demo, damsons)).content.decode()
    assert client.post(take(demo, damsons), {"subject": "usable"}).status_code == 403
