"""Nutrition of a label's food, from what really went in; and what was decided about traces."""

from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import Ingredient
from costing.reckoning.nutrition import (
    DUE,
    NAMES,
    OF_AN_INGREDIENT,
    TRACE_BELOW_PCT,
    Contribution,
    NutrientRecord,
    NutrientSum,
    nutrients,
)
from costing.services.audit import record_changes
from labels.facts import NutrientSource, Nutrition
from labels.mechanics.text import names_one_of
from labels.models import LabelDesign, NutritionDecision
from labels.services.facts import FoodFacts

SPIRITS = (
    "rum", "brandy", "whisky", "whiskey", "gin", "vodka", "wine", "liqueur", "kirsch", "sherry",
    "port", "cider", "beer", "ale", "cognac", "armagnac", "calvados", "amaretto", "marsala",
    "madeira", "vermouth", "spirit", "eau-de-vie", "schnapps", "grappa", "sloe gin",
)  # fmt: skip
"""Names that ask after alcohol; a vinegar of the same name does not."""
FEWEST_LETTERS = 10
"""Of a reason: less is no reason anybody could check later."""


def nutrition_of(design: LabelDesign, food: FoodFacts) -> Nutrition | None:
    """Nutrients in 100 g for a label that declares them, each figure with its source; else None."""
    if not design.declares_nutrition or food.used is None or food.larder is None:
        return None
    found = nutrient_sum(design, food)
    asked = {q.ingredient_id: q.sentence for q in found.questions if q.ingredient_id}
    return Nutrition(
        per_100_g=tuple(
            (NAMES[name], grams)
            for name, grams in found.per_100_g.items()
            if grams or name in DUE  # none of it found is not the same as none in it
        ),
        sources=tuple(_source(row, asked) for row in found.contributions),
        questions=tuple(question.sentence for question in found.questions),
        notes=found.notes,
        portion_g=design.portion_g,
    )


def nutrient_sum(design: LabelDesign, food: FoodFacts) -> NutrientSum:
    """The sum behind it, for the ingredients of the food as they stand in the kitchen."""
    assert food.used is not None and food.larder is not None  # noqa: S101, PT018 - asked before
    return nutrients(
        food.used,
        larder={pk: as_record(row) for pk, row in food.larder.ingredients.items()},
        counts_as_nothing=reasons_of(design),
        alcohol_left_g=design.alcohol_left_g,
    )


def reasons_of(design: LabelDesign) -> dict[int, str]:
    """What the maker decided counts as nothing: ingredient -> why."""
    if design._state.adding:
        return {}
    rows = NutritionDecision.objects.filter(kitchen=design.kitchen, design=design)
    return dict(rows.values_list("ingredient_id", "reason"))


def as_record(row: Ingredient) -> NutrientRecord:
    """A stored ingredient as the sum wants it."""
    sources = row.figure_sources or {}
    values = {
        name: getattr(row, name) for name in OF_AN_INGREDIENT if getattr(row, name) is not None
    }
    return NutrientRecord(
        ingredient_id=row.pk,
        name=row.name,
        per_100_g=values,
        sources={name: str(sources.get(name, "")) for name in values},
        is_water=row.category == Ingredient.Category.WATER,
        is_sweetener=row.additive_class.strip().casefold() == "sweetener",
        holds_alcohol=names_one_of(row.name, SPIRITS) and not names_one_of(row.name, ("vinegar",)),
    )


def _source(row: Contribution, asked: dict[int, str]) -> NutrientSource:
    record = row.record
    return NutrientSource(
        name=record.name,
        key=str(record.ingredient_id),
        share_g=row.share_pct,
        known=tuple(
            (NAMES[name], value, record.sources.get(name) or "entered by the kitchen, no source")
            for name, value in record.per_100_g.items()
        ),
        missing=tuple(NAMES[name] for name in row.missing),
        counts_as_nothing=row.reason,
        question=asked.get(record.ingredient_id, ""),
    )


def trace_of(
    design: LabelDesign, food: FoodFacts, *, ingredient: Ingredient
) -> Contribution | None:
    """The ingredient in this food, if something of it is missing; else None."""
    if food.used is None or food.larder is None:
        return None
    rows = nutrient_sum(design, food).contributions
    return next((r for r in rows if r.record.ingredient_id == ingredient.pk and r.missing), None)


@transaction.atomic
def decide_trace(
    design: LabelDesign, food: FoodFacts, *, by: Any, ingredient: Ingredient, reason: str
) -> NutritionDecision:
    """Keep why what is missing of a trace counts as nothing. Raises ValidationError."""
    reason = " ".join(reason.split())
    row = trace_of(design, food, ingredient=ingredient)
    if row is None:
        raise ValidationError(f"Nothing of {ingredient.name} is missing in this food.")
    if not row.is_trace:
        raise ValidationError(
            f"{ingredient.name} is {row.share_pct:.2f} % of the finished food. Only what is under "
            f"{TRACE_BELOW_PCT} % may count as nothing: find its values."
        )
    if len(reason) < FEWEST_LETTERS:
        raise ValidationError("Say why, so that somebody else can follow it in a year.")
    kept = NutritionDecision.objects.filter(design=design, ingredient=ingredient).first()
    decision = kept or NutritionDecision(
        kitchen=design.kitchen, design=design, ingredient=ingredient
    )
    before = {"reason": decision.reason}
    decision.reason, decision.decided_by = reason, by
    decision.full_clean()
    decision.save()
    record_changes(decision, by=by, before=before, after={"reason": reason})
    return decision


@transaction.atomic
def undo_trace(design: LabelDesign, *, by: Any, ingredient: Ingredient) -> None:
    """Ask after the missing values again."""
    for decision in NutritionDecision.objects.filter(design=design, ingredient=ingredient):
        record_changes(decision, by=by, before={"reason": decision.reason}, after={"reason": ""})
        decision.delete()
