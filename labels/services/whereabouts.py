"""Where something went: the lots that hold an ingredient or a lot, and the labels they carry."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Q, QuerySet

from costing.models import Batch, BatchInput, Ingredient, Kitchen
from labels.models import PrintedLabel
from labels.services.facts_kept import kept_facts

__all__ = ["Whereabouts", "everything_bought", "where_it_went"]


@dataclass(frozen=True)
class Whereabouts:
    """Lots and print runs, the newest first.

    from_recipe: runs of no lot that was cooked here, whose recipe had the ingredient in it.
    """

    batches: tuple[Batch, ...]
    runs: tuple[PrintedLabel, ...]
    from_recipe: tuple[PrintedLabel, ...]


def everything_bought(kitchen: Kitchen) -> dict[int, str]:
    """Ingredients of a kitchen by their key, in the order of their names."""
    rows = Ingredient.objects.filter(kitchen=kitchen).order_by("name")
    return dict(rows.values_list("pk", "name"))


def where_it_went(kitchen: Kitchen, *, ingredient: int | None = None, lot: str = "") -> Whereabouts:
    """Every lot that holds it, however many own batches lie between, and its printed labels.

    ingredient: its key in the kitchen's own larder.
    """
    found = _downstream(kitchen, _first(kitchen, ingredient=ingredient, lot=lot))
    batches = Batch.objects.filter(kitchen=kitchen, pk__in=found).select_related("recipe")
    runs = _runs(kitchen)
    of_batches = Q(batch__in=found)
    named = runs.filter(of_batches | Q(lot__iexact=lot)) if lot else runs.filter(of_batches)
    loose: Iterable[PrintedLabel] = ()
    if ingredient is not None and not lot:
        loose = (run for run in runs.filter(batch=None) if _holds(run, ingredient))
    return Whereabouts(
        tuple(batches.order_by("-made_on", "-pk")), tuple(named.defer("facts")), tuple(loose)
    )


def _first(kitchen: Kitchen, *, ingredient: int | None, lot: str) -> set[int]:
    """The lots it went into directly; a lot of our own is in itself."""
    rows = BatchInput.objects.filter(kitchen=kitchen)
    if ingredient is not None:
        rows = rows.filter(ingredient_id=ingredient)
    if lot:
        rows = rows.filter(supplier_lot__iexact=lot)
    found = set(rows.values_list("batch", flat=True))
    if lot and ingredient is None:
        own = Batch.objects.filter(kitchen=kitchen, lot__iexact=lot)
        found |= set(own.values_list("pk", flat=True))
    return found


def _downstream(kitchen: Kitchen, first: set[int]) -> set[int]:
    """Those lots and every one that was filled from them."""
    found, asked = set(first), set(first)
    while asked:
        rows = BatchInput.objects.filter(kitchen=kitchen, from_batch__in=asked)
        asked = set(rows.values_list("batch", flat=True)) - found
        found |= asked
    return found


def _runs(kitchen: Kitchen) -> QuerySet[PrintedLabel]:
    return PrintedLabel.objects.filter(kitchen=kitchen).select_related("product").defer("label_pdf")


def _holds(run: PrintedLabel, ingredient: int) -> bool:
    return any(
        part.key == str(ingredient)
        for each in kept_facts(run).ingredients
        for part in each.with_parts()
    )
