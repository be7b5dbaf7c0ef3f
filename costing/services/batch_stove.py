"""A batch as the stove sees it: what is in the pan, and what was read of it."""

from dataclasses import replace
from decimal import Decimal

from costing.models import Batch, BatchInput, Ingredient
from costing.reckoning.book import WEIGHED_OUT, CookRecord
from costing.reckoning.stove import Event, StovePlan
from costing.selectors.batches import events_in_force
from costing.services.batch_costs import Happened, what_happened
from costing.services.batch_learnt import (
    EVAPORATION,
    RESIDUE,
    as_learnt,
    learnt_spreads,
    pan_figure,
)


def stove_plan(batch: Batch) -> StovePlan:
    """What the sums at the stove need: what really went in, this pan, today's boiling water.

    Water and sugar added later are events and are not in it. Solids are None where the Brix of
    something in the pan is not known.
    """
    happened = what_happened(batch)
    before = replace(
        happened,
        book=as_learnt(batch, happened.book),
        added_g=dict.fromkeys(happened.added_g, Decimal(0)),
    )
    filling = before.filling()
    ingoing_g = filling.ingoing_g
    # Weighed out at once, uninverted and unsieved: the engine's own sum of what is in the pan.
    still_cold = CookRecord(
        kind=WEIGHED_OUT, finished_g=ingoing_g, evaporated_g=Decimal(0), inverted_pct=Decimal(0)
    )
    solids = None
    if ingoing_g > 0 and not filling.unweighed:
        sheet = before.cost(filling, cook=still_cold, minutes=Decimal(0))
        solids = sheet.solids
    pan = batch.pan
    return StovePlan(
        recipe=happened.plan,
        kitchen=happened.book.kitchen,
        ingoing_g=ingoing_g,
        solids=solids,
        pan_tare_g=None if pan is None else pan.tare_g,
        pan_residue_g=pan_figure(batch, subject=RESIDUE),
        evaporation_g_per_min=pan_figure(batch, subject=EVAPORATION),
        spreads=learnt_spreads(batch),
        water_reading_c=batch.water_reading_c,
        report_hpa=batch.report_hpa if batch.water_reading_c is None else None,
        started_at=batch.started_at,
        fruit_brix_is_measured=_is_all_fruit_measured(before),
        names=tuple(str(row.ingredient or row.preparation) for row in before.inputs),
    )


def _is_all_fruit_measured(happened: Happened) -> bool:
    """Whether the Brix of every fruit and puree of the base was read: one of two is not enough."""
    base = {place for place, line in enumerate(happened.plan.lines) if line.is_base}
    fruit = [row for row in happened.inputs if (row.position in base if base else _is_fruit(row))]
    return bool(fruit) and all(_is_measured(row) for row in fruit)


def _is_fruit(row: BatchInput) -> bool:
    return row.ingredient is None or row.ingredient.category == Ingredient.Category.FRUIT


def _is_measured(row: BatchInput) -> bool:
    """Read as it went in, or at the end of the kitchen's own batch it came from."""
    of_batch = row.from_batch is not None and row.from_batch.end_brix is not None
    return row.measured_brix is not None or of_batch


def stove_events(batch: Batch) -> tuple[Event, ...]:
    """What counts of what was told, in the order of the device's clock."""
    return tuple(
        Event(
            kind=event.kind,
            value=event.value,
            at=event.read_at,
            tare_g=event.tare_g,
            sample_c=event.sample_c,
        )
        for event in events_in_force(batch)
    )
