"""Suppliers and their prices: worked out while typed, recorded once, voided with a reason."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from costing.models import Ingredient, Kitchen, Supplier, SupplierPrice
from costing.money import format_money, round_money
from costing.reckoning.errors import ReckoningError
from costing.reckoning.purchases import UnitCost, per_usable_kg, unit_cost
from costing.services.audit import CREATED, record_changes
from costing.services.saving import as_error, check, refuse_strangers, save_checked
from costing.units import (
    COUNT,
    MASS,
    VOLUME,
    Pack,
    UnitNotUnderstood,
    UnitsError,
    read_pack,
    to_grams,
)

BASE_UNITS = {MASS: "g", VOLUME: "ml", COUNT: "each"}
WHOLE = Decimal(100)
DEAREST = Decimal(10) ** 7
"""Per kilo or piece. Above it, a unit was mistyped; it is also what both databases hold exactly."""


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
    refuse_strangers(kitchen, supplier)
    return save_checked(supplier or Supplier(kitchen=kitchen), by=by, values=values)


def work_out(entry: PriceEntry, *, ingredient: Ingredient) -> PriceWorking:
    """What a typed price comes to, without saving it.

    Raises ValidationError with the faults by field: a pack that cannot be read, litres without a
    density and pieces without a weight under "pack_text".
    """
    _refuse_what_is_no_number(entry)
    try:
        pack = read_pack(entry.pack_text)
        pack_g, pack_each = _held(pack, ingredient=ingredient)
    except UnitsError as error:
        raise as_error("pack_text", str(error)) from error
    try:
        cost = unit_cost(
            price=entry.pack_price,
            pack_g=pack_g,
            pack_each=pack_each,
            price_includes_tax=entry.price_includes_tax,
            tax_rate_pct=entry.tax_pct,
            recoverable_share_pct=entry.tax_recoverable_pct,
            delivery_share=entry.delivery_per_pack,
        )
    except ReckoningError as error:
        raise as_error(error.field or "pack_price", str(error)) from error
    usable = None
    if cost.per_kg is not None:
        usable = per_usable_kg(cost.per_kg, usable_pct=ingredient.usable_pct)
    for figure in (cost.per_kg, cost.per_each):
        if figure is not None and figure >= DEAREST:
            raise as_error(
                "pack_text",
                "That is more than ten million a kilo or piece: check the pack and the price.",
            )
    sentence = _in_words(entry, pack=pack, cost=cost, usable=usable, ingredient=ingredient)
    return PriceWorking(pack, cost.cost_pack, cost.per_kg, usable, cost.per_each, sentence)


@transaction.atomic
def record_supplier_price(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    supplier: Supplier,
    ingredient: Ingredient,
    entry: PriceEntry,
) -> SupplierPrice:
    """Record a price from a day on. Nothing is overwritten; it supersedes by its date."""
    working = work_out(entry, ingredient=ingredient)
    price = SupplierPrice(
        kitchen=kitchen,
        supplier=supplier,
        ingredient=ingredient,
        pack_text=" ".join(entry.pack_text.split()),
        pack_quantity=round_money(working.pack.total, places=5),
        pack_unit=BASE_UNITS[working.pack.dimension],
        pack_price=entry.pack_price,
        price_includes_tax=entry.price_includes_tax,
        tax_pct=entry.tax_pct,
        tax_recoverable_pct=entry.tax_recoverable_pct,
        delivery_per_pack=entry.delivery_per_pack,
        per_kg=_to_store(working.per_kg, places=8),
        per_each=_to_store(working.per_each, places=8),
        valid_from=entry.valid_from,
        note=entry.note.strip(),
        recorded_by_id=by.pk if by is not None else None,
    )
    check(price)
    price.save()
    told = (
        f"{ingredient}, {supplier}: {price.pack_text} at {price.pack_price} from {price.valid_from}"
    )
    record_changes(price, by=by, before={}, after={CREATED: told})
    return price


@transaction.atomic
def void_supplier_price(
    price: SupplierPrice, *, by: AbstractBaseUser | None, reason: str
) -> SupplierPrice:
    """Take a mistaken price out of the sums; it stays on record with the reason."""
    reason = reason.strip()
    if not reason:
        raise as_error("void_reason", "Say why this price does not count, in a few words.")
    price.void_reason, price.voided_at = reason, timezone.now()
    check(price)
    # Asked of the database again, so that of two people only one voids it.
    untouched = SupplierPrice.objects.filter(
        pk=price.pk, kitchen_id=price.kitchen_id, voided_at__isnull=True
    )
    if not untouched.update(voided_at=price.voided_at, void_reason=reason):
        price.refresh_from_db()
        raise as_error("void_reason", f"This price is void already: {price.void_reason}")
    record_changes(price, by=by, before={"void": ""}, after={"void": reason})
    return price


def _refuse_what_is_no_number(entry: PriceEntry) -> None:
    for field in ("pack_price", "tax_pct", "tax_recoverable_pct", "delivery_per_pack"):
        if not getattr(entry, field).is_finite():
            raise as_error(field, "This is not a number.")


def _held(pack: Pack, *, ingredient: Ingredient) -> tuple[Decimal | None, Decimal | None]:
    """Mass and count of a pack. Food is costed by the kilo, packaging by the piece."""
    if ingredient.kind == Ingredient.Kind.PACKAGING:
        if pack.dimension == COUNT:
            return None, pack.total
        raise UnitNotUnderstood(
            f"{pack.text} of {ingredient.name}: how many pieces is that? Packaging is costed by"
            " the piece, so type the count, such as 100 each."
        )
    grams = to_grams(
        pack.total,
        unit=BASE_UNITS[pack.dimension],
        density_kg_per_l=ingredient.density_kg_per_l,
        each_g=ingredient.each_g,
        name=ingredient.name,
    )
    return grams, pack.total if pack.dimension == COUNT else None


def _to_store(value: Decimal | None, *, places: int) -> Decimal | None:
    return None if value is None else round_money(value, places=places)


def _in_words(
    entry: PriceEntry,
    *,
    pack: Pack,
    cost: UnitCost,
    usable: Decimal | None,
    ingredient: Ingredient,
) -> str:
    kitchen = ingredient.kitchen

    def money(amount: Decimal, places: int = 2) -> str:
        return format_money(
            amount, currency=kitchen.currency, locale=kitchen.number_format, places=places
        )

    paid = money(entry.pack_price)
    if entry.delivery_per_pack:
        paid += f" and {money(entry.delivery_per_pack)} delivery"
    if entry.tax_pct:
        side = "with" if entry.price_includes_tax else "plus"
        paid += (
            f", {side} {entry.tax_pct.normalize():f} % tax of which"
            f" {entry.tax_recoverable_pct.normalize():f} % comes back,"
        )
    told = f"{paid} for {pack.text}"
    if cost.cost_pack != entry.pack_price:
        told += f" costs {money(cost.cost_pack)}, which"
    if cost.per_kg is None and cost.per_each is not None:
        return f"{told} is {money(cost.per_each, 4)} each."
    if cost.per_each is not None:
        told += f" is {money(cost.per_each, 4)} each, which"
    told += f" is {money(cost.per_kg or Decimal(0))} per kg as purchased"
    if usable is None or ingredient.usable_pct == WHOLE:
        return f"{told}."
    share = f"{ingredient.usable_pct.normalize():f}"
    return f"{told}; with {share} % of it usable, {money(usable)} per usable kg."
