"""Products: what a piece or a jar costs, and what to ask for it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import Ingredient, Kitchen, Product, ProductPart
from costing.money import currency_places
from costing.reckoning import pricing
from costing.reckoning.book import Book, CostSheet, Question
from costing.reckoning.errors import ReckoningError
from costing.reckoning.pricing import Ladder, PackagingPart, PieceCost, PiecePrice
from costing.selectors import purchases
from costing.selectors.kitchens import possible_ids
from costing.selectors.recipes import load_book
from costing.services.audit import record_changes
from costing.services.recipe_costs import sheet_of
from costing.services.saving import check, refuse_strangers, save_checked

NO_TAX = Decimal(0)


@dataclass(frozen=True)
class PackingInput:
    """One part of the packing as typed: how many a piece takes, and the share that is spoilt.

    A sheet of 21 labels bought by the sheet: a piece takes 1/21 of it.
    """

    item_id: int
    quantity: Decimal = Decimal(1)
    loss_pct: Decimal = Decimal(0)


@dataclass(frozen=True)
class ProductSums:
    """Everything a page says about the cost and the price of one product on one day.

    piece: cost of one, by nature. tax_pct: sales tax the price includes; None = not known.
    asked: the price that reaches the aim exactly; rounded: the price point above it.
    stall, wholesale: what the prices decided leave. shelf: what a shop would ask, from the
    wholesale price. Prices are None where what they need is not known; with `questions` open
    they are lower bounds.
    """

    product: Product
    on: date
    currency: str
    sheet: CostSheet
    piece: PieceCost
    parts: tuple[PackagingPart, ...]
    part_prices: Mapping[int, purchases.PiecePrice]
    tax_pct: Decimal | None
    asked: PiecePrice | None = None
    rounded: PiecePrice | None = None
    stall: PiecePrice | None = None
    wholesale: PiecePrice | None = None
    shelf: Ladder | None = None
    questions: tuple[Question, ...] = ()

    @property
    def is_complete(self) -> bool:
        """Whether nothing that cost or price needs is unknown."""
        return not self.questions


@transaction.atomic
def save_product(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    product: Product | None = None,
    values: Mapping[str, Any],
    parts: Sequence[PackingInput] | None = None,
) -> Product:
    """Save a product with its packing; `None` leaves the packing as it is.

    Raises ValidationError with the faults by field; those of the packing under "parts".
    """
    refuse_strangers(kitchen, product)
    subject = product or Product(kitchen=kitchen)
    errors: dict[str, list[str]] = {}
    try:
        save_checked(subject, by=by, values=values)
    except ValidationError as error:
        errors |= error.message_dict
    rows = _rows(kitchen, product=subject, parts=parts or (), errors=errors)
    if errors:
        raise ValidationError(errors)
    if parts is not None:
        before = _told(subject)
        subject.parts.all().delete()
        for row in rows:
            row.product = subject
        ProductPart.objects.bulk_create(rows)
        record_changes(subject, by=by, before=before, after=_told(subject))
    return subject


def price_product(product: Product, *, on: date) -> ProductSums:
    """What a piece costs on a day, what to ask for it and what that leaves."""
    return price_products(product.kitchen, [product], on=on)[product.pk]


def price_products(
    kitchen: Kitchen, products: Iterable[Product], *, on: date
) -> dict[int, ProductSums]:
    """Price many products in as many queries as one takes."""
    every = list(products)
    parts: dict[int, list[ProductPart]] = {product.pk: [] for product in every}
    rows = ProductPart.objects.filter(kitchen=kitchen, product_id__in=list(parts))
    for part in rows.select_related("item"):
        parts[part.product_id].append(part)
    book = load_book(kitchen, {product.recipe_id for product in every}, on=on)
    items = {part.item_id for own in parts.values() for part in own}
    pieces = purchases.piece_prices_in_force(kitchen, items, on=on) if items else {}
    known: dict[int, CostSheet] = {}
    return {
        product.pk: _sums(
            product,
            kitchen=kitchen,
            parts=parts[product.pk],
            pieces=pieces,
            book=book,
            sheet=sheet_of(book, product.recipe_id, known=known),
        )
        for product in every
    }


def price_draft(
    kitchen: Kitchen, product: Product, *, parts: Sequence[PackingInput], on: date
) -> ProductSums:
    """Price what is typed but not saved: a product whose values are set, and its packing.

    Raises ValidationError by field, as saving would, so that both say the same.
    """
    errors: dict[str, list[str]] = {}
    try:
        check(product)
    except ValidationError as error:
        errors |= error.message_dict
    rows = _rows(kitchen, product=product, parts=parts, errors=errors)
    for field in ("kitchen", "name"):  # a price does not wait for a name
        errors.pop(field, None)
    if errors:
        raise ValidationError(errors)
    book = load_book(kitchen, [product.recipe_id], on=on)
    pieces = purchases.piece_prices_in_force(kitchen, [row.item_id for row in rows], on=on)
    sheet = sheet_of(book, product.recipe_id)
    return _sums(product, kitchen=kitchen, parts=rows, pieces=pieces, book=book, sheet=sheet)


def _rows(
    kitchen: Kitchen,
    *,
    product: Product,
    parts: Sequence[PackingInput],
    errors: dict[str, list[str]],
) -> list[ProductPart]:
    ids = possible_ids(part.item_id for part in parts)
    items = Ingredient.objects.filter(kitchen=kitchen, pk__in=ids).in_bulk()
    faults, rows = [], []
    for position, part in enumerate(parts):
        item = items.get(part.item_id)
        if item is None or item.kind != Ingredient.Kind.PACKAGING:
            faults.append(f"Part {position + 1}: choose packaging of this kitchen.")
            continue
        row = ProductPart(
            kitchen=kitchen,
            item=item,
            quantity=part.quantity,
            loss_pct=part.loss_pct,
            position=position,
        )
        try:
            check(row, skip=("kitchen", "product", "item"))
        except ValidationError as error:
            faults += [f"Part {position + 1} ({item}): {fault}" for fault in error.messages]
        rows.append(row)
    if len({row.item_id for row in rows}) < len(rows):
        faults.append("A part is listed twice; add the two quantities up.")
    if faults:
        errors.setdefault("parts", []).extend(faults)
    return rows


def _told(product: Product) -> dict[str, str]:
    told = [
        f"{part.item} x {part.quantity.normalize():f}, {part.loss_pct.normalize():f} % spoilt"
        for part in product.parts.select_related("item")
    ]
    return {"parts": "; ".join(told)}


# --- Sums ----------------------------------------------------------------------------------------


def _sums(
    product: Product,
    *,
    kitchen: Kitchen,
    parts: Sequence[ProductPart],
    pieces: Mapping[int, purchases.PiecePrice],
    book: Book,
    sheet: CostSheet,
) -> ProductSums:
    packing = _packing(parts, pieces)
    piece = pricing.cost_piece(
        sheet,
        fill_g=product.fill_g,
        parts=packing,
        packing_minutes=product.packing_minutes,
        kitchen=book.kitchen,
    )
    questions = list(piece.questions)
    tax_pct = sales_tax_pct(product, kitchen=kitchen)
    if tax_pct is None:
        questions.append(_tax_question(product))
    prices: dict[str, Any] = {}
    if tax_pct is not None:
        places = currency_places(kitchen.currency)
        prices = _prices(product, piece, tax_pct, places=places, questions=questions)
    return ProductSums(
        product=product,
        on=book.on,
        currency=kitchen.currency,
        sheet=sheet,
        piece=piece,
        parts=packing,
        part_prices={pk: pieces[pk] for pk in (part.item_id for part in parts) if pk in pieces},
        tax_pct=tax_pct,
        questions=tuple(questions),
        **prices,
    )


def _packing(
    parts: Sequence[ProductPart], pieces: Mapping[int, purchases.PiecePrice]
) -> tuple[PackagingPart, ...]:
    return tuple(
        PackagingPart(
            name=part.item.name,
            each=pieces[part.item_id].per_each if part.item_id in pieces else None,
            quantity=part.quantity,
            loss_pct=part.loss_pct,
            ingredient_id=part.item_id,
        )
        for part in parts
    )


def sales_tax_pct(product: Product, *, kitchen: Kitchen) -> Decimal | None:
    """Tax in the price of a product: none unless the kitchen is registered; None = not known."""
    if not kitchen.is_tax_registered:
        return NO_TAX
    return product.sales_tax_pct if product.sales_tax_pct is not None else kitchen.food_tax_pct


def _tax_question(product: Product) -> Question:
    return Question(
        sentence=f"Which sales tax is in the price of {product.name or 'this product'}? Ask your"
        " accountant or tax office: the rate belongs to the product, not to the kitchen.",
        about="sales tax",
        name=product.name,
    )


def _prices(
    product: Product,
    piece: PieceCost,
    tax_pct: Decimal,
    *,
    places: int,
    questions: list[Question],
) -> dict[str, Any]:
    """The prices that can be told. A contradiction in one becomes a question, not a failure."""
    if not piece.total:  # not known, or nothing: a price of nothing has no margin
        return {}
    try:
        return {
            **_asked(product, piece.total, tax_pct, places=places),
            **_decided(product, piece.total, tax_pct),
        }
    except ReckoningError as error:
        questions.append(Question(sentence=str(error), about="contradiction", name=product.name))
        return {}


def _asked(product: Product, cost: Decimal, tax_pct: Decimal, *, places: int) -> dict[str, Any]:
    if product.aim == Product.Aim.MARGIN:
        wanted = pricing.price_for_margin(cost, margin_pct=product.aim_pct)
    else:
        wanted = pricing.price_for_markup(cost, markup_pct=product.aim_pct)
    net_g = product.net_quantity_g
    rounded = pricing.price_piece(
        cost,
        aim=product.aim,
        aim_pct=product.aim_pct,
        tax_pct=tax_pct,
        rounding=product.rounding,
        rounding_value=product.rounding_value,
        net_quantity_g=net_g,
        places=places,
    )
    exact = pricing.price_decided(cost, ex_tax=wanted, tax_pct=tax_pct, net_quantity_g=net_g)
    return {"asked": exact, "rounded": rounded}


def _decided(product: Product, cost: Decimal, tax_pct: Decimal) -> dict[str, Any]:
    prices: dict[str, Any] = {}
    net_g = product.net_quantity_g
    if product.stall_price:
        prices["stall"] = pricing.price_decided(
            cost, inc_tax=product.stall_price, tax_pct=tax_pct, net_quantity_g=net_g
        )
    if product.wholesale_price:
        prices["wholesale"] = pricing.price_decided(
            cost, ex_tax=product.wholesale_price, tax_pct=tax_pct, net_quantity_g=net_g
        )
        shop = [("Shop", product.shop_margin_pct)]
        prices["shelf"] = pricing.ladder(product.wholesale_price, sellers=shop, tax_pct=tax_pct)
    return prices
