"""Everything a kitchen has learnt, at once."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from costing.models import (
    Ingredient,
    Kitchen,
    Pan,
    Recipe,
    RecipeVersion,
    Supplier,
)
from costing.models.kitchens import KitchenOwned
from costing.selectors.batch_figures import every_figure
from costing.selectors.batch_lessons import Decided, Key, decisions
from costing.services.learning import (
    BRIX,
    EVAPORATION,
    INVERSION,
    RESIDUE,
    USABLE,
    About,
    Told,
    foretold,
    told,
)

ORDER = (USABLE, BRIX, RESIDUE, EVAPORATION)
ENOUGH = 4
"""Batches below which an average error says nothing."""
Row = TypeVar("Row", bound=KitchenOwned)


def every_lesson(kitchen: Kitchen) -> tuple[Told, ...]:
    """What is learnt of each fruit and supplier, pan and recipe: in nine queries at most.

    A supplier is told apart where a fruit came from more than one, or something was decided.
    """
    figures, decided = every_figure(kitchen), decisions(kitchen)
    keys = [
        key
        for key in {**figures, **decided}
        if key.subject != INVERSION
        and (key.supplier_id is None or key in decided or _others(key, figures))
    ]
    rows = _Rows(kitchen, keys)
    lessons = [
        told(
            figures.get(key, []),
            subject=key.subject,
            about=rows.about(key),
            decided=decided.get(key, Decided()),
        )
        for key in keys
    ]
    return tuple(sorted(lessons, key=_place))


@dataclass(frozen=True)
class Aim:
    """How far off the last batches were, on average, from what was expected of them.

    learnt: expected from the batches before each alone. usual: had nothing been learnt.
    """

    batches: int
    learnt: Decimal
    usual: Decimal


def aim_of(lesson: Told) -> Aim | None:
    """Whether learning helps, over the last half of the batches that count; None below four."""
    counting = [point.measured for point in lesson.points if point.state in ("counts", "sure")]
    told_before = foretold(counting, subject=lesson.subject, usual=lesson.learnt.default)
    if len(told_before) < ENOUGH:
        return None
    later = told_before[-(len(told_before) // 2) :]
    return Aim(
        batches=len(later),
        learnt=sum((one.error for one in later), Decimal(0)) / len(later),
        usual=sum((one.usual_error for one in later), Decimal(0)) / len(later),
    )


def _others(key: Key, figures: Iterable[Key]) -> bool:
    """Whether the fruit of a key also came from another supplier."""
    return any(
        other.supplier_id not in (None, key.supplier_id)
        and (other.subject, other.ingredient_id) == (key.subject, key.ingredient_id)
        for other in figures
    )


def _place(lesson: Told) -> tuple[int, str, int, str]:
    about = lesson.about
    kind = 0 if about.pan else 1 if about.ingredient else 2
    supplier = str(about.supplier or "")
    return kind, str(about.pan or about.ingredient or about.recipe), _rank(lesson), supplier


def _rank(lesson: Told) -> int:
    return ORDER.index(lesson.subject)


class _Rows:
    """Every row the keys name, in one query a table."""

    def __init__(self, kitchen: Kitchen, keys: list[Key]) -> None:
        self.ingredients = _read(Ingredient, kitchen, (key.ingredient_id for key in keys))
        self.suppliers = _read(Supplier, kitchen, (key.supplier_id for key in keys))
        self.pans = _read(Pan, kitchen, (key.pan_id for key in keys))
        self.recipes = _read(Recipe, kitchen, (key.recipe_id for key in keys))
        current = RecipeVersion.objects.filter(
            kitchen=kitchen, recipe_id__in=self.recipes, is_current=True
        )
        self.versions = {version.recipe_id: version for version in current}

    def about(self, key: Key) -> About:
        return About(
            self.ingredients.get(key.ingredient_id or 0),
            self.suppliers.get(key.supplier_id or 0),
            self.pans.get(key.pan_id or 0),
            self.recipes.get(key.recipe_id or 0),
            self.versions.get(key.recipe_id or 0),
        )


def _read(model: type[Row], kitchen: Kitchen, wanted: Iterable[int | None]) -> dict[int, Row]:
    ids = {pk for pk in wanted if pk is not None}
    rows: Any = model.objects  # type: ignore[attr-defined]
    return {row.pk: row for row in rows.filter(kitchen=kitchen, pk__in=ids)} if ids else {}
