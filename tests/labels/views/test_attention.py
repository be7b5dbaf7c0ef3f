"""Labels on the start page: products without one, for those who may print."""

import pytest
from django.urls import reverse

from costing.views.today import watchers
from labels.models import LabelDesign
from labels.views.attention import labels_missing
from tests.builders import TODAY, a_kitchen, a_member, a_product, a_recipe

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


def test_labels_has_joined_the_start_page():
    assert labels_missing in watchers


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
