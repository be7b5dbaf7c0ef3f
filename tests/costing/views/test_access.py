"""The guard in front of every page of a kitchen."""

import pytest
from django.urls import reverse

from costing.views.access import way_back
from costing.views.menu import menu_of
from tests.builders import a_cook, a_kitchen, a_member, a_stall_hand, a_user, an_owner

pytestmark = pytest.mark.django_db


def test_nobody_is_sent_to_sign_in_and_told_where_to_go_back(client):
    address = reverse("kitchen", args=[a_kitchen().pk])
    assert client.get(address).url == f"/sign-in/?next={address}"


def test_a_visit_that_ends_while_typing_says_so_in_the_live_box_and_keeps_the_page(client):
    address = reverse("kitchen", args=[a_kitchen().pk])
    answer = client.get(address, headers={"hx-request": "true"})
    assert "You have been signed out" in answer.content.decode()
    assert "HX-Redirect" not in answer.headers
    assert not hasattr(answer.wsgi_request, "kitchen")


def test_to_a_stranger_the_kitchen_does_not_exist(client):
    client.force_login(an_owner())
    assert client.get(reverse("kitchen", args=[a_kitchen().pk])).status_code == 404


@pytest.mark.parametrize("number", ["0", "999999999", "9" * 40])
def test_a_kitchen_of_any_number_is_not_found_and_breaks_nothing(client, number):
    client.force_login(an_owner())
    assert client.get(f"/k/{number}/").status_code == 404


@pytest.mark.parametrize(
    ("wanted", "leads_to"),
    [
        ("/labels/k/1/2/", "/labels/k/1/2/"),
        ("https://elsewhere.example/k/1/", ""),
        ("//elsewhere.example/", ""),
        ("javascript:alert(1)", ""),
        ("", ""),
    ],
)
def test_a_way_back_never_leads_off_the_site(rf, wanted, leads_to):
    assert way_back(rf.get("/"), wanted) == leads_to


def test_another_role_is_told_in_words(client):
    kitchen = a_kitchen()
    client.force_login(a_cook(kitchen))
    answer = client.get(reverse("kitchen", args=[kitchen.pk]))
    assert answer.status_code == 403
    assert "as cook" in answer.content.decode()


def test_pages_of_a_kitchen_are_not_kept_by_a_shared_device(client):
    kitchen = a_kitchen()
    client.force_login(an_owner(kitchen))
    header = client.get(reverse("today", args=[kitchen.pk])).headers["Cache-Control"]
    assert "no-store" in header


@pytest.mark.parametrize(
    ("role", "words"),
    [
        ("owner", ["Today", "Prices", "Recipes", "Cooks", "Products", "Labels", "Kitchen"]),
        ("cook", ["Today", "Ingredients", "Recipes", "Cooks", "Labels"]),
        ("stall_hand", ["Products", "Allergens"]),
        ("accountant", ["Today", "Prices"]),
    ],
)
def test_the_menu_is_in_the_order_of_the_work_and_of_ones_role(role, words):
    member = a_member(role=role)
    assert [item.word for item in menu_of(member, path="/")] == words


def test_the_menu_marks_where_one_is():
    member = a_member()
    home = f"/k/{member.kitchen_id}/"
    for path, word in [
        (home, "Today"), (f"{home}suppliers/3/", "Prices"), (f"{home}people/", "Kitchen"),
        (f"{home}recipes/new/", "Recipes"), (f"/labels/k/{member.kitchen_id}/4/", "Labels"),
    ]:  # fmt: skip
        current = [item.word for item in menu_of(member, path=path) if item.is_current]
        assert current == [word], path


def test_a_page_that_is_not_there_speaks_plainly_and_needs_no_kitchen(client):
    client.force_login(a_user())
    answer = client.get("/nowhere/")
    assert answer.status_code == 404
    assert "That page is not here" in answer.content.decode()


def test_a_stall_hand_is_not_shown_the_price_book(client):
    kitchen = a_kitchen()
    client.force_login(a_stall_hand(kitchen))
    assert client.get(reverse("ingredients", args=[kitchen.pk])).status_code == 403
