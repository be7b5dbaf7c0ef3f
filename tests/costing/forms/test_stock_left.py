"""What is asked where more is typed of an own batch than is left of it."""

from decimal import Decimal

import pytest

from costing.forms.stock_left import Taking, overdrawn
from costing.models import Batch

LEFT = {7: Decimal(3200)}


def a_tub(pk=7, lot="QP-26260", net_g=15000):
    return Batch(pk=pk, lot=lot, net_g=Decimal(net_g))


# Two scales may differ by 0.5 % of the 15 kg: 3200 + 75 = 3275 g.
@pytest.mark.parametrize(("grams", "is_asked"), [(3200, False), (3275, False), (3276, True)])
def test_only_clearly_more_than_is_left_is_asked_about(grams, is_asked):
    taken = overdrawn([Taking("0", a_tub(), Decimal(grams))], left_g=LEFT)
    assert bool(taken) is is_asked


def test_the_question_says_what_is_left_and_what_was_typed():
    taken = overdrawn([Taking("0", a_tub(), Decimal(4000))], left_g=LEFT)
    assert taken == {
        "0": "Of QP-26260 there are 3.2 kg left; you typed 4 kg. Type what you weighed, or tick"
        " “I looked again”."
    }


def test_two_lines_out_of_one_tub_count_together_and_only_the_new_one_is_asked():
    rows = [
        Taking("0", a_tub(), Decimal(3000), is_new=False),
        Taking("0-2", a_tub(), Decimal(1000)),
        Taking("1", a_tub(8, "QA-1"), Decimal(1000)),
    ]
    taken = overdrawn(rows, left_g=LEFT | {8: Decimal(1000)})
    assert list(taken) == ["0-2"]
    assert "you typed 4 kg together" in taken["0-2"]


def test_an_empty_tub_and_a_planned_weight_are_said_as_they_are():
    taken = overdrawn([Taking("0", a_tub(9), Decimal(9000), is_typed=False)], left_g=LEFT)
    assert taken["0"].startswith("Of QP-26260 nothing is left; planned are 9 kg.")
