"""Which names a food may bear in each market: earned, refused with the reason, or still open."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from labels import law
from labels.facts import LabelFacts
from labels.rulebook import ASK, LAWFUL, NOT_KNOWN, REFUSED, NameVerdict

_ORDER = (LAWFUL, ASK, NOT_KNOWN, REFUSED)
CUSTOMARY = ("paste", "cheese", "butter", "spread")
"""What a food of fruit and sugar is customarily called where it is no jam, in English."""
A_SQUEEZE = 10
"""Fruit of less than a tenth of the heaviest is there for its acid, not for the name."""


@dataclass(frozen=True)
class NamesInMarkets:
    """The names of the jam family for one food, in markets that judge it alike.

    customary: names that none of these markets reserves. bears: the verdict on the name that
    stands on the label, None where it is no reserved one. fruit: what counts for jam or jelly, and
    its grams in 1 kg. solids_pct: the Brix they are judged by, None where it is not known.
    """

    codes: tuple[str, ...]
    names: tuple[str, ...]
    verdicts: tuple[NameVerdict, ...]
    customary: tuple[str, ...]
    bears: NameVerdict | None
    fruit: tuple[tuple[str, Decimal], ...]
    solids_pct: Decimal | None

    @property
    def where(self) -> str:
        """The markets in words: "England, Wales and Scotland"."""
        *first, last = self.names
        return f"{', '.join(first)} and {last}" if first else last

    @property
    def lawful(self) -> tuple[NameVerdict, ...]:
        """Those that the food has earned."""
        return self._of(LAWFUL)

    @property
    def to_ask(self) -> tuple[NameVerdict, ...]:
        """Those that wait for the authority's word."""
        return self._of(ASK)

    @property
    def not_known(self) -> tuple[NameVerdict, ...]:
        """Those that wait for what the maker has not told."""
        return self._of(NOT_KNOWN)

    @property
    def refused(self) -> tuple[NameVerdict, ...]:
        """Those that something speaks against."""
        return self._of(REFUSED)

    def _of(self, state: str) -> tuple[NameVerdict, ...]:
        return tuple(v for v in self.verdicts if v.state == state)


def names_everywhere(facts: LabelFacts, *, on: date) -> tuple[NamesInMarkets, ...]:
    """Every market's answer for one food, the label's own market first; alike ones as one.

    Nothing is read from the database: the facts of one label are judged by each law.
    """
    own = facts.market
    codes = sorted(law.markets(), key=lambda code: code != own)
    together: dict[tuple[object, ...], list[NamesInMarkets]] = {}
    for code in codes:
        here = names_in_market(_sold_in(code, facts), on=on)
        together.setdefault(_sameness(here), []).append(here)
    grouped = [_as_one(alike) for alike in together.values()]
    same = {here.customary for here in grouped}
    return tuple(
        # What is the same everywhere is said once.
        replace(here, customary=()) if place and len(same) == 1 else here
        for place, here in enumerate(grouped)
    )


def _sold_in(code: str, facts: LabelFacts) -> LabelFacts:
    """The food sold in a market; a market of one country is not the kitchen's own country."""
    countries = law.market_named(code).countries
    return replace(
        facts,
        market=code,
        country_of_sale=countries[0] if countries else facts.country_of_sale,
    )


def names_in_market(facts: LabelFacts, *, on: date) -> NamesInMarkets:
    """The answer of the market that the facts name."""
    market = law.market_named(facts.market)
    judged = law.reserved_names(facts, on=on)
    return NamesInMarkets(
        codes=(market.code,),
        names=(market.name,),
        verdicts=tuple(sorted(judged, key=lambda v: _ORDER.index(v.state))),
        customary=tuple(_customary(facts, on=on)),
        bears=law.name_on_label(facts, on=on),
        fruit=law.fruit_by_kind(facts, on=on),
        solids_pct=facts.soluble_solids_pct,
    )


def _customary(facts: LabelFacts, *, on: date) -> Iterator[str]:
    """Names that go by custom, each held against the market's own reserved ones."""
    called = _fruit_in_words(facts)
    if not called:
        return
    for custom in CUSTOMARY:
        name = f"{called} {custom}".capitalize()
        if law.name_on_label(replace(facts, name_of_food=name), on=on) is None:
            yield name


def _fruit_in_words(facts: LabelFacts) -> str:
    """The fruit as a name has it: one, two with "and", or just "fruit"; a squeeze is left out."""
    grams: dict[str, Decimal] = {}
    for part in (part for each in facts.ingredients for part in each.with_parts()):
        if part.category in {"fruit", "vegetable"}:
            name = _singular((part.called or part.name).split(",")[0].strip())
            grams[name] = grams.get(name, Decimal(0)) + part.used_g
    if not grams:
        return ""
    most_g = max(grams.values())
    telling = [name for name in grams if grams[name] * A_SQUEEZE >= most_g]
    telling.sort(key=lambda name: grams[name], reverse=True)
    return " and ".join(telling) if len(telling) < 3 else "fruit"


def _singular(name: str) -> str:
    """A plain English plural made single, so that it can stand before another word."""
    if name.endswith("ies"):
        return f"{name[:-3]}y"
    return name[:-1] if name.endswith("s") and not name.endswith(("ss", "us")) else name


def _sameness(here: NamesInMarkets) -> tuple[object, ...]:
    """What makes two markets one answer: the verdicts and reasons, whichever act they cite."""
    said = tuple((v.name, v.state, v.reasons) for v in here.verdicts)
    return (*said, here.customary)


def _as_one(alike: list[NamesInMarkets]) -> NamesInMarkets:
    first = alike[0]
    return replace(
        first,
        codes=tuple(code for each in alike for code in each.codes),
        names=tuple(name for each in alike for name in each.names),
    )
