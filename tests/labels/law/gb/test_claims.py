"""Claims: Regulation (EC) No 1924/2006, Annex, as assimilated [R, text of the original act]."""

from decimal import Decimal

import pytest

from labels.law.gb.claims import may_say_reduced, reduction_pct
from tests.labels.law.gb.builders import a_label, by_rule, faults, used

NONE_ADDED = "no_added_sugar_means_nothing_that_sweetens"


def test_case_132_apple_concentrate_ends_no_added_sugar():
    pears = used("pears", 900, category="fruit")
    facts = a_label(
        pears, used("apple juice concentrate", 100), claims=("with no added sugar",),
        shows_nutrition=True,
    )  # fmt: skip
    assert NONE_ADDED in faults(facts)
    plain = a_label(pears, claims=("with no added sugar",), shows_nutrition=True)
    assert NONE_ADDED not in faults(plain)


def test_the_name_may_make_the_claim_too():
    facts = a_label(used("pears", 900), used("honey", 50), name_of_food="No added sugar pear paste")
    assert NONE_ADDED in faults(facts)


@pytest.mark.parametrize(
    ("amount", "pct", "may"),
    [
        # cases 133 and 134, against 60 g; and the threshold itself
        (41, "31.7", True), (43, "28.3", False), (42, "30.0", True), ("42.1", "29.8", False),
    ],
)  # fmt: skip
def test_cases_133_134_reduced_is_thirty_per_cent_less(amount, pct, may):
    both = {"amount": Decimal(str(amount)), "in_like_product": Decimal(60)}
    assert round(reduction_pct(**both), 1) == Decimal(pct)
    assert may_say_reduced(**both) is may


def test_every_claim_is_looked_at():
    facts = a_label(claims=("source of fibre", " "))
    assert [f.level for f in by_rule("a_claim_is_one_of_the_list", facts)] == ["look at this"]
