"""The labels that were printed of one batch, and whether it was corrected after them."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q

from costing.models import AuditEntry, Batch, BatchReading, BatchYield
from costing.services.audit import CREATED
from labels.models import PrintedLabel

_KIND = BatchReading.Kind
# A temperature that arrives late moves nothing on a label; what was added to the pan does.
_MOVES_THE_LABEL = Q(kind__in=(_KIND.WATER, _KIND.SUGAR, _KIND.STRUCK)) | Q(corrects__isnull=False)


@dataclass(frozen=True)
class Outdated:
    """Labels that were printed before their batch was last corrected or given up."""

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
    """What to take back or compare; None where nothing was printed before a change."""
    since = _last_change(batch)
    if since is None:
        return None
    copies = sum(run.copies for run in runs if run.printed_at < since)
    if not copies:
        return None
    many = f"{copies} label{' of this lot was' if copies == 1 else 's of this lot were'} printed"
    if batch.status == Batch.Status.GIVEN_UP:
        sentence = f"{many} before it was given up: take them out of use."
    else:
        sentence = (
            f"{many} before it was corrected. Compare them with what the lot says now, and take "
            "back what is no longer true."
        )
    return Outdated(copies, since, sentence)


def _last_change(batch: Batch) -> datetime | None:
    """When a figure of the batch, or something told at its stove, last changed."""
    figures = (
        AuditEntry.objects.filter(
            kitchen_id=batch.kitchen_id, subject=batch._meta.model_name, subject_id=batch.pk
        )
        .exclude(field=CREATED)
        .order_by("-at")
        .values_list("at", flat=True)
        .first()
    )
    told = (
        BatchReading.objects.filter(_MOVES_THE_LABEL, kitchen_id=batch.kitchen_id, batch=batch)
        .order_by("-received_at")
        .values_list("received_at", flat=True)
        .first()
    )
    moments = [moment for moment in (figures, told) if moment is not None]
    return max(moments, default=None)
