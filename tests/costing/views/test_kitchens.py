"""Settings and people."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from costing.forms.kitchens import KitchenForm
from costing.models import AuditEntry, Member
from tests.builders import PASSWORD, a_cook, a_kitchen, a_member, a_user, an_owner

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen(altitude_m=240)


@pytest.fixture
def owner(client, kitchen):
    user = an_owner(kitchen)
    client.force_login(user)
    return user


def _settings(kitchen, **changes):
    form = KitchenForm(kitchen=kitchen)
    data = {name: form[name].value() for name in form.fields}
    return {k: str(v) for k, v in data.items() if v is not None and v is not False} | changes


def _address(kitchen, name="kitchen"):
    return reverse(name, args=[kitchen.pk])


def test_every_setting_has_its_place_on_the_page(client, owner, kitchen):
    page = client.get(_address(kitchen)).content.decode()
    for name in KitchenForm.base_fields:
        assert f'name="{name}"' in page, name


def test_it_says_where_water_boils_up_here(client, owner, kitchen):
    # The standard atmosphere at 240 m is 984.7 hPa (ISO 2533), at which water boils at 99.2 C.
    assert "boils at about 99.2 °C" in client.get(_address(kitchen)).content.decode()


def test_a_setting_is_kept_and_written_down(client, owner, kitchen):
    answer = client.post(_address(kitchen), _settings(kitchen, labour_rate_per_h="16,50"))
    assert answer.status_code == 302
    kitchen.refresh_from_db()
    assert str(kitchen.labour_rate_per_h) == "16.50"
    entry = AuditEntry.objects.get(field="labour_rate_per_h")
    assert (entry.old, entry.new, entry.by) == ("15", "16.5", owner)


def test_a_rate_that_is_emptied_is_not_known_and_not_nought(client, owner, kitchen):
    client.post(_address(kitchen), _settings(kitchen, labour_rate_per_h=""))
    kitchen.refresh_from_db()
    assert kitchen.labour_rate_per_h is None
    assert "not known yet" in client.get(_address(kitchen)).content.decode()


def test_what_nobody_chose_is_marked_as_a_default(client, owner):
    page = client.get(_address(Member.objects.get(user=owner).kitchen)).content.decode()
    hob = page.split("Share of the heat")[1][:200]
    assert "default" in hob


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("altitude_m", "9000", "at most 5500"), ("hob_efficiency_pct", "0", "more than 0"),
        ("labour_rate_per_h", "1.250", "one and a quarter"), ("trading_name", "", "required"),
        ("currency", "XXXX", "not one of"), ("energy_price_per_kwh", "9" * 40, "more than any"),
        ("labour_rate_per_h", "100000000", ""), ("country", "<b>", "not one of"),
    ],
)  # fmt: skip
def test_bad_settings_get_a_sentence_and_change_nothing(
    client, owner, kitchen, field, typed, words
):
    answer = client.post(_address(kitchen), _settings(kitchen, **{field: typed}))
    assert answer.status_code == 200
    assert words in answer.content.decode()
    before = getattr(kitchen, field)
    kitchen.refresh_from_db()
    assert getattr(kitchen, field) == before


# --- People ---------------------------------------------------------------------------------------


def _act(client, kitchen, **data):
    return client.post(_address(kitchen, "people"), data, follow=True)


def test_somebody_is_added_and_can_sign_in(client, owner, kitchen):
    page = _act(client, kitchen, act="add", username="idris", password=PASSWORD, role="cook")
    assert "idris can sign in now" in page.content.decode()
    client.logout()
    assert client.login(username="idris", password=PASSWORD)


@pytest.mark.parametrize(
    ("changes", "words"),
    [({"password": "short"}, "at least 12"), ({"username": ""}, "required"),
     ({"role": "king"}, "not one of"), ({"username": "taken"}, "already")],
)  # fmt: skip
def test_a_person_that_cannot_be_added_is_told_why(client, owner, kitchen, changes, words):
    a_user(username="taken")
    typed = {"act": "add", "username": "idris", "password": PASSWORD, "role": "cook"} | changes
    answer = _act(client, kitchen, **typed)
    assert words in answer.content.decode()
    assert Member.objects.filter(kitchen=kitchen).count() == 1


def test_a_role_is_changed_and_a_person_taken_out(client, owner, kitchen):
    cook = Member.objects.get(user=a_cook(kitchen))
    _act(client, kitchen, act="role", person=cook.pk, role="accountant")
    cook.refresh_from_db()
    assert cook.role == "accountant"
    _act(client, kitchen, act="remove", person=cook.pk)
    assert not Member.objects.filter(pk=cook.pk).exists()


@pytest.mark.parametrize("act", [{"act": "remove"}, {"act": "role", "role": "cook"}])
def test_the_last_owner_stays(client, owner, kitchen, act):
    me = Member.objects.get(user=owner)
    page = _act(client, kitchen, person=me.pk, **act).content.decode()
    assert "needs an owner" in page
    me.refresh_from_db()
    assert me.role == "owner"


@pytest.mark.parametrize("person", ["", "x", "999999", "9" * 40])
def test_a_person_of_another_kitchen_is_not_found(client, owner, kitchen, person):
    stranger = a_member()
    for number in (person, stranger.pk):
        answer = _act(client, kitchen, act="remove", person=number)
        assert answer.status_code == 404
    assert Member.objects.filter(pk=stranger.pk).exists()


def test_the_lot_of_tomorrow_follows_the_scheme_as_it_is_typed(client, owner, kitchen):
    assert "would be" in client.get(_address(kitchen)).content.decode()
    lot = _address(kitchen, "kitchen_lot")
    year = str((timezone.localdate() + timedelta(days=1)).year)
    typed = client.get(lot, {"lot_scheme": "X{yyyy}{ddd}"}).content.decode()
    assert f"X{year}" in typed
    assert "back to its day" in client.get(lot, {"lot_scheme": "{yy}"}).content.decode()
    refused = client.post(_address(kitchen), _settings(kitchen, lot_scheme="{yy}"))
    assert "back to its day" in refused.content.decode()
    assert 'value="{yy}"' in refused.content.decode()
