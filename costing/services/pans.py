"""Pans: what they weigh, what sticks to them, and how fast they lose water."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser

from costing.models import Kitchen, Pan
from costing.services.saving import as_error, refuse_strangers, save_checked


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


def measured_rate(
    pan: Pan,
    *,
    by: AbstractBaseUser | None,
    gross_before_g: Decimal,
    gross_after_g: Decimal,
    minutes: Decimal,
) -> Pan:
    """Keep how fast a pan loses water: two weights of it at a full boil and the minutes between.

    Raises ValidationError where nothing was lost or no time went by.
    """
    if minutes <= 0:
        raise as_error("minutes", "Some minutes must lie between the two weights.")
    lost_g = gross_before_g - gross_after_g
    if lost_g <= 0:
        raise as_error("gross_after_g", "The pan did not get lighter. Type the first weight first.")
    rate = (lost_g / minutes).quantize(Decimal("0.01"))
    return save_checked(pan, by=by, values={"evaporation_g_per_min": rate})
