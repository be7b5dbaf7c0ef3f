"""Too far, too soft, how it sets and how it keeps."""

from decimal import Decimal

import pytest

from costing.reckoning.stove import (
    now,
    overshoot,
    planned_words,
    set_words,
)
from tests.costing.reckoning.stove_pans import at, damson, hot, strawberry, weighed

D = Decimal
JAM = strawberry()


def advice(*events, plan=JAM, **more):
    return overshoot(plan, now(plan, events, at=at(0)), **more)


def test_600_grams_of_solids_come_back_from_72_to_66_with_75_76_grams():
    # 600 x (100/66 - 100/72) = 75.76; here 1078.4 g of solids: 136.17 g.
    plan = strawberry(stop=66)
    found = advice(weighed(1500 + D("1517.78")), plan=plan)  # 1078.4/0.72 + 20

    assert found.is_over
    assert float(found.water_g) == pytest.approx(136.17, abs=0.6)


def test_a_firmer_product_costs_more_a_kilo_as_it_weighs_less():
    # 1517.8 and 1653.9 g in the pot, 30 g stay on it: 9 euros over 1.4878 and 1.6239 kg.
    found = advice(weighed(1500 + D("1517.78")), plan=strawberry(stop=66), cost_total=D(9))

    assert float(found.cost_per_kg) == pytest.approx(9 / 1.4878, abs=0.01)
    assert float(found.planned_cost_per_kg) == pytest.approx(9 / 1.6239, abs=0.01)
    assert "firm and sticky" in found.sentences[1]


def test_without_leave_to_see_money_none_is_shown():
    found = advice(weighed(3000))
    assert found.cost_per_kg is None
    assert "costs" not in " ".join(found.sentences)


def test_a_soft_pan_says_what_is_left_to_boil_off():
    found = advice(weighed(3500))
    assert not found.is_over
    assert found.water_g == 0
    assert float(found.to_boil_off_g) == pytest.approx(320.9, abs=0.5)
    assert "no sure cure" in found.sentences[1]


def test_burns_and_their_first_aid_stand_beside_it():
    # Kent Fire and Rescue: 20 min under cool running water; no ice, butter or creams.
    said = advice(weighed(3000)).caution
    assert "20 minutes" in said
    assert "no ice, butter or cream" in said


@pytest.mark.parametrize(
    # Common practice.
    ("brix", "word"),
    [
        ("61.9", "jam-like"), ("65", "soft-set"), ("67", "sliceable"), ("71", "may grain"),
        ("76", "candy"),
    ],
)  # fmt: skip
def test_set_words_by_solids_are_common_practice_and_say_so(brix, word):
    words = set_words(D(brix))
    assert word in words.expect
    assert words.source == "common practice"
    assert "pectin" in words.caution


def test_a_paste_near_105_degrees_is_firm_and_106_to_107_too_firm():
    # Common practice: firm near 105 C, too firm at 106-107 C.
    plan = damson()
    words = [advice(hot(read), plan=plan).set_words.expect for read in ("105", "107")]
    assert "paste" in words[0]
    assert "may grain" in words[1]
    assert "paste" in planned_words(plan).expect
