"""Who changed what: one row per changed figure, in the same transaction as the change."""

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import models

from costing.models import AuditEntry, Kitchen, KitchenOwned

CREATED = "created"
"""Field name of the one row that is written when something is new."""


def record_changes(
    subject: Kitchen | KitchenOwned,
    *,
    by: AbstractBaseUser | None,
    before: Mapping[str, Any],
    after: Mapping[str, Any],
) -> list[AuditEntry]:
    """Write one row for each figure that differs; nothing where nothing changed."""
    kitchen_id = subject.pk if isinstance(subject, Kitchen) else subject.kitchen_id
    entries = [
        AuditEntry(
            kitchen_id=kitchen_id,
            by_id=by.pk if by is not None else None,
            subject=subject._meta.model_name or "",
            subject_id=subject.pk,
            field=field,
            old=_text(before.get(field)),
            new=_text(after.get(field)),
        )
        for field in dict.fromkeys([*before, *after])
        if _text(before.get(field)) != _text(after.get(field))
    ]
    AuditEntry.objects.bulk_create(entries)
    return entries


def snapshot(subject: models.Model, *, fields: tuple[str, ...]) -> dict[str, Any]:
    """The values of some fields now, to compare with later."""
    return {field: getattr(subject, _column(subject, field=field)) for field in fields}


def _column(subject: models.Model, *, field: str) -> str:
    return getattr(subject._meta.get_field(field), "attname", field)


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if hasattr(value, "normalize") and hasattr(value, "as_tuple"):
        return f"{value.normalize():f}"  # 2.50 and 2.5 are the same figure
    return str(value)
