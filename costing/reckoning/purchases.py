"""From what a supplier charges to what a kilo costs, and which price counts on a day."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from costing.money import split_to_cents
from costing.reckoning.book import PriceRecord
from costing.reckoning.errors import ReckoningError

HUNDRED = Decimal(100)
G_PER_KG = Decimal(1000)

LATEST, AVERAGE, WORST, FIXED = "latest", "average", "worst", "fixed"
POLICIES = (LATEST, AVERAGE, WORST, FIXED)


@dataclass(frozen=True)
class UnitCost:
    """What a pack costs, and a kilo or a piece of it; unrounded.

    ex_tax_pack: price and delivery without tax. cost_pack: with the tax that stays a cost.
    per_kg is None when the mass of the pack is not known, per_each when its count is not.
    """

    ex_tax_pack: Decimal
    cost_pack: Decimal
    per_kg: Decimal | None
    per_each: Decimal | None


def unit_cost(
    *,
    price: Decimal,
    pack_g: Decimal | None = None,
    pack_each: Decimal | None = None,
    price_includes_tax: bool = False,
    tax_rate_pct: Decimal = Decimal(0),
    recoverable_share_pct: Decimal = Decimal(0),
    delivery_share: Decimal = Decimal(0),
) -> UnitCost:
    """Cost of a kilo, or a piece, as purchased: u x (1 + t (1 - r)) on price plus delivery.

    Delivery is stated with or without tax as the price is. Raises ReckoningError for a negative
    price, a share outside 0-100 %, or a pack that holds nothing.
    """
    for field, amount in (("pack_price", price), ("delivery_per_pack", delivery_share)):
        if amount < 0:
            raise ReckoningError("A price cannot be negative.", field=field)
    for field, share in (("tax_pct", tax_rate_pct), ("tax_recoverable_pct", recoverable_share_pct)):
        if not 0 <= share <= HUNDRED:
            raise ReckoningError(f"{share} % must lie between 0 and 100 %.", field=field)
    if pack_g is None and pack_each is None:
        raise ReckoningError("Say what the pack holds: a weight or a count.", field="pack_text")
    if any(held is not None and held <= 0 for held in (pack_g, pack_each)):
        raise ReckoningError("A pack holds more than nothing.", field="pack_text")
    charged = price + delivery_share
    ex_tax = charged * HUNDRED / (HUNDRED + tax_rate_pct) if price_includes_tax else charged
    kept_share = tax_rate_pct * (HUNDRED - recoverable_share_pct) / HUNDRED
    cost = ex_tax * (HUNDRED + kept_share) / HUNDRED
    return UnitCost(
        ex_tax_pack=ex_tax,
        cost_pack=cost,
        per_kg=None if pack_g is None else cost * G_PER_KG / pack_g,
        per_each=None if pack_each is None else cost / pack_each,
    )


def per_usable_kg(per_kg: Decimal, *, usable_pct: Decimal) -> Decimal:
    """Cost of a kilo after trimming: never below the cost of a kilo as purchased.

    Raises ReckoningError unless 0 < usable_pct <= 100.
    """
    if not 0 < usable_pct <= HUNDRED:
        raise ReckoningError(
            f"Usable weight is {usable_pct} %; it must be more than 0 and at most 100 % of what "
            "was bought. Weigh what you buy and what is left after trimming.",
            field="usable_pct",
        )
    return per_kg * HUNDRED / usable_pct


def share_delivery(amount: Decimal, *, weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Share a delivery charge over order lines by value, weight or equally, to the cent."""
    return split_to_cents(amount, weights=weights)


@dataclass(frozen=True)
class SupplierPriceRecord:
    """One recorded price. order: position in which it was recorded, later is larger."""

    id: int
    ingredient_id: int
    supplier: str
    per_kg: Decimal
    valid_from: date
    order: int = 0
    pack: str = ""


def choose_price(
    prices: Iterable[SupplierPriceRecord],
    *,
    policy: str,
    on: date,
    fixed_on: date | None = None,
) -> PriceRecord | None:
    """The price that counts on a day under a policy, with a note that says which was taken.

    latest: the newest. average: mean of each supplier's newest. worst: the dearest of each
    supplier's newest. fixed: the newest on `fixed_on`; what was first priced later takes its
    first price since, and says so. None when nothing was priced by then: unknown is not zero.
    """
    known = sorted((p for p in prices if p.valid_from <= on), key=_newness)
    if not known:
        return None
    if policy == LATEST:
        return _taken(known[-1], note=f"latest: {_whose(known[-1])}")
    newest = {price.supplier: price for price in known}
    if policy == AVERAGE:
        return _average(list(newest.values()))
    if policy == WORST:
        dearest = max(newest.values(), key=lambda price: (price.per_kg, _newness(price)))
        return _taken(dearest, note=f"dearest of {len(newest)}: {_whose(dearest)}")
    if policy == FIXED:
        return _fixed(known, fixed_on)
    raise ReckoningError(
        f"“{policy}” is not a way to choose a price; take one of {', '.join(POLICIES)}.",
        field="price_policy",
    )


def _fixed(known: list[SupplierPriceRecord], fixed_on: date | None) -> PriceRecord:
    if fixed_on is None:
        raise ReckoningError("Say on which day the prices were fixed.", field="prices_fixed_on")
    day = day_in_words(fixed_on)
    before = [price for price in known if price.valid_from <= fixed_on]
    if before:
        return _taken(before[-1], note=f"fixed as on {day}: {_whose(before[-1])}")
    return _taken(known[0], note=f"no price on {day}, so the first since: {_whose(known[0])}")


def _average(newest: list[SupplierPriceRecord]) -> PriceRecord:
    if len(newest) == 1:
        return _taken(newest[0], note=f"average of 1 supplier: {_whose(newest[0])}")
    mean = sum((price.per_kg for price in newest), Decimal(0)) / len(newest)
    return PriceRecord(
        ingredient_id=newest[0].ingredient_id,
        per_kg=mean,
        supplier=", ".join(sorted(price.supplier for price in newest)),
        valid_from=max(price.valid_from for price in newest),
        note=f"average of {len(newest)} suppliers' newest prices",
    )


def _newness(price: SupplierPriceRecord) -> tuple[date, int, int]:
    return price.valid_from, price.order, price.id


def _whose(price: SupplierPriceRecord) -> str:
    return f"{price.supplier}, from {day_in_words(price.valid_from)}"


def day_in_words(day: date) -> str:
    """A day as it stands in a note: 15 Sep 2027."""
    return f"{day.day} {day:%b %Y}"


def _taken(price: SupplierPriceRecord, *, note: str) -> PriceRecord:
    return PriceRecord(
        ingredient_id=price.ingredient_id,
        per_kg=price.per_kg,
        price_id=price.id,
        supplier=price.supplier,
        pack=price.pack,
        valid_from=price.valid_from,
        note=note,
    )


# --- What stock costs -----------------------------------------------------------------------------


@dataclass(frozen=True)
class StockLot:
    """A quantity in stock and what one unit of it cost; oldest first in a sequence."""

    quantity: Decimal
    unit_price: Decimal


@dataclass(frozen=True)
class StockCost:
    """What a withdrawal cost, what is left and what that is worth."""

    cost: Decimal
    left_quantity: Decimal
    left_value: Decimal


def moving_average(lots: Sequence[StockLot]) -> Decimal:
    """Average price of what is in stock, weighted by quantity."""
    quantity = sum((lot.quantity for lot in lots), Decimal(0))
    if quantity <= 0:
        raise ReckoningError("Nothing is in stock, so there is no average.", field="quantity")
    return sum((lot.quantity * lot.unit_price for lot in lots), Decimal(0)) / quantity


def use_at_average(lots: Sequence[StockLot], *, quantity: Decimal) -> StockCost:
    """Take a quantity out of stock at the average price of all of it."""
    stock = _enough(lots, quantity)
    average = moving_average(lots)
    return StockCost(quantity * average, stock - quantity, (stock - quantity) * average)


def first_in_first_out(lots: Sequence[StockLot], *, quantity: Decimal) -> StockCost:
    """Take a quantity out of stock, oldest lot first, each at what it cost."""
    stock = _enough(lots, quantity)
    cost, wanted = Decimal(0), quantity
    for lot in lots:
        taken = min(lot.quantity, wanted)
        cost += taken * lot.unit_price
        wanted -= taken
    value = sum((lot.quantity * lot.unit_price for lot in lots), Decimal(0))
    return StockCost(cost, stock - quantity, value - cost)


def _enough(lots: Sequence[StockLot], quantity: Decimal) -> Decimal:
    stock = sum((lot.quantity for lot in lots), Decimal(0))
    if not 0 <= quantity <= stock:
        raise ReckoningError(
            f"{quantity} cannot be taken out of {stock} in stock. Count the stock, or enter the "
            "purchase that is missing.",
            field="quantity",
        )
    return stock
