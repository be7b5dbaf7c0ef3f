"""What to ask for it: cost of a piece, margin and markup kept apart, tax, price points, ladders.

Margin is a share of the price without tax, markup a share of the cost; both in percent.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from costing.money import round_money
from costing.reckoning.book import (
    LABOUR,
    NATURES,
    OVERHEAD,
    PACKAGING,
    CostSheet,
    KitchenRecord,
    Question,
)
from costing.reckoning.errors import ReckoningError
from costing.reckoning.purchases import G_PER_KG
from costing.reckoning.recipes import MINUTES_PER_H

HUNDRED = Decimal(100)
MARGIN, MARKUP = "margin", "markup"
STEP, ENDING, NO_ROUNDING = "step", "ending", "none"

_CONSISTENT = Decimal("1e-9")


# --- What a piece costs ---------------------------------------------------------------------------


@dataclass(frozen=True)
class PackagingPart:
    """One part of the packing. each: its cost, None when not known. loss_pct: share spoilt."""

    name: str
    each: Decimal | None
    quantity: Decimal = Decimal(1)
    loss_pct: Decimal = Decimal(0)
    ingredient_id: int | None = None

    @property
    def cost(self) -> Decimal | None:
        """Cost per good unit: each x quantity / (1 - loss)."""
        if self.each is None:
            return None
        return self.each * self.quantity * HUNDRED / (HUNDRED - self.loss_pct)


@dataclass(frozen=True)
class PieceCost:
    """What one piece, slab or jar costs, by nature. With `questions`, a lower bound.

    content: what is in it, None when the cost of a kilo is not known; total is then None too.
    """

    fill_g: Decimal
    content: Decimal | None
    packaging: Decimal
    packing_labour: Decimal
    packing_overhead: Decimal
    total: Decimal | None
    breakdown: Mapping[str, Decimal]
    questions: tuple[Question, ...] = ()

    @property
    def is_complete(self) -> bool:
        """Whether nothing that the cost needs is unknown."""
        return not self.questions


def cost_piece(
    sheet: CostSheet,
    *,
    fill_g: Decimal,
    parts: Sequence[PackagingPart] = (),
    packing_minutes: Decimal | None = Decimal(0),
    kitchen: KitchenRecord,
) -> PieceCost:
    """Cost of one piece: cost per kilo x what is really filled, packing material, packing time.

    fill_g is the actual fill, not the declared net quantity. Raises ReckoningError for a fill
    that is nothing, negative minutes, or a part that is always spoilt.
    """
    if fill_g <= 0:
        raise ReckoningError("The fill must be more than nothing.", field="fill_g")
    if packing_minutes is not None and packing_minutes < 0:
        raise ReckoningError("Minutes cannot be negative.", field="packing_minutes")
    questions = list(sheet.questions)
    share = None if sheet.finished_g is None else fill_g / sheet.finished_g
    breakdown = {nature: sheet.breakdown[nature] * (share or Decimal(0)) for nature in NATURES}
    content = None if share is None else sum(breakdown.values(), Decimal(0))
    packaging = _packaging(parts, questions)
    labour, overhead = _packing_time(packing_minutes, kitchen, questions)
    breakdown[PACKAGING] += packaging
    breakdown[LABOUR] += labour
    breakdown[OVERHEAD] += overhead
    return PieceCost(
        fill_g=fill_g,
        content=content,
        packaging=packaging,
        packing_labour=labour,
        packing_overhead=overhead,
        total=None if content is None else sum(breakdown.values(), Decimal(0)),
        breakdown=breakdown,
        questions=tuple(dict.fromkeys(questions)),
    )


def _packaging(parts: Sequence[PackagingPart], questions: list[Question]) -> Decimal:
    total = Decimal(0)
    for part in parts:
        if part.quantity <= 0:
            raise ReckoningError(f"{part.name}: use more than none.", field="quantity")
        if not 0 <= part.loss_pct < HUNDRED:
            raise ReckoningError(
                f"{part.name}: a loss of {part.loss_pct} % must be at least 0 and below 100 %.",
                field="loss_pct",
            )
        if part.cost is None:
            questions.append(
                Question(
                    sentence=f"What does one {part.name} cost?",
                    about="price",
                    ingredient_id=part.ingredient_id,
                    name=part.name,
                )
            )
        total += part.cost or Decimal(0)
    return total


def _packing_time(
    minutes: Decimal | None, kitchen: KitchenRecord, questions: list[Question]
) -> tuple[Decimal, Decimal]:
    if minutes is None:
        questions.append(
            Question(sentence="How many minutes does packing one take?", about="minutes")
        )
        return Decimal(0), Decimal(0)
    costs = []
    for rate, about, sentence in (
        (kitchen.labour_rate_per_h, "labour rate", "What is an hour of packing worth?"),
        (kitchen.overhead_rate_per_h, "overhead rate", "What overhead does an hour carry?"),
    ):
        is_asked = any(question.about == about for question in questions)
        if rate is None and minutes > 0 and not is_asked:
            questions.append(Question(sentence=sentence, about=about))
        costs.append(minutes * (rate or Decimal(0)) / MINUTES_PER_H)
    return costs[0], costs[1]


# --- Margin, markup, tax --------------------------------------------------------------------------


def margin_of(price: Decimal, *, cost: Decimal) -> Decimal:
    """Share of the price without tax that is left after the cost, in percent."""
    if price <= 0:
        raise ReckoningError("A price of nothing has no margin.", field="price")
    return (price - cost) * HUNDRED / price


def markup_of(price: Decimal, *, cost: Decimal) -> Decimal:
    """What was added to the cost, in percent of the cost."""
    if cost <= 0:
        raise ReckoningError("A cost of nothing has no markup.", field="cost")
    return (price - cost) * HUNDRED / cost


def price_for_margin(cost: Decimal, *, margin_pct: Decimal) -> Decimal:
    """Price without tax of which the margin is left: cost / (1 - margin)."""
    if not margin_pct.is_finite() or margin_pct >= HUNDRED:
        raise ReckoningError(
            f"A margin of {margin_pct} % cannot be: it is a share of the price, so the cost would "
            "have to be nothing. If you mean to add that much to the cost, that is a markup.",
            field="aim_pct",
        )
    return cost * HUNDRED / (HUNDRED - margin_pct)


def price_for_markup(cost: Decimal, *, markup_pct: Decimal) -> Decimal:
    """Price without tax with the markup added: cost x (1 + markup)."""
    if not markup_pct.is_finite() or markup_pct <= -HUNDRED:
        raise ReckoningError("A markup of -100 % or less gives it away.", field="aim_pct")
    return cost * (HUNDRED + markup_pct) / HUNDRED


def with_tax(price_ex_tax: Decimal, *, tax_pct: Decimal) -> Decimal:
    """Price with sales tax added."""
    return price_ex_tax * (HUNDRED + _rate(tax_pct)) / HUNDRED


def without_tax(price_inc_tax: Decimal, *, tax_pct: Decimal) -> Decimal:
    """Price with the sales tax in it taken out: not the same as taking the rate off."""
    return price_inc_tax * HUNDRED / (HUNDRED + _rate(tax_pct))


def _rate(tax_pct: Decimal) -> Decimal:
    if not 0 <= tax_pct <= HUNDRED:
        raise ReckoningError(
            f"A tax of {tax_pct} % must lie between 0 and 100 %.", field="sales_tax_pct"
        )
    return tax_pct


# --- Price points ---------------------------------------------------------------------------------


def round_up_to_step(price: Decimal, *, step: Decimal) -> Decimal:
    """The next multiple of a step that is not below the price."""
    if step <= 0:
        raise ReckoningError("A price step must be more than nothing.", field="rounding_value")
    return (price / step).to_integral_value(ROUND_CEILING) * step


def round_up_to_ending(price: Decimal, *, ending: Decimal) -> Decimal:
    """The next price that ends like .95 and is not below the price."""
    if not 0 <= ending < 1:
        raise ReckoningError("An ending is a part of one, such as 0.95.", field="rounding_value")
    return (price - ending).to_integral_value(ROUND_CEILING).max(Decimal(0)) + ending


@dataclass(frozen=True)
class PiecePrice:
    """One price, shown with and without tax, and what it leaves. Refuses to be inconsistent.

    ex_tax and tax are unrounded; inc_tax is what the customer pays. markup_pct is None when the
    cost is nothing, per_kg None when no net quantity was given; it includes tax.
    """

    cost: Decimal
    ex_tax: Decimal
    tax: Decimal
    inc_tax: Decimal
    tax_pct: Decimal
    margin_pct: Decimal
    markup_pct: Decimal | None
    per_kg: Decimal | None

    def __post_init__(self) -> None:
        faults = {
            "tax and price without tax do not add up": self.ex_tax + self.tax - self.inc_tax,
            "tax is not its rate": self.ex_tax * self.tax_pct / HUNDRED - self.tax,
            "margin is not that of the price": (
                self.ex_tax * (HUNDRED - self.margin_pct) / HUNDRED - self.cost
            ),
        }
        for fault, difference in faults.items():
            if abs(difference) > _CONSISTENT:
                raise ReckoningError(f"This price contradicts itself: {fault}.", field="price")

    @property
    def left(self) -> Decimal:
        """Money left of one, after its cost and the tax."""
        return self.ex_tax - self.cost


def price_piece(
    cost: Decimal,
    *,
    aim: str,
    aim_pct: Decimal,
    tax_pct: Decimal,
    rounding: str = NO_ROUNDING,
    rounding_value: Decimal = Decimal("0.10"),
    net_quantity_g: Decimal | None = None,
    places: int = 2,
) -> PiecePrice:
    """The price that reaches a margin or markup, tax included, rounded up to a price point.

    Rounding "none" is half up to `places` decimals, those of the currency. Raises ReckoningError
    for a margin of 100 % or more.
    """
    if aim not in {MARGIN, MARKUP}:
        raise ReckoningError("Aim at a margin or at a markup.", field="aim")
    wanted = (
        price_for_margin(cost, margin_pct=aim_pct)
        if aim == MARGIN
        else price_for_markup(cost, markup_pct=aim_pct)
    )
    exact_inc = with_tax(wanted, tax_pct=tax_pct)
    if rounding == STEP:
        inc_tax = round_up_to_step(exact_inc, step=rounding_value)
    elif rounding == ENDING:
        inc_tax = round_up_to_ending(exact_inc, ending=rounding_value)
    elif rounding == NO_ROUNDING:
        inc_tax = round_money(exact_inc, places=places)
    else:
        raise ReckoningError("Round to a step, to an ending or not at all.", field="rounding")
    return price_decided(cost, inc_tax=inc_tax, tax_pct=tax_pct, net_quantity_g=net_quantity_g)


def price_decided(
    cost: Decimal,
    *,
    inc_tax: Decimal | None = None,
    ex_tax: Decimal | None = None,
    tax_pct: Decimal,
    net_quantity_g: Decimal | None = None,
) -> PiecePrice:
    """What a price that stands already leaves; give it with tax (stall) or without (wholesale)."""
    if inc_tax is not None and ex_tax is None:
        paid, without = inc_tax, without_tax(inc_tax, tax_pct=tax_pct)
    elif ex_tax is not None and inc_tax is None:
        paid, without = with_tax(ex_tax, tax_pct=tax_pct), ex_tax
    else:
        raise ReckoningError("Give the price either with tax or without.", field="price")
    if net_quantity_g is not None and net_quantity_g <= 0:
        raise ReckoningError("The net quantity must be more than nothing.", field="net_quantity_g")
    return PiecePrice(
        cost=cost,
        ex_tax=without,
        tax=paid - without,
        inc_tax=paid,
        tax_pct=tax_pct,
        margin_pct=margin_of(without, cost=cost),
        markup_pct=markup_of(without, cost=cost) if cost > 0 else None,
        per_kg=None if net_quantity_g is None else paid * G_PER_KG / net_quantity_g,
    )


def price_holding_margin(price: Decimal, *, old_cost: Decimal, new_cost: Decimal) -> Decimal:
    """The price that keeps the margin when the cost has changed; with or without tax alike."""
    if old_cost <= 0:
        raise ReckoningError("A cost of nothing has no margin to hold.", field="cost")
    return price * new_cost / old_cost


# --- Ladders --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Rung:
    """One seller on the way to the shelf: buys at one price, sells at the next, without tax."""

    seller: str
    margin_pct: Decimal
    buys_at: Decimal
    sells_at: Decimal


@dataclass(frozen=True)
class Ladder:
    """From the producer's price to the shelf."""

    producer_ex_tax: Decimal
    rungs: tuple[Rung, ...]
    shelf_ex_tax: Decimal
    shelf_inc_tax: Decimal


def ladder(
    producer_ex_tax: Decimal, *, sellers: Sequence[tuple[str, Decimal]], tax_pct: Decimal
) -> Ladder:
    """What the shelf will say: each seller, with its margin in percent, divides by 1 - margin."""
    rungs, price = [], producer_ex_tax
    for seller, margin_pct in sellers:
        next_price = price_for_margin(price, margin_pct=margin_pct)
        rungs.append(Rung(seller, margin_pct, price, next_price))
        price = next_price
    return Ladder(producer_ex_tax, tuple(rungs), price, with_tax(price, tax_pct=tax_pct))


def ladder_back(
    shelf_inc_tax: Decimal, *, sellers: Sequence[tuple[str, Decimal]], tax_pct: Decimal
) -> Ladder:
    """What the producer may ask at most for a shelf price; sellers in the order of `ladder`."""
    price = without_tax(shelf_inc_tax, tax_pct=tax_pct)
    shelf_ex_tax, rungs = price, []
    for seller, margin_pct in reversed(sellers):
        price_for_margin(price, margin_pct=margin_pct)  # refuses a margin that cannot be
        bought = price * (HUNDRED - margin_pct) / HUNDRED
        rungs.append(Rung(seller, margin_pct, bought, price))
        price = bought
    return Ladder(price, tuple(reversed(rungs)), shelf_ex_tax, shelf_inc_tax)
