"""Pans: what they weigh, what sticks to them, and how fast they lose water."""

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser

from costing.models import Kitchen, Pan
from costing.services.saving import refuse_strangers, save_checked


def save_pan(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    pan: Pan | None = None,
    values: Mapping[str, Any],
) -> Pan:
    """Save a pan. Raises ValidationError with the faults by field."""
    refuse_strangers(kitchen, pan)
    return save_checked(pan or Pan(kitchen=kitchen), by=by, values=values)
