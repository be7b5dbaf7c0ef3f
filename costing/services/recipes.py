"""Recipes: saved in versions, and costed as saved or as typed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from costing.models import Ingredient, Kitchen, Recipe, RecipeLine, RecipeVersion
from costing.reckoning.book import PREPARED, CostSheet, LineRecord, RecipeRecord
from costing.selectors.recipes import edit_stamp, line_record, load_book, recipe_record
from costing.services.audit import record_changes
from costing.services.saving import as_error, check, prefixed, save_checked

NEW = 0
"""Id of a recipe that is typed but not saved yet."""


@dataclass(frozen=True)
class LineInput:
    """One line as typed: an ingredient or a preparation, in a unit or as percent of the base."""

    amount: Decimal
    unit: str = "kg"
    ingredient_id: int | None = None
    recipe_id: int | None = None
    state: str = PREPARED
    is_base: bool = False


def cost_recipe(recipe: Recipe, *, on: date) -> CostSheet:
    """Cost the current version at the prices in force on a day.

    Unknown is not zero: what is missing stands in `questions`, and totals are then lower bounds.
    """
    return cost_recipes(recipe.kitchen, [recipe.pk], on=on)[recipe.pk]


def cost_recipes(
    kitchen: Kitchen, recipe_ids: Iterable[int] | None, *, on: date
) -> dict[int, CostSheet]:
    """Cost many recipes in as many queries as one takes; None for all of the kitchen."""
    raise NotImplementedError


def cost_version(version: RecipeVersion, *, on: date) -> CostSheet:
    """Cost an older version, for a look back; the preparations in it are taken as they are now."""
    raise NotImplementedError


def cost_draft(kitchen: Kitchen, draft: RecipeRecord, *, on: date) -> CostSheet:
    """Cost what is typed but not saved. A recipe not saved yet has the id NEW.

    Raises ValidationError when a line names something that is not in this kitchen.
    """
    raise NotImplementedError


def save_recipe(
    kitchen: Kitchen,
    *,
    by: AbstractBaseUser | None,
    recipe: Recipe | None = None,
    values: Mapping[str, Any],
    version_values: Mapping[str, Any],
    lines: Sequence[LineInput],
    expected_version: str | None = None,
) -> Recipe:
    """Save a recipe with its cook and its lines.

    The current version is changed in place until it is frozen; then a new one is made and the old
    one kept. expected_version: the edit_stamp of the version the page opened; when somebody saved
    since, nothing is overwritten. Raises ValidationError with the faults by field; those of lines
    under "lines".
    """
    raise NotImplementedError


def freeze_version(version: RecipeVersion) -> None:
    """Keep a version as it is from now on, and with it the preparations that are in it."""
    raise NotImplementedError
