"""Labels on the start page: products without one, for those who may print."""

from datetime import date, timedelta

import pytest
from django.urls import reverse

from costing.views.today import watchers
from labels.models import CrossContact, LabelDesign
from labels.views.attention import labels_missing, looks_overdue
from tests.builders import TODAY, a_kitchen, a_member, a_product, a_recipe

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


def test_labels_has_joined_the_start_page():
    assert {labels_missing, looks_overdue} <= set(watchers)


def test_a_product_without_a_label_is_named_and_leads_to_it(kitchen):
    product = a_product(a_recipe(kitchen), name="Slab")
    (need,) = labels_missing(kitchen, a_member(kitchen), TODAY)
    assert need.sentence == "Slab: no label is designed yet."
    assert need.url == reverse("label", args=[kitchen.pk, product.pk])


def test_a_designed_label_is_not_spoken_of(kitchen):
    product = a_product(a_recipe(kitchen))
    LabelDesign.objects.create(kitchen=kitchen, product=product, name_of_food="Damson cheese")
    assert labels_missing(kitchen, a_member(kitchen), TODAY) == []


@pytest.mark.parametrize(("role", "told"), [("cook", 1), ("stall_hand", 0), ("accountant", 0)])
def test_only_those_who_may_print_are_told(kitchen, role, told):
    a_product(a_recipe(kitchen))
    assert len(labels_missing(kitchen, a_member(kitchen, role=role), TODAY)) == told


def test_another_kitchens_products_are_not_spoken_of(kitchen):
    a_product()
    assert labels_missing(kitchen, a_member(kitchen), TODAY) == []


def test_it_takes_one_query_whatever_the_number(kitchen, django_assert_num_queries):
    for _ in range(8):
        a_product(a_recipe(kitchen))
    member = a_member(kitchen)
    with django_assert_num_queries(1):
        labels_missing(kitchen, member, TODAY)


def looked(kitchen, **values):
    values = {
        "group": "nuts",
        "outcome": "none found",
        "looked_at": "No nut in the house.",
        "assessed_by": "Ana",
        "assessed_on": TODAY,
        "review_by": TODAY + timedelta(days=365),
    } | values
    return CrossContact.objects.create(kitchen=kitchen, **values)


def test_a_look_that_has_grown_old_is_asked_for_again_the_day_after(kitchen):
    cook = a_member(kitchen, role="cook")
    looked(kitchen)
    due = TODAY + timedelta(days=365)
    assert looks_overdue(kitchen, cook, due) == []
    (need,) = looks_overdue(kitchen, cook, due + timedelta(days=1))
    assert need.sentence == "Cross-contact was looked at too long ago: nuts."
    assert need.url == reverse("label_cross_contact", args=[kitchen.pk])
    assert looks_overdue(kitchen, a_member(kitchen, role="stall_hand"), date.max) == []
    assert looks_overdue(a_kitchen(), cook, date.max) == []


def test_an_old_look_that_was_taken_again_is_not_asked_for(kitchen, django_assert_num_queries):
    for year in (1, 2, 3):
        day = TODAY - timedelta(days=365 * year)
        looked(kitchen, assessed_on=day, review_by=day + timedelta(days=30))
    looked(kitchen)
    member = a_member(kitchen)
    with django_assert_num_queries(1):
        assert looks_overdue(kitchen, member, TODAY) == []
