"""What is counted is the work, in turns; how long it takes is no matter for a test."""

import pytest

from producer.benchmarks.timing import always, medians_ms, repeated, spent_ms


def test_every_round_runs_each_work_once_and_in_turns():
    seen = []

    def maker(name):
        return lambda number: lambda: seen.append((name, number))

    found = medians_ms(maker("ours"), maker("floor"), rounds=2)
    assert seen == [("ours", 0), ("floor", 0), ("ours", 1), ("floor", 1)]
    assert len(found) == 2


def test_what_a_maker_prepares_is_done_before_the_work():
    order = []

    def maker(number):
        order.append("prepared")
        return lambda: order.append("worked")

    medians_ms(maker, rounds=1)
    assert order == ["prepared", "worked"]


def test_without_a_round_there_is_nothing_to_say():
    with pytest.raises(ValueError, match="at least one round"):
        medians_ms(always(list), rounds=0)


def test_work_too_short_for_the_clock_is_done_many_times():
    done = []
    assert spent_ms(repeated(lambda: done.append(1), 7)) >= 0
    assert len(done) == 7
