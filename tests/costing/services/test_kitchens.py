"""Kitchens and the people in them."""

from decimal import Decimal

import pytest
from django.contrib.auth import get_user_model
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, Kitchen, Member
from costing.services.kitchens import (
    add_person,
    change_role,
    create_kitchen,
    remove_person,
    update_kitchen,
)
from tests.builders import PASSWORD, a_cook, a_kitchen, a_member, a_user, an_owner

pytestmark = pytest.mark.django_db


def test_who_makes_a_kitchen_owns_it():
    by = a_user()
    kitchen = create_kitchen(by=by, trading_name="Rookfold", country="IE", currency="EUR")
    member = Member.objects.get(kitchen=kitchen)
    assert (member.user, member.role) == (by, "owner")


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"trading_name": " "}, "trading_name"),
        ({"altitude_m": Decimal(5501)}, "altitude_m"),
        ({"labour_rate_per_h": Decimal(-1)}, "labour_rate_per_h"),
        ({"hob_efficiency_pct": Decimal(0)}, "hob_efficiency_pct"),
        ({"price_policy": "fixed"}, "price_policy"),
        ({"price_policy": "cheapest"}, "price_policy"),
        ({"paper_size": "Foolscap"}, "paper_size"),
    ],
)
def test_a_kitchen_that_cannot_be_is_refused_at_its_field(values, field):
    whole = {"trading_name": "Rookfold", "country": "IE", "currency": "EUR"} | values
    with pytest.raises(ValidationError) as refused:
        create_kitchen(by=a_user(), **whole)
    assert list(refused.value.message_dict) == [field]
    assert not Kitchen.objects.exists()


def test_a_changed_rate_is_written_down_with_who_changed_it():
    kitchen = a_kitchen()
    by = an_owner(kitchen)
    update_kitchen(kitchen, by=by, labour_rate_per_h=Decimal("16.50"), energy_price_per_kwh=None)
    told = AuditEntry.objects.filter(kitchen=kitchen, by=by, subject="kitchen")
    assert set(told.values_list("field", "old", "new")) == {
        ("labour_rate_per_h", "15", "16.5"),
        ("energy_price_per_kwh", "0.28", ""),
    }


def test_a_person_gets_an_account_and_a_place():
    kitchen = a_kitchen()
    member = add_person(
        kitchen, by=an_owner(kitchen), username=" idris ", password=PASSWORD, role="cook"
    )
    assert (member.user.username, member.role) == ("idris", "cook")
    assert member.user.check_password(PASSWORD)
    assert not member.user.is_staff


@pytest.mark.parametrize(
    ("values", "fields"),
    [
        ({"username": "taken"}, ["username"]),
        ({"username": ""}, ["username"]),
        ({"username": "<script>"}, ["username"]),
        ({"password": "short"}, ["password"]),
        ({"password": "123456789012345"}, ["password"]),
        ({"username": "hathersage", "password": "hathersage2026"}, ["password"]),
        ({"role": "chef"}, ["role"]),
        ({"username": "", "password": "", "role": ""}, ["username", "password", "role"]),
    ],
)
def test_an_account_that_cannot_be_is_refused(values, fields):
    a_user(username="taken")
    before = get_user_model().objects.count()
    whole = {"username": "pim", "password": PASSWORD, "role": "stall_hand"} | values
    with pytest.raises(ValidationError) as refused:
        add_person(a_kitchen(), by=None, **whole)
    assert list(refused.value.message_dict) == fields
    assert get_user_model().objects.count() == before


def test_a_role_is_changed_and_written_down():
    kitchen = a_kitchen()
    by = an_owner(kitchen)
    member = a_member(kitchen, role="cook")
    change_role(member, by=by, role="accountant")
    member.refresh_from_db()
    assert member.role == "accountant"
    assert AuditEntry.objects.filter(field="role", old="cook", new="accountant", by=by).exists()


@pytest.mark.parametrize("what", [remove_person, lambda m, by: change_role(m, by=by, role="cook")])
def test_the_last_owner_stays_owner(what):
    kitchen = a_kitchen()
    a_cook(kitchen)
    owner = a_member(kitchen)
    with pytest.raises(ValidationError, match="A kitchen needs an owner"):
        what(owner, by=owner.user)
    owner.refresh_from_db()
    assert owner.role == "owner"

    other = a_member(kitchen)
    what(owner, by=other.user)
    assert list(Member.objects.filter(kitchen=kitchen, role="owner")) == [other]


def test_an_owner_of_another_kitchen_is_no_owner_here():
    kitchen = a_kitchen()
    owner = a_member(kitchen)
    an_owner()
    with pytest.raises(ValidationError):
        remove_person(owner, by=owner.user)


def test_who_leaves_keeps_the_account_and_is_written_down():
    kitchen = a_kitchen()
    by, cook = an_owner(kitchen), a_member(kitchen, role="cook")
    remove_person(cook, by=by)
    assert get_user_model().objects.filter(pk=cook.user_id).exists()
    assert AuditEntry.objects.filter(field="place", by=by, old__contains="Cook").exists()
