"""The law of each market, found by its code: what a label must say, and whether it is lawful.

A jurisdiction is a package here. It offers RULES, NOT_CHECKED, particulars() and
minimum_x_height_mm(); nobody imports one jurisdiction from another. Several markets may be of one
jurisdiction: a market is where food is sold, a jurisdiction is whose law speaks there.
"""

import importlib
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from types import ModuleType
from typing import Protocol, cast

from labels.facts import LabelFacts, Particular
from labels.mechanics.masses import G_PER_KG, sulphite_mg_per_kg
from labels.mechanics.nutrition_table import RecordRow
from labels.mechanics.offers import Offer, PriceAnswer, UnitPrice
from labels.packs import Relief
from labels.rulebook import NameVerdict, Rule

__all__ = [
    "MARKETS",
    "Market",
    "Sulphites",
    "UnknownMarket",
    "fruit_by_kind",
    "home_market",
    "market_named",
    "markets",
    "minimum_x_height_mm",
    "name_on_label",
    "not_checked",
    "nutrition_record",
    "nutrition_sources",
    "particulars",
    "price_in_words",
    "prices",
    "quantities",
    "reliefs",
    "reserved_names",
    "rules_in_force",
    "sulphites",
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


@dataclass(frozen=True)
class Market:
    """Where food is sold: its code, its name, whose law speaks there, and what to know of it.

    countries: ISO 3166 codes of the kitchens that are at home there; empty for those of the Union,
        whose law knows its members.
    """

    code: str
    name: str
    jurisdiction: str
    countries: tuple[str, ...] = ()
    note: str = ""


MARKETS = (
    Market("eu", "European Union", "eu"),
    Market("gb-eng", "England", "gb", ("GB",)),
    Market("gb-wls", "Wales", "gb", ("GB",)),
    Market("gb-sct", "Scotland", "gb", ("GB",)),
    Market(
        "gb-nir", "Northern Ireland", "eu", ("GB",),
        "Northern Ireland follows the label and composition law of the European Union.",
    ),
)  # fmt: skip
"""The one place that says which law a market code stands for; codes of nations by ISO 3166-2."""


def markets() -> tuple[str, ...]:
    """Codes of the markets whose law is known here."""
    return tuple(market.code for market in MARKETS)


def market_named(code: str) -> Market:
    """The market of a code. Raises UnknownMarket."""
    found = next((market for market in MARKETS if market.code == code), None)
    if found is None:
        known = ", ".join(markets())
        raise UnknownMarket(f"No label law is known here for {code!r}; there is {known}.")
    return found


def home_market(country: str) -> Market:
    """The market a kitchen of a country most likely sells in: the first that names the country.

    A country that none names gets the Union's, whose own rule says if that is not so.
    """
    code = country.strip().upper()
    return next((market for market in MARKETS if code in market.countries), MARKETS[0])


def rules_in_force(market: str, *, on: date) -> tuple[Rule, ...]:
    """Every rule of a market that applies on a day."""
    return tuple(rule for rule in _jurisdiction(market).RULES if rule.is_in_force(on=on))


def particulars(facts: LabelFacts, *, on: date) -> tuple[Particular, ...]:
    """The statements a label must carry; what cannot be said yet is left out."""
    return _jurisdiction(facts.market).particulars(facts, on=on)


def quantities(facts: LabelFacts) -> tuple[tuple[str, str], ...]:
    """What the label declares the quantity of, and the figure as printed: ("damsons", "62 %")."""
    law = cast("ModuleType", _jurisdiction(facts.market))
    topic = importlib.import_module(f"{law.__name__}.quid")
    return tuple((each.name, each.shown) for each in topic.declared(facts))


def nutrition_record(facts: LabelFacts) -> tuple[RecordRow, ...]:
    """How each declared amount came about, by the law of the market."""
    return tuple(_topic(facts, "nutrition_record").rows(facts))


def nutrition_sources(facts: LabelFacts) -> str:
    """Where the market's factors, rounding and tolerances come from, and how they were read."""
    return str(_topic(facts, "nutrition_record").SOURCES)


def reliefs(market: str) -> tuple[Relief, ...]:
    """What a market's law spares small packs, by the limits of their largest surface."""
    law = cast("ModuleType", _jurisdiction(market))
    topic = importlib.import_module(f"{law.__name__}.small_packs")
    return tuple(topic.RELIEFS)


def reserved_names(facts: LabelFacts, *, on: date) -> tuple[NameVerdict, ...]:
    """Every name of the jam family that the market reserves, judged for this food.

    Empty where the food holds nothing that such a name could be earned with.
    """
    facts = replace(facts, law_on=on)
    topic = _topic(facts, "jam_names")
    judged = topic.verdicts(facts) if topic.holds_fruit(facts) else ()
    return tuple(_cited(verdict, facts) for verdict in judged)


def fruit_by_kind(facts: LabelFacts, *, on: date) -> tuple[tuple[str, Decimal], ...]:
    """What counts as fruit of a jam or a jelly: each name with its grams in 1 kg of the food."""
    facts = replace(facts, law_on=on)
    finished_g, topic = facts.usable_finished_g, _topic(facts, "jam")
    if finished_g is None:
        return ()
    found: dict[str, Decimal] = {}
    for name in ("jam", "jelly"):  # pulp of the one, juice of the other
        for fruit in topic.fruits(facts, name=name):
            of_kg = topic.counted_g(fruit) * G_PER_KG / finished_g
            found[fruit.name] = found.get(fruit.name, Decimal(0)) + of_kg
    return tuple(found.items())


def name_on_label(facts: LabelFacts, *, on: date) -> NameVerdict | None:
    """The verdict on the reserved name that a name of food bears; None where it bears none."""
    facts = replace(facts, law_on=on)
    verdict = _topic(facts, "jam_names").verdict_on_label(facts)
    return None if verdict is None else _cited(verdict, facts)


def _cited(verdict: NameVerdict, facts: LabelFacts) -> NameVerdict:
    """With the act that reserves it, where the verdict names none of its own."""
    own = verdict.citation or _topic(facts, "acts").jam_citation(facts, "name")
    return replace(verdict, citation=own)


def _topic(facts: LabelFacts, name: str) -> ModuleType:
    package = market_named(facts.market).jurisdiction
    return importlib.import_module(f"labels.law.{package}.{name}")


@dataclass(frozen=True)
class Sulphites:
    """Total SO2 of a finished food against the line of its market. mg_per_kg: None: not known."""

    mg_per_kg: Decimal | None
    limit_mg_per_kg: Decimal
    is_declared: bool


def sulphites(facts: LabelFacts) -> Sulphites:
    """What the ingredients bring of sulphites, and whether the market has them declared."""
    law = cast("ModuleType", _jurisdiction(facts.market))
    topic = importlib.import_module(f"{law.__name__}.allergens")
    return Sulphites(
        sulphite_mg_per_kg(facts),
        topic.SULPHITE_LIMIT_MG_PER_KG,
        topic.declares_sulphites(facts),
    )


def minimum_x_height_mm(facts: LabelFacts, *, on: date) -> Decimal:
    """Smallest lawful x-height on this pack [mm]."""
    return _jurisdiction(facts.market).minimum_x_height_mm(facts, on=on)


def prices(market: str, offer: Offer, *, on: date, country: str = "") -> PriceAnswer:
    """What the law of a market says of the prices of an offer: the unit price, or why none.

    country: ISO 3166 code of where it is sold, for what a country decides for itself.
    """
    package = market_named(market).jurisdiction
    module = importlib.import_module(f"labels.law.{package}.unit_price")
    return cast("PriceAnswer", module.answer(offer, on=on, country=country))


def price_in_words(market: str, price: UnitPrice) -> str:
    """A unit price as the law of a market writes it; "" where it leaves that to the maker."""
    package = market_named(market).jurisdiction
    module = importlib.import_module(f"labels.law.{package}.unit_price")
    return str(module.as_text(price)) if hasattr(module, "as_text") else ""


def not_checked(market: str) -> tuple[str, ...]:
    """What nobody should think has been checked, in sentences for the maker."""
    return _jurisdiction(market).NOT_CHECKED


def _jurisdiction(market: str) -> Jurisdiction:
    package = market_named(market).jurisdiction
    return cast("Jurisdiction", importlib.import_module(f"labels.law.{package}"))
