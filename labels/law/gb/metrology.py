"""Whether a batch of packs holds what its labels say: tolerances, plans, the test of the mean.

Source throughout: Weights and Measures (Packaged Goods) Regulations 2006, SI 2006/659, regs 4, 9
and 14, Schedules 2 and 3. Quantities are in g (or ml, which is reckoned the same way).
"""

from dataclasses import dataclass
from decimal import Decimal

from labels.mechanics.rounding import up_to

REACHES_FROM_G, REACHES_TO_G = Decimal(5), Decimal(25_000)

# Up to and including: a share of the nominal quantity [%], or a plain amount [g] (Schedule 3).
_TOLERANCES: tuple[tuple[Decimal, Decimal | None, Decimal | None], ...] = (
    (Decimal(50), Decimal(9), None),
    (Decimal(100), None, Decimal("4.5")),
    (Decimal(200), Decimal("4.5"), None),
    (Decimal(300), None, Decimal(9)),
    (Decimal(500), Decimal(3), None),
    (Decimal(1000), None, Decimal(15)),
    (Decimal(10_000), Decimal("1.5"), None),
    (Decimal(15_000), None, Decimal(150)),
)
_ABOVE_PCT = Decimal(1)
_STEP_G = Decimal("0.1")
MOST_ERROR_OF_TOLERANCE = Decimal(1) / Decimal(5)
"""How far the packer's own weighing may be out, as a part of the tolerance (Sch. 2, para. 1.3)."""


def tolerable_negative_error_g(nominal_g: Decimal) -> Decimal:
    """How much a pack may be short before it counts as defective [g]; per cents rounded up to 0.1.

    Range 5 to 25 000 g. Raises ValueError outside. Source: SI 2006/659, Sch. 3.

    >>> [str(tolerable_negative_error_g(Decimal(g))) for g in (40, 113, 250, 454)]
    ['3.6', '5.1', '9', '13.7']
    """
    if not REACHES_FROM_G <= nominal_g <= REACHES_TO_G:
        raise ValueError(f"{nominal_g} g: packs of constant weight go from 5 g to 25 kg.")
    for largest, pct, plain_g in _TOLERANCES:
        if nominal_g <= largest:
            return plain_g if plain_g is not None else _of(nominal_g, pct or Decimal(0))
    return _of(nominal_g, _ABOVE_PCT)


def _of(nominal_g: Decimal, pct: Decimal) -> Decimal:
    return up_to(nominal_g * pct / 100, _STEP_G)


def is_defective(held_g: Decimal, *, nominal_g: Decimal) -> bool:
    """Whether a pack is short by more than the tolerance (Sch. 2, paras 3.1 and 3.2)."""
    return nominal_g - held_g > tolerable_negative_error_g(nominal_g)


def may_not_be_sold(held_g: Decimal, *, nominal_g: Decimal) -> bool:
    """Whether a pack is short by more than twice the tolerance (regs 4(1)(c) and 14(1))."""
    return nominal_g - held_g > 2 * tolerable_negative_error_g(nominal_g)


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
"""Up to so many packs: the first sample, and both together (Sch. 2, para. 3.4)."""
SINGLE_PLANS = ((500, Plan(50, 3, 4)), (3200, Plan(80, 5, 6)), (None, Plan(125, 7, 8)))
"""The other plan of Great Britain (Sch. 2, para. 3.5)."""
DESTRUCTIVE_PLAN = Plan(20, 1, 2)
SMALLEST_BATCH, LARGEST_BATCH = 100, 10_000
"""Under 100 packs every one is tested; a batch off the line counts as at most 10 000."""
SMALL_BATCH_DEFECTIVE_PCT = Decimal(5)


def double_plan(batch: int) -> tuple[Plan, Plan]:
    """First and combined sample for a batch of 100 or more."""
    _of_plan_size(batch)
    return next(
        (first, both)
        for largest, first, both in DOUBLE_PLANS
        if largest is None or batch <= largest
    )


def single_plan(batch: int) -> Plan:
    """The single sample for a batch of 100 or more."""
    _of_plan_size(batch)
    return next(plan for largest, plan in SINGLE_PLANS if largest is None or batch <= largest)


def _of_plan_size(batch: int) -> None:
    if batch < SMALLEST_BATCH:
        raise ValueError(f"A batch of {batch} packs has no plan: below 100 every pack is weighed.")


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


def small_batch_accepts(weights: int, *, defective: int) -> bool:
    """Whether a batch under 100 packs, all weighed, has at most 5 % defective (Sch. 2, 3.6)."""
    return Decimal(defective) * 100 <= SMALL_BATCH_DEFECTIVE_PCT * weights


# k of the test of the mean, by batch and sample (Sch. 2, paras 4.5 and 4.6): the mean may lie below
# the nominal quantity by k times the standard deviation, for a sample tells the mean only roughly.
MEAN_FACTORS = {30: Decimal("0.503"), 50: Decimal("0.379"), 20: Decimal("0.640")}


def least_mean_g(*, nominal_g: Decimal, sample: int, deviation_g: Decimal) -> Decimal:
    """Smallest mean of a sample that passes [g].

    sample: 30 for batches to 500, 50 above, 20 where packs are destroyed; below 100 packs, all of
    them, and the mean itself must reach the nominal quantity (Sch. 2, para. 4.7).
    deviation_g: of the sample, with n - 1.
    """
    return nominal_g - MEAN_FACTORS.get(sample, Decimal(0)) * deviation_g
