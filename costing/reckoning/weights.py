"""Weights of packs: how short is short in law, what a sample says, which average is safe.

For packs of one declared weight. Slabs weighed and labelled one by one stand outside these rules:
each carries its own true weight. Weighing every pack, none below its label, needs none of this.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from statistics import NormalDist, mean, stdev

from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say
from costing.units import as_float, exact

HUNDRED = Decimal(100)
EU, GB = "EU", "GB"
SMALLEST_G = Decimal(5)
LARGEST_G = {EU: Decimal(10_000), GB: Decimal(25_000)}
ALLOWED_SHORT_PCT = Decimal("2.5")
"""Share of packs that may be short by more than the tolerable error.

Common practice for small packers; the law's own test counts packs in a sample (Directive
76/211/EEC, Annex II).
"""
SAMPLE_TO_TRUST = 30
"""First sample of the law's own test for 100 to 500 packs (Directive 76/211/EEC, Annex II)."""

_STEP_G = Decimal("0.1")
_STEP_PCT = "0.0001"


# --- How short is short ---------------------------------------------------------------------------


@dataclass(frozen=True)
class Band:
    """A row of the table: from the row above up to a weight, a percentage or so many grams."""

    up_to_g: Decimal
    error: Decimal
    is_pct: bool


BANDS = (
    Band(Decimal(50), Decimal(9), is_pct=True),
    Band(Decimal(100), Decimal("4.5"), is_pct=False),
    Band(Decimal(200), Decimal("4.5"), is_pct=True),
    Band(Decimal(300), Decimal(9), is_pct=False),
    Band(Decimal(500), Decimal(3), is_pct=True),
    Band(Decimal(1000), Decimal(15), is_pct=False),
    Band(Decimal(10_000), Decimal("1.5"), is_pct=True),
    Band(Decimal(15_000), Decimal(150), is_pct=False),
    Band(Decimal(25_000), Decimal(1), is_pct=True),
)
"""Directive 76/211/EEC, Annex I, 2.4 to 10 kg (the last row from memory); SI 2006/659, Schedule 3,
to 25 kg. Values agree at every boundary."""


@dataclass(frozen=True)
class Thresholds:
    """A declared weight with its tolerable negative error (TNE).

    t1_g: declared less TNE; a pack below it is defective. t2_g: declared less twice TNE; a pack
    below it may not be sold (GB) nor bear the e mark (EU).
    """

    declared_g: Decimal
    tne_g: Decimal
    t1_g: Decimal
    t2_g: Decimal


def tolerable_negative_error_g(declared_g: Decimal, *, law: str = EU) -> Decimal:
    """How far below its label a pack may be before it counts as defective [g].

    declared_g: nominal weight, or volume in millilitres. law: "EU" (5 g to 10 kg) or "GB" (to
        25 kg).
    Percentages give grams rounded up to the next tenth.
    Raises ReckoningError outside the weights the law speaks of.
    Source: Directive 76/211/EEC, Annex I, 2.4; SI 2006/659, Schedule 3.

    >>> [str(tolerable_negative_error_g(Decimal(g))) for g in (40, 100, 113, 340)]
    ['3.6', '4.5', '5.1', '10.2']
    """
    more_than_nothing(declared_g, what="The declared weight", field="declared_g", unit="g")
    largest_g = LARGEST_G[law]
    if not SMALLEST_G <= declared_g <= largest_g:
        raise ReckoningError(
            f"The rules on average weight speak of {SMALLEST_G} g to {largest_g / 1000:f} kg; "
            f"{say(declared_g)} g lies outside. Weigh each pack and put its own weight on it.",
            field="declared_g",
        )
    band = next(band for band in BANDS if declared_g <= band.up_to_g)
    if not band.is_pct:
        return band.error
    return (declared_g * band.error / HUNDRED).quantize(_STEP_G, rounding=ROUND_CEILING)


def thresholds(declared_g: Decimal, *, law: str = EU) -> Thresholds:
    """The weights below which a pack is defective, and may not be sold at all."""
    tne_g = tolerable_negative_error_g(declared_g, law=law)
    return Thresholds(declared_g, tne_g, declared_g - tne_g, declared_g - 2 * tne_g)


# --- A sample on the scale ------------------------------------------------------------------------


@dataclass(frozen=True)
class Rule:
    """One of the packers' rules on this sample. verdict: a sentence with its figures."""

    number: int
    is_met: bool
    verdict: str


@dataclass(frozen=True)
class CheckWeighing:
    """What a sample of net weights says. spread_g: sample standard deviation, None for one pack."""

    limits: Thresholds
    packs: int
    mean_g: Decimal
    spread_g: Decimal | None
    below_declared: int
    below_t1: int
    below_t2: int
    below_t1_pct: Decimal
    rules: tuple[Rule, Rule, Rule]
    cautions: tuple[str, ...]

    @property
    def is_met(self) -> bool:
        """Whether the sample meets all three rules."""
        return all(rule.is_met for rule in self.rules)


def check_weighing(
    net_weights_g: Sequence[Decimal], *, declared_g: Decimal, law: str = EU
) -> CheckWeighing:
    """Check a sample against the three packers' rules: average, few short, none far short.

    net_weights_g: of each pack, jar and wrapping taken off.
    Raises ReckoningError for no packs, and for weights that look gross or mistyped.
    Source: Directive 76/211/EEC, Annex I, 1; SI 2006/659, regulation 4. The share allowed short
        is common practice.
    """
    limits = thresholds(declared_g, law=law)
    _check_sample(net_weights_g, declared_g)
    packs = len(net_weights_g)
    mean_g = mean(net_weights_g)
    below_t1 = sum(weight < limits.t1_g for weight in net_weights_g)
    below_t2 = sum(weight < limits.t2_g for weight in net_weights_g)
    below_t1_pct = Decimal(below_t1) * HUNDRED / packs
    return CheckWeighing(
        limits=limits,
        packs=packs,
        mean_g=mean_g,
        spread_g=stdev(net_weights_g) if packs > 1 else None,
        below_declared=sum(weight < declared_g for weight in net_weights_g),
        below_t1=below_t1,
        below_t2=below_t2,
        below_t1_pct=below_t1_pct,
        rules=(
            _average_rule(mean_g, declared_g),
            _few_short_rule(below_t1, packs, below_t1_pct, limits),
            _none_far_short_rule(below_t2, limits),
        ),
        cautions=_sample_cautions(packs),
    )


def _check_sample(net_weights_g: Sequence[Decimal], declared_g: Decimal) -> None:
    if not net_weights_g:
        raise ReckoningError("Weigh some packs first: at least one.", field="net_weights_g")
    for number, weight in enumerate(net_weights_g, start=1):
        more_than_nothing(weight, what=f"Weight {number}", field="net_weights_g", unit="g")
        if not declared_g / 2 <= weight <= declared_g * 2:
            raise ReckoningError(
                f"Weight {number}, {say(weight)} g, is far from the declared {say(declared_g)} g. "
                "Was the jar weighed with it, or a digit lost? Leave out what was mistyped.",
                field="net_weights_g",
            )


def _average_rule(mean_g: Decimal, declared_g: Decimal) -> Rule:
    is_met = mean_g >= declared_g
    verdict = (
        f"The average of these packs is {say(mean_g, places=3)} g, "
        f"{'not below' if is_met else 'below'} the declared {say(declared_g)} g."
    )
    return Rule(1, is_met, verdict)


def _few_short_rule(below_t1: int, packs: int, share_pct: Decimal, limits: Thresholds) -> Rule:
    is_met = share_pct <= ALLOWED_SHORT_PCT
    verdict = f"{below_t1} of {packs} packs below {say(limits.t1_g)} g ({say(share_pct)} %)"
    if is_met:
        return Rule(2, True, f"{verdict}, within {ALLOWED_SHORT_PCT} %.")
    return Rule(
        2, False, f"{verdict}, above {ALLOWED_SHORT_PCT} %. Take those out and weigh more packs."
    )


def _none_far_short_rule(below_t2: int, limits: Thresholds) -> Rule:
    if not below_t2:
        return Rule(3, True, f"No pack is below {say(limits.t2_g)} g.")
    return Rule(
        3,
        False,
        f"Below {say(limits.t2_g)} g: {below_t2}. Such packs may not be sold at this weight. Sell "
        "them at their own weight.",
    )


def _sample_cautions(packs: int) -> tuple[str, ...]:
    if packs >= SAMPLE_TO_TRUST:
        return ()
    return (
        (
            f"{packs} packs say little about the rest: one short pack in them is "
            f"{say(HUNDRED / packs, places=1)} %. The law's own test begins with "
            f"{SAMPLE_TO_TRUST} packs, and below 100 packs British law checks all. Weighing every "
            "pack, none below its label, settles it."
        ),
    )


# --- Risk and the safe average --------------------------------------------------------------------


@dataclass(frozen=True)
class UnderweightRisk:
    """Shares of packs below the label, below T1 and below T2, for a normal spread [%]."""

    mean_g: Decimal
    spread_g: Decimal
    limits: Thresholds
    below_declared_pct: Decimal
    below_t1_pct: Decimal
    below_t2_pct: Decimal


def underweight_risk(
    *, mean_g: Decimal, spread_g: Decimal, declared_g: Decimal, law: str = EU
) -> UnderweightRisk:
    """How many packs fall short, if weights scatter about their average as a bell curve.

    mean_g: average net weight. spread_g: standard deviation of single packs.
    Raises ReckoningError for figures below zero or a weight outside the rules.
    """
    more_than_nothing(mean_g, what="The average", field="mean_g", unit="g")
    nothing_or_more(spread_g, what="The spread", field="spread_g", unit="g")
    limits = thresholds(declared_g, law=law)
    declared_pct, t1_pct, t2_pct = (
        _below_pct(limit_g, mean_g=mean_g, spread_g=spread_g)
        for limit_g in (declared_g, limits.t1_g, limits.t2_g)
    )
    return UnderweightRisk(mean_g, spread_g, limits, declared_pct, t1_pct, t2_pct)


@dataclass(frozen=True)
class SafeMean:
    """The smallest average, to a tenth of a gram, that keeps the average and the short packs right.

    is_average_binding: True when the label itself sets it, False when the spread does.
    """

    mean_g: Decimal
    over_g: Decimal
    is_average_binding: bool
    risk: UnderweightRisk


def safe_mean(*, declared_g: Decimal, spread_g: Decimal, law: str = EU) -> SafeMean:
    """What to aim for: average not below the label, and under 2.5 % of packs below T1.

    Says nothing against a drift within the batch; a batch aimed exactly at its label ends below it
    half of the time.
    """
    nothing_or_more(spread_g, what="The spread", field="spread_g", unit="g")
    limits = thresholds(declared_g, law=law)
    deviations = NormalDist().inv_cdf(1 - as_float(ALLOWED_SHORT_PCT / HUNDRED))
    for_short_g = limits.t1_g + exact(deviations, step="1e-9") * spread_g
    mean_g = max(declared_g, for_short_g.quantize(_STEP_G, rounding=ROUND_CEILING))
    risk = underweight_risk(mean_g=mean_g, spread_g=spread_g, declared_g=declared_g, law=law)
    if risk.below_t1_pct >= ALLOWED_SHORT_PCT:  # the step fell on the limit itself
        mean_g += _STEP_G
        risk = underweight_risk(mean_g=mean_g, spread_g=spread_g, declared_g=declared_g, law=law)
    return SafeMean(mean_g, mean_g - declared_g, mean_g == declared_g, risk)


def mean_for_every_pack_g(
    *, declared_g: Decimal, spread_g: Decimal, short_pct: Decimal = Decimal(1)
) -> Decimal:
    """What to aim for when every pack is weighed and few should need topping up [g].

    short_pct: share that may come out below the label and is topped up or cut again.
    """
    more_than_nothing(declared_g, what="The declared weight", field="declared_g", unit="g")
    nothing_or_more(spread_g, what="The spread", field="spread_g", unit="g")
    if not 0 < short_pct <= 50:
        raise ReckoningError(
            "The share to top up lies above 0 and at most at 50 %.", field="short_pct"
        )
    deviations = NormalDist().inv_cdf(1 - as_float(short_pct / HUNDRED))
    aim_g = declared_g + exact(deviations, step="1e-9") * spread_g
    return aim_g.quantize(_STEP_G, rounding=ROUND_CEILING)


def _below_pct(limit_g: Decimal, *, mean_g: Decimal, spread_g: Decimal) -> Decimal:
    if spread_g == 0:
        return HUNDRED if mean_g < limit_g else Decimal(0)
    deviations = as_float((limit_g - mean_g) / spread_g)
    # erfc keeps its digits far out, where 1 + erf would not.
    return exact(50 * math.erfc(-deviations / math.sqrt(2)), step=_STEP_PCT)
