"""What a pan ends as: as planned, and drawn many times over what is not quite known of it.

The draws are those of `physics.drawn_cook`, seeded: the same pan always shows the same range.
"""

import math
from dataclasses import dataclass, replace
from typing import Any

from costing.physics import (
    FRUIT,
    Composition,
    DrawnCook,
    Normal,
    Spread,
    StopAtBrix,
    StopAtPotMass,
    StopAtRise,
    Triangular,
    UncertainCook,
    UncertainFruit,
    boiling_point_rise_k,
    brix_from_rise,
    draw_cook,
)
from costing.physics.inversion import HIGHEST_INVERTED_SHARE
from costing.reckoning.book import BRIX, FINAL_WEIGHT, RISE, SHARE
from costing.reckoning.pan import NO_SOLIDS
from costing.reckoning.stove_plan import (
    StovePlan,
    composition_of,
    fruit_off_share,
    fruit_soluble_g,
    pressure_pa,
    solids_with,
    temperature_sd_k,
)
from costing.units import as_float

DRAWS = 2000
FEWER_DRAWS = 500
SEED = 20
SD_90 = 1.645  # half of the 5 to 95 % range of a normal spread, in standard deviations
HOTTEST_BRIX = 95.0


@dataclass(frozen=True)
class End:
    """A pan when the fire goes out, with every figure as planned."""

    brix: float
    pot_g: float
    rise_k: float
    residue_g: float
    finished_g: float


def usual_end(plan: StovePlan, form: str, value: float) -> End:
    """What the pan ends as where everything is as planned; impossible ends are told, not refused.

    value: in the unit of the form: Brix, rise [K], weight of the food [g] or share of it [%].
    """
    solids = solids_with(plan) or NO_SOLIDS
    composition, pressure = composition_of(solids), pressure_pa(plan)
    soluble_g, fibre_g = as_float(solids.soluble_g), as_float(solids.insoluble_g)
    if form in (FINAL_WEIGHT, SHARE):
        pot_g = _stop_g(plan, form, value)
        brix = 100 * soluble_g / max(pot_g - fibre_g, 1e-9)
    else:
        brix = value
        if form == RISE:
            brix = brix_from_rise(rise_k=value, pressure_pa=pressure, composition=composition)
        pot_g = 100 * soluble_g / brix + fibre_g
    rise_k = value
    if form != RISE:
        rise_k = boiling_point_rise_k(
            brix=min(max(brix, 0.0), HOTTEST_BRIX), pressure_pa=pressure, composition=composition
        )
    cook = plan.recipe.cook
    residue_g = as_float(cook.pan_residue_g) + pot_g * as_float(cook.pan_residue_pct) / 100
    if plan.pan_residue_g is not None:
        residue_g = as_float(plan.pan_residue_g)
    kept = 1 - as_float(cook.handling_loss_pct) / 100
    return End(brix, pot_g, rise_k, residue_g, max(pot_g - residue_g, 0.0) * kept)


def drawn(plan: StovePlan, form: str, value: float, *, end: End) -> DrawnCook:
    """The same pan, drawn many times with everything that varies in it."""
    return draw_cook(_uncertain(plan, form, value, end=end), seed=SEED, draws=DRAWS)


def drawn_rise(plan: StovePlan, cook: DrawnCook) -> Spread:
    """How far above boiling water those pans boil, by their Brix and make-up alone."""
    rises: Any = boiling_point_rise_k(
        brix=cook.brix,
        pressure_pa=pressure_pa(plan) + 0 * cook.brix,
        composition=cook.composition,
    )
    return Spread.of(rises)


def moved_alone(plan: StovePlan, form: str, value: float, *, end: End) -> dict[str, float]:
    """What each unknown alone does to the end: sd of the finished mass [g].

    Where the stop sets the mass itself, sd of the Brix.
    """
    cook = _uncertain(plan, form, value, end=end)
    (fruit,) = cook.fruits
    sure = _sure(cook)
    (sure_fruit,) = sure.fruits
    alone = {
        "fruit": replace(sure, fruits=(replace(sure_fruit, brix=fruit.brix),)),
        "fibre": replace(sure, fruits=(replace(sure_fruit, insoluble_pct=fruit.insoluble_pct),)),
        "inversion": replace(sure, inverted_share=cook.inverted_share),
        "residue": replace(sure, pan_loss_g=cook.pan_loss_g),
    }
    if form == RISE:
        for name, sd_k in temperature_sd_k(plan).items():
            stop = StopAtRise(Normal(value, sd_k), pressure_pa(plan))
            alone[name] = replace(sure, stop=stop)
    is_mass_set = form in (FINAL_WEIGHT, SHARE)
    found = {}
    for name, one in alone.items():
        summary = draw_cook(one, seed=SEED, draws=FEWER_DRAWS).summary()
        found[name] = summary["brix" if is_mass_set else "delivered_g"].sd
    return found


def _uncertain(plan: StovePlan, form: str, value: float, *, end: End) -> UncertainCook:
    solids = plan.solids or NO_SOLIDS
    parts = [as_float(one) for one in (solids.sucrose_g, solids.hexose_g, solids.acid_g)]
    of_fruit = _parts_of_fruit(as_float(fruit_soluble_g(plan)), parts)
    others = [max(whole - part, 0.0) for whole, part in zip(parts, of_fruit, strict=True)]
    return UncertainCook(
        ingoing_g=as_float(plan.ingoing_g),
        fruits=(_fruit(plan, of_fruit, others_g=sum(others)),),
        sucrose_g=others[0],
        hexose_g=others[1],
        acid_g=others[2],
        inverted_share=_inverted(plan),
        pan_loss_g=_stuck(plan, end.residue_g),
        stop=_stop(plan, form, value),
        handling_loss_share=as_float(plan.recipe.cook.handling_loss_pct) / 100,
    )


def _fruit(
    plan: StovePlan, parts: tuple[float, float, float], *, others_g: float
) -> UncertainFruit:
    """All water and fibre that went in is counted with the fruit; its Brix follows."""
    soluble_g = sum(parts)
    fibre_g = 0.0 if plan.solids is None else as_float(plan.solids.insoluble_g)
    mass_g = max(as_float(plan.ingoing_g) - others_g, soluble_g + fibre_g + 1.0)
    made_of = FRUIT
    if soluble_g > 0:
        made_of = Composition.from_masses(sucrose_g=parts[0], hexose_g=parts[1], acid_g=parts[2])
    return UncertainFruit(
        mass_g=mass_g,
        brix=_around(100 * soluble_g / (mass_g - fibre_g), fruit_off_share(plan)),
        insoluble_pct=_around(100 * fibre_g / mass_g, as_float(plan.spreads.fibre_pct) / 100),
        composition=made_of,
    )


def _inverted(plan: StovePlan) -> Triangular:
    """Share of the sucrose inverted: least, likely and most."""
    share = as_float(plan.recipe.cook.inverted_pct) / 100
    low = share - as_float(plan.spreads.inverted_below_pct) / 100
    high = share + as_float(plan.spreads.inverted_above_pct) / 100
    return Triangular(max(low, 0.0), share, max(min(high, HIGHEST_INVERTED_SHARE), share))


def _stop(plan: StovePlan, form: str, value: float) -> StopAtRise | StopAtBrix | StopAtPotMass:
    if form == RISE:
        sd_k = math.hypot(*temperature_sd_k(plan).values())
        return StopAtRise(Normal(value, sd_k), pressure_pa(plan))
    if form == BRIX:
        return StopAtBrix(Normal(value, 0.0))
    return StopAtPotMass(Normal(_stop_g(plan, form, value), 0.0))


def _stop_g(plan: StovePlan, form: str, value: float) -> float:
    return value if form == FINAL_WEIGHT else as_float(plan.ingoing_g) * value / 100


def _parts_of_fruit(fruit_g: float, parts: list[float]) -> tuple[float, float, float]:
    """Sucrose, hexose and acid of the fruit: as usual in fruit, never more than there is."""
    usual = (float(FRUIT.sucrose), float(FRUIT.hexose), float(FRUIT.acid))
    taken = [min(fruit_g * share, part) for share, part in zip(usual, parts, strict=True)]
    for place, part in enumerate(parts):
        taken[place] += min(fruit_g - sum(taken), part - taken[place])
    return taken[0], taken[1], taken[2]


def _stuck(plan: StovePlan, residue_g: float) -> Triangular:
    """What sticks to the pan: as own batches scatter, else from half to double (judgement).

    A triangle reaches the root of six standard deviations either way.
    """
    spread = plan.spreads.residue_g
    if spread is None:
        return Triangular(0.5 * residue_g, residue_g, 2 * residue_g)
    reach_g = math.sqrt(6) * as_float(spread)
    return Triangular(max(residue_g - reach_g, 0.0), residue_g, residue_g + reach_g)


def _around(usual: float, share: float) -> Triangular:
    return Triangular(usual * (1 - share), usual, usual * (1 + share))


def _sure(cook: UncertainCook) -> UncertainCook:
    """The same pan with nothing uncertain in it."""

    def only(figure: Triangular) -> Triangular:
        return Triangular(figure.usual, figure.usual, figure.usual)

    stop = cook.stop
    if isinstance(stop, StopAtRise):
        stop = replace(stop, rise_k=Normal(stop.rise_k.usual, 0.0))
    return replace(
        cook,
        fruits=tuple(
            replace(one, brix=only(one.brix), insoluble_pct=only(one.insoluble_pct))
            for one in cook.fruits
        ),
        inverted_share=only(cook.inverted_share),
        pan_loss_g=only(cook.pan_loss_g),
        stop=stop,
    )
