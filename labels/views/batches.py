"""The labels of one lot: what they say of this pan, how many were filled, how many printed."""

from collections import Counter
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from costing.models import Batch, Kitchen, Member, Product
from costing.selectors.batches import batches_of
from costing.selectors.kitchens import possible_ids, this_kitchens
from costing.views.access import kitchen_view
from costing.views.recipe_words import Pen
from labels import law
from labels.models import LabelDesign, PrintedLabel
from labels.rulebook import Finding
from labels.services.batch_facts import (
    PanMade,
    food_of_batch,
    planned_food,
    read_batch,
    why_no_labels,
)
from labels.services.dates import keeps_until
from labels.services.designs import design_of, is_kept, products_of_recipe
from labels.services.facts import FoodFacts, label_facts
from labels.services.lot_prints import outdated, printed_of, units_filled
from labels.services.storage_words import storage_words
from labels.views.showing import LEVEL

COOK = Member.Role.COOK
_LATEST = 5
_WITH_A_BATCH = ("kitchen", "recipe", "version", "pan")


@dataclass(frozen=True)
class Share:
    """One declared quantity: of this pan, and of the plan where that differs."""

    name: str
    shown: str
    planned: str = ""

    @property
    def sentence(self) -> str:
        """Plan against pan in words."""
        if self.planned:
            return f"{self.name}: plan {self.planned}, this pan {self.shown}"
        return f"{self.name}: {self.shown}, as planned"


@dataclass(frozen=True)
class LabelRow:
    """A product of the batch: units filled, labels printed, and what its label declares."""

    product: Product
    units: int
    printed: int
    is_designed: bool
    shares: tuple[Share, ...] = ()


@kitchen_view(COOK)
def batch_labels(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Labels for this lot."""
    batch = this_kitchens(Batch, kitchen=kitchen, pk=pk, related=_WITH_A_BATCH)
    runs = printed_of(batch)
    page: dict[str, Any] = {
        "batch": batch,
        "runs": runs,
        "outdated": outdated(batch, runs=runs),
        "no_label": why_no_labels(batch),
    }
    if not page["no_label"]:
        made = read_batch(batch)
        rows = _rows(made, runs)
        page |= {
            "rows": rows,
            "first": next((share for row in rows for share in row.shares), None),
            "brix": brix_in_words(made, pen=Pen(kitchen)),
            "questions": [question.sentence for question in made.questions],
            "notes": notes_shown(made.notes),
            "words": storage_words(batch),
        }
    return render(request, "labels/of_batch.html", page)


def _rows(made: PanMade, runs: list[PrintedLabel]) -> list[LabelRow]:
    batch, filled = made.batch, units_filled(made.batch)
    printed: Counter[int] = Counter()
    for run in runs:
        printed[run.product_id] += run.copies
    rows = []
    for product in products_of_recipe(batch.recipe):
        if product.is_archived and product.pk not in filled:
            continue
        product.kitchen = batch.kitchen
        design = design_of(product)
        design.kitchen = batch.kitchen
        rows.append(
            LabelRow(
                product=product,
                units=filled.get(product.pk, 0),
                printed=printed[product.pk],
                is_designed=is_kept(design),
                shares=shares(made, design) if is_kept(design) else (),
            )
        )
    return sorted(rows, key=lambda row: -row.units)


def shares(made: PanMade, design: LabelDesign) -> tuple[Share, ...]:
    """What the label of this lot declares, each beside what the plan would have said."""
    quantified = list(design.quantified.all())
    plan = planned_food(made, quantified=quantified)
    planned = {} if plan is None else dict(_declared(made, design, plan))
    told = _declared(made, design, food_of_batch(made, quantified=quantified))
    return tuple(
        Share(name, shown, planned.get(name, "") if planned.get(name) != shown else "")
        for name, shown in told
    )


def _declared(made: PanMade, design: LabelDesign, food: FoodFacts) -> tuple[tuple[str, str], ...]:
    batch = made.batch
    facts, _ = label_facts(
        design,
        on=timezone.localdate(),
        lot=batch.lot,
        made_on=batch.made_on,
        best_before=None,
        food=food,
    )
    return law.quantities(facts)


def brix_in_words(made: PanMade, *, pen: Pen) -> str:
    """Brix of this pan beside the plan's; that it was not measured, where it was not."""
    if made.brix is None:
        return "Brix was not measured at the end, so nothing is said of it."
    shown = pen.number(made.brix, places=1)
    if made.planned_brix is None:
        return f"Brix: this pan {shown}"
    planned = pen.number(made.planned_brix, places=1)
    return (
        f"Brix: {shown}, as planned"
        if planned == shown
        else (f"Brix: plan {planned}, this pan {shown}")
    )


def notes_shown(notes: tuple[Finding, ...]) -> list[dict[str, str]]:
    """Notes of a batch as the list of findings shows them."""
    return [
        {"level": LEVEL[note.level], "message": note.message, "hint": note.hint} for note in notes
    ]


def batch_named(request: HttpRequest, kitchen: Kitchen) -> Batch | None:
    """The batch that the address or the form names; None without one, 404 for another's."""
    named = request.POST.get("batch") or request.GET.get("batch") or ""
    if not named:
        return None
    if not (named.isascii() and named.isdigit() and possible_ids([int(named[:20])])):
        raise Http404("No such batch in this kitchen.")
    return this_kitchens(Batch, kitchen=kitchen, pk=int(named), related=_WITH_A_BATCH)


def of_the_batch(batch: Batch, design: LabelDesign) -> dict[str, Any]:
    """What the print page says of the batch: shares, days, and labels that are out of date."""
    made = read_batch(batch)
    return {
        "shares": shares(made, design),
        "brix": brix_in_words(made, pen=Pen(batch.kitchen)),
        "best_before": keeps_until(
            batch.made_on, months=design.shelf_life_months, days=design.shelf_life_days
        ),
        "notes": notes_shown(made.notes),
        "outdated": outdated(batch, runs=printed_of(batch)),
    }


def lots_of(product: Product) -> list[Batch]:
    """The latest finished batches that a label of this product can be of."""
    rows = batches_of(product.kitchen, recipe=product.recipe)
    return list(rows.filter(status=Batch.Status.FINISHED)[:_LATEST])
