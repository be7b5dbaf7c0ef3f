"""Medians of pieces of work that take turns, so that a busy machine is unfair to none of them.

Processor time is counted, not the clock on the wall: what waits for other programs costs nothing.
"""

import gc
from collections.abc import Callable
from statistics import median
from time import process_time

Work = Callable[[], object]
Maker = Callable[[int], Work]
"""Prepares the work of one round, which is not counted; the round is counted from 0."""


def spent_ms(work: Work) -> float:
    """Processor time of one piece of work, rubbish of earlier work cleared away before [ms]."""
    gc.collect()
    begun = process_time()
    work()
    return (process_time() - begun) * 1000


def medians_ms(*makers: Maker, rounds: int) -> tuple[float, ...]:
    """The median of each, every round running all of them one after the other [ms].

    Raises: ValueError unless there is a round to measure.
    """
    if rounds < 1:
        raise ValueError("Measure at least one round.")
    times: list[list[float]] = [[] for _ in makers]
    for number in range(rounds):
        for maker, found in zip(makers, times, strict=True):
            found.append(spent_ms(maker(number)))
    return tuple(median(found) for found in times)


def always(work: Work) -> Maker:
    """The same work in every round."""
    return lambda _number: work


def repeated(work: Work, times: int) -> Work:
    """A piece of work too short for the clock, done many times over."""

    def many() -> None:
        for _ in range(times):
            work()

    return many
