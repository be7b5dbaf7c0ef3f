"""Products: what a piece or a jar costs, and what to ask for it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser

from costing.models import Kitchen, Product


@dataclass(frozen=True)
class PackingInput:
    """One part of the packing as typed: how many a piece takes, and the share that is spoilt."""

    item_id: int
    quantity: Decimal = Decimal(1)
    loss_pct: Decimal = Decimal(0)


def save_product(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    product: Product | None = None,
    values: Mapping[str, Any],
    parts: Sequence[PackingInput] | None = None,
) -> Product:
    """Save a product with its packing; `None` leaves the packing as it is."""
    raise NotImplementedError


def price_product(product: Product, *, on: date) -> Any:
    """What a piece costs on a day, what to ask for it and what that leaves."""
    raise NotImplementedError


def price_products(kitchen: Kitchen, products: Iterable[Product], *, on: date) -> dict[int, Any]:
    """Price many products in as many queries as one takes."""
    raise NotImplementedError
