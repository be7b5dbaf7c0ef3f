"""Which names are lawful where, on the check page and beside the design form."""

import pytest

from costing.models import Member, Product
from tests.builders import a_member

pytestmark = pytest.mark.django_db


@pytest.fixture
def address(demo, client):
    """The address of the demo's damson cheese, seen by its owner."""
    client.force_login(a_member(demo, role=Member.Role.OWNER).user)
    product = Product.objects.get(kitchen=demo, recipe__name="Damson cheese")
    return f"/labels/k/{demo.pk}/{product.pk}/"


def test_the_check_page_says_which_names_are_lawful_and_why_others_are_refused(client, address):
    html = client.get(address).content.decode()
    assert "Which names are lawful here" in html
    assert "England, Wales and Scotland" in html
    assert "g of damson" in html
    assert "in 1 kg of the finished food" in html
    assert "Refused, and why" in html
    # Directive 2001/113/EC, Annex I: extra jam is of pulp, not of puree
    assert "extra jam is made of pulp, not of puree" in html
    assert "Damson paste" in html
    assert "SI 2003/3120" in html


def test_the_design_form_is_answered_as_it_is_typed(client, address):
    form = client.get(f"{address}design/").context["form"]
    typed = {name: form[name].value() for name in form.fields}
    typed = {name: value for name, value in typed.items() if value not in {None, False}}
    answer = client.post(f"{address}sketch/", typed | {"name_of_food": "Damson extra jam"})
    html = answer.content.decode()
    assert "The label says “extra jam”, a reserved name: <strong>refused</strong>." in html


def test_a_claim_in_the_tagline_is_held_against_the_food(client, address):
    form = client.get(f"{address}design/").context["form"]
    typed = {name: form[name].value() for name in form.fields}
    typed = {name: value for name, value in typed.items() if value not in {None, False}}
    answer = client.post(f"{address}sketch/", typed | {"tagline": "All fruit, no sugar added"})
    assert "“All fruit, no sugar added” cannot stand" in answer.content.decode()
