"""Which packs carry which label: the versions of a product's label, and printing an old one again.

A version is every label that says and looks the same but for the lot and its dates.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from costing.models import Product, RecipeVersion
from labels.models import LabelDesign, PrintedLabel
from labels.rendering.sheet import impose
from labels.services.batch_facts import why_no_label
from labels.services.facts import food_facts
from labels.services.facts_kept import kept_facts, kept_statements
from labels.services.sheets_kept import kept_sheet
from labels.services.standing import Standing, standing_of

__all__ = [
    "LabelVersion",
    "Reprint",
    "ReprintRefused",
    "VersionLot",
    "reprint",
    "standing_today",
    "versions_of",
    "why_no_reprint",
    "with_standing",
]

MOST_RUNS = 300
"""Print runs that are read for the versions of one product, the newest first."""

_OF_THE_LOT = {"lot", "date"}


@dataclass(frozen=True)
class VersionLot:
    """A lot that carries a version: labels printed, and the run it was first printed in."""

    lot: str
    copies: int
    run: PrintedLabel


@dataclass(frozen=True)
class LabelVersion:
    """One version of a product's label, numbered from the oldest. runs: the newest first."""

    number: int
    runs: tuple[PrintedLabel, ...]
    standing: Standing | None = None

    @property
    def latest(self) -> PrintedLabel:
        """The run it was last printed in."""
        return self.runs[0]

    @property
    def recipe_version(self) -> RecipeVersion:
        """The version of the recipe it tells of."""
        return self.latest.recipe_version

    @property
    def first_printed(self) -> datetime:
        """When it was printed first."""
        return self.runs[-1].printed_at

    @property
    def last_printed(self) -> datetime:
        """When it was printed last."""
        return self.latest.printed_at

    @property
    def copies(self) -> int:
        """Labels of it, over all lots."""
        return sum(run.copies for run in self.runs)

    @property
    def lots(self) -> tuple[VersionLot, ...]:
        """The lots that carry it, the newest first."""
        found: dict[str, list[PrintedLabel]] = defaultdict(list)
        for run in self.runs:
            found[run.lot].append(run)
        return tuple(
            VersionLot(lot, sum(run.copies for run in runs), runs[-1])
            for lot, runs in found.items()
        )


def versions_of(product: Product) -> tuple[LabelVersion, ...]:
    """The versions of a product's label, the newest first, not yet held against today's."""
    runs = _runs_of(product)
    found: dict[Any, list[PrintedLabel]] = defaultdict(list)
    for run in runs:
        found[_identity(run)].append(run)
    newest_first = list(found.values())
    return tuple(
        LabelVersion(len(newest_first) - place, tuple(some))
        for place, some in enumerate(newest_first)
    )


def _runs_of(product: Product) -> Sequence[PrintedLabel]:
    return list(
        PrintedLabel.objects.filter(kitchen_id=product.kitchen_id, product=product)
        .select_related("recipe_version", "batch__recipe", "batch__version", "weighed")
        .defer("label_pdf", "weighed__pages_pdf")[:MOST_RUNS]
    )


def _identity(run: PrintedLabel) -> Any:
    """What two labels of one version share: words, look, size, recipe, market and way of sale."""
    facts = kept_facts(run)
    left_out = _OF_THE_LOT | ({"net_quantity"} if _is_weighed(run) else set())
    said = tuple(
        (each.kind, each.text, each.emphasised, each.language)
        for each in kept_statements(facts, on=run.rule_date)
        if each.kind not in left_out
    )
    size = tuple(run.sheet.get(side) for side in ("label_width_mm", "label_height_mm"))
    look = tuple(sorted((run.look or {}).items()))
    seen = (facts.brand_name, facts.tagline, look, size)
    return (run.recipe_version_id, run.market, facts.way_of_sale, said, seen)


def _is_weighed(run: PrintedLabel) -> bool:
    return getattr(run, "weighed", None) is not None


def with_standing(
    versions: Iterable[LabelVersion], *, design: LabelDesign, on: date
) -> tuple[LabelVersion, ...]:
    """The same versions, each held against what would be printed today for its latest lot."""
    planned = food_facts(design, on=on)
    return tuple(
        LabelVersion(
            each.number,
            each.runs,
            standing_of(each.latest, design=design, on=on, planned=planned),
        )
        for each in versions
    )


def standing_today(run: PrintedLabel, *, on: date) -> Standing:
    """How one run stands to today's label of the same lot."""
    return standing_of(run, design=run.design, on=on)


@dataclass(frozen=True)
class Reprint:
    """How often an old label comes out again, and where on its sheet. offsets: as in the order."""

    copies: int
    start_at: int = 1
    offset_x_mm: Decimal = Decimal(0)
    offset_y_mm: Decimal = Decimal(0)


class ReprintRefused(Exception):
    """An old label that may not come out again, or not without a reason."""


@transaction.atomic
def reprint(
    run: PrintedLabel, *, by: Any, order: Reprint, reason: str, on: date
) -> tuple[PrintedLabel, bytes]:
    """The very label of a run on fresh sheets, recorded as printed again; the label's bytes stay.

    Raises ReprintRefused for a lot that gets no labels any more, for weighed pieces, and for a
    superseded label without a reason.
    """
    why = " ".join(reason.split())
    if refusal := why_no_reprint(run):
        raise ReprintRefused(refusal)
    standing = standing_today(run, on=on)
    if standing.danger:
        raise ReprintRefused(f"{standing.danger} It does not come out again: print a new label.")
    if not why and standing.is_superseded:
        raise ReprintRefused("This label is superseded. Say why it is printed once more.")
    label = bytes(run.label_pdf)
    if hashlib.sha256(label).hexdigest() != run.label_sha256:
        raise ReprintRefused("The kept label is not the one that was printed: it is not used.")
    sheets = impose(
        label,
        sheet=kept_sheet(run.sheet),
        copies=order.copies,
        start_at=order.start_at,
        offset_x_mm=order.offset_x_mm,
        offset_y_mm=order.offset_y_mm,
    )
    again = _as_printed_again(run, by=by, order=order, reason=why, sheets=sheets)
    again.full_clean()
    again.save()
    return again, sheets


def why_no_reprint(run: PrintedLabel) -> str:
    """Why a label does not come out again at all; empty when it may."""
    if _is_weighed(run):
        return "Weighed pieces carry a weight each: open their own sheets and print the one page."
    return why_no_label(run.batch, run.product) if run.batch is not None else ""


def _as_printed_again(
    run: PrintedLabel, *, by: Any, order: Reprint, reason: str, sheets: bytes
) -> PrintedLabel:
    same = (
        "kitchen", "design", "product", "recipe_version", "batch", "lot", "best_before",
        "rule_date", "market", "facts", "look", "label_sha256",
    )  # fmt: skip
    where = {
        "start_at": order.start_at,
        "offset_x_mm": str(order.offset_x_mm),
        "offset_y_mm": str(order.offset_y_mm),
    }
    return PrintedLabel(
        **{name: getattr(run, name) for name in same},
        sheet=run.sheet | where,
        copies=order.copies,
        printed_by=by,
        pdf_sha256=hashlib.sha256(sheets).hexdigest(),
        label_pdf=bytes(run.label_pdf),
        reprint_of=run,
        reason=reason or None,
    )
