"""Contribution, break-even and what it costs to be paid by card."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from costing.reckoning.errors import ReckoningError

HUNDRED = Decimal(100)


def contribution(*, price_ex_tax: Decimal, variable_cost: Decimal) -> Decimal:
    """What one unit leaves towards the fixed costs."""
    return price_ex_tax - variable_cost


def break_even_units(*, fixed: Decimal, contribution_each: Decimal) -> Decimal:
    """Units to sell before anything is earned, unrounded. See `whole_units`."""
    if contribution_each <= 0:
        raise ReckoningError(
            "Each sale leaves nothing towards the fixed costs, so no number of sales covers them. "
            "Raise the price or lower the cost.",
            field="price",
        )
    return fixed / contribution_each


def whole_units(units: Decimal) -> int:
    """Rounded up: the last part of a unit must be sold whole."""
    return int(units.to_integral_value(ROUND_CEILING))


@dataclass(frozen=True)
class Sold:
    """One product in a mix of sales, with its price without tax and its unit cost."""

    quantity: Decimal
    price_ex_tax: Decimal
    unit_cost: Decimal


def contribution_ratio(mix: Sequence[Sold]) -> Decimal:
    """Share of the takings without tax that a mix leaves towards fixed costs, as a fraction."""
    sales = sum((sold.quantity * sold.price_ex_tax for sold in mix), Decimal(0))
    if sales <= 0:
        raise ReckoningError("Nothing was sold, so there is no ratio.", field="quantity")
    cost = sum((sold.quantity * sold.unit_cost for sold in mix), Decimal(0))
    return (sales - cost) / sales


def break_even_sales(mix: Sequence[Sold], *, fixed: Decimal) -> Decimal:
    """Takings without tax at which the same mix covers the fixed costs."""
    return break_even_units(fixed=fixed, contribution_each=contribution_ratio(mix))


def card_fee(takings: Decimal, *, fee_pct: Decimal) -> Decimal:
    """What the card company keeps, unrounded."""
    return takings * fee_pct / HUNDRED
