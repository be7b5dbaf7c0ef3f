"""Kitchens and the people in them."""

from typing import Any

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import Kitchen, Member
from costing.services.audit import record_changes
from costing.services.lots import scheme_fault
from costing.services.saving import as_error, check, save_checked


@transaction.atomic
def create_kitchen(*, by: AbstractBaseUser, **values: Any) -> Kitchen:
    """A new kitchen, owned by the person who made it."""
    kitchen = save_checked(Kitchen(), by=by, values=values)
    _join(kitchen, by=by, user=by, role=Member.Role.OWNER)
    return kitchen


@transaction.atomic
def update_kitchen(kitchen: Kitchen, *, by: AbstractBaseUser, **values: Any) -> Kitchen:
    """Change a kitchen's particulars or rates; every change is written down.

    Raises ValidationError by field, also for a lot scheme that cannot be used.
    """
    if "lot_scheme" in values:
        values["lot_scheme"] = str(values["lot_scheme"]).strip()
        fault = scheme_fault(
            values["lot_scheme"], currency=values.get("currency") or kitchen.currency
        )
        if fault:
            raise as_error("lot_scheme", fault)
    return save_checked(kitchen, by=by, values=values)


@transaction.atomic
def add_person(
    kitchen: Kitchen, *, by: AbstractBaseUser, username: str, password: str, role: str
) -> Member:
    """An account and a place in the kitchen for one more person."""
    account = get_user_model()
    user = account(username=account.normalize_username(username.strip()))
    errors: dict[str, list[str]] = {}
    user.set_password(password)
    try:
        check(user)
    except ValidationError as error:
        errors |= error.message_dict
    try:
        validate_password(password, user=user)
    except ValidationError as error:
        errors["password"] = error.messages
    if role not in Member.Role.values:
        errors["role"] = ["Choose what this person may do."]
    if errors:
        raise ValidationError(errors)
    user.save()
    return _join(kitchen, by=by, user=user, role=role)


@transaction.atomic
def change_role(member: Member, *, by: AbstractBaseUser, role: str) -> Member:
    """Give a person another role; a kitchen keeps at least one owner."""
    if role != Member.Role.OWNER:
        _keep_an_owner(member, what="take the role of owner from")
    return save_checked(member, by=by, values={"role": role})


@transaction.atomic
def remove_person(member: Member, *, by: AbstractBaseUser) -> None:
    """Take a person's place in the kitchen away; the account and what it did remain."""
    _keep_an_owner(member, what="remove")
    record_changes(member, by=by, before={"place": str(member)}, after={"place": None})
    member.delete()


def _join(kitchen: Kitchen, *, by: AbstractBaseUser, user: AbstractBaseUser, role: str) -> Member:
    return save_checked(Member(kitchen=kitchen), by=by, values={"user": user, "role": role})


def _keep_an_owner(member: Member, *, what: str) -> None:
    # Rows are locked so that two owners cannot remove each other at the same moment.
    owners = list(
        Member.objects.select_for_update().filter(
            kitchen_id=member.kitchen_id, role=Member.Role.OWNER
        )
    )
    if [owner.pk for owner in owners] == [member.pk]:
        raise as_error(
            "role",
            f"A kitchen needs an owner: make somebody else owner before you {what} this one.",
        )
