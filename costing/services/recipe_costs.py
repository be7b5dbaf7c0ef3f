"""What a recipe costs: as it is saved, as it was, or as it is being typed."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError

from costing.models import Kitchen, Recipe, RecipeVersion
from costing.reckoning.book import NATURES, Book, CostSheet, Question, RecipeRecord
from costing.reckoning.errors import ReckoningError
from costing.reckoning.recipes import cost_recipe as reckon
from costing.selectors.recipes import load_book
from costing.services.saving import as_error

NEW = 0
"""Id of a recipe that is typed but not saved yet."""

OF_A_LINE = {"", "lines", "amount", "unit", "ingredient", "preparation", "state", "is_base"}


def cost_recipe(recipe: Recipe, *, on: date) -> CostSheet:
    """Cost the current version at the prices in force on a day.

    Unknown is not zero: what is missing stands in `questions`, and totals are then lower bounds.
    """
    return cost_recipes(recipe.kitchen, [recipe.pk], on=on)[recipe.pk]


def cost_recipes(
    kitchen: Kitchen, recipe_ids: Iterable[int] | None, *, on: date
) -> dict[int, CostSheet]:
    """Cost many recipes in as many queries as one takes; None for all of the kitchen."""
    wanted = None if recipe_ids is None else list(recipe_ids)
    book = load_book(kitchen, wanted, on=on)
    known: dict[int, CostSheet] = {}
    return {
        pk: sheet_of(book, pk, known=known) for pk in (book.recipes if wanted is None else wanted)
    }


def cost_version(version: RecipeVersion, *, on: date) -> CostSheet:
    """Cost an older version, for a look back; the preparations in it are taken as they are now."""
    book = load_book(version.kitchen, (), on=on, version_ids=[version.pk])
    return sheet_of(book, version.recipe_id)


def cost_draft(kitchen: Kitchen, draft: RecipeRecord, *, on: date) -> CostSheet:
    """Cost what is typed but not saved. A recipe not saved yet has the id NEW.

    Raises ValidationError by field for what contradicts arithmetic or boiling, and for lines that
    name something that is not in this kitchen.
    """
    ingredients = {line.ingredient_id for line in draft.lines if line.ingredient_id is not None}
    preparations = {line.recipe_id for line in draft.lines if line.recipe_id is not None}
    book = load_book(kitchen, preparations, on=on, ingredient_ids=ingredients)
    if not ingredients <= set(book.ingredients) or not preparations <= set(book.recipes):
        raise as_error("lines", "One of the lines names something that is not in this kitchen.")
    book = replace(book, recipes={**book.recipes, draft.id: draft})
    try:
        return reckon(book, draft.id)
    except ReckoningError as error:
        raise as_fault(error, about=draft.name) from error


def sheet_of(book: Book, recipe_id: int, *, known: dict[int, CostSheet] | None = None) -> CostSheet:
    """A sheet even where the figures contradict each other: it then says so instead of a cost.

    known: sheets already worked out over the same book; it is read and added to. A saved recipe
    can come to a contradiction when, for example, the Brix of an ingredient is corrected; a page
    that lists many recipes must not fail for one of them.
    """
    try:
        return reckon(book, recipe_id, known=known)
    except ReckoningError as error:
        return CostSheet(
            recipe=book.recipes[recipe_id],
            on=book.on,
            currency=book.kitchen.currency,
            lines=(),
            ingoing_g=None,
            balance=None,
            breakdown=dict.fromkeys(NATURES, Decimal(0)),
            cost_total=Decimal(0),
            cost_per_kg_finished=None,
            cost_per_kg_ingoing=None,
            energy_kwh=None,
            questions=(_contradiction(error, recipe=book.recipes[recipe_id]),),
            policy=book.policy,
        )


def as_fault(error: ReckoningError, *, about: str) -> ValidationError:
    """A contradiction as a fault of the field it was typed in."""
    below = error.recipe and error.recipe != about
    sentence = f"{error.recipe}: {error}" if below else str(error)
    if error.line is not None and not below:
        sentence = f"Line {error.line + 1}: {sentence}"
    if below or error.line is not None or error.field in OF_A_LINE:
        return as_error("lines", sentence)
    return as_error(error.field, sentence)


def _contradiction(error: ReckoningError, *, recipe: RecipeRecord) -> Question:
    below = error.recipe and error.recipe != recipe.name
    sentence = f"{error.recipe}: {error}" if below else str(error)
    return Question(
        sentence=sentence,
        about="contradiction",
        recipe_id=recipe.id,
        blocks="mass",
        name=error.recipe or recipe.name,
    )
