"""The labels printed of a batch, and whether it, or what it was filled from, changed after them."""

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from costing.models import AuditEntry, Batch, BatchReading, BatchYield
from costing.selectors.batches import sources_of
from costing.services.audit import CREATED
from labels.models import PrintedLabel

_KIND = BatchReading.Kind
# A temperature that arrives late moves nothing on a label; what was added to the pan does.
_MOVES_THE_LABEL = Q(kind__in=(_KIND.WATER, _KIND.SUGAR, _KIND.STRUCK)) | Q(corrects__isnull=False)


@dataclass(frozen=True)
class Outdated:
    """Labels that were printed before their batch, or one in it, was last changed or given up."""

    copies: int
    since: datetime
    sentence: str


def printed_of(batch: Batch) -> list[PrintedLabel]:
    """The print runs of a batch, the newest first, without their files."""
    return list(
        PrintedLabel.objects.filter(kitchen_id=batch.kitchen_id, batch=batch)
        .select_related("product", "printed_by")
        .defer("label_pdf", "facts")
    )


def units_filled(batch: Batch) -> dict[int, int]:
    """Units of each product that the batch became."""
    filled: Counter[int] = Counter()
    rows = BatchYield.objects.filter(kitchen_id=batch.kitchen_id, batch=batch)
    for row in rows.exclude(product=None):
        filled[row.product_id or 0] += row.units or 0
    return dict(filled)


def outdated(batch: Batch, *, runs: Sequence[PrintedLabel]) -> Outdated | None:
    """What to take back or compare; None where nothing was printed before a change.

    A puree put right moves fruit and Brix of every pan filled from it, however far down.
    """
    if not runs:
        return None
    own = _last_change(batch.kitchen_id, [batch.pk])
    sources = sources_of(batch)
    of_sources = _last_change(batch.kitchen_id, sources) if sources else None
    moments = [moment for moment in (own, of_sources) if moment is not None]
    if not moments:
        return None
    since = max(moments)
    copies = sum(run.copies for run in runs if run.printed_at < since)
    if not copies:
        return None
    many = f"{copies} label{' of this lot was' if copies == 1 else 's of this lot were'} printed"
    return Outdated(copies, since, f"{many} before {_why(batch, own=own, of_sources=of_sources)}")


def _why(batch: Batch, *, own: datetime | None, of_sources: datetime | None) -> str:
    """What happened after they were printed, and what to do about it."""
    if batch.status == Batch.Status.GIVEN_UP:
        return "it was given up: take them out of use."
    compare = "Compare them with what the lot says now, and take back what is no longer true."
    if of_sources is None or (own is not None and own >= of_sources):
        return f"it was corrected. {compare}"
    return f"a batch that went into it was corrected. {compare}"


def _last_change(kitchen_id: int, batches: Collection[int]) -> datetime | None:
    """When a figure of the batches, or something told at their stove, last changed."""
    figures = (
        AuditEntry.objects.filter(
            kitchen_id=kitchen_id, subject=Batch._meta.model_name, subject_id__in=batches
        )
        .exclude(field=CREATED)
        .order_by("-at")
        .values_list("at", flat=True)
        .first()
    )
    told = (
        BatchReading.objects.filter(_MOVES_THE_LABEL, kitchen_id=kitchen_id, batch__in=batches)
        .order_by("-received_at")
        .values_list("received_at", flat=True)
        .first()
    )
    moments = [moment for moment in (figures, told) if moment is not None]
    return max(moments, default=None)
