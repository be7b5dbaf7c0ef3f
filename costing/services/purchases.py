"""Suppliers and their prices: worked out while typed, recorded once, voided with a reason."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from costing.models import Ingredient, Kitchen, Supplier, SupplierPrice
from costing.services.saving import save_checked
from costing.units import Pack


@dataclass(frozen=True)
class PriceEntry:
    """A price as typed: what the pack is and what is paid for it, in the kitchen's currency."""

    pack_text: str
    pack_price: Decimal
    valid_from: date
    price_includes_tax: bool = False
    tax_pct: Decimal = Decimal(0)
    tax_recoverable_pct: Decimal = Decimal(0)
    delivery_per_pack: Decimal = Decimal(0)
    note: str = ""


@dataclass(frozen=True)
class PriceWorking:
    """What a price comes to, and the sum in words.

    cost_pack: pack with tax that is not recovered and its share of delivery.
    per_kg: as purchased; per_usable_kg: after trimming; per_each: of one piece. None where it has
    no meaning: a food bought by weight has no piece, a lid no kilo.
    """

    pack: Pack
    cost_pack: Decimal
    per_kg: Decimal | None
    per_usable_kg: Decimal | None
    per_each: Decimal | None
    sentence: str


@transaction.atomic
def save_supplier(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    supplier: Supplier | None = None,
    values: Mapping[str, Any],
) -> Supplier:
    """Save a supplier; every change is written down."""
    return save_checked(supplier or Supplier(kitchen=kitchen), by=by, values=values)


def work_out(entry: PriceEntry, *, ingredient: Ingredient) -> PriceWorking:
    """What a typed price comes to, without saving it.

    Raises ValidationError with the faults by field: a pack that cannot be read, litres without a
    density and pieces without a weight under "pack_text".
    """
    raise NotImplementedError


def record_supplier_price(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    supplier: Supplier,
    ingredient: Ingredient,
    entry: PriceEntry,
) -> SupplierPrice:
    """Record a price from a day on. Nothing is overwritten; it supersedes by its date."""
    raise NotImplementedError


def void_supplier_price(
    price: SupplierPrice, *, by: AbstractBaseUser | None, reason: str
) -> SupplierPrice:
    """Take a mistaken price out of the sums; it stays on record with the reason."""
    raise NotImplementedError
