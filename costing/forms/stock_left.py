"""More typed of an own batch than is left of it: asked about once, at the box it is typed in."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from costing.models import Batch

_G_PER_KG = Decimal(1000)
_SCALES_DIFFER = Decimal("0.005")
"""Of a batch: two scales may differ by so much of it before anything is asked (judgement)."""


@dataclass(frozen=True)
class Taking:
    """What one row of boxes takes of an own batch.

    key: of its boxes. is_typed: weighed, not as planned. is_new: other than what is kept already,
    about which nothing is asked again.
    """

    key: str
    batch: Batch
    grams: Decimal
    is_typed: bool = True
    is_new: bool = True


def overdrawn(takings: Sequence[Taking], *, left_g: Mapping[int, Decimal]) -> dict[str, str]:
    """What to ask, by the key of the row. left_g: by batch; nothing is left of one not in it."""
    asked: dict[str, str] = {}
    for batch in {one.batch.pk: one.batch for one in takings}.values():
        rows = [one for one in takings if one.batch.pk == batch.pk]
        left, grams = left_g.get(batch.pk, Decimal(0)), _together(rows)
        slack_g = (batch.net_g or Decimal(0)) * _SCALES_DIFFER
        if grams > left + slack_g:
            sentence = _sentence(batch, rows, left=left, grams=grams)
            asked |= {one.key: sentence for one in rows if one.is_new}
    return asked


def _together(rows: Iterable[Taking]) -> Decimal:
    return sum((one.grams for one in rows), Decimal(0))


def _sentence(batch: Batch, rows: Sequence[Taking], *, left: Decimal, grams: Decimal) -> str:
    there = f"there are {_kg(left)} left" if left > 0 else "nothing is left"
    took = "you typed" if all(one.is_typed for one in rows) else "planned are"
    together = " together" if len(rows) > 1 else ""
    return (
        f"Of {batch.lot} {there}; {took} {_kg(grams)}{together}. Type what you weighed, or tick"
        " “I looked again”."
    )


def _kg(grams: Decimal) -> str:
    kilos = (grams / _G_PER_KG).quantize(Decimal("0.001")).normalize()
    return f"{kilos:f} kg"
