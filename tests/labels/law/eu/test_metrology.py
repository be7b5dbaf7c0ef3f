"""Packs with the e mark: Directive 76/211/EEC, Annex II [R], and Annex I to the row of 1 kg [R];
the row above it (from memory).
"""

import math
from decimal import Decimal

import pytest

from costing.reckoning.errors import ReckoningError
from labels.law.eu import metrology as law


@pytest.mark.parametrize(
    ("nominal", "error"),
    [
        # cases 101 to 105
        (40, "3.6"), (50, "4.5"), (75, "4.5"), (100, "4.5"),
        (113, "5.1"), (150, "6.8"), (185, "8.4"), (200, "9.0"), (227, "9"), (250, "9"), (300, "9"),
        (340, "10.2"), (454, "13.7"), (500, "15.0"), (720, "15"), (1000, "15"), (1500, "22.5"),
        (5, "0.5"), (10000, "150"),
    ],
)  # fmt: skip
def test_cases_101_to_105_the_tolerable_negative_error(nominal, error):
    assert law.tolerable_negative_error_g(Decimal(nominal)) == Decimal(error)


@pytest.mark.parametrize("nominal", ["4.9", "10000.1"])
def test_other_packs_have_no_tolerance_in_the_union(nominal):
    with pytest.raises(ReckoningError, match="5 g to 10 kg"):
        law.tolerable_negative_error_g(Decimal(nominal))


@pytest.mark.parametrize(
    ("held", "is_defective", "loses_the_mark"),
    [
        # cases 106, 107, 108: 340 g, tolerance 10.2, twice 20.4
        ("329.9", False, False), ("329.8", False, False), ("329.7", True, False),
        ("319.6", True, False), ("319.5", True, True),
    ],
)  # fmt: skip
def test_cases_106_to_108_a_jar_of_340_g(held, is_defective, loses_the_mark):
    nominal = Decimal(340)
    assert law.is_defective(Decimal(held), nominal_g=nominal) is is_defective
    assert law.may_not_bear_the_e_mark(Decimal(held), nominal_g=nominal) is loses_the_mark


@pytest.mark.parametrize(
    ("first", "second", "passes"),
    # cases 109 to 112: batch of 300 (Annex II, point 2.2.1)
    [(1, None, True), (2, None, None), (2, 2, True), (2, 3, False), (3, None, False)],
)
def test_cases_109_to_112_the_double_plan(first, second, passes):
    assert law.double_plan_accepts(300, first=first, second=second) is passes


@pytest.mark.parametrize(
    ("batch", "first", "both"),
    [
        (100, (30, 1, 3), (60, 4, 5)), (500, (30, 1, 3), (60, 4, 5)),
        (501, (50, 2, 5), (100, 6, 7)), (3200, (50, 2, 5), (100, 6, 7)),
        (3201, (80, 3, 7), (160, 8, 9)),
    ],
)  # fmt: skip
def test_the_rows_of_the_double_plan(batch, first, both):
    found = law.double_plan(batch)
    assert [(p.sample, p.accept, p.reject) for p in found] == [first, both]


def test_a_batch_under_a_hundred_has_no_plan():
    with pytest.raises(ValueError, match="every pack is weighed"):
        law.double_plan(99)


@pytest.mark.parametrize(
    ("sample", "least", "student"),
    # cases 116, 117, 118: 340 g, deviation 4.0 (Annex II, point 2.3.3). The last figure is t of
    # 0.995 with n - 1 degrees of freedom from a printed table of Student's distribution; k is t
    # over the root of n.
    [(30, "337.988", 2.756), (50, "338.484", 2.680), (20, "337.440", 2.861)],
)
def test_cases_116_to_118_the_mean(sample, least, student):
    found = law.least_mean_g(nominal_g=Decimal(340), sample=sample, deviation_g=Decimal("4.0"))
    assert found == Decimal(least)
    k = student / math.sqrt(sample)
    assert float(law.MEAN_FACTORS[sample]) == pytest.approx(k, abs=0.0006)
