"""What the lines of a cook can be filled from, and which of them are weighed to the gram."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import DecimalField, Q, Sum
from django.db.models.functions import Coalesce

from costing.models import Batch, Ingredient, Kitchen, Supplier, SupplierPrice

FINE = (Ingredient.Category.SPICE, Ingredient.Category.HERB)
SETS_OR_SOURS = ("pectin", "citric", "acid", "agar", "salt")
"""Words in the name of what is used by the gram like a spice, and has no category of its own."""

_NEARLY_NOTHING = Decimal("0.005")


@dataclass(frozen=True)
class Stock:
    """A finished batch of a preparation and what is left of it, by what was taken so far."""

    batch: Batch
    left_g: Decimal


def fine_ingredients(kitchen: Kitchen, ids: Iterable[int | None]) -> frozenset[int]:
    """Of these ingredients, the ones weighed to a gram: spices, herbs, pectin, acid, salt."""
    is_fine = Q(category__in=FINE)
    for word in SETS_OR_SOURS:
        is_fine |= Q(name__icontains=word)
    wanted = [pk for pk in ids if pk is not None]
    rows = Ingredient.objects.filter(is_fine, kitchen=kitchen, pk__in=wanted)
    return frozenset(rows.values_list("pk", flat=True))


def ingredients_by_id(kitchen: Kitchen, ids: Iterable[int | None]) -> dict[int, Ingredient]:
    """These ingredients of the kitchen, in one query."""
    wanted = [pk for pk in ids if pk is not None]
    return {row.pk: row for row in Ingredient.objects.filter(kitchen=kitchen, pk__in=wanted)}


def suppliers_by_ingredient(
    kitchen: Kitchen, ids: Iterable[int | None]
) -> dict[int, tuple[Supplier, ...]]:
    """Who sells each of these, by their price entries; one query."""
    wanted = [pk for pk in ids if pk is not None]
    rows = SupplierPrice.objects.filter(
        kitchen=kitchen, ingredient_id__in=wanted, voided_at__isnull=True
    )
    found: dict[int, dict[int, Supplier]] = {}
    for row in rows.select_related("supplier").order_by("supplier__name", "supplier_id"):
        found.setdefault(row.ingredient_id, {})[row.supplier_id] = row.supplier
    return {pk: tuple(suppliers.values()) for pk, suppliers in found.items()}


def stock_by_preparation(
    kitchen: Kitchen, recipe_ids: Iterable[int | None], *, besides: Batch | None = None
) -> dict[int, tuple[Stock, ...]]:
    """Finished batches of these preparations with something left, oldest first; one query.

    besides: what this batch took is counted as still there, for its own page.
    """
    wanted = [pk for pk in recipe_ids if pk is not None]
    others = Q() if besides is None else ~Q(used_in__batch=besides)
    taken = Coalesce("used_in__weighed_g", "used_in__planned_g")
    rows = (
        Batch.objects.filter(
            kitchen=kitchen, recipe_id__in=wanted, status=Batch.Status.FINISHED, net_g__gt=0
        )
        .annotate(
            taken_g=Coalesce(Sum(taken, filter=others), Decimal(0), output_field=DecimalField())
        )
        .order_by("made_on", "id")
    )
    found: dict[int, list[Stock]] = {}
    for row in rows:
        net_g = row.net_g or Decimal(0)
        left_g = net_g - row.taken_g
        if left_g > net_g * _NEARLY_NOTHING:
            found.setdefault(row.recipe_id, []).append(Stock(row, left_g))
    return {pk: tuple(stock) for pk, stock in found.items()}
