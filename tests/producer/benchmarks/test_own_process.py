"""A run in a process of its own gives its figures back, and its failure if it fails."""

import pytest

from producer.benchmarks.label_runs import found_setting
from producer.benchmarks.own_process import spent_in_own_process


@pytest.mark.parametrize("side", ["ours", "floor"])
def test_a_run_of_its_own_says_what_it_took(side):
    spent = spent_in_own_process(side, "same", count=1, setting=found_setting())
    assert spent.ms > 0
    assert spent.peak_mb > 5  # Python alone takes more
    assert spent.size_kb > 1


def test_a_run_that_fails_is_not_passed_over():
    with pytest.raises(RuntimeError, match="failed"):
        spent_in_own_process("ours", "same", count=0, setting=found_setting())
