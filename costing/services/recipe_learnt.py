"""A figure of a recipe taken over from its batches, with where it comes from."""

from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction

from costing.models import AuditEntry, Recipe, RecipeVersion
from costing.selectors.recipes import current_version
from costing.services.audit import record_changes
from costing.services.learning import BRIX, RESIDUE
from costing.services.recipes import LineInput, save_recipe

COLUMNS = {BRIX: "measured_brix", RESIDUE: "pan_residue_pct"}


def subjects_of(version: RecipeVersion) -> tuple[str, ...]:
    """What batches can teach this recipe: Brix of what is weighed out, residue of what is boiled.

    The Brix of a paste is decided, not measured; a residue told in grams is that of a pan.
    """
    if version.cook_kind == RecipeVersion.CookKind.WEIGHED_OUT:
        return (BRIX,)
    if version.cook_kind == RecipeVersion.CookKind.NO_COOK or version.pan_residue_g:
        return ()
    return (RESIDUE,)


def kept_source(recipe: Recipe, *, subject: str) -> str:
    """Where the figure that stands in the recipe was last taken from; empty where it was typed.

    Somebody who types another figure after that decides anew.
    """
    column = COLUMNS[subject]
    entries = AuditEntry.objects.filter(
        kitchen_id=recipe.kitchen_id, subject=recipe._meta.model_name, subject_id=recipe.pk,
        field__in=(column, _source_field(column)),
    )  # fmt: skip
    last = entries.order_by("-pk").first()
    return last.new if last is not None and last.field == _source_field(column) else ""


def _source_field(column: str) -> str:
    return f"{column}_source"


@transaction.atomic
def take_over(
    recipe: Recipe, *, by: AbstractBaseUser | None, subject: str, value: Decimal, source: str
) -> Recipe:
    """Save the recipe with this figure; one that a label froze goes on as a new version.

    source: in words; it stands in the history beside the change. Raises ValidationError.
    """
    column = COLUMNS[subject]
    lines = [
        LineInput(
            amount=line.amount,
            unit=line.unit,
            ingredient_id=line.ingredient_id,
            recipe_id=line.preparation_id,
            state=line.state,
            is_base=line.is_base,
        )
        for line in current_version(recipe).lines.order_by("position", "pk")
    ]
    saved = save_recipe(
        recipe.kitchen, by=by, recipe=recipe, values={}, version_values={column: value}, lines=lines
    )
    record_changes(saved, by=by, before={}, after={_source_field(column): source})
    return saved
