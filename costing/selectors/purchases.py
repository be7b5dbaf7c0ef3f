"""Suppliers, what they charge, and which price counts on a day."""

from collections.abc import Iterable
from datetime import date

from django.db.models import F, QuerySet, Window
from django.db.models.functions import RowNumber

from costing.models import Ingredient, Kitchen, Supplier, SupplierPrice
from costing.reckoning.book import PriceRecord


def suppliers_of(kitchen: Kitchen, *, with_archived: bool = False) -> QuerySet[Supplier]:
    """The kitchen's suppliers by name."""
    rows = Supplier.objects.filter(kitchen=kitchen)
    return rows if with_archived else rows.filter(is_archived=False)


def price_history(ingredient: Ingredient, *, with_void: bool = True) -> list[SupplierPrice]:
    """Every price of an ingredient, newest first, supplier loaded with it."""
    rows = SupplierPrice.objects.filter(kitchen_id=ingredient.kitchen_id, ingredient=ingredient)
    if not with_void:
        rows = rows.filter(voided_at__isnull=True)
    return list(rows.select_related("supplier", "recorded_by"))


def prices_of_supplier(supplier: Supplier, *, limit: int = 200) -> list[SupplierPrice]:
    """What one supplier charged, newest first, ingredient loaded with it."""
    rows = SupplierPrice.objects.filter(kitchen_id=supplier.kitchen_id, supplier=supplier)
    return list(rows.select_related("ingredient", "recorded_by")[:limit])


def latest_of_each_supplier(
    kitchen: Kitchen, *, ingredient_ids: Iterable[int] | None, on: date
) -> list[SupplierPrice]:
    """The newest price not voided on or before a day, one per ingredient and supplier.

    One query: the database numbers the rows, so that a long history costs nothing here.
    """
    rows = SupplierPrice.objects.filter(kitchen=kitchen, voided_at__isnull=True, valid_from__lte=on)
    if ingredient_ids is not None:
        rows = rows.filter(ingredient_id__in=set(ingredient_ids))
    newest = Window(
        RowNumber(),
        partition_by=[F("ingredient_id"), F("supplier_id")],
        order_by=[F("valid_from").desc(), F("id").desc()],
    )
    ranked = rows.annotate(age=newest).filter(age=1)
    return list(ranked.select_related("supplier").order_by("ingredient_id", "-valid_from", "-id"))


def prices_in_force(
    kitchen: Kitchen, ingredient_ids: Iterable[int] | None, *, on: date
) -> dict[int, PriceRecord]:
    """The price that counts on a day for each ingredient, by the kitchen's policy.

    ingredient_ids: None asks for all. Ingredients without a price are left out, not set to zero.
    """
    raise NotImplementedError
