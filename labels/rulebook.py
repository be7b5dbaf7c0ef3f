"""How a provision becomes code: acts, citations, dated values, rules and their findings."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Generic, TypeVar

from labels.facts import Act, Citation, LabelFacts, PrintedText

__all__ = [
    "ASK",
    "INFORMATION",
    "LAWFUL",
    "LOOK",
    "MUST_MEND",
    "NOT_KNOWN",
    "REFUSED",
    "Act",
    "Citation",
    "Dated",
    "Finding",
    "NameVerdict",
    "Rule",
    "check",
    "rule",
]

MUST_MEND = "must mend"
LOOK = "look at this"
INFORMATION = "for information"
LEVELS = (MUST_MEND, LOOK, INFORMATION)


@dataclass(frozen=True)
class Finding:
    """Something the maker should know about a label: what, where, what to do, and who says so.

    A rule returns it without a citation; the decorator attaches the one of the rule.
    where: the field or statement concerned ("ingredients", "net_quantity", "allergens", ...).
    about: the key of the ingredient it speaks of, if it speaks of one.
    """

    message: str
    hint: str
    level: str = MUST_MEND
    where: str = ""
    citation: Citation | None = None
    rule: str = ""
    about: str = ""

    def __post_init__(self) -> None:
        if self.level not in LEVELS:
            raise ValueError(f"{self.level!r} is not one of {', '.join(LEVELS)}.")
        if not self.message or not self.hint:
            raise ValueError("A finding says what is wrong and what to do.")

    @property
    def stops_printing(self) -> bool:
        """Whether a label with this finding may not leave as anything but a proof."""
        return self.level == MUST_MEND


LAWFUL, REFUSED, NOT_KNOWN, ASK = "lawful", "refused", "not known", "ask"


@dataclass(frozen=True)
class NameVerdict:
    """Whether a food may bear a name that law reserves, and every reason against it.

    missing: what is not known, so that the name can neither be allowed nor refused.
    asks: what only the authority can say, where everything else is in order.
    shown: the name in the language of the label, where that is not the name itself.
    """

    name: str
    against: tuple[str, ...]
    missing: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()
    citation: Citation | None = None
    shown: str = ""

    @property
    def is_lawful(self) -> bool:
        """Nothing speaks against it, and nothing is open."""
        return self.state == LAWFUL

    @property
    def state(self) -> str:
        """ "refused", "not known", "ask" or "lawful": the first of them that applies."""
        if self.against:
            return REFUSED
        if self.missing:
            return NOT_KNOWN
        return ASK if self.asks else LAWFUL

    @property
    def reasons(self) -> tuple[str, ...]:
        """Why it is refused; else what is not known; else what to ask."""
        return self.against or self.missing or self.asks


Value = TypeVar("Value")
Check = Callable[[LabelFacts, PrintedText | None], Iterable[Finding] | Finding | None]


@dataclass(frozen=True)
class Rule:
    """One provision as a function, with where it stands and from which day it applies.

    needs_print: the rule judges set type and stays silent until there is some.
    """

    name: str
    summary: str
    citation: Citation
    since: date
    until: date | None
    needs_print: bool
    function: Check

    def is_in_force(self, *, on: date) -> bool:
        """Whether the rule applies on that day; `until` is the first day it no longer does."""
        return self.since <= on and (self.until is None or on < self.until)

    def __call__(
        self, facts: LabelFacts, printed: PrintedText | None = None
    ) -> tuple[Finding, ...]:
        """All that this provision finds, each with the citation attached."""
        if self.needs_print and printed is None:
            return ()
        found = self.function(facts, printed)
        if found is None:
            return ()
        findings = (found,) if isinstance(found, Finding) else tuple(found)
        return tuple(
            replace(f, citation=f.citation or self.citation, rule=self.name) for f in findings
        )


def rule(
    act: Act,
    provision: str,
    *,
    since: date,
    until: date | None = None,
    needs_print: bool = False,
    mark: str = "read",
) -> Callable[[Check], Rule]:
    """Turn a check into a rule that cannot forget its citation or its first day."""

    def decorate(function: Check) -> Rule:
        if not function.__doc__:
            raise ValueError(f"{function.__name__} does not say what is lawful.")
        return Rule(
            name=function.__name__,
            summary=function.__doc__.strip().splitlines()[0],
            citation=Citation(act, provision, mark),
            since=since,
            until=until,
            needs_print=needs_print,
            function=function,
        )

    return decorate


def check(
    rules: Iterable[Rule], facts: LabelFacts, printed: PrintedText | None, *, on: date
) -> tuple[Finding, ...]:
    """Every finding of the rules in force on a day, the worst first.

    Rules about dates need the day of printing: it is the day of the check unless the facts say.
    The day of the law is the day of the check, whatever the facts say.
    """
    facts = replace(facts, printed_on=facts.printed_on or on, law_on=on)
    findings = [
        finding for each in rules if each.is_in_force(on=on) for finding in each(facts, printed)
    ]
    return tuple(sorted(findings, key=lambda finding: LEVELS.index(finding.level)))


class Dated(Generic[Value]):
    """A value that the law changed: the first one, and each later one with its first day."""

    def __init__(self, first: Value, changes: Mapping[date, Value] | None = None) -> None:
        self._first = first
        self._changes = dict(sorted((changes or {}).items()))

    def on(self, day: date) -> Value:
        """The value in force on that day."""
        value = self._first
        for since, changed in self._changes.items():
            if since <= day:
                value = changed
        return value
