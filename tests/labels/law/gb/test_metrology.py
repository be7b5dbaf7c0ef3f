"""Packers' rules: Weights and Measures (Packaged Goods) Regulations 2006, SI 2006/659 [R]."""

import math
from decimal import Decimal

import pytest

from labels.law.gb import metrology as law
from labels.law.gb.metrology import tolerable_negative_error_g


@pytest.mark.parametrize(
    ("nominal", "error"),
    [
        # case 101
        (40, "3.6"), (50, "4.5"), (75, "4.5"), (100, "4.5"),
        # case 102: per cents rounded up to 0.1 g
        (113, "5.1"), (150, "6.8"), (185, "8.4"), (200, "9.0"),
        # case 103
        (227, "9"), (250, "9"), (300, "9"),
        # case 104
        (340, "10.2"), (454, "13.7"), (500, "15.0"),
        # case 105
        (720, "15"), (1000, "15"), (1500, "22.5"),
        # the last rows of Great Britain
        (10000, "150"), (15000, "150"), (15001, "150.1"), (25000, "250"), (5, "0.5"),
    ],
)  # fmt: skip
def test_cases_101_to_105_the_tolerable_negative_error(nominal, error):
    # Sch. 3
    assert tolerable_negative_error_g(Decimal(nominal)) == Decimal(error)


@pytest.mark.parametrize("nominal", ["4.9", "25000.1", "-1"])
def test_other_packs_have_no_tolerance(nominal):
    with pytest.raises(ValueError, match="5 g to 25 kg"):
        tolerable_negative_error_g(Decimal(nominal))


@pytest.mark.parametrize(
    ("held", "is_defective", "may_not_be_sold"),
    [
        # cases 106, 107, 108: 340 g, tolerance 10.2, twice 20.4
        ("329.9", False, False), ("329.8", False, False), ("329.7", True, False),
        ("319.6", True, False), ("319.5", True, True),
    ],
)  # fmt: skip
def test_cases_106_to_108_a_jar_of_340_g(held, is_defective, may_not_be_sold):
    # Sch. 2, paras 3.1 and 3.2; regs 4(1)(c) and 14(1)
    nominal = Decimal(340)
    assert law.is_defective(Decimal(held), nominal_g=nominal) is is_defective
    assert law.may_not_be_sold(Decimal(held), nominal_g=nominal) is may_not_be_sold


@pytest.mark.parametrize(
    ("first", "second", "passes"),
    [
        # cases 109 to 112: batch of 300
        (1, None, True), (2, None, None), (2, 2, True), (2, 3, False), (3, None, False),
    ],
)  # fmt: skip
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


@pytest.mark.parametrize(
    ("batch", "plan"),
    [
        # case 113: batch of 400, 3 pass and 4 fail
        (400, (50, 3, 4)), (501, (80, 5, 6)), (3200, (80, 5, 6)), (3201, (125, 7, 8)),
    ],
)  # fmt: skip
def test_case_113_the_single_plan(batch, plan):
    found = law.single_plan(batch)
    assert (found.sample, found.accept, found.reject) == plan


def test_a_batch_under_a_hundred_has_no_plan():
    with pytest.raises(ValueError, match="every pack is weighed"):
        law.single_plan(99)


@pytest.mark.parametrize(
    ("packs", "defective", "passes"),
    [
        # cases 114 and 115: 3 of 60 are 5 %, 4 are 6.7 %
        (60, 3, True), (60, 4, False), (99, 4, True), (99, 5, False),
    ],
)  # fmt: skip
def test_cases_114_115_a_small_batch_is_weighed_whole(packs, defective, passes):
    # Sch. 2, para. 3.6
    assert law.small_batch_accepts(packs, defective=defective) is passes


@pytest.mark.parametrize(
    ("sample", "least"),
    [
        # cases 116, 117, 118: 340 - k x 4.0; and case 114, all weighed: the mean itself
        (30, "337.988"), (50, "338.484"), (20, "337.440"), (60, "340"),
    ],
)  # fmt: skip
def test_cases_116_to_118_the_test_of_the_mean(sample, least):
    # Sch. 2, paras 4.5 to 4.7
    found = law.least_mean_g(nominal_g=Decimal(340), sample=sample, deviation_g=Decimal("4.0"))
    assert found == Decimal(least)


@pytest.mark.parametrize(
    ("sample", "t"),
    [
        # Student's t at 0.995 for n - 1 degrees of freedom, from any printed table
        (20, 2.861), (30, 2.756), (50, 2.680),
    ],
)  # fmt: skip
def test_the_factors_are_those_of_students_t(sample, t):
    assert float(law.MEAN_FACTORS[sample]) == pytest.approx(t / math.sqrt(sample), abs=0.0006)


def test_the_scale_is_five_times_finer_than_the_tolerance():
    # Sch. 2, para. 1.3
    assert law.MOST_ERROR_OF_TOLERANCE * 5 == 1
