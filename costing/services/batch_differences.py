"""Why a kilo of a batch cost more or less than planned, one cause at a time."""

from dataclasses import dataclass, replace
from decimal import Decimal

from costing.models import Batch
from costing.reckoning.book import WEIGHED_OUT, CookRecord, CostSheet, MassBalance
from costing.reckoning.lines import HUNDRED
from costing.services.batch_costs import Happened, planned_cost, what_happened

KINDS = ("price", "trim", "evaporation", "residue", "time")
SENTENCES = {
    "price": "Prices other than the plan's, or a preparation from its own batch.",
    "trim": "Other weights put in; more or less kept back by the knife and the sieve.",
    "evaporation": "Boiled further than planned, or less far.",
    "residue": "Left in the pan, lost on the way or thrown away, more or less than planned.",
    "time": "More or fewer minutes at the pan.",
}


@dataclass(frozen=True)
class Beside:
    """One figure as planned and as it was; None where nobody planned or measured it."""

    kind: str
    planned: Decimal | None
    actual: Decimal | None


def beside_plan(
    batch: Batch, *, planned: CostSheet, actual: CostSheet, ingoing_g: Decimal | None
) -> tuple[Beside, ...]:
    """The figures of a pan beside those of its plan: masses, yield, Brix, minutes, cost of a kilo.

    What was not weighed or noted stands as not known, not as planned. ingoing_g: what went in.
    """
    was = planned.balance
    net_g, into_g = batch.net_g, ingoing_g or None
    steam_g = None if into_g is None or batch.pot_g is None else into_g - batch.pot_g
    return (
        Beside("ingoing", planned.ingoing_g, into_g),
        Beside("evaporated", None if was is None else was.evaporated_g, steam_g),
        Beside("pot", None if was is None else was.pot_g, batch.pot_g),
        Beside("finished", planned.finished_g, net_g),
        Beside("yield", _pct(planned.finished_g, planned.ingoing_g), _pct(net_g, into_g)),
        Beside("brix", None if was is None else was.finishing_brix, batch.end_brix),
        Beside("minutes", planned.recipe.attended_minutes, batch.attended_minutes),
        Beside("cost", _whole_cost(planned), _whole_cost(actual)),
    )


def _pct(part_g: Decimal | None, whole_g: Decimal | None) -> Decimal | None:
    return None if part_g is None or not whole_g else part_g * HUNDRED / whole_g


def _whole_cost(sheet: CostSheet) -> Decimal | None:
    """Of a kilo; a lower bound is not compared with anything."""
    return sheet.cost_per_kg_finished if sheet.is_complete else None


@dataclass(frozen=True)
class Difference:
    """One part of what a kilo cost more (or less) than planned, with its cause."""

    kind: str
    per_kg: Decimal
    sentence: str


def against_plan(batch: Batch) -> tuple[Difference, ...]:
    """Parts of the difference per kilo, actual less planned; they add up to the whole of it.

    One thing is changed at a time, always in the order of KINDS, so that the parts do not overlap.
    Empty where the plan or the batch has no whole cost yet: half an explanation would mislead.
    """
    return differences(what_happened(batch))


def differences(happened: Happened) -> tuple[Difference, ...]:
    """The same of a batch that was read already."""
    steps = _steps(happened)
    costs = [None if not one.is_complete else one.cost_per_kg_finished for one in steps]
    known = [cost for cost in costs if cost is not None]
    if len(known) <= len(KINDS) or len(known) < len(costs):
        return ()
    return tuple(
        Difference(kind, after - before, SENTENCES[kind])
        for kind, before, after in zip(KINDS, known, known[1:], strict=False)
    )


def _steps(happened: Happened) -> list[CostSheet]:
    """The plan, then with each cause in turn taken as it was; the last is the batch itself."""
    planned = planned_cost(happened.book, happened.plan.id)
    actual = happened.sheet()
    if planned.balance is None or actual.balance is None:
        return []
    minutes = happened.plan.attended_minutes
    at_plan = happened.filling(masses_g=_planned_shares(happened), as_planned=True)
    filling = happened.filling()
    if at_plan.unweighed or filling.unweighed:
        return []
    own = happened.cook(filling.ingoing_g)
    usual = _with_usual_losses(happened.plan.cook, own, pot_g=_pot_g(actual.balance))
    as_planned = happened.plan.cook
    if as_planned.kind == WEIGHED_OUT:
        share = filling.ingoing_g / planned.balance.ingoing_g
        steam_g = planned.balance.evaporated_g * share
        pot_g = filling.ingoing_g - steam_g - actual.balance.sieved_out_g
        as_planned = replace(_with_usual_losses(as_planned, own, pot_g=pot_g), evaporated_g=steam_g)
    return [
        planned,
        happened.cost(at_plan, cook=happened.plan.cook, minutes=minutes),
        happened.cost(filling, cook=as_planned, minutes=minutes),
        happened.cost(filling, cook=usual, minutes=minutes),
        happened.cost(filling, cook=own, minutes=minutes),
        actual,
    ]


def _planned_shares(happened: Happened) -> dict[int, Decimal | None]:
    """The plan's masses over the rows of each line, in proportion to what each one brought."""
    shares: dict[int, Decimal | None] = {}
    for position in {row.position for row in happened.inputs}:
        rows = [row for row in happened.inputs if row.position == position]
        if position >= len(happened.planned_g):
            shares |= {row.pk: Decimal(0) for row in rows}
            continue
        planned_g = happened.planned_g[position]
        weighed = [row.weighed_g or Decimal(0) for row in rows]
        total = sum(weighed, Decimal(0))
        for row, mass_g in zip(rows, weighed, strict=True):
            part = mass_g / total if total else Decimal(1) / len(rows)
            shares[row.pk] = None if planned_g is None else planned_g * part
    return shares


def _pot_g(balance: MassBalance) -> Decimal:
    """Food before anything stuck to the pan: past the sieve, where there was one."""
    return balance.finished_g + balance.handling_loss_g + balance.pan_residue_g


def _with_usual_losses(plan: CookRecord, own: CookRecord, *, pot_g: Decimal) -> CookRecord:
    """The pan as weighed, but with the plan's residue and handling loss."""
    past_pan_g = pot_g * (HUNDRED - plan.pan_residue_pct) / HUNDRED - plan.pan_residue_g
    return replace(
        own,
        finished_g=past_pan_g * (HUNDRED - plan.handling_loss_pct) / HUNDRED,
        pan_residue_g=plan.pan_residue_g,
        pan_residue_pct=plan.pan_residue_pct,
        handling_loss_pct=plan.handling_loss_pct,
    )
