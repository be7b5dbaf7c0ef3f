"""Shrinkage towards a usual value: sums by hand, odd figures asked about."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.reckoning.learning import Observation, blend, short

YIELDS_KG = ("17.7", "18.3", "17.4", "18.6", "18.0")


def seen(*values):
    return [
        Observation(Decimal(str(value)), f"lot {number}") for number, value in enumerate(values, 1)
    ]


def test_five_puree_yields_move_a_usual_share_as_worked_by_hand():
    # Of 24 kg each: 0.7375, 0.7625, 0.725, 0.775, 0.75; mean 3.75 / 5 = 0.75; squares of the
    # distances 0.0015625 / 4 = 0.000390625, root 0.019764; over root 5 0.008839;
    # (2 x 0.72 + 3.75) / 7 = 0.741429.
    answer = blend(seen(*(Decimal(kg) / 24 for kg in YIELDS_KG)), default=Decimal("0.72"))
    assert round(answer.value, 6) == Decimal("0.741429")
    assert round(answer.mean, 6) == Decimal("0.750000")
    assert round(answer.sd, 6) == Decimal("0.019764")
    assert round(answer.standard_error, 6) == Decimal("0.008839")
    assert (answer.batches, answer.refused) == (5, ())


def test_without_batches_the_usual_value_stands_and_without_both_nothing_is_known():
    assert blend([], default=Decimal(72)).value == 72
    assert blend([], default=None).value is None


def test_without_a_usual_value_the_mean_is_what_there_is():
    answer = blend(seen(70, 74), default=None)
    assert answer.value == 72
    assert round(answer.sd, 6) == Decimal("2.828427")  # root of 8


def test_one_batch_has_no_spread():
    answer = blend(seen(75), default=Decimal(72))
    assert (answer.value, answer.sd, answer.standard_error) == (73, None, None)


@pytest.mark.parametrize(("value", "is_refused"), [("100", False), ("100.1", True), ("-1", True)])
def test_an_impossible_share_is_refused_with_a_question(value, is_refused):
    answer = blend(seen(value), default=Decimal(99), least=Decimal(0), most=Decimal(100))
    assert len(answer.refused) == is_refused
    if is_refused:
        assert "from 0 to 100" in answer.refused[0].question
        assert answer.value == 99


@pytest.mark.parametrize(
    # The others and the usual value centre on 75; 5 % of it is 3.75, four times that 15.
    ("odd", "is_refused"),
    [("89.9", False), ("90.1", True), ("60.1", False), ("59.9", True)],
)
def test_a_figure_far_from_all_the_others_is_asked_about(odd, is_refused):
    answer = blend(seen(75, 75, 75, odd), default=Decimal(75))
    assert len(answer.refused) == is_refused
    if is_refused:
        assert answer.refused[0].observation.source == "lot 4"
        assert "lot 4" in answer.refused[0].question
        assert answer.value == 75


def test_two_figures_cannot_say_which_of_them_is_odd():
    assert blend(seen(10, 90), default=None).refused == ()


@given(
    st.lists(st.decimals(min_value=70, max_value=80, places=2), min_size=1, max_size=12),
    st.decimals(min_value=70, max_value=80, places=2),
)
def test_the_blend_lies_between_the_usual_value_and_the_mean_and_nears_the_mean(values, usual):
    answer = blend(seen(*values), default=usual)
    tiny = Decimal("1e-20")
    assert answer.refused == ()
    assert min(usual, answer.mean) - tiny <= answer.value <= max(usual, answer.mean) + tiny
    # The usual value keeps 2 / (2 + n) of its say.
    share = Decimal(2) / (2 + len(values))
    assert abs(answer.value - answer.mean - share * (usual - answer.mean)) < Decimal("1e-20")


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [("74.142857", 3, "74.1"), ("0.88388", 1, "0.9"), ("1234.5", 3, "1234"), ("0", 3, "0")],
)
def test_figures_are_as_short_as_they_are_exact(value, digits, text):
    assert short(Decimal(value), digits=digits) == text


def test_what_its_maker_is_sure_of_counts_however_far_it_lies():
    # (2 x 75 + 74 + 73 + 73 + 40) / 6 = 68.33, without the 40: 370 / 5 = 74; the impossible never.
    usual = Decimal(75)
    odd = Observation(Decimal(40), "QA-3", is_sure=True)
    near = seen(74, 73, 73)
    assert blend([*near, odd], default=usual).value == Decimal(410) / 6
    assert blend([*near, Observation(Decimal(40), "QA-3")], default=usual).value == 74
    impossible = Observation(Decimal(140), "QA-4", is_sure=True)
    answer = blend([*near, impossible], default=usual, most=Decimal(100))
    assert [one.observation for one in answer.refused] == [impossible]
