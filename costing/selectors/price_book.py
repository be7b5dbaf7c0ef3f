"""The price book: what each ingredient costs now, how that changed, and how old the price is."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Exists, F, OuterRef, QuerySet, Window
from django.db.models.functions import RowNumber

from costing.models import Ingredient, Kitchen, SupplierPrice
from costing.reckoning.purchases import per_usable_kg
from costing.selectors.purchases import prices_of_the_day

OLD_AFTER_DAYS = 90
"""A price older than this is shown with a caution; the season has moved on."""


@dataclass(frozen=True)
class PriceLine:
    """One line of the price book. Prices are None where none is known.

    before, after: the last two prices of the supplier whose price is the newest, per kilo as
    purchased or per piece. age_days: of the newest price.
    """

    ingredient: Ingredient
    per_kg: Decimal | None = None
    per_usable_kg: Decimal | None = None
    per_each: Decimal | None = None
    note: str = ""
    supplier: str = ""
    pack: str = ""
    valid_from: date | None = None
    before: Decimal | None = None
    after: Decimal | None = None
    age_days: int | None = None

    @property
    def has_price(self) -> bool:
        """Whether anything is known of its price."""
        return self.per_kg is not None or self.per_each is not None

    @property
    def is_free(self) -> bool:
        """Water from the tap, unless the kitchen pays for it and has said what."""
        return self.ingredient.category == Ingredient.Category.WATER and not self.has_price

    @property
    def is_old(self) -> bool:
        """Whether the newest price is so old that it should be asked for again."""
        return self.age_days is not None and self.age_days > OLD_AFTER_DAYS


def price_book(kitchen: Kitchen, ingredients: Sequence[Ingredient], *, on: date) -> list[PriceLine]:
    """Lines for some ingredients, in their order; two queries however many there are."""
    ids = [ingredient.pk for ingredient in ingredients]
    if not ids:
        return []
    kilos, pieces = prices_of_the_day(kitchen, ids, on=on)
    newest = _two_newest(kitchen, ids, on=on)
    lines = []
    for ingredient in ingredients:
        kilo, piece = kilos.get(ingredient.pk), pieces.get(ingredient.pk)
        taken = kilo or piece
        if taken is None:
            lines.append(PriceLine(ingredient))
            continue
        before, after, day = _change(newest.get(ingredient.pk, []), by_piece=kilo is None)
        lines.append(
            PriceLine(
                ingredient=ingredient,
                per_kg=kilo.per_kg if kilo else None,
                per_usable_kg=(
                    per_usable_kg(kilo.per_kg, usable_pct=ingredient.usable_pct) if kilo else None
                ),
                per_each=piece.per_each if piece else None,
                note=taken.note,
                supplier=taken.supplier,
                pack=taken.pack,
                valid_from=taken.valid_from,
                before=before,
                after=after,
                age_days=None if day is None else (on - day).days,
            )
        )
    return lines


def without_price(rows: QuerySet[Ingredient], *, on: date) -> QuerySet[Ingredient]:
    """Those of some ingredients that have no price on a day; tap water needs none."""
    prices = SupplierPrice.objects.filter(
        kitchen_id=OuterRef("kitchen_id"),
        ingredient_id=OuterRef("pk"),
        voided_at__isnull=True,
        valid_from__lte=on,
    )
    return rows.filter(~Exists(prices)).exclude(category=Ingredient.Category.WATER)


def _two_newest(
    kitchen: Kitchen, ids: Sequence[int], *, on: date
) -> dict[int, list[SupplierPrice]]:
    """The two newest prices of each supplier of each ingredient, newest first."""
    place = Window(
        RowNumber(),
        partition_by=[F("ingredient_id"), F("supplier_id")],
        order_by=[F("valid_from").desc(), F("id").desc()],
    )
    rows = (
        SupplierPrice.objects.filter(
            kitchen=kitchen, ingredient_id__in=ids, voided_at__isnull=True, valid_from__lte=on
        )
        .annotate(place=place)
        .filter(place__lte=2)
        .order_by("-valid_from", "-id")
    )
    found: dict[int, list[SupplierPrice]] = {}
    for price in rows:
        found.setdefault(price.ingredient_id, []).append(price)
    return found


def _change(
    prices: list[SupplierPrice], *, by_piece: bool
) -> tuple[Decimal | None, Decimal | None, date | None]:
    if not prices:
        return None, None, None
    newest = prices[0]
    earlier = next((p for p in prices[1:] if p.supplier_id == newest.supplier_id), None)
    name = "per_each" if by_piece else "per_kg"
    return (
        getattr(earlier, name) if earlier else None,
        getattr(newest, name),
        newest.valid_from,
    )
