"""What is told at the stove: added once however often it is sent, and never overwritten."""

from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from costing.models import Batch, BatchReading
from costing.services.saving import as_error, check, save_checked

Kind = BatchReading.Kind

HIGHEST_C = Decimal(300)
"""A sugar thermometer ends below; what lies between 130 and here is asked about at the stove."""


def note_event(
    batch: Batch,
    *,
    by: AbstractBaseUser | None,
    kind: str,
    value: Decimal,
    key: str,
    read_at: datetime,
    tare_g: Decimal | None = None,
    sample_c: Decimal | None = None,
) -> BatchReading:
    """Keep a reading or an addition. The same key sent again gives the row that is there.

    Raises ValidationError by field for a figure no scale, thermometer or refractometer shows, and
    for something read after the pan was called done.
    """
    present = _present(batch, key=key)
    if present is not None:
        return present
    if kind == Kind.STRUCK or kind not in Kind.values:
        raise as_error("kind", "Say what it is: a weight, a temperature, a Brix or an addition.")
    _refuse_impossible(kind, value, tare_g=tare_g)
    if batch.finished_at is not None and read_at > batch.finished_at:
        raise as_error(
            "read_at",
            "This was read after the pan was called done. Correct the record of the cook instead.",
        )
    return _kept(
        BatchReading(
            kitchen_id=batch.kitchen_id,
            batch=batch,
            kind=kind,
            value=value,
            tare_g=tare_g,
            sample_c=sample_c,
            key=key,
            read_at=read_at,
            by_id=by.pk if by is not None else None,
        )
    )


@transaction.atomic
def correct_event(
    event: BatchReading,
    *,
    by: AbstractBaseUser | None,
    value: Decimal | None,
    reason: str,
    key: str,
    read_at: datetime | None = None,
    tare_g: Decimal | None = None,
    sample_c: Decimal | None = None,
) -> BatchReading:
    """Put another figure in place of one that was wrong; None strikes it out. Both are kept.

    read_at: when it was really read; None keeps the time of the event that is corrected, and
    tare_g and sample_c likewise. Raises ValidationError without a reason, and for an event that
    was corrected already.
    """
    Batch.objects.select_for_update().get(pk=event.batch_id)  # two phones, two answers: one counts
    present = _present(event.batch, key=key)
    if present is not None:
        return present
    if not reason.strip():
        raise as_error("reason", "Say in a few words why it is corrected; the old figure is kept.")
    if event.kind == Kind.STRUCK or event.corrected_by.exists():
        raise ValidationError(
            "This was corrected already. Look at the cook again and correct what stands there now."
        )
    if value is not None:
        _refuse_impossible(event.kind, value, tare_g=tare_g)
    return _kept(
        BatchReading(
            kitchen_id=event.kitchen_id,
            batch=event.batch,
            kind=Kind.STRUCK if value is None else event.kind,
            value=event.value if value is None else value,
            tare_g=event.tare_g if tare_g is None else tare_g,
            sample_c=event.sample_c if sample_c is None else sample_c,
            key=key,
            read_at=read_at or event.read_at,
            by_id=by.pk if by is not None else None,
            corrects=event,
            note=reason.strip(),
        )
    )


@transaction.atomic
def note_ph(batch: Batch, *, by: AbstractBaseUser | None, ph: Decimal) -> None:
    """The pH of a pan that is on the fire, as soon as it is measured; the record says who by.

    Raises ValidationError for a pan that is not on the fire and for what is no pH of food.
    """
    held = Batch.objects.select_for_update().get(pk=batch.pk)
    if held.status != Batch.Status.ON_THE_FIRE:
        raise ValidationError("This pan is not on the fire any more. Look at its record.")
    if not 1 <= ph <= 9:
        raise as_error("ph", f"pH {ph:f} is not one of food. Read the meter again.")
    save_checked(held, by=by, values={"ph": ph})
    batch.refresh_from_db()


def _present(batch: Batch, *, key: str) -> BatchReading | None:
    if not key.strip():
        raise as_error("key", "The device sent no mark to know this reading by. Send it again.")
    return BatchReading.objects.filter(kitchen_id=batch.kitchen_id, batch=batch, key=key).first()


def _kept(event: BatchReading) -> BatchReading:
    check(event, skip=("kitchen", "batch", "corrects"))
    try:
        with transaction.atomic():
            event.save()
    except IntegrityError:  # the other phone, or the same one twice, was faster
        present = _present(event.batch, key=event.key)
        if present is None:
            raise
        return present
    return event


def _refuse_impossible(kind: str, value: Decimal, *, tare_g: Decimal | None) -> None:
    if not value.is_finite():
        raise as_error("value", "This is not a number.")
    if kind in (Kind.WEIGHT, Kind.WATER, Kind.SUGAR) and value <= 0:
        raise as_error("value", "A weight is more than nothing. Type what the scale shows, in g.")
    if kind == Kind.WEIGHT and tare_g is not None and value <= tare_g:
        raise as_error(
            "value",
            f"The scale shows {value:f} g, and the pan alone weighs {tare_g:f} g. Type what pan"
            " and food weigh together, or leave the pan out.",
        )
    if kind == Kind.BRIX and not 0 <= value <= 100:
        raise as_error("value", f"{value:f} is not a Brix: it lies between 0 and 100.")
    if kind == Kind.TEMPERATURE and not -20 <= value <= HIGHEST_C:
        raise as_error(
            "value", f"{value:f} °C is not the temperature of a pan. Read the thermometer again."
        )
