"""Suppliers, what they charge, and which price counts on a day."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import BooleanField, Case, F, Q, QuerySet, Value, When, Window
from django.db.models.expressions import OrderBy
from django.db.models.functions import RowNumber

from costing.models import Ingredient, Kitchen, Supplier, SupplierPrice
from costing.reckoning.book import PriceRecord
from costing.reckoning.purchases import SupplierPriceRecord, choose_price, per_usable_kg
from costing.selectors.kitchens import possible_ids


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


NEWEST = (F("valid_from").desc(), F("id").desc())
OLDEST = (F("valid_from").asc(), F("id").asc())


@dataclass(frozen=True)
class PiecePrice:
    """What one piece of packaging costs, and where that figure comes from."""

    item_id: int
    per_each: Decimal
    price_id: int | None = None
    supplier: str = ""
    pack: str = ""
    valid_from: date | None = None
    note: str = ""


@dataclass(frozen=True)
class SupplierOffer:
    """One supplier's newest price for an ingredient, to be compared with the others'."""

    price: SupplierPrice
    per_usable_kg: Decimal | None
    per_each: Decimal | None
    is_in_force: bool
    is_cheapest: bool


def prices_in_force(
    kitchen: Kitchen, ingredient_ids: Iterable[int] | None, *, on: date
) -> dict[int, PriceRecord]:
    """The price that counts on a day for each ingredient, by the kitchen's policy; one query.

    ingredient_ids: None asks for all. Ingredients without a price are left out, not set to zero.
    """
    return prices_of_the_day(kitchen, ingredient_ids, on=on)[0]


def piece_prices_in_force(
    kitchen: Kitchen, item_ids: Iterable[int] | None, *, on: date
) -> dict[int, PiecePrice]:
    """The same for what is bought by the piece: packaging."""
    return prices_of_the_day(kitchen, item_ids, on=on)[1]


def prices_of_the_day(
    kitchen: Kitchen, ingredient_ids: Iterable[int] | None, *, on: date
) -> tuple[dict[int, PriceRecord], dict[int, PiecePrice]]:
    """Prices in force of a kilo and of a piece, out of one query."""
    by_ingredient: dict[int, list[SupplierPrice]] = {}
    for price in newest_of_each_supplier(kitchen, ingredient_ids, on=on):
        by_ingredient.setdefault(price.ingredient_id, []).append(price)
    of_kilos: dict[int, PriceRecord] = {}
    of_pieces: dict[int, PiecePrice] = {}
    for ingredient_id, prices in by_ingredient.items():
        kilo = _choose(kitchen, [(price, price.per_kg) for price in prices], on=on)
        if kilo is not None:
            of_kilos[ingredient_id] = kilo
        piece = _choose(kitchen, [(price, price.per_each) for price in prices], on=on)
        if piece is not None:
            of_pieces[ingredient_id] = _piece(piece)
    return of_kilos, of_pieces


def newest_of_each_supplier(
    kitchen: Kitchen, ingredient_ids: Iterable[int] | None, *, on: date
) -> list[SupplierPrice]:
    """The newest price on a day, not voided, for each ingredient and supplier.

    With prices fixed on an earlier day: the newest on that day and the first after it. One query
    in which the database numbers the rows, so that a long history costs nothing here. A supplier
    who was given up counts only where nobody else sells the same.
    """
    rows = SupplierPrice.objects.filter(kitchen=kitchen, voided_at__isnull=True, valid_from__lte=on)
    if ingredient_ids is not None:
        rows = rows.filter(ingredient_id__in=possible_ids(ingredient_ids))
    if kitchen.price_policy == Kitchen.Policy.FIXED and kitchen.prices_fixed_on is not None:
        wanted = _as_fixed(rows, on=kitchen.prices_fixed_on)
    else:
        wanted = rows.annotate(age=_numbered(NEWEST)).filter(age=1)
    # Numbering carries only what it numbers; the whole rows are fetched for the few that are left.
    newest = SupplierPrice.objects.filter(pk__in=wanted.values("pk")).select_related("supplier")
    return _without_given_up(list(newest.order_by("valid_from", "id")))


def suppliers_side_by_side(ingredient: Ingredient, *, on: date) -> list[SupplierOffer]:
    """Each supplier's price in force for an ingredient, cheapest usable kilo (or piece) first."""
    kitchen = ingredient.kitchen
    kilos, pieces = prices_of_the_day(kitchen, [ingredient.pk], on=on)
    taken = kilos.get(ingredient.pk) or pieces.get(ingredient.pk)
    newest = {
        price.supplier_id: price
        for price in newest_of_each_supplier(kitchen, [ingredient.pk], on=on)
    }
    figures = {
        supplier_id: (
            None
            if price.per_kg is None
            else per_usable_kg(price.per_kg, usable_pct=ingredient.usable_pct)
        )
        for supplier_id, price in newest.items()
    }
    ranked = sorted(
        newest.values(), key=lambda p: (figures[p.supplier_id] or p.per_each or Decimal(0), p.pk)
    )
    return [
        SupplierOffer(
            price=price,
            per_usable_kg=figures[price.supplier_id],
            per_each=price.per_each,
            is_in_force=taken is not None and taken.price_id == price.pk,
            is_cheapest=position == 0 and len(ranked) > 1,
        )
        for position, price in enumerate(ranked)
    ]


def _as_fixed(rows: QuerySet[SupplierPrice], *, on: date) -> QuerySet[SupplierPrice]:
    """The newest on the day prices were fixed, and the first since for what was not sold then."""
    is_late = Case(
        When(valid_from__gt=on, then=Value(True)),
        default=Value(False),
        output_field=BooleanField(),
    )
    numbered = rows.annotate(is_late=is_late).annotate(
        age=_numbered(NEWEST, "is_late"), youth=_numbered(OLDEST, "is_late")
    )
    return numbered.filter(Q(is_late=False, age=1) | Q(is_late=True, youth=1))


def _numbered(order: tuple[OrderBy, ...], *more: str) -> Window:
    partition = [F(name) for name in ("ingredient_id", "supplier_id", *more)]
    return Window(RowNumber(), partition_by=partition, order_by=list(order))


def _without_given_up(prices: list[SupplierPrice]) -> list[SupplierPrice]:
    served = {price.ingredient_id for price in prices if not price.supplier.is_archived}
    return [
        price
        for price in prices
        if not price.supplier.is_archived or price.ingredient_id not in served
    ]


def _choose(
    kitchen: Kitchen, prices: list[tuple[SupplierPrice, Decimal | None]], *, on: date
) -> PriceRecord | None:
    records = [
        SupplierPriceRecord(
            id=price.pk,
            ingredient_id=price.ingredient_id,
            supplier=price.supplier.name,
            per_kg=figure,
            valid_from=price.valid_from,
            order=price.pk,
            pack=price.pack_text,
        )
        for price, figure in prices
        if figure is not None
    ]
    return choose_price(
        records, policy=kitchen.price_policy, on=on, fixed_on=kitchen.prices_fixed_on
    )


def _piece(chosen: PriceRecord) -> PiecePrice:
    """choose_price compares figures, whatever they are the price of; here, of one piece."""
    return PiecePrice(
        item_id=chosen.ingredient_id,
        per_each=chosen.per_kg,
        price_id=chosen.price_id,
        supplier=chosen.supplier,
        pack=chosen.pack,
        valid_from=chosen.valid_from,
        note=chosen.note,
    )
