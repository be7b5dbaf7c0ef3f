"""Where one lot needs another label: sold in another market, or another way, it may say more."""

from collections.abc import Iterator

from labels import law
from labels.facts import LabelFacts
from labels.services.comparison import WAYS_OF_SALE, Changes, Standpoint, what_changes


def labels_elsewhere(facts: LabelFacts, *, usual: Standpoint) -> tuple[Changes, ...]:
    """What the same food needs where its label would say something else, by market and way.

    Compared are the other ways of selling in the market of the label, and the same way in each
    other market. Places whose label reads alike are told once, at the first of them.
    """
    seen: set[tuple[str, ...]] = set()
    found = []
    for other in _others(usual):
        changes = what_changes(facts, before=usual, after=other)
        said = (
            *(f"-{statement.text}" for statement in changes.said_no_more),
            *(f"+{statement.text}" for statement in changes.said_now),
        )
        if said and said not in seen:
            seen.add(said)
            found.append(changes)
    return tuple(found)


def _others(usual: Standpoint) -> Iterator[Standpoint]:
    for way, _name in WAYS_OF_SALE:
        if way != usual.way_of_sale:
            yield Standpoint(usual.market, way, usual.on)
    for market in law.markets():
        if market != usual.market:
            yield Standpoint(market, usual.way_of_sale, usual.on)
