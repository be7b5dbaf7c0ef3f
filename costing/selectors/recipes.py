"""Recipes and their versions; and everything a sum needs, read in a fixed number of queries."""

from collections.abc import Iterable, Mapping
from datetime import date

from django.db.models import Prefetch, Q, QuerySet
from django.db.models.expressions import RawSQL

from costing.models import Kitchen, Recipe, RecipeLine, RecipeVersion
from costing.reckoning.book import Book, CookRecord, LineRecord, RecipeRecord
from costing.selectors.ingredients import ingredient_records
from costing.selectors.kitchens import kitchen_record, possible_ids
from costing.selectors.purchases import prices_in_force

# The versions of some recipes and, link by link, of every preparation below them. UNION drops
# what was already found, so that even a loop (which saving refuses) comes to an end.
_REACHABLE = """
WITH RECURSIVE reachable(version_id) AS (
    SELECT v.id FROM costing_recipeversion v
    WHERE v.kitchen_id = %s
      AND ((v.is_current AND v.recipe_id IN ({recipes})) OR v.id IN ({versions}))
  UNION
    SELECT v.id FROM reachable r
    JOIN costing_recipeline l ON l.version_id = r.version_id
    JOIN costing_recipeversion v ON v.recipe_id = l.preparation_id AND v.is_current
)
SELECT version_id FROM reachable
"""


def recipes_of(kitchen: Kitchen, *, with_archived: bool = False) -> QuerySet[Recipe]:
    """The kitchen's recipes by name."""
    rows = Recipe.objects.filter(kitchen=kitchen)
    return rows if with_archived else rows.filter(is_archived=False)


def current_version(recipe: Recipe) -> RecipeVersion:
    """The version a recipe is cooked by now, with its lines."""
    versions = RecipeVersion.objects.filter(kitchen_id=recipe.kitchen_id, recipe=recipe)
    return versions.select_related("recipe").prefetch_related(_lines()).get(is_current=True)


def versions_of(recipe: Recipe) -> list[RecipeVersion]:
    """Every version of a recipe, newest first, lines loaded with them."""
    versions = RecipeVersion.objects.filter(kitchen_id=recipe.kitchen_id, recipe=recipe)
    return list(versions.select_related("recipe", "created_by").prefetch_related(_lines()))


def used_in(recipe: Recipe) -> list[Recipe]:
    """Recipes whose current version uses this one as a preparation."""
    rows = Recipe.objects.filter(
        kitchen_id=recipe.kitchen_id,
        versions__is_current=True,
        versions__lines__preparation=recipe,
    )
    return list(rows.distinct())


def edit_stamp(version: RecipeVersion) -> str:
    """What a page remembers of the version it opened, to notice that somebody saved since."""
    return f"{version.number}.{version.revision}"


def load_book(
    kitchen: Kitchen,
    recipe_ids: Iterable[int] | None,
    *,
    on: date,
    ingredient_ids: Iterable[int] = (),
    version_ids: Iterable[int] = (),
) -> Book:
    """The kitchen's figures on a day: these recipes, every preparation below, and their prices.

    recipe_ids: None reads all recipes of the kitchen. ingredient_ids: more ingredients, for what
    is typed but not saved. version_ids: versions to take instead of the current ones, for a look
    back; of recipes reached twice, these win. Four queries, however deep the recipes nest.
    """
    pinned = set(version_ids)
    versions = _versions(kitchen, recipe_ids=recipe_ids, version_ids=pinned)
    lines: dict[int, list[LineRecord]] = {version.pk: [] for version in versions}
    wanted = set(ingredient_ids)
    for line in _line_rows(
        kitchen, version_ids=lines, all_current=recipe_ids is None and not pinned
    ):
        lines[line.version_id].append(line_record(line))
        if line.ingredient_id is not None:
            wanted.add(line.ingredient_id)
    versions.sort(key=lambda version: version.pk in pinned)
    return Book(
        kitchen=kitchen_record(kitchen),
        ingredients=ingredient_records(kitchen, wanted),
        recipes={
            version.recipe_id: recipe_record(version, lines=lines[version.pk])
            for version in versions
        },
        prices=prices_in_force(kitchen, wanted, on=on),
        on=on,
        policy=kitchen.price_policy,
    )


def recipe_record(version: RecipeVersion, *, lines: Iterable[LineRecord]) -> RecipeRecord:
    """A version ready for sums; its recipe must be loaded with it."""
    return RecipeRecord(
        id=version.recipe_id,
        name=version.recipe.name,
        lines=tuple(lines),
        base_name=version.base_name,
        base_g=version.base_g,
        cook=CookRecord(
            kind=version.cook_kind,
            stop_form=version.stop_form,
            stop_value=version.stop_value,
            water_reading_c=version.water_reading_c,
            cook_loss_pct=version.cook_loss_pct,
            finished_g=version.finished_g,
            evaporated_g=version.evaporated_g,
            inverted_pct=version.inverted_pct,
            pan_residue_pct=version.pan_residue_pct,
            pan_residue_g=version.pan_residue_g,
            handling_loss_pct=version.handling_loss_pct,
            measured_brix=version.measured_brix,
            measured_insoluble_pct=version.measured_insoluble_pct,
            is_heated=version.is_heated,
        ),
        attended_minutes=version.attended_minutes,
        version=version.number,
    )


def line_record(line: RecipeLine) -> LineRecord:
    """A stored line ready for sums."""
    return LineRecord(
        amount=line.amount,
        unit=line.unit,
        ingredient_id=line.ingredient_id,
        recipe_id=line.preparation_id,
        state=line.state,
        is_base=line.is_base,
        id=line.pk,
    )


def preparations_below(kitchen: Kitchen, recipe_ids: Iterable[int]) -> Mapping[int, str]:
    """Names of these recipes and of every preparation they reach, in one query."""
    versions = _versions(kitchen, recipe_ids=recipe_ids, version_ids=())
    return {version.recipe_id: version.recipe.name for version in versions}


def _versions(
    kitchen: Kitchen, *, recipe_ids: Iterable[int] | None, version_ids: Iterable[int]
) -> list[RecipeVersion]:
    rows = RecipeVersion.objects.filter(kitchen=kitchen).select_related("recipe")
    pinned = sorted(possible_ids(version_ids))
    if recipe_ids is None:
        return list(rows.filter(Q(is_current=True) | Q(pk__in=pinned)))
    recipes = sorted(possible_ids(recipe_ids))
    if not recipes and not pinned:
        return []
    # Only placeholders are put into the text; the numbers go as parameters.
    query = _REACHABLE.format(recipes=_places(recipes), versions=_places(pinned))
    reachable = RawSQL(query, [kitchen.pk, *recipes, *pinned])  # noqa: S611
    return list(rows.filter(pk__in=reachable))


def _places(values: list[int]) -> str:
    return ", ".join(["%s"] * len(values)) or "NULL"


def _line_rows(
    kitchen: Kitchen, *, version_ids: Iterable[int], all_current: bool
) -> QuerySet[RecipeLine]:
    rows = RecipeLine.objects.filter(kitchen=kitchen)
    if all_current:  # naming a thousand versions would be a long way to say "all"
        return rows.filter(version__is_current=True)
    return rows.filter(version_id__in=list(version_ids))


def _lines() -> Prefetch:
    return Prefetch(
        "lines", queryset=RecipeLine.objects.select_related("ingredient", "preparation")
    )
