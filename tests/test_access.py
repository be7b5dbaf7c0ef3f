"""Every address of the site, walked as nobody, as a stranger, and in each role."""

import re

import pytest
from django.contrib.auth import get_user_model
from django.urls import URLPattern, URLResolver, get_resolver

from costing.models import (
    Batch,
    Ingredient,
    Kitchen,
    Member,
    Mould,
    Pan,
    Product,
    Recipe,
    Supplier,
    SupplierPrice,
)
from costing.services.kitchens import create_kitchen
from labels.models import PrintedLabel, WeighedRun

pytestmark = pytest.mark.django_db

OPEN_TO_ALL = {"sign_in", "welcome"}
"""Pages that a person who has not signed in may see."""


def _entries(resolver, prefix=""):
    for entry in resolver.url_patterns:
        route = prefix + str(entry.pattern)
        if isinstance(entry, URLResolver):
            yield from _entries(entry, route)
        elif isinstance(entry, URLPattern):
            yield entry.name, route, entry.callback


ENTRIES = list(_entries(get_resolver()))
OF_A_KITCHEN = [entry for entry in ENTRIES if "kitchen_id" in entry[1]]


def _row(kitchen, name):
    """A row of the kitchen that a page of that name can show."""
    model = next(
        model
        for prefix, model in (
            ("ingredient", Ingredient), ("price_void", SupplierPrice), ("price", Ingredient),
            ("supplier", Supplier), ("recipe", Recipe), ("printed", PrintedLabel),
            ("weighed", WeighedRun),
            ("cook", Batch), ("batch", Batch), ("kitchen_sheet", Batch),
            ("pan", Pan), ("mould", Mould),
            ("product", Product), ("label", Product), ("person", Member), ("people", Member),
        )
        if name.startswith(prefix)
    )  # fmt: skip
    return model.objects.filter(kitchen=kitchen).order_by("pk").last()


def _address(kitchen, name, route, *, kitchen_id=None):
    address = "/" + route.replace("<int:kitchen_id>", str(kitchen_id or kitchen.pk))
    for converter in re.findall(r"<[^>]+>", address):
        if "code" in converter:
            address = address.replace(converter, "a4-3x7-63.5x38.1")
        else:
            row = _row(kitchen, "ingredient" if "ingredient_pk" in converter else name)
            address = address.replace(converter, str(row.pk if row else 1))
    return address


def _person(username, kitchen=None, role=None):
    user = get_user_model().objects.create_user(username, password="a long pass phrase 7")
    if kitchen:
        Member.objects.create(kitchen=kitchen, user=user, role=role)
    return user


def test_there_is_something_to_walk():
    assert len(OF_A_KITCHEN) >= 30


def test_nobody_is_sent_to_sign_in(client, demo):
    for name, route, _view in OF_A_KITCHEN:
        for method in (client.get, client.post):
            answer = method(_address(demo, name, route))
            assert answer.status_code == 302, name
            assert answer.url.startswith("/sign-in/"), name


def test_the_owner_of_another_kitchen_finds_nothing(client, demo):
    stranger = _person("stranger")
    theirs = create_kitchen(by=stranger, trading_name="Elsewhere", country="IE", currency="EUR")
    client.force_login(stranger)
    for name, route, _view in OF_A_KITCHEN:
        for method in (client.get, client.post):
            assert method(_address(demo, name, route)).status_code == 404, name
            if "<int:pk>" in route or "product_pk" in route:
                # Her own kitchen in the address, a row of the other one behind it.
                address = _address(demo, name, route, kitchen_id=theirs.pk)
                assert method(address).status_code in {404, 405}, address


@pytest.mark.parametrize("role", list(Member.Role), ids=str)
def test_each_role_sees_its_own_pages_and_no_others(client, demo, role):
    client.force_login(_person("someone", demo, role))
    for name, route, view in OF_A_KITCHEN:
        answer = client.get(_address(demo, name, route))
        if role in view.roles:
            is_there = answer.status_code in {200, 302, 405}
            assert is_there or _row_is_missing(demo, name, route), (name, answer.status_code)
        else:
            assert answer.status_code == 403, name
            assert "owner" in answer.content.decode().lower(), name
            assert client.post(_address(demo, name, route)).status_code == 403, name


def _row_is_missing(kitchen, name, route):
    return "<int:pk>" in route and _row(kitchen, name) is None


MONEY = re.compile(r"€|EUR|per kilo|a kilo costs", re.IGNORECASE)


@pytest.mark.parametrize(
    "name",
    ["recipes", "recipe", "ingredients", "ingredient", "cooks", "cook_start", "pans", "mould_plan",
     "jars"],
)  # fmt: skip
def test_a_cook_sees_weights_and_no_money(client, demo, name):
    client.force_login(_person("cook", demo, Member.Role.COOK))
    entry = next(e for e in OF_A_KITCHEN if e[0] == name)
    text = client.get(_address(demo, *entry[:2])).content.decode()
    text = re.sub(r'value="[0-9A-Za-z]{64}"', "", text)  # a form's token may spell anything
    assert not MONEY.search(text), MONEY.search(text)


def test_a_stall_hand_sees_prices_to_ask_and_no_costs(client, demo):
    client.force_login(_person("hand", demo, Member.Role.STALL_HAND))
    text = client.get(f"/k/{demo.pk}/products/").content.decode()
    assert "3.00" in text
    assert not re.search(r"margin|markup|cost", text, re.IGNORECASE)


def test_outside_a_kitchen_only_the_door_is_open(client, demo):
    for name, route, _view in ENTRIES:
        if "kitchen_id" in route or "<" in route or not name:
            continue
        answer = client.get("/" + route)
        assert answer.status_code in ({200, 302} if name in OPEN_TO_ALL else {302, 404, 405}), name


def test_kitchens_do_not_leak_into_each_other(demo):
    other = create_kitchen(by=_person("other"), trading_name="Other", country="IE", currency="EUR")
    assert Kitchen.objects.count() == 2
    assert not Ingredient.objects.filter(kitchen=other).exists()
