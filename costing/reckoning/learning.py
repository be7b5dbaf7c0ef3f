"""Better figures from a kitchen's own batches: a usual value, and what was really measured."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

WORTH_BATCHES = Decimal(2)
"""How many batches a usual value counts for, against the kitchen's own (judgement)."""

ASK_BEYOND_SD = Decimal(4)
SMALLEST_SPREAD_PCT = Decimal(5)
"""A figure is asked about when it lies further from the others than four of their standard
deviations, and these are taken as no smaller than 5 % of the value (judgement)."""


@dataclass(frozen=True)
class Observation:
    """One measured figure, and where it comes from (a lot).

    is_sure: its maker said that it counts, however far it lies from the others.
    """

    value: Decimal
    source: str = ""
    is_sure: bool = False


@dataclass(frozen=True)
class Refused:
    """A figure that was left out, and the question to its maker."""

    observation: Observation
    question: str


@dataclass(frozen=True)
class Blend:
    """A usual value blended with the kitchen's own mean.

    value: what to reckon with; None without default and batches. mean: of the batches.
    sd: standard deviation of the batches (n - 1); standard_error: sd / sqrt(n).
    """

    value: Decimal | None
    batches: int
    mean: Decimal | None = None
    sd: Decimal | None = None
    standard_error: Decimal | None = None
    refused: tuple[Refused, ...] = ()


def blend(
    observations: Sequence[Observation],
    *,
    default: Decimal | None,
    least: Decimal | None = None,
    most: Decimal | None = None,
    what: str = "this figure",
) -> Blend:
    """Shrink the kitchen's mean towards a usual value that is worth two batches.

    (2 x default + sum of the batches) / (2 + n). What lies outside least..most, or far from all
    the others and is not sure, is left out with a question.
    """
    kept, refused = _sifted(observations, default=default, least=least, most=most, what=what)
    values = [one.value for one in kept]
    n = len(values)
    if not n:
        return Blend(value=default, batches=0, refused=refused)
    mean = sum(values, Decimal(0)) / n
    sd = _sd(values)
    value = mean
    if default is not None:
        value = (WORTH_BATCHES * default + sum(values, Decimal(0))) / (WORTH_BATCHES + n)
    error = None if sd is None else sd / Decimal(n).sqrt()
    return Blend(value, n, mean=mean, sd=sd, standard_error=error, refused=refused)


def _sd(values: Sequence[Decimal]) -> Decimal | None:
    n = len(values)
    if n <= 1:
        return None
    mean = sum(values, Decimal(0)) / n
    return (sum(((value - mean) ** 2 for value in values), Decimal(0)) / (n - 1)).sqrt()


def _sifted(
    observations: Sequence[Observation],
    *,
    default: Decimal | None,
    least: Decimal | None,
    most: Decimal | None,
    what: str,
) -> tuple[list[Observation], tuple[Refused, ...]]:
    """Impossible ones first; then, one at a time, the one furthest from all the others."""
    refused: list[Refused] = []
    kept: list[Observation] = []
    for one in observations:
        too_low = least is not None and one.value < least
        too_high = most is not None and one.value > most
        if too_low or too_high:
            refused.append(Refused(one, _impossible(one, what=what, least=least, most=most)))
        else:
            kept.append(one)
    while (odd := _oddest(kept, default=default)) is not None:
        kept.remove(odd)
        refused.append(Refused(odd, _unusual(odd, kept, what=what)))
    return kept, tuple(refused)


def _oddest(kept: Sequence[Observation], *, default: Decimal | None) -> Observation | None:
    """The observation furthest from the others, where it is too far to go unasked."""
    worst, furthest = None, Decimal(1)
    for number, one in enumerate(kept):
        if one.is_sure:
            continue
        others = [other.value for i, other in enumerate(kept) if i != number]
        if len(others) <= 1:
            continue  # two batches cannot say which of them is odd
        usual = [] if default is None else [default] * int(WORTH_BATCHES)
        centre = sum([*others, *usual], Decimal(0)) / (len(others) + len(usual))
        spread = max(_sd(others) or Decimal(0), abs(centre) * SMALLEST_SPREAD_PCT / 100)
        if spread and (distance := abs(one.value - centre) / (ASK_BEYOND_SD * spread)) > furthest:
            worst, furthest = one, distance
    return worst


def _impossible(one: Observation, *, what: str, least: Decimal | None, most: Decimal | None) -> str:
    limits = (
        f"from {least:f} to {most:f}"
        if least is not None and most is not None
        else (f"at least {least:f}" if least is not None else f"at most {most:f}")
    )
    return (
        f"{one.source or 'One batch'} gives {short(one.value)} for {what}, which must be {limits}."
        " Is a weight of that batch wrong? It is left out."
    )


def _unusual(one: Observation, others: Sequence[Observation], *, what: str) -> str:
    mean = sum((other.value for other in others), Decimal(0)) / len(others)
    return (
        f"{one.source or 'One batch'} gives {short(one.value)} for {what}, your other"
        f" {len(others)} about {short(mean)}. Was a weight wrong, or was something different?"
        " It is left out until you say."
    )


def short(value: Decimal, *, digits: int = 4) -> str:
    """So many digits at least, decimals that say nothing left out, whole numbers whole."""
    if not value:
        return "0"
    return f"{round(value, max(0, digits - 1 - value.adjusted())).normalize():f}"
