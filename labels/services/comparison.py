"""What changes on a label when it is sold elsewhere, another way, or under another day's law."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from labels import law
from labels.facts import LabelFacts, Particular
from labels.rulebook import INFORMATION, Finding, check

WAYS_OF_SALE = (
    ("prepacked", "Prepacked"),
    ("direct", "Packed where it is sold, by the seller"),
    ("loose", "Loose, or packed when the buyer asks"),
)
"""How food is sold, as the law of every market tells it apart."""


@dataclass(frozen=True)
class Standpoint:
    """From where a label is judged: the market, the way of selling, and the day of the law."""

    market: str
    way_of_sale: str
    on: date

    @property
    def name(self) -> str:
        """As a sentence has it: "England, prepacked, 25 November 2026"."""
        way = dict(WAYS_OF_SALE).get(self.way_of_sale, self.way_of_sale).lower()
        day = f"{self.on.day} {self.on:%B %Y}"
        return f"{law.market_named(self.market).name}, {way}, law of {day}"

    def facts(self, facts: LabelFacts) -> LabelFacts:
        """The same food seen from here."""
        return replace(facts, market=self.market, way_of_sale=self.way_of_sale)


@dataclass(frozen=True)
class Changes:
    """What two standpoints differ in, each difference once; statements by their text.

    Findings are those that must be mended or looked at.
    """

    before: Standpoint
    after: Standpoint
    said_no_more: tuple[Particular, ...]
    said_now: tuple[Particular, ...]
    found_no_more: tuple[Finding, ...]
    found_now: tuple[Finding, ...]

    @property
    def are_any(self) -> bool:
        """Whether anything differs at all."""
        return bool(self.said_no_more or self.said_now or self.found_no_more or self.found_now)


def what_changes(facts: LabelFacts, *, before: Standpoint, after: Standpoint) -> Changes:
    """Statements and findings that differ between two standpoints, before anything is set in type.

    Two laws that say the same in their own acts do not differ.
    """
    old, new = _said(facts, before), _said(facts, after)
    found_old, found_new = _found(facts, before), _found(facts, after)
    return Changes(
        before=before,
        after=after,
        said_no_more=_missing_from(new, old),
        said_now=_missing_from(old, new),
        found_no_more=_unfound(found_new, found_old),
        found_now=_unfound(found_old, found_new),
    )


def _said(facts: LabelFacts, seen: Standpoint) -> tuple[Particular, ...]:
    return law.particulars(seen.facts(facts), on=seen.on)


def _found(facts: LabelFacts, seen: Standpoint) -> tuple[Finding, ...]:
    rules = law.rules_in_force(seen.market, on=seen.on)
    return check(rules, seen.facts(facts), None, on=seen.on)


def _missing_from(
    those: Iterable[Particular], these: Iterable[Particular]
) -> tuple[Particular, ...]:
    known = {(p.kind, p.text, p.emphasised) for p in those}
    return tuple(p for p in these if (p.kind, p.text, p.emphasised) not in known)


# What is only for information changes with every act's wording and would bury the rest.
def _unfound(those: Iterable[Finding], these: Iterable[Finding]) -> tuple[Finding, ...]:
    known = {(f.level, f.message) for f in those}
    return tuple(f for f in these if f.level != INFORMATION and (f.level, f.message) not in known)
