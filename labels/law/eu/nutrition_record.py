"""The record behind a nutrition declaration in the Union: from exact amounts to what is printed."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts
from labels.law.eu.nutrition_table import MAY_BE_LEFT_OUT, ORDER
from labels.law.eu.nutrition_values import (
    control_range_g,
    energy,
    energy_shown,
    labelled_g,
    rounding_of,
    shown,
)
from labels.law.eu.words import figure
from labels.mechanics.nutrition_table import RecordRow
from labels.mechanics.rounding import nearest

_EXACT = Decimal("0.001")
SOURCES = (
    "Energy by the factors of Regulation (EU) No 1169/2011, Annex XIV. Rounding and tolerances by "
    "guidance of the European Commission's services, December 2012 (second-hand; tolerances of "
    "salt from memory): guidance, not law."
)


def rows(facts: LabelFacts) -> Iterator[RecordRow]:
    """Each declared amount in the order of the declaration; what is left out says so."""
    nutrition = facts.nutrition
    if nutrition is None or not nutrition.per_100_g:
        return
    grams = nutrition.grams
    kj, kcal = energy(grams)
    yield RecordRow(
        "energy",
        f"{_plain(kj)} kJ, {_plain(kcal)} kcal",
        energy_shown(grams),
        "each unit by its own factors, to the nearest one",
    )
    for name in (each for each in ORDER if each in grams):
        amount = grams[name]
        low, high = control_range_g(name, labelled_g(name, amount))
        is_left_out = name in MAY_BE_LEFT_OUT and amount <= rounding_of(name).none_up_to
        yield RecordRow(
            name,
            f"{_plain(amount)} g",
            "left out" if is_left_out else shown(name, amount),
            rounding_of(name).in_words,
            "" if is_left_out else f"{_plain(low)} to {_plain(high)} g",
        )


def _plain(value: Decimal) -> str:
    return figure(nearest(value, _EXACT), language="en")
