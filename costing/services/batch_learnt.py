"""What a pan reckons with of what was learnt; kept with its plan, so that nothing moves it."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from costing.models import Batch, BatchInput, Kitchen, Pan
from costing.reckoning.book import Book, RecipeRecord
from costing.reckoning.stove import Spreads
from costing.services.learning import BRIX, EVAPORATION, RESIDUE, USABLE, Learnt
from costing.services.lessons import every_lesson

__all__ = [
    "EVAPORATION",
    "RESIDUE",
    "as_learnt",
    "learnt_for",
    "learnt_spreads",
    "learnt_words",
    "pan_figure",
]


ENOUGH = 4
"""Batches, below which the usual spread is kept (judgement)."""


def learnt_for(kitchen: Kitchen, *, pan: Pan | None, plan: RecipeRecord) -> dict[str, Any]:
    """What batches say of this pan and of what goes into it, as plain data to keep with a plan.

    Only where a batch or a pin stands behind a figure, and of all suppliers together.
    """
    kept = {}
    foods = {line.ingredient_id for line in plan.lines}
    made = {line.recipe_id for line in plan.lines}
    for lesson in every_lesson(kitchen):
        about, learnt = lesson.about, lesson.learnt
        if about.supplier is not None or not _has_something(learnt):
            continue
        if about.pan is not None:
            of, pk, is_wanted = "pan", about.pan.pk, pan is not None and about.pan.pk == pan.pk
        elif about.ingredient is not None:
            of, pk = "ingredient", about.ingredient.pk
            is_wanted = pk in foods
        elif about.recipe is not None:
            of, pk = "recipe", about.recipe.pk
            is_wanted = lesson.subject == BRIX and pk in made
        else:
            continue
        if is_wanted:
            kept[f"{lesson.subject}/{of}/{pk}"] = _plain(learnt, name=_name(about))
    return kept


def _name(about: Any) -> str:
    return str(about.pan or about.ingredient or about.recipe)


def _has_something(learnt: Learnt) -> bool:
    return learnt.value is not None and (bool(learnt.batches) or learnt.is_pinned)


def _plain(learnt: Learnt, *, name: str) -> dict[str, str | None]:
    return {
        "value": str(round(learnt.value or Decimal(0), 4)),
        "usual": None if learnt.default is None else str(learnt.default.normalize()),
        "sentence": learnt.sentence,
        "name": name,
        "spread": None if (sure := _spread(learnt)) is None else str(round(sure, 4)),
    }


def _spread(learnt: Learnt) -> Decimal | None:
    """How far one batch lies from what is reckoned with: scatter, and the pull of the usual figure.

    None for a few batches, whose scatter says little, and for a pinned figure.
    """
    if learnt.batches < ENOUGH or learnt.is_pinned or learnt.spread is None:
        return None
    pull = (learnt.mean or Decimal(0)) - (learnt.value or Decimal(0))
    return (learnt.spread**2 + pull**2).sqrt()


def _kept(batch: Batch, subject: str, of: str, pk: int) -> dict[str, Any] | None:
    found: dict[str, Any] | None = batch.plan.get("learnt", {}).get(f"{subject}/{of}/{pk}")
    return found


def pan_figure(batch: Batch, *, subject: str) -> Decimal | None:
    """A pan's residue [g] or rate [g/min] for this batch: as learnt when the fire was lit.

    What was entered with the pan since then is today's measure, and counts before it.
    """
    pan = batch.pan
    if pan is None:
        return None
    entered = pan.residue_g if subject == RESIDUE else pan.evaporation_g_per_min
    found = _of_this_pan(batch, subject)
    return entered if found is None else Decimal(found["value"])


def _of_this_pan(batch: Batch, subject: str) -> dict[str, Any] | None:
    """What was learnt of the pan, unless another figure was entered with it since."""
    pan = batch.pan
    found = None if pan is None else _kept(batch, subject, "pan", pan.pk)
    if pan is None or found is None:
        return None
    entered = pan.residue_g if subject == RESIDUE else pan.evaporation_g_per_min
    usual = None if found["usual"] is None else Decimal(found["usual"])
    return found if entered == usual else None


def learnt_spreads(batch: Batch) -> Spreads:
    """How sure the figures of the pan are, by the batches cooked in it; else as usual."""
    spreads = Spreads()
    residue, rate = (_of_this_pan(batch, one) for one in (RESIDUE, EVAPORATION))
    if residue is not None and residue.get("spread"):
        spreads = replace(spreads, residue_g=Decimal(residue["spread"]))
    if rate is not None and rate.get("spread") and Decimal(rate["value"]):
        share = Decimal(rate["spread"]) * 100 / Decimal(rate["value"])
        spreads = replace(spreads, rate_pct=round(share, 2))
    return spreads


def as_learnt(batch: Batch, book: Book) -> Book:
    """The book with the Brix and usable shares its batches taught, for the sums at the stove.

    What was read of this very fruit, or of the batch it came from, still counts before it.
    """
    ingredients, recipes = dict(book.ingredients), dict(book.recipes)
    for pk, record in book.ingredients.items():
        if found := _kept(batch, BRIX, "ingredient", pk):
            ingredients[pk] = replace(ingredients[pk], brix=Decimal(found["value"]))
        if (found := _kept(batch, USABLE, "ingredient", pk)) and record.usable_pct:
            ingredients[pk] = replace(ingredients[pk], usable_pct=Decimal(found["value"]))
    for pk, recipe in book.recipes.items():
        if found := _kept(batch, BRIX, "recipe", pk):
            cook = replace(recipe.cook, measured_brix=Decimal(found["value"]))
            recipes[pk] = replace(recipe, cook=cook)
    return replace(book, ingredients=ingredients, recipes=recipes)


WORDS = {
    "residue": "What stays on {name}",
    "evaporation": "Water lost from {name} at full fire",
    "brix": "Brix of {name}",
    "usable": "Usable share of {name}",
}


def learnt_words(batch: Batch, *, inputs: Sequence[BatchInput]) -> tuple[str, ...]:
    """What this pan reckons with that was neither typed nor read today, in words.

    inputs: what went in; of a tub or a fruit whose own Brix is known nothing learnt is used.
    """
    unread = {
        ("ingredient", row.ingredient_id) if row.ingredient_id else ("recipe", row.preparation_id)
        for row in inputs
        if row.measured_brix is None and (row.from_batch is None or row.from_batch.end_brix is None)
    }
    told = []
    for key, found in batch.plan.get("learnt", {}).items():
        subject, of, pk = key.split("/")
        is_used = (
            _of_this_pan(batch, subject) is not None if of == "pan" else (of, int(pk)) in unread
        )
        if is_used:
            told.append(f"{WORDS[subject].format(name=found['name'])}: {found['sentence']}.")
    return tuple(told)
