"""Past its stop or short of it: what brings a pan back, and what it becomes if it stays."""

from dataclasses import dataclass
from decimal import Decimal

from costing.reckoning.stove_estimates import THIS_COOK
from costing.reckoning.stove_now import Now
from costing.reckoning.stove_plan import HUNDRED, StovePlan, say
from costing.reckoning.stove_target import target

BURN_CAUTION = (
    "Boiling preserve is hotter than boiling water and sticks to skin. Long sleeves, a long spoon, "
    "a deep pan at most half full. A burn: cool it under cool running water for 20 minutes, take "
    "off rings and clothing that does not stick, no ice, butter or cream, cover it with cling "
    "film. Large burns, or of face or hands: call for help."
)
"""First aid as fire and health services publish it (20 min: Kent Fire and Rescue; 10 to 30 min:
North Bristol NHS Trust)."""

# Common practice: texture by soluble solids of the liquid, where the pectin allows it.
_SET_MARKS = (
    (Decimal(62), "soft, jam-like"),
    (Decimal(64), "a soft set"),
    (Decimal(66), "a soft-set jam"),
    (Decimal(68), "a sliceable paste, if the fruit is rich in pectin"),
    (Decimal(70), "a firm paste, if the fruit is rich in pectin"),
    (Decimal(75), "firm and sticky, and it may grain"),
)
_CANDY = "like candy"
PECTIN_CAUTION = (
    "Solids are only half of a set: it takes pectin, and acid near pH 2.8 to 3.4. A fruit poor in "
    "pectin stays a thick jam at any temperature, and long boiling weakens pectin. Test a drop on "
    "a cold plate."
)


@dataclass(frozen=True)
class SetWords:
    """What texture to expect, as common practice has it, and why not to rely on it."""

    expect: str
    caution: str = PECTIN_CAUTION
    source: str = "common practice"


@dataclass(frozen=True)
class Overshoot:
    """A pan past its stop (is_over), or short of it. Masses in g; None = cannot be told.

    water_g: brings it back; 0 when it is not over. to_boil_off_g: what is left when too soft.
    finished_g, yield_pct, cost_per_kg: if it is kept as it is; planned_...: at the stop.
    """

    is_over: bool
    water_g: Decimal | None = None
    to_boil_off_g: Decimal | None = None
    finished_g: Decimal | None = None
    planned_finished_g: Decimal | None = None
    yield_pct: Decimal | None = None
    cost_per_kg: Decimal | None = None
    planned_cost_per_kg: Decimal | None = None
    set_words: SetWords | None = None
    sentences: tuple[str, ...] = ()
    caution: str = BURN_CAUTION


def set_words(brix: Decimal) -> SetWords:
    """Texture to expect at a Brix of the liquid (common practice, never certain)."""
    for below, words in _SET_MARKS:
        if brix < below:
            return SetWords(words)
    return SetWords(_CANDY)


def overshoot(plan: StovePlan, now: Now, *, cost_total: Decimal | None = None) -> Overshoot:
    """What to do with a pan that is not at its stop.

    cost_total: of this batch, only where whoever asks may see money. Source: solids balance.
    """
    if now.brix is None:
        return Overshoot(False, sentences=("Read something first: nothing is known of this pan.",))
    words = set_words(now.brix.value)
    if now.pot_g is None or now.water_to_go_g is None or plan.ingoing_g <= 0:
        return Overshoot(False, set_words=words)
    is_over = now.water_to_go_g < 0
    planned_pot_g = now.pot_g.value - now.water_to_go_g
    finished_g = _finished(plan, now.pot_g.value)
    planned_g = _finished(plan, planned_pot_g)
    water_g = max(-now.water_to_go_g, Decimal(0))
    boil_off_g = max(now.water_to_go_g, Decimal(0))
    cost, planned_cost = _per_kg(cost_total, finished_g), _per_kg(cost_total, planned_g)
    return Overshoot(
        is_over=is_over,
        water_g=water_g,
        to_boil_off_g=boil_off_g,
        finished_g=finished_g,
        planned_finished_g=planned_g,
        yield_pct=(finished_g * HUNDRED / plan.ingoing_g).quantize(Decimal("0.1")),
        cost_per_kg=cost,
        planned_cost_per_kg=planned_cost,
        set_words=words,
        sentences=_over(water_g, planned_g - finished_g, words, cost, planned_cost)
        if is_over
        else _short(boil_off_g, now),
    )


def _finished(plan: StovePlan, pot_g: Decimal) -> Decimal:
    cook = plan.recipe.cook
    residue_g = plan.pan_residue_g
    if residue_g is None:
        residue_g = cook.pan_residue_g + pot_g * cook.pan_residue_pct / HUNDRED
    left_g = max(pot_g - residue_g, Decimal(0)) * (HUNDRED - cook.handling_loss_pct) / HUNDRED
    return left_g.quantize(Decimal("0.1"))


def _per_kg(cost_total: Decimal | None, finished_g: Decimal) -> Decimal | None:
    if cost_total is None or finished_g <= 0:
        return None
    return cost_total * 1000 / finished_g


def _over(
    water_g: Decimal,
    lost_g: Decimal,
    words: SetWords,
    cost: Decimal | None,
    planned: Decimal | None,
) -> tuple[str, ...]:
    money = ""
    if cost is not None and planned is not None:
        money = f" and a kilo costs {say((cost / planned - 1) * HUNDRED)} % more"
    return (
        (
            f"Bring it back: take it off the fire and let it stop boiling. Stir in "
            f"{say(water_g, places=0)} g of hot water a little at a time, at arm's length: it "
            "spits and steams. Warm it through until it is even, and weigh again."
        ),
        (
            f"Or keep it firmer: expect it {words.expect} (common practice). You get "
            f"{say(lost_g, places=0)} g less{money}. Its label must say what it became: fruit and "
            "sugar per 100 g are higher."
        ),
    )


def _short(boil_off_g: Decimal, now: Now) -> tuple[str, ...]:
    if boil_off_g == 0:
        return ("It stands at its stop.",)
    minutes = ""
    if now.minutes_to_go:
        rate = "at your last measured rate"
        if now.rate is None or now.rate.told_by != THIS_COOK:
            rate = "at this pan's usual rate"
        minutes = f", about {say(now.minutes_to_go, places=0)} minutes {rate}"
    return (
        (f"Too soft yet by solids: {say(boil_off_g, places=0)} g of water to boil off{minutes}."),
        (
            "If it stays soft at its stop, boiling on is no sure cure: it may be short of pectin "
            "or acid."
        ),
    )


def planned_words(plan: StovePlan) -> SetWords | None:
    """Texture to expect at the stop of the plan; None where its Brix is not known."""
    goal = target(plan).brix
    return None if goal is None else set_words(goal.value)
