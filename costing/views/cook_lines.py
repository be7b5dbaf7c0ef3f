"""The lines of a cook for the page: what is planned, and what each can be filled from."""

from dataclasses import replace
from typing import Any

from costing.forms.cook_lines import LineToFill
from costing.models import BatchInput, Ingredient, Kitchen
from costing.reckoning.book import CostSheet
from costing.reckoning.lines import is_bought_whole
from costing.reckoning.weighing import as_weighed
from costing.selectors.batches import BatchPage
from costing.selectors.cook_lines import (
    ingredients_by_id,
    stock_by_preparation,
    suppliers_by_ingredient,
)
from costing.views.cook_learnt import brix_lesson
from costing.views.recipe_words import Pen

_HAS_A_BRIX = {
    Ingredient.Category.NONE.value, Ingredient.Category.FRUIT.value,
    Ingredient.Category.VEGETABLE.value,
}  # fmt: skip
"""Categories whose Brix changes from crate to crate; sugar, water and spices are what they are."""


def lines_of_sheet(kitchen: Kitchen, sheet: CostSheet, *, pen: Pen) -> list[LineToFill]:
    """A line of boxes for each line of a recipe that is about to be cooked."""
    bought = [one.line.ingredient_id for one in sheet.lines]
    suppliers = suppliers_by_ingredient(kitchen, bought)
    ingredients = ingredients_by_id(kitchen, bought)
    stock = stock_by_preparation(kitchen, [one.line.recipe_id for one in sheet.lines])
    weighed = as_weighed(sheet).lines
    base = next((n for n, one in enumerate(sheet.lines) if one.line.is_base), None)
    rows = []
    for position, one in enumerate(weighed):
        pk, made = one.line.ingredient_id, one.line.recipe_id
        ingredient = None if pk is None else ingredients.get(pk)
        whole = "as bought" if is_bought_whole(one.line) and pk is not None else ""
        rows.append(
            LineToFill(
                position=position,
                name=one.name,
                planned=whole,
                note=brix_lesson(kitchen, ingredient, made) if position == base else "",
                suppliers=suppliers.get(pk or 0, ()),
                sources=stock.get(made or 0, ()),
                is_bought=pk is not None,
                takes_brix=_takes_brix(ingredient),
            )
        )
    return rows


def lines_of_batch(page: BatchPage, *, pen: Pen) -> list[LineToFill]:
    """A line of boxes for each row that a batch has, and one more part where a part was weighed."""
    batch = page.batch
    kitchen = batch.kitchen
    suppliers = suppliers_by_ingredient(kitchen, [row.ingredient_id for row in page.inputs])
    stock = stock_by_preparation(
        kitchen, [row.preparation_id for row in page.inputs], besides=batch
    )
    rows: list[LineToFill] = []
    for position in dict.fromkeys(row.position for row in page.inputs):
        parts = [row for row in page.inputs if row.position == position]
        lines = [_of_row(row, part, pen=pen) for part, row in enumerate(parts)]
        if parts[-1].weighed_g is not None:
            another = replace(lines[-1], part=len(parts), planned="another lot", is_more=True)
            lines.append(another)
        pk, made = parts[0].ingredient_id, parts[0].preparation_id
        rows += [
            replace(one, suppliers=suppliers.get(pk or 0, ()), sources=stock.get(made or 0, ()))
            for one in lines
        ]
    return rows


def as_told(page: BatchPage) -> dict[str, Any]:
    """What was put down of each line, for its boxes."""
    told: dict[str, Any] = {}
    seen: dict[int, int] = {}
    for row in page.inputs:
        part = seen.get(row.position, 0)
        seen[row.position] = part + 1
        key = f"{row.position}-{part}"
        told |= {
            f"weighed-{key}": row.weighed_g,
            f"source-{key}": str(row.from_batch_id or ""),
            f"supplier-{key}": row.supplier_id or "",
            f"lot-{key}": row.supplier_lot,
            f"brix-{key}": row.measured_brix,
        }
    return told


def _of_row(row: BatchInput, part: int, *, pen: Pen) -> LineToFill:
    planned_g = row.to_weigh_g or row.planned_g
    return LineToFill(
        position=row.position,
        name=str(row.ingredient or row.preparation),
        planned="beside the plan" if planned_g is None else f"to weigh {pen.told(planned_g)}",
        part=part,
        is_bought=row.ingredient_id is not None,
        takes_brix=_takes_brix(row.ingredient),
        ingredient=row.ingredient,
    )


def _takes_brix(ingredient: Ingredient | None) -> bool:
    """A preparation, or what has no fixed Brix."""
    return ingredient is None or ingredient.category in _HAS_A_BRIX
