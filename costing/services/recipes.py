"""Recipes: saved in versions that a printed label freezes; their costs by the same name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from costing.models import Ingredient, Kitchen, Recipe, RecipeLine, RecipeVersion
from costing.reckoning.book import PREPARED
from costing.selectors.kitchens import possible_ids
from costing.selectors.recipes import (
    edit_stamp,
    line_record,
    preparations_below,
    recipe_record,
)
from costing.services.audit import record_changes, snapshot
from costing.services.recipe_costs import (
    NEW,
    cost_draft,
    cost_recipe,
    cost_recipes,
    cost_version,
    sheet_of,
)
from costing.services.saving import check, refuse_strangers, save_checked
from costing.units import UnitsError, unit_dimension

__all__ = [
    "NEW",
    "LineInput",
    "cost_draft",
    "cost_recipe",
    "cost_recipes",
    "cost_version",
    "freeze_version",
    "save_recipe",
    "sheet_of",
]

SMALLEST = Decimal("0.00001")
OURS = {"id", "kitchen", "recipe", "number", "revision", "is_current", "frozen_at", "created_at"}
OURS |= {"created_by", "finishing_brix"}
"""Columns of a version that are not typed but follow from saving it."""


@dataclass(frozen=True)
class LineInput:
    """One line as typed: an ingredient or a preparation, in a unit or as percent of the base."""

    amount: Decimal
    unit: str = "kg"
    ingredient_id: int | None = None
    recipe_id: int | None = None
    state: str = PREPARED
    is_base: bool = False


@transaction.atomic
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
    refuse_strangers(kitchen, recipe)
    _one_at_a_time(kitchen.pk)
    current = _current(recipe)
    _refuse_if_somebody_saved(current, expected=expected_version)
    typed = {name: value for name, value in version_values.items() if name not in OURS}
    before = _told(current, fields=tuple(typed))
    subject = recipe or Recipe(kitchen=kitchen)
    errors: dict[str, list[str]] = {}
    try:
        save_checked(subject, by=by, values=values)
    except ValidationError as error:
        errors |= error.message_dict
    version = _version_to_write(subject, current=current, by=by)
    _set_and_check(version, values=typed, errors=errors)
    rows = _rows(kitchen, version=version, lines=lines, errors=errors)
    if errors:  # all of them together; what was saved above is undone
        raise ValidationError(errors)
    version.finishing_brix = _finishing_brix(kitchen, version=version, rows=rows)
    _write(version, rows=rows, current=current)
    record_changes(subject, by=by, before=before, after=_told(version, fields=tuple(typed)))
    return subject


@transaction.atomic
def freeze_version(version: RecipeVersion) -> None:
    """Keep a version as it is from now on, and with it the preparations that are in it."""
    _one_at_a_time(version.kitchen_id)
    preparations = version.lines.exclude(preparation=None).values_list("preparation", flat=True)
    below = preparations_below(version.kitchen, list(preparations))
    moment = timezone.now()
    versions = RecipeVersion.objects.filter(kitchen_id=version.kitchen_id, frozen_at__isnull=True)
    versions.filter(pk=version.pk).update(frozen_at=moment)
    versions.filter(recipe_id__in=below, is_current=True).update(frozen_at=moment)
    version.refresh_from_db(fields=["frozen_at"])


def _one_at_a_time(kitchen_id: int) -> None:
    """Recipes of a kitchen wait for each other.

    Two that are saved together could otherwise each become a preparation of the other, and one
    could be printed from while it is being changed.
    """
    Kitchen.objects.select_for_update().get(pk=kitchen_id)


def _current(recipe: Recipe | None) -> RecipeVersion | None:
    if recipe is None:
        return None
    return recipe.versions.select_related("created_by").filter(is_current=True).first()


def _refuse_if_somebody_saved(current: RecipeVersion | None, *, expected: str | None) -> None:
    if expected is None or current is None or edit_stamp(current) == expected:
        return
    raise ValidationError(
        "Somebody saved this recipe while you had it open, so yours was not saved over it."
        " Open the recipe in another window to see what changed, put yours in there, and save."
    )


def _version_to_write(
    recipe: Recipe, *, current: RecipeVersion | None, by: AbstractBaseUser | None
) -> RecipeVersion:
    """The current version, or where that is frozen (or missing) a new one that begins like it."""
    if current is not None and current.frozen_at is None:
        current.recipe = recipe
        current.revision += 1
        return current
    version = RecipeVersion(kitchen_id=recipe.kitchen_id, recipe=recipe)
    if current is not None:
        for field in RecipeVersion._meta.concrete_fields:
            if field.name not in OURS:
                setattr(version, field.attname, getattr(current, field.attname))
    if recipe._state.adding:
        version.number = 1
    else:
        highest = recipe.versions.aggregate(highest=Max("number"))["highest"]
        version.number = (highest or 0) + 1
    version.created_by_id = by.pk if by is not None else None
    return version


def _set_and_check(
    version: RecipeVersion, *, values: Mapping[str, Any], errors: dict[str, list[str]]
) -> None:
    for name, value in values.items():
        setattr(version, name, value.strip() if isinstance(value, str) else value)
    # The one constraint that cannot hold yet: the version before is still the current one.
    is_current, version.is_current = version.is_current, not version._state.adding
    try:
        check(version, skip=("recipe",))
    except ValidationError as error:
        for name, sentences in error.message_dict.items():
            errors.setdefault(name, []).extend(sentences)
    version.is_current = is_current


def _rows(
    kitchen: Kitchen,
    *,
    version: RecipeVersion,
    lines: Sequence[LineInput],
    errors: dict[str, list[str]],
) -> list[RecipeLine]:
    """The lines as rows, checked; what is wrong with them goes to errors["lines"]."""
    faults: list[str] = []
    if not lines:
        faults.append("A recipe needs at least one line: what goes into the pan, and how much.")
    ingredients = Ingredient.objects.filter(
        kitchen=kitchen, pk__in=possible_ids(line.ingredient_id or 0 for line in lines)
    ).in_bulk()
    recipes = Recipe.objects.filter(
        kitchen=kitchen, pk__in=possible_ids(line.recipe_id or 0 for line in lines)
    ).in_bulk()
    rows = []
    for position, line in enumerate(lines):
        row = RecipeLine(
            kitchen=kitchen,
            position=position,
            ingredient=ingredients.get(line.ingredient_id or 0),
            preparation=recipes.get(line.recipe_id or 0),
            amount=_to_store(line.amount),
            unit=line.unit,
            state=line.state,
            is_base=line.is_base,
        )
        faults += [f"Line {position + 1}{_called(row)}: {fault}" for fault in _faults(row)]
        rows.append(row)
    if any(row.unit == "%" for row in rows) and not any(row.is_base for row in rows):
        faults.append(
            "Percent of what? Mark the line or lines that are the base (the sieved puree, for"
            " example), or give every amount by weight."
        )
    if faults:
        errors.setdefault("lines", []).extend(faults)
    return rows


def _faults(row: RecipeLine) -> list[str]:
    if row.ingredient is None and row.preparation is None:
        return ["choose an ingredient or a preparation of this kitchen."]
    if row.ingredient is not None and row.ingredient.kind == Ingredient.Kind.PACKAGING:
        return ["this is packaging; it belongs to the product, not into the pan."]
    faults = []
    try:
        unit_dimension(row.unit)
    except UnitsError as error:
        faults.append(str(error))
    try:
        check(row, skip=("kitchen", "version", "ingredient", "preparation"))
    except ValidationError as error:
        faults += error.messages
    return faults


def _called(row: RecipeLine) -> str:
    what = row.ingredient or row.preparation
    return f" ({what})" if what is not None else ""


def _to_store(amount: Decimal) -> Decimal:
    if not amount.is_finite() or amount.adjusted() > 12:
        return amount  # refused with its sentence when the row is checked
    return amount.quantize(SMALLEST, rounding=ROUND_HALF_UP)


def _finishing_brix(
    kitchen: Kitchen, *, version: RecipeVersion, rows: Sequence[RecipeLine]
) -> Decimal | None:
    """The stopping point as Brix, by the same sum the page shows; None where that is not known.

    Raises ValidationError for a loop and for what boiling cannot do.
    """
    draft = recipe_record(version, lines=[line_record(row) for row in rows])
    draft = replace(draft, id=draft.id or NEW)
    sheet = cost_draft(kitchen, draft, on=timezone.localdate())
    brix = sheet.balance.finishing_brix if sheet.balance is not None else None
    return None if brix is None else brix.quantize(Decimal("0.001"), rounding=ROUND_HALF_UP)


def _write(
    version: RecipeVersion, *, rows: Sequence[RecipeLine], current: RecipeVersion | None
) -> None:
    if not version._state.adding:
        version.lines.all().delete()
    elif current is not None:  # frozen, but which version is the current one may still change
        RecipeVersion.objects.filter(pk=current.pk).update(is_current=False)
    version.recipe_id = version.recipe.pk
    version.save()
    for row in rows:
        row.version = version
    RecipeLine.objects.bulk_create(rows)


def _told(version: RecipeVersion | None, *, fields: tuple[str, ...]) -> dict[str, Any]:
    """What the audit compares: the typed figures, and the lines in words."""
    if version is None:
        return {}
    rows = version.lines.select_related("ingredient", "preparation")
    lines = [
        f"{row.ingredient or row.preparation} {row.amount.normalize():f} {row.unit}"
        + (f" {row.state}" if row.state != PREPARED else "")
        + (" (base)" if row.is_base else "")
        for row in rows
    ]
    figures = snapshot(version, fields=fields)
    return {"version": version.number, **figures, "lines": "; ".join(lines)}
