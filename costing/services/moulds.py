"""Moulds: their inside, and how many of each there are."""

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser

from costing.models import Kitchen, Mould
from costing.services.saving import refuse_strangers, save_checked


def save_mould(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    mould: Mould | None = None,
    values: Mapping[str, Any],
) -> Mould:
    """Save a mould. Raises ValidationError with the faults by field."""
    refuse_strangers(kitchen, mould)
    return save_checked(mould or Mould(kitchen=kitchen), by=by, values=values)
