"""The law of each market, found by name: what a label must say, and whether it is lawful.

A jurisdiction is a module or package here. It offers RULES, NOT_CHECKED, particulars() and
minimum_x_height_mm(); nobody imports one jurisdiction from another.
"""

import importlib
import pkgutil
from datetime import date
from decimal import Decimal
from typing import Protocol, cast

from labels.facts import LabelFacts, Particular
from labels.rulebook import Rule

__all__ = [
    "UnknownMarket",
    "markets",
    "minimum_x_height_mm",
    "not_checked",
    "particulars",
    "quantities",
    "rules_in_force",
]


class UnknownMarket(LookupError):
    """No law is known here for the market asked for."""


class Jurisdiction(Protocol):
    """What every module of a jurisdiction offers."""

    RULES: tuple[Rule, ...]
    NOT_CHECKED: tuple[str, ...]

    def particulars(self, facts: LabelFacts, *, on: date) -> tuple[Particular, ...]:
        """The statements the label must carry, in order."""

    def minimum_x_height_mm(self, facts: LabelFacts, *, on: date) -> Decimal:
        """Smallest lawful x-height on this pack [mm]."""


def markets() -> tuple[str, ...]:
    """Codes of the markets whose law is known here."""
    return tuple(sorted(module.name for module in pkgutil.iter_modules(__path__)))


def rules_in_force(market: str, *, on: date) -> tuple[Rule, ...]:
    """Every rule of a market that applies on a day."""
    return tuple(rule for rule in _jurisdiction(market).RULES if rule.is_in_force(on=on))


def particulars(facts: LabelFacts, *, on: date) -> tuple[Particular, ...]:
    """The statements a label must carry; what cannot be said yet is left out."""
    return _jurisdiction(facts.market).particulars(facts, on=on)


def quantities(facts: LabelFacts) -> tuple[tuple[str, str], ...]:
    """What the label declares the quantity of, and the figure as printed: ("damsons", "62 %")."""
    _jurisdiction(facts.market)
    topic = importlib.import_module(f"labels.law.{facts.market}.quid")
    return tuple((each.name, each.shown) for each in topic.declared(facts))


def minimum_x_height_mm(facts: LabelFacts, *, on: date) -> Decimal:
    """Smallest lawful x-height on this pack [mm]."""
    return _jurisdiction(facts.market).minimum_x_height_mm(facts, on=on)


def not_checked(market: str) -> tuple[str, ...]:
    """What nobody should think has been checked, in sentences for the maker."""
    return _jurisdiction(market).NOT_CHECKED


def _jurisdiction(market: str) -> Jurisdiction:
    if market not in markets():
        known = ", ".join(markets())
        raise UnknownMarket(f"No label law is known here for {market!r}; there is {known}.")
    return cast("Jurisdiction", importlib.import_module(f"labels.law.{market}"))
