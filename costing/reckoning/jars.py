"""Jars: how full, how many, how much to fill, and what filling over the label gives away."""

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say
from costing.reckoning.moulds import check_density
from costing.reckoning.pan import settled
from costing.reckoning.purchases import G_PER_KG
from costing.reckoning.weights import EU, safe_mean

HUNDRED = Decimal(100)
USUAL_FULL_PCT = Decimal(90)
"""Jars are filled to about nine tenths (common practice)."""

_FULLEST_PCT, _EMPTIEST_PCT = Decimal(97), Decimal(80)


@dataclass(frozen=True)
class JarFill:
    """A mass in a jar. brimful_ml: what the jar holds to the brim, by the maker's own measure."""

    fill_g: Decimal
    brimful_ml: Decimal
    volume_ml: Decimal
    full_pct: Decimal
    headspace_ml: Decimal
    cautions: tuple[str, ...] = ()


def fill_jar(*, fill_g: Decimal, brimful_ml: Decimal, density_g_per_ml: Decimal) -> JarFill:
    """How full a jar stands with a mass in it.

    density_g_per_ml: at the temperature of filling for how it looks when poured, else cold.
    Raises ReckoningError when it does not fit or a figure cannot be.
    """
    more_than_nothing(fill_g, what="The filling", field="fill_g", unit="g")
    more_than_nothing(brimful_ml, what="The jar", field="brimful_ml", unit="ml")
    check_density(density_g_per_ml)
    volume_ml = fill_g / density_g_per_ml
    if volume_ml > brimful_ml:
        raise ReckoningError(
            f"{say(fill_g)} g need {say(volume_ml, places=1)} ml, but the jar holds "
            f"{say(brimful_ml)} ml to the brim. Take a larger jar or fill less.",
            field="fill_g",
        )
    full_pct = volume_ml * HUNDRED / brimful_ml
    return JarFill(
        fill_g=fill_g,
        brimful_ml=brimful_ml,
        volume_ml=volume_ml,
        full_pct=full_pct,
        headspace_ml=brimful_ml - volume_ml,
        cautions=_fill_cautions(full_pct),
    )


def fill_mass_g(*, volume_ml: Decimal, density_g_per_ml: Decimal) -> Decimal:
    """What fits up to a fill line [g]."""
    more_than_nothing(volume_ml, what="The volume", field="volume_ml", unit="ml")
    check_density(density_g_per_ml)
    return volume_ml * density_g_per_ml


def _fill_cautions(full_pct: Decimal) -> tuple[str, ...]:
    if full_pct > _FULLEST_PCT:
        return (
            (
                f"{say(full_pct, places=1)} % full leaves hardly any headspace, and hot paste "
                "stands higher still. About nine tenths is usual (common practice)."
            ),
        )
    if full_pct < _EMPTIEST_PCT:
        return (
            (
                f"{say(full_pct, places=1)} % full looks short, and there is much air in it. A "
                "smaller jar, chosen by its brimful millilitres, holds this too."
            ),
        )
    return ()


# --- How much to fill -----------------------------------------------------------------------------


@dataclass(frozen=True)
class TargetFill:
    """What to fill by a tared scale: declared + allowance. because: where the allowance is from."""

    declared_g: Decimal
    allowance_g: Decimal
    because: str

    @property
    def target_g(self) -> Decimal:
        """What the scale should show."""
        return self.declared_g + self.allowance_g


def target_fill(declared_g: Decimal, *, allowance_g: Decimal) -> TargetFill:
    """The target for an allowance the maker chose; zero is allowed, below zero is not."""
    more_than_nothing(declared_g, what="The declared weight", field="declared_g", unit="g")
    nothing_or_more(allowance_g, what="The allowance", field="allowance_g", unit="g")
    return TargetFill(declared_g, allowance_g, "as chosen")


def suggested_target(
    declared_g: Decimal,
    *,
    scale_step_g: Decimal,
    spread_g: Decimal | None = None,
    law: str = EU,
) -> TargetFill:
    """A target from the step of the scale, and from the spread when packs are not weighed one by
    one.

    spread_g: standard deviation of jars that are not each weighed; None when every jar is, and
        none may be below its label: then one step of the scale is enough.
    """
    more_than_nothing(scale_step_g, what="The step of the scale", field="scale_step_g", unit="g")
    if spread_g is None:
        return TargetFill(
            more_than_nothing(declared_g, what="The declared weight", field="declared_g", unit="g"),
            scale_step_g,
            "every jar is weighed: one step of the scale over the label",
        )
    safe = safe_mean(declared_g=declared_g, spread_g=spread_g, law=law)
    return TargetFill(
        declared_g,
        safe.over_g + scale_step_g,
        f"a spread of {say(spread_g)} g needs {say(safe.over_g)} g over the label, and one step of "
        "the scale",
    )


# --- How many, and what is given away -------------------------------------------------------------


@dataclass(frozen=True)
class JarCount:
    """Whole jars out of a batch: net = filled + remainder, exactly."""

    jars: int
    filled_g: Decimal
    remainder_g: Decimal


def count_jars(net_g: Decimal, *, target_g: Decimal, jars_at_hand: int | None = None) -> JarCount:
    """How many full jars a batch gives; the rest is a tasting jar or goes into the next batch.

    Raises ReckoningError for a target that is nothing, or a batch below nothing.
    """
    net_g = settled(nothing_or_more(net_g, what="The batch", field="net_g", unit="g"))
    target_g = settled(
        more_than_nothing(target_g, what="The target filling", field="target_g", unit="g")
    )
    if target_g <= 0:
        raise ReckoningError("That is too little to fill a jar with.", field="target_g")
    if jars_at_hand is not None and jars_at_hand < 0:
        raise ReckoningError("The jars at hand cannot be fewer than none.", field="jars")
    jars = int((net_g // target_g).to_integral_value(ROUND_FLOOR))
    if jars_at_hand is not None:
        jars = min(jars, jars_at_hand)
    return JarCount(jars, jars * target_g, net_g - jars * target_g)


@dataclass(frozen=True)
class GiveAway:
    """What filling above the label costs. cost is None when the cost of a kilo is not known."""

    each_g: Decimal
    total_g: Decimal
    cost: Decimal | None


def give_away(
    *, declared_g: Decimal, fill_g: Decimal, jars: int, cost_per_kg: Decimal | None
) -> GiveAway:
    """Grams and money given away above the declared weight, unrounded.

    Raises ReckoningError for a filling below the label.
    """
    more_than_nothing(declared_g, what="The declared weight", field="declared_g", unit="g")
    more_than_nothing(fill_g, what="The filling", field="fill_g", unit="g")
    if fill_g < declared_g:
        raise ReckoningError(
            f"{say(fill_g)} g is less than the {say(declared_g)} g on the label. Fill more, or "
            "declare less.",
            field="fill_g",
        )
    if jars < 0:
        raise ReckoningError("There cannot be fewer jars than none.", field="jars")
    total_g = (fill_g - declared_g) * jars
    cost = None if cost_per_kg is None else total_g * cost_per_kg / G_PER_KG
    return GiveAway(fill_g - declared_g, total_g, cost)
