"""The page where a look at cross-contact is written down."""

from datetime import timedelta

import pytest
from django.utils import timezone

from costing.models import Member
from labels.models import CrossContact
from labels.services.printing import prepare_label
from tests.builders import a_kitchen, a_member, a_product
from tests.labels.services.test_batch_labels import a_printable, a_weighed, order

pytestmark = pytest.mark.django_db


def typed(**values):
    return {
        "product": "",
        "groups": ["nuts"],
        "outcome": "remains",
        "named_as": "hazelnuts",
        "looked_at": "The sieve is shared with the praline; it is washed wet.",
        "assessed_by": "Ana",
        "assessed_on": timezone.localdate().isoformat(),
        "review_by": "",
    } | values


def signed_in(client, kitchen, role=Member.Role.COOK):
    client.force_login(a_member(kitchen, role=role).user)
    return client


def address(kitchen):
    return f"/labels/k/{kitchen.pk}/cross-contact/"


def test_a_look_is_kept_with_who_what_and_when_and_prints_on_the_label(client):
    design = a_printable()
    kitchen = design.kitchen
    answer = signed_in(client, kitchen).post(address(kitchen), typed(), follow=True)
    html = answer.content.decode()
    assert "The look is written down for one allergen." in html
    assert "Nuts: a risk remains, “hazelnuts”" in html
    row = CrossContact.objects.get()
    assert (row.product, row.assessed_by) == (None, "Ana")
    assert row.recorded_by is not None
    batch = a_weighed(design.product.recipe)
    prepared = prepare_label(design, order=order(batch, on=timezone.localdate()))
    (told,) = [p.text for p in prepared.particulars if p.kind == "cross_contact"]
    assert told == "May contain hazelnuts."
    assert prepared.may_print
    assert "May contain hazelnuts." in " ".join(b.text for b in prepared.fitted.printed.blocks)


def test_a_look_of_one_product_is_of_no_other(client):
    product = a_product()
    other = a_product(product.recipe)
    signed_in(client, product.kitchen).post(
        address(product.kitchen), typed(product=product.pk, outcome="none found", named_as="")
    )
    assert CrossContact.objects.get().product == product
    assert not other.cross_contacts.exists()


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"groups": []}, "Say for which allergens somebody looked."),
        ({"groups": ["pollen"]}, "pollen is not one of the available choices"),
        ({"outcome": ""}, "Say what was found"),
        ({"named_as": " "}, "Say which it is"),
        ({"looked_at": " "}, "required"),
        ({"assessed_by": ""}, "required"),
        ({"assessed_on": "yesterday"}, "not a day that can be read"),
        ({"assessed_on": (timezone.localdate() + timedelta(days=1)).isoformat()}, "not come yet"),
        ({"review_by": (timezone.localdate() + timedelta(days=800)).isoformat()}, "within a year"),
        ({"looked_at": "x" * 1001}, "at most 1000"),
    ],
)
def test_a_mistake_is_said_and_what_was_typed_stays(client, values, words):
    kitchen = a_kitchen()
    answer = signed_in(client, kitchen).post(address(kitchen), typed(**values))
    html = answer.content.decode()
    assert answer.status_code == 200
    assert words in html
    assert "hazelnuts" in html or "named_as" in values
    assert CrossContact.objects.count() == 0


def test_a_product_of_another_kitchen_cannot_be_named(client):
    kitchen, stranger = a_kitchen(), a_product()
    answer = signed_in(client, kitchen).post(address(kitchen), typed(product=stranger.pk))
    assert answer.status_code == 200
    assert CrossContact.objects.count() == 0


def test_the_page_says_that_nothing_was_looked_at_and_what_comes_first(client):
    kitchen = a_kitchen()
    html = signed_in(client, kitchen).get(address(kitchen)).content.decode()
    assert "Nobody has written down a look yet" in html
    assert "First take the risk away" in html
    assert "Ask your local authority" in html


def test_a_day_that_has_passed_is_said_in_words(client):
    kitchen = a_kitchen()
    today = timezone.localdate()
    CrossContact.objects.create(
        kitchen=kitchen,
        group="eggs",
        outcome="none found",
        looked_at="No egg in the house.",
        assessed_by="Ana",
        assessed_on=today - timedelta(days=400),
        review_by=today - timedelta(days=35),
    )
    assert (
        "that day has passed" in signed_in(client, kitchen).get(address(kitchen)).content.decode()
    )


@pytest.mark.parametrize("query", ["?product=x", "?product=99999999999999999999", "?group=pollen"])
def test_an_address_that_asks_for_nothing_there_still_opens(client, query):
    kitchen = a_kitchen()
    assert signed_in(client, kitchen).get(address(kitchen) + query).status_code == 200
