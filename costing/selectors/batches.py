"""Cooks: which there are, and one of them with everything that was told about it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import DecimalField, OuterRef, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from costing.models import (
    AuditEntry,
    Batch,
    BatchInput,
    BatchReading,
    BatchYield,
    Kitchen,
    Pan,
    Recipe,
)
from costing.reckoning.coming_out import THROWN_AWAY
from costing.selectors.kitchens import changes_of, this_kitchens

WITH_A_BATCH = ("kitchen", "recipe", "version", "pan", "cooked_by", "started_by")


@dataclass(frozen=True)
class BatchPage:
    """A batch and what belongs to it. events: every one as told; in_force: those that count."""

    batch: Batch
    inputs: tuple[BatchInput, ...]
    yields: tuple[BatchYield, ...]
    events: tuple[BatchReading, ...]
    in_force: tuple[BatchReading, ...]
    used_in: tuple[Batch, ...]
    changes: tuple[AuditEntry, ...]


def batches_of(kitchen: Kitchen, *, recipe: Recipe | None = None) -> QuerySet[Batch]:
    """The kitchen's batches, newest first, with recipe and pan; of one recipe when it is named."""
    rows = Batch.objects.filter(kitchen=kitchen).select_related("recipe", "pan", "cooked_by")
    return rows if recipe is None else rows.filter(recipe=recipe)


def on_the_fire(kitchen: Kitchen) -> QuerySet[Batch]:
    """What is cooking now."""
    return batches_of(kitchen).filter(status=Batch.Status.ON_THE_FIRE)


def pans_of(kitchen: Kitchen, *, with_archived: bool = False) -> QuerySet[Pan]:
    """The kitchen's pans by name."""
    rows = Pan.objects.filter(kitchen=kitchen)
    return rows if with_archived else rows.filter(is_archived=False)


def batch_page(kitchen: Kitchen, pk: int) -> BatchPage:
    """One batch with everything about it, in as many queries whatever was told; or 404."""
    batch = this_kitchens(Batch, kitchen=kitchen, pk=pk, related=WITH_A_BATCH)
    events = tuple(every_event(batch))
    yields = BatchYield.objects.filter(kitchen=kitchen, batch=batch).select_related("product")
    used_in = Batch.objects.filter(kitchen=kitchen, inputs__from_batch=batch).distinct()
    return BatchPage(
        batch=batch,
        inputs=tuple(inputs_of(batch)),
        yields=tuple(yields),
        events=events,
        in_force=still_in_force(events),
        used_in=tuple(used_in.select_related("recipe")),
        changes=tuple(changes_of(batch, limit=200)),
    )


def inputs_of(batch: Batch) -> QuerySet[BatchInput]:
    """What went into a batch, in the order of the plan."""
    rows = BatchInput.objects.filter(kitchen_id=batch.kitchen_id, batch=batch)
    return rows.select_related("ingredient", "preparation", "from_batch", "supplier")


def inputs_of_all(batches: Sequence[Batch]) -> QuerySet[BatchInput]:
    """What went into batches of one kitchen, in the order of each plan."""
    rows = BatchInput.objects.filter(
        kitchen_id__in={one.kitchen_id for one in batches}, batch__in=[one.pk for one in batches]
    )
    return rows.select_related("ingredient", "preparation", "from_batch", "supplier")


def additions_of(batches: Sequence[Batch]) -> QuerySet[BatchReading]:
    """Water and sugar added to batches at the stove, with what corrects or strikes them out."""
    kinds = (BatchReading.Kind.WATER, BatchReading.Kind.SUGAR, BatchReading.Kind.STRUCK)
    return BatchReading.objects.filter(
        kitchen_id__in={one.kitchen_id for one in batches},
        batch__in=[one.pk for one in batches],
        kind__in=kinds,
    )


def thrown_away_g(batches: Iterable[Batch]) -> dict[int, Decimal]:
    """Offcuts thrown away of each batch; only what is finished is asked for."""
    done = [one for one in batches if one.status == Batch.Status.FINISHED]
    if not done:
        return {}
    rows = BatchYield.objects.filter(
        kitchen_id__in={one.kitchen_id for one in done},
        batch__in=[one.pk for one in done],
        product__isnull=True,
        what=THROWN_AWAY,
    )
    found: dict[int, Decimal] = {}
    for row in rows:
        found[row.batch_id] = found.get(row.batch_id, Decimal(0)) + row.mass_g
    return found


def thrown_away_of_each() -> Coalesce:
    """The same as a figure of each row of a query for batches."""
    rows = BatchYield.objects.filter(batch=OuterRef("pk"), product__isnull=True, what=THROWN_AWAY)
    summed = rows.order_by().values("batch").annotate(together=Sum("mass_g")).values("together")
    return Coalesce(Subquery(summed), Decimal(0), output_field=DecimalField())


def every_event(batch: Batch) -> QuerySet[BatchReading]:
    """Everything told at the stove, corrections and what they correct included."""
    rows = BatchReading.objects.filter(kitchen_id=batch.kitchen_id, batch=batch)
    return rows.select_related("by")


def events_in_force(batch: Batch) -> tuple[BatchReading, ...]:
    """What counts: nothing that was corrected or struck out, in the order of the device's clock."""
    return still_in_force(every_event(batch))


def still_in_force(events: Iterable[BatchReading]) -> tuple[BatchReading, ...]:
    """Of events already read, those that no other one corrects and that were not struck out."""
    told = list(events)
    replaced = {event.corrects_id for event in told}
    return tuple(
        event
        for event in told
        if event.pk not in replaced and event.kind != BatchReading.Kind.STRUCK
    )


def sources_of(batch: Batch) -> frozenset[int]:
    """Every own batch in it: those it was filled from, and those that went into them."""
    found: set[int] = set()
    asked = {batch.pk}
    while asked:
        rows = BatchInput.objects.filter(
            kitchen_id=batch.kitchen_id, batch__in=asked, from_batch__isnull=False
        )
        asked = set(rows.values_list("from_batch__pk", flat=True)) - found
        found |= asked
    return frozenset(found)
