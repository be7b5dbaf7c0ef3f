"""The door: signing in, ten wrong passwords, the first account, the demo button."""

import pytest
from django.core.cache import cache
from django.urls import reverse

from costing.models import Kitchen
from tests.builders import PASSWORD, a_kitchen, a_member, a_stall_hand, a_user, an_owner

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


def _try(client, username, password=PASSWORD, **extra):
    return client.post(reverse("sign_in"), {"username": username, "password": password}, **extra)


def test_nobody_yet_means_the_first_account(client):
    assert client.get("/").url == "/welcome/"
    assert client.get("/sign-in/").url == "/welcome/"


def test_the_first_account_is_made_once_and_leads_to_a_kitchen(client):
    answer = client.post("/welcome/", {"username": "maud", "password": PASSWORD})
    assert answer.url == "/kitchens/new/"
    assert client.get("/kitchens/new/").status_code == 200
    client.logout()
    assert client.get("/welcome/").url == "/"
    assert client.post("/welcome/", {"username": "eve", "password": PASSWORD}).url == "/"


@pytest.mark.parametrize(
    ("username", "password", "words"),
    [
        ("maud", "short", "at least 12"), ("maud", "password1234", "too common"),
        ("maud", "123456789012", "entirely numeric"), ("", PASSWORD, "required"),
        ("a b <i>", PASSWORD, "valid username"), ("maudfennimore", "maudfennimore1", "similar"),
    ],
)  # fmt: skip
def test_a_weak_first_account_is_refused_in_words(client, username, password, words):
    answer = client.post("/welcome/", {"username": username, "password": password})
    assert answer.status_code == 200
    assert words in answer.content.decode()


def test_three_answers_open_a_kitchen(client):
    client.force_login(a_user())
    typed = {"trading_name": "Plum Row", "country": "IE", "altitude_m": "240"}
    answer = client.post("/kitchens/new/", typed)
    kitchen = Kitchen.objects.get()
    assert answer.url == f"/k/{kitchen.pk}/"
    assert (kitchen.currency, kitchen.number_format) == ("EUR", "en_IE")


def test_everybody_starts_where_their_work_is(client):
    kitchen = a_kitchen()
    client.force_login(an_owner(kitchen))
    assert client.get("/").url == f"/k/{kitchen.pk}/"


def test_one_returns_to_the_kitchen_one_was_in_last(client):
    user = an_owner(a_kitchen(trading_name="A"))
    second = a_member(a_kitchen(trading_name="B"), user=user).kitchen
    client.force_login(user)
    client.get(f"/k/{second.pk}/")
    assert client.get("/").url == f"/k/{second.pk}/"


def test_somebody_without_a_kitchen_is_asked_for_one(client):
    client.force_login(a_user())
    assert client.get("/").url == "/kitchens/new/"


def test_a_wrong_password_says_so_and_keeps_the_name(client):
    a_user(username="maud")
    page = _try(client, "maud", "wrong").content.decode()
    assert "do not go together" in page
    assert 'value="maud"' in page
    assert "wrong" not in page.replace("wrong passwords", "")


def test_after_ten_wrong_passwords_even_the_right_one_waits(client):
    a_user(username="maud")
    for _ in range(9):
        _try(client, "maud", "wrong")
    assert "do not go together" in _try(client, "maud", "wrong").content.decode()
    page = _try(client, "maud").content.decode()
    assert "Wait ten minutes" in page
    assert "_auth_user_id" not in client.session


def test_nine_wrong_passwords_do_not_lock(client):
    a_user(username="maud")
    for _ in range(9):
        _try(client, "maud", "wrong")
    assert _try(client, "maud").status_code == 302


def test_a_guesser_elsewhere_does_not_lock_the_maker_out(client):
    a_user(username="maud")
    for _ in range(12):
        _try(client, "maud", "wrong", REMOTE_ADDR="10.9.8.7")
    assert _try(client, "maud").status_code == 302


@pytest.mark.parametrize("elsewhere", ["https://evil.example/", "//evil.example", "javascript:x"])
def test_signing_in_leads_nowhere_else(client, elsewhere):
    a_user(username="maud")
    typed = {"username": "maud", "password": PASSWORD, "next": elsewhere}
    assert client.post("/sign-in/", typed).url == "/"
    assert client.get("/sign-out/").status_code == 405


def test_one_returns_to_the_page_one_wanted(client):
    kitchen = a_kitchen()
    an_owner(kitchen, username="maud")
    wanted = client.get(f"/k/{kitchen.pk}/kitchen/").url
    page = client.get(wanted).content.decode()
    assert f'name="next" value="/k/{kitchen.pk}/kitchen/"' in page


def test_there_is_no_demo_door_outside_the_demo(client, settings):
    settings.DEMO = False
    an_owner(a_kitchen(is_demo=True))
    assert client.post("/demo/").status_code == 404


def test_one_button_opens_the_demo_kitchen_and_only_that(client, settings):
    settings.DEMO = True
    an_owner(a_kitchen())
    assert client.post("/demo/").status_code == 503, "no demo kitchen is loaded"
    kitchen = a_kitchen(is_demo=True)
    an_owner(kitchen)
    assert client.get("/demo/").status_code == 405
    assert client.post("/demo/").url == f"/k/{kitchen.pk}/"


def test_a_stall_hand_starts_at_the_products(client):
    kitchen = a_kitchen()
    client.force_login(a_stall_hand(kitchen))
    assert client.get("/").url == f"/k/{kitchen.pk}/products/"
