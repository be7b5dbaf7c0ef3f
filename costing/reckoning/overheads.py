"""What the year costs, spread over its hours; and labour shared by pans cooked side by side."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from costing.money import split_to_cents
from costing.reckoning.errors import ReckoningError


def overhead_rate(*, planned: Decimal, planned_hours: Decimal) -> Decimal:
    """Overhead that one attended hour carries: planned overhead over planned hours."""
    if planned_hours <= 0:
        raise ReckoningError(
            "Say how many hours a year you plan to cook; overhead is spread over them.",
            field="planned_hours",
        )
    return planned / planned_hours


def absorbed(*, rate_per_h: Decimal, hours: Decimal) -> Decimal:
    """Overhead that the hours really worked have carried."""
    return rate_per_h * hours


def under_absorbed(*, spent: Decimal, rate_per_h: Decimal, hours: Decimal) -> Decimal:
    """Overhead spent that no batch carried; negative when too much was charged."""
    return spent - absorbed(rate_per_h=rate_per_h, hours=hours)


def straight_line(*, cost: Decimal, years: Decimal, residual: Decimal = Decimal(0)) -> Decimal:
    """Yearly cost of equipment: what it loses over its life, in equal parts."""
    if years <= 0:
        raise ReckoningError("A thing that lasts no time has no yearly cost.", field="years")
    if not 0 <= residual <= cost:
        raise ReckoningError(
            f"It cannot be worth {residual} at the end after costing {cost}.", field="residual"
        )
    return (cost - residual) / years


def yearly_total(things: Iterable[tuple[Decimal, Decimal]]) -> Decimal:
    """Yearly cost of several things, each (cost, years it lasts); licences last 1."""
    return sum((straight_line(cost=cost, years=years) for cost, years in things), Decimal(0))


def share_labour(amount: Decimal, *, weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Share one person's pay over pans by attended minutes, kilos or units, to the cent."""
    return split_to_cents(amount, weights=weights)
