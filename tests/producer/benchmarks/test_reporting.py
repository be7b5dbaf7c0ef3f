"""Ratios and times as they are printed, and the threshold of a goal on both sides."""

import pytest

from producer.benchmarks.pages import Measured
from producer.benchmarks.reporting import Table, in_ms, in_ratio, verdict


@pytest.mark.parametrize(
    ("time_ms", "text"),
    [(0.0123, "0.012 ms"), (1.234, "1.23 ms"), (45.67, "45.7 ms"), (1234.4, "1234 ms")],
)
def test_a_time_has_about_three_figures(time_ms, text):
    assert in_ms(time_ms) == text


def test_a_ratio_is_ours_over_the_floor():
    assert in_ratio(30, 40) == "0.75"
    assert (verdict(is_met=True), verdict(is_met=False)) == ("goal met", "goal not met")


def test_columns_of_a_table_stand_under_each_other():
    table = Table("Labels", ("run", "ratio"), (("1", "12.00"), ("500", "0.90")), ("A note.",))
    # The first column is as wide as "run" and "500", the second as "12.00".
    assert table.as_text().splitlines() == [
        "Labels",
        "======",
        "run  ratio",
        "----------",
        "1    12.00",
        "500   0.90",
        "  A note.",
    ]


@pytest.mark.parametrize(
    ("queries", "times_ms", "is_met"),
    [
        ((9, 9, 9), (10.0, 11.0, 12.0), True),  # 12.0 / 10.0 = 1.2, the most there may be
        ((9, 9, 9), (10.0, 11.0, 12.1), False),
        ((9, 9, 10), (10.0, 10.0, 10.0), False),
    ],
)
def test_a_page_meets_its_goal_with_no_more_queries_and_a_fifth_more_time(
    queries, times_ms, is_met
):
    page = Measured("recipes", queries, (10, 25, 25), times_ms)
    assert page.is_met() is is_met


def test_a_page_may_also_be_held_against_the_kitchen_in_the_middle():
    page = Measured("recipes", (9, 9, 9), (10, 25, 25), (10.0, 20.0, 21.0))
    assert not page.is_met()  # 2.1
    assert page.is_met(against=1)  # 1.05
