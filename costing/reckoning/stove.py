"""The adviser at the stove, in one place: where to stop, how far it is, and what to do."""

from costing.reckoning.keeping_words import KeepingWords, Limit, keeping, low_acid_names
from costing.reckoning.stove_advice import (
    BURN_CAUTION,
    Overshoot,
    SetWords,
    overshoot,
    planned_words,
    set_words,
)
from costing.reckoning.stove_checks import Checked, air_pressure, check
from costing.reckoning.stove_curve import CurvePoint, CurveRecords, curve
from costing.reckoning.stove_estimates import (
    Estimate,
    Rate,
    combined,
    rate_g_per_min,
    refractometer_shows,
)
from costing.reckoning.stove_now import (
    DONE,
    KEEP_GOING,
    NEARLY,
    NOT_READ,
    TOO_FAR,
    Now,
    now,
)
from costing.reckoning.stove_plan import Ask, Band, Event, Spreads, StovePlan
from costing.reckoning.stove_target import Target, target, target_brix

__all__ = [
    "BURN_CAUTION",
    "DONE",
    "KEEP_GOING",
    "NEARLY",
    "NOT_READ",
    "TOO_FAR",
    "Ask",
    "Band",
    "Checked",
    "CurvePoint",
    "CurveRecords",
    "Estimate",
    "Event",
    "KeepingWords",
    "Limit",
    "Now",
    "Overshoot",
    "Rate",
    "SetWords",
    "Spreads",
    "StovePlan",
    "Target",
    "air_pressure",
    "check",
    "combined",
    "curve",
    "keeping",
    "low_acid_names",
    "now",
    "overshoot",
    "planned_words",
    "rate_g_per_min",
    "refractometer_shows",
    "set_words",
    "target",
    "target_brix",
]
