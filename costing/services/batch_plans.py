"""The plan of a batch: every figure it was planned with, kept so that nothing later moves it."""

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar, get_args, get_type_hints

from costing.reckoning.book import (
    Book,
    CookRecord,
    IngredientRecord,
    KitchenRecord,
    LineRecord,
    PriceRecord,
    RecipeRecord,
)
from costing.reckoning.errors import ReckoningError
from costing.reckoning.lines import weigh_lines

Kept = TypeVar("Kept")


def kept(book: Book, *, recipe_id: int) -> dict[str, Any]:
    """A book as plain data that JSON can hold, and which of its recipes is the plan."""
    return {
        "recipe_id": recipe_id,
        "on": book.on.isoformat(),
        "policy": book.policy,
        "kitchen": _plain(book.kitchen),
        "ingredients": [_plain(one) for one in book.ingredients.values()],
        "recipes": [_plain(one) for one in book.recipes.values()],
        "prices": [_plain(one) for one in book.prices.values()],
    }


def book_of(plan: Mapping[str, Any]) -> Book:
    """The book that was kept: the kitchen's rates, ingredients, recipes and prices of that day."""
    recipes = [_recipe(one) for one in plan["recipes"]]
    ingredients = [_record(IngredientRecord, one) for one in plan["ingredients"]]
    prices = [_record(PriceRecord, one) for one in plan["prices"]]
    return Book(
        kitchen=_record(KitchenRecord, plan["kitchen"]),
        ingredients={one.id: one for one in ingredients},
        recipes={one.id: one for one in recipes},
        prices={one.ingredient_id: one for one in prices},
        on=date.fromisoformat(plan["on"]),
        policy=plan["policy"],
    )


def planned_masses(book: Book, *, recipe_id: int) -> Sequence[Decimal | None]:
    """Grams of each line of a recipe; None where a density or the weight of one is not known."""
    recipe = book.recipes[recipe_id]
    try:
        return weigh_lines(recipe, book=book).masses_g
    except ReckoningError:
        return [None] * len(recipe.lines)


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def _recipe(data: Mapping[str, Any]) -> RecipeRecord:
    nested = {
        "lines": tuple(_record(LineRecord, line) for line in data["lines"]),
        "cook": _record(CookRecord, data["cook"]),
    }
    return _record(RecipeRecord, {**data, **nested})


def _record(kind: type[Kept], data: Mapping[str, Any]) -> Kept:
    """A record from plain data. What it has learnt to keep since then takes its usual value."""
    hints = get_type_hints(kind)
    return kind(**{name: _typed(data[name], hints[name]) for name in hints if name in data})


def _typed(value: Any, hint: Any) -> Any:
    wanted = get_args(hint) or (hint,)
    if isinstance(value, str) and Decimal in wanted:
        return Decimal(value)
    if isinstance(value, str) and date in wanted:
        return date.fromisoformat(value)
    return value
