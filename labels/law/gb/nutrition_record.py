"""The record behind a nutrition declaration in Great Britain: from exact amounts to the label."""

from collections.abc import Iterator
from decimal import Decimal

from labels.facts import LabelFacts
from labels.law.gb.nutrition_table import ROWS, energy_parts
from labels.law.gb.nutrition_values import control_range_g, energy, energy_shown, row_of, shown
from labels.law.gb.words import figure
from labels.mechanics.nutrition_table import RecordRow
from labels.mechanics.rounding import nearest

_EXACT = Decimal("0.001")
SOURCES = (
    "Energy by the factors of assimilated Regulation (EU) No 1169/2011, Annex XIV. Rounding and "
    "tolerances by guidance of December 2012 (second-hand; that it is still used, and the "
    "tolerances of salt, from memory): guidance, not law."
)


def rows(facts: LabelFacts) -> Iterator[RecordRow]:
    """Each amount in the order of the declaration."""
    nutrition = facts.nutrition
    if nutrition is None or not nutrition.per_100_g:
        return
    grams = nutrition.grams
    kj, kcal = energy(energy_parts(grams))
    yield RecordRow(
        "energy",
        f"{_plain(kj)} kJ, {_plain(kcal)} kcal",
        energy_shown(energy_parts(grams)),
        "each unit by its own factors, to the nearest one",
    )
    for name in (each for each, _, _ in ROWS if each in grams):
        amount = grams[name]
        row = row_of(name)
        step = row.coarse_step if amount >= row.coarse_from else row.fine_step
        low, high = control_range_g(name, nearest(max(amount, row.nil_up_to), step))
        yield RecordRow(
            name,
            f"{_plain(amount)} g",
            shown(name, amount),
            f"from {row.coarse_from} g to the nearest {row.coarse_step} g, below it to "
            f"{row.fine_step} g; {row.nil_up_to} g or less is nearly none",
            f"{_plain(low)} to {_plain(high)} g",
        )


def _plain(value: Decimal) -> str:
    return figure(nearest(value, _EXACT))
