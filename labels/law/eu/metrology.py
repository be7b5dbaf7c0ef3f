"""Whether a batch of packs with the e mark holds what its labels say.

Source throughout: Directive 76/211/EEC, Annexes I and II. Quantities are in g (or ml, which is
reckoned the same way). The single plan and the test of batches under 100 are not of this law.
"""

from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.weights import EU, thresholds
from labels.law.eu.acts import AVG_DIR
from labels.rulebook import Citation

PACKERS_RULES = Citation(AVG_DIR, "Annex I, point 1")
TOLERANCES = Citation(AVG_DIR, "Annex I, point 2.4")
REFERENCE_TEST = Citation(AVG_DIR, "Annex II")


@dataclass(frozen=True)
class Plan:
    """How many packs of a batch are tested, and how many defective ones pass or fail it."""

    sample: int
    accept: int
    reject: int


DOUBLE_PLANS = (
    (500, Plan(30, 1, 3), Plan(60, 4, 5)),
    (3200, Plan(50, 2, 5), Plan(100, 6, 7)),
    (None, Plan(80, 3, 7), Plan(160, 8, 9)),
)
"""Up to so many packs: the first sample, and both together (Annex II, point 2.2.1)."""
DESTRUCTIVE_PLAN = Plan(20, 1, 2)
SMALLEST_BATCH, LARGEST_BATCH = 100, 10_000
"""Under 100 packs every one is tested; a batch off the line counts as at most 10 000."""
MEAN_FACTORS = {30: Decimal("0.503"), 50: Decimal("0.379"), 20: Decimal("0.640")}
"""k of the test of the mean by sample: t of 0.995 over the root of the sample (point 2.3.3)."""


def tolerable_negative_error_g(nominal_g: Decimal) -> Decimal:
    """How much a pack may be short before it counts as defective [g].

    Range 5 to 10 000 g. Raises ReckoningError outside. Source: Annex I, point 2.4; the row above
    1 kg from memory.

    >>> [str(tolerable_negative_error_g(Decimal(g))) for g in (40, 113, 250, 454)]
    ['3.6', '5.1', '9', '13.7']
    """
    return thresholds(nominal_g, law=EU).tne_g


def is_defective(held_g: Decimal, *, nominal_g: Decimal) -> bool:
    """Whether a pack is short by more than the tolerance (Annex I, point 2.4)."""
    return held_g < thresholds(nominal_g, law=EU).t1_g


def may_not_bear_the_e_mark(held_g: Decimal, *, nominal_g: Decimal) -> bool:
    """Whether a pack is short by more than twice the tolerance (Annex I, point 1.3)."""
    return held_g < thresholds(nominal_g, law=EU).t2_g


def double_plan(batch: int) -> tuple[Plan, Plan]:
    """First and combined sample for a batch of 100 or more."""
    if batch < SMALLEST_BATCH:
        raise ValueError(f"A batch of {batch} packs has no plan: below 100 every pack is weighed.")
    rows = (r for r in DOUBLE_PLANS if r[0] is None or batch <= r[0])
    _, first, both = next(rows)
    return first, both


def double_plan_accepts(batch: int, *, first: int, second: int | None = None) -> bool | None:
    """Whether the defective packs found pass; None if the second sample must still be taken.

    first, second: defective packs in the first and in the second sample.
    """
    alone, both = double_plan(batch)
    if first <= alone.accept:
        return True
    if first >= alone.reject:
        return False
    return None if second is None else first + second <= both.accept


def least_mean_g(*, nominal_g: Decimal, sample: int, deviation_g: Decimal) -> Decimal:
    """Smallest mean of a sample that passes [g].

    sample: 30 for batches to 500, 50 above, 20 where packs are destroyed. Raises KeyError for
        another. deviation_g: of the sample, with n - 1.
    """
    return nominal_g - MEAN_FACTORS[sample] * deviation_g
