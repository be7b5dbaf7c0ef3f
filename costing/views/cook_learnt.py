"""What the kitchen's own batches taught, said beside the box it concerns."""

from costing.models import Ingredient, Kitchen, Pan
from costing.selectors.recipes import recipes_of
from costing.services.learning import BRIX, EVAPORATION, RESIDUE, Learnt, learnt

_SAME = 0.05
"""Brix closer than this to the figure in the book is not worth a sentence."""


def pan_lessons(kitchen: Kitchen, pan: Pan | None) -> list[str]:
    """What stays on this pan and how fast it loses water, by the batches cooked in it."""
    if pan is None:
        return []
    told = []
    of_a_pan = ((RESIDUE, "What stays on it"), (EVAPORATION, "Water it loses at full fire"))
    for subject, words in of_a_pan:
        found = learnt(kitchen, subject, pan=pan)
        if _has_something(found):
            told.append(f"{words}, {found.sentence}.")
    return told


def brix_lesson(kitchen: Kitchen, ingredient: Ingredient | None, made: int | None) -> str:
    """The Brix of the base by its batches, where it is not the figure in the book; else empty."""
    if ingredient is not None:
        found = learnt(kitchen, BRIX, ingredient=ingredient)
    elif made is None:
        return ""
    else:
        recipe = recipes_of(kitchen, with_archived=True).filter(pk=made).first()
        if recipe is None:
            return ""
        found = learnt(kitchen, BRIX, recipe=recipe)
    if not _has_something(found) or found.value is None:
        return ""
    if found.default is not None and abs(found.value - found.default) < _SAME:
        return ""
    book = "" if found.default is None else f"; the book says {found.default.normalize():f}"
    return f"Its Brix, {found.sentence}{book}."


def _has_something(found: Learnt) -> bool:
    return bool(found.batches) or found.is_pinned
