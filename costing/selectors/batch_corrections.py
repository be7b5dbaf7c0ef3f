"""What was put right of a finished batch: who, when, from what to what, and why."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from costing.models import AuditEntry, Batch

REASON, STATUS = "reason", "status"


@dataclass(frozen=True)
class Change:
    """One figure that was put right, as its field is called and as both were written."""

    field: str
    old: str
    new: str


@dataclass(frozen=True)
class Correction:
    """Everything that was put right at once."""

    by: str
    at: datetime
    reason: str
    changes: tuple[Change, ...]


def corrections_of(changes: Sequence[AuditEntry]) -> tuple[Correction, ...]:
    """Corrections among the history of one batch (newest first), oldest first.

    A correction ends with its reason; who corrects holds the batch until then, so that nothing
    else stands between. What was written down before the batch was called done is no correction.
    """
    found: list[Correction] = []
    changed: list[Change] = []
    is_done = False
    for entry in sorted(changes, key=lambda one: one.pk):
        if entry.field == STATUS and entry.new == Batch.Status.FINISHED:
            is_done = True
        elif entry.field == REASON:
            by = entry.by.get_username() if entry.by is not None else ""
            found.append(Correction(by, entry.at, entry.new, tuple(changed)))
            changed = []
        elif is_done and (entry.field != "net_g" or entry.old):
            # A net weight from nothing is the finish itself, where it was added up.
            changed.append(_told(entry))
    return tuple(found)


def _told(entry: AuditEntry) -> Change:
    """Of a list in words, only what differs."""
    old, new = entry.old, entry.new
    if entry.field in ("inputs", "yields"):
        was, now = old.split("; "), new.split("; ")
        old = "; ".join(one for one in was if one not in now)
        new = "; ".join(one for one in now if one not in was)
    return Change(entry.field, old, new)
