"""The page of price tickets."""

import pypdfium2
import pytest
from django.utils import timezone

from costing.models import AllergenAnswer, Member, Product
from tests.builders import a_member, a_product
from tests.labels.services.test_batch_labels import a_printable

pytestmark = pytest.mark.django_db


@pytest.fixture
def product(client):
    product = a_printable().product
    product.stall_price = "2.20"
    product.save()
    client.force_login(a_member(product.kitchen, role=Member.Role.STALL_HAND).user)
    return product


def at(product):
    return f"/labels/k/{product.kitchen_id}/tickets/"


def filled(product, **values):
    usual = {
        "market": "eu", "place": "stall", "sheet": "a4-2x4-99.1x67.7", "start_at": "1",
        "law_on": timezone.localdate().isoformat(), f"copies_{product.pk}": "2",
    }  # fmt: skip
    return usual | values


def words(answer):
    return " ".join(answer.content.decode().split())


def test_tickets_come_as_a_file(client, product):
    answer = client.post(at(product), filled(product))
    assert answer["Content-Type"] == "application/pdf"
    text = pypdfium2.PdfDocument(answer.content)[0].get_textpage().get_text_range()
    assert text.count("€22.00/kg") == 2


def test_a_product_without_a_price_is_named_and_the_others_can_be_printed(client, product):
    other = a_product(product.recipe, name="Not priced", stall_price=None)
    both = filled(product, **{f"copies_{other.pk}": "1"})
    answer = client.post(at(product), both)
    assert "Not priced</a>: It has no price yet" in words(answer)
    assert "Print the other 2" in words(answer)
    rest = client.post(at(product), both | {"print_the_rest": "1"})
    assert rest["Content-Type"] == "application/pdf"


def test_loose_food_whose_allergens_are_not_known_is_named(client, product):
    AllergenAnswer.objects.filter(kitchen=product.kitchen, group="milk").delete()
    answer = client.post(at(product), filled(product, **{f"loose_{product.pk}": "on"}))
    assert "No ticket yet for 1 of them" in words(answer)


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"start_at": "9"}, "8 labels; there is no 9"),
        ({"sheet": "<b>"}, "not one of the available choices"),
        ({"market": "mars"}, "not one of the available choices"),
        ({"law_on": "31 June"}, "not a day"),
    ],
)
def test_bad_input_is_told(client, product, values, sentence):
    assert sentence in words(client.post(at(product), filled(product, **values)))


def test_nothing_chosen_is_said(client, product):
    answer = client.post(at(product), filled(product, **{f"copies_{product.pk}": ""}))
    assert "Nothing is chosen" in words(answer)


def test_without_products_the_page_leads_to_them(client, product):
    Product.objects.all().update(is_archived=True)
    assert "there is none yet" in words(client.get(at(product)))


def test_the_page_asks_the_database_as_often_for_many_products(
    client, product, django_assert_max_num_queries
):
    for number in range(5):
        a_product(product.recipe, name=f"Product {number}")
    with django_assert_max_num_queries(9):
        client.get(at(product))
