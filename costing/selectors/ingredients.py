"""Ingredients and packaging of a kitchen."""

from collections.abc import Iterable

from django.db.models import Count, Q, QuerySet

from costing.models import AllergenAnswer, CompoundPart, Ingredient, Kitchen
from costing.reckoning.book import IngredientRecord
from costing.selectors.kitchens import possible_ids


def ingredients_of(
    kitchen: Kitchen, *, kind: str | None = None, with_archived: bool = False
) -> QuerySet[Ingredient]:
    """The kitchen's ingredients by name; `kind` narrows to food or packaging."""
    rows = Ingredient.objects.filter(kitchen=kitchen)
    if kind is not None:
        rows = rows.filter(kind=kind)
    return rows if with_archived else rows.filter(is_archived=False)


def with_unanswered_allergens(kitchen: Kitchen) -> QuerySet[Ingredient]:
    """Foods with an allergen group nobody has answered for; `answered` counts the others."""
    known = ~Q(allergen_answers__answer=AllergenAnswer.Answer.UNKNOWN)
    return (
        ingredients_of(kitchen, kind=Ingredient.Kind.FOOD)
        .annotate(answered=Count("allergen_answers", filter=known))
        .filter(answered__lt=len(AllergenAnswer.Group))
    )


def allergen_answers(ingredient: Ingredient) -> dict[str, AllergenAnswer | None]:
    """The answer for each of the fourteen groups; None where nobody has answered."""
    found = {
        answer.group: answer
        for answer in AllergenAnswer.objects.filter(
            kitchen_id=ingredient.kitchen_id, ingredient=ingredient
        )
    }
    return {group: found.get(group) for group in AllergenAnswer.Group.values}


def compound_parts(ingredient: Ingredient) -> list[CompoundPart]:
    """What a bought-in ingredient is made of, in its supplier's order."""
    parts = CompoundPart.objects.filter(kitchen_id=ingredient.kitchen_id, compound=ingredient)
    return list(parts.select_related("part"))


def ingredient_record(ingredient: Ingredient) -> IngredientRecord:
    """What sums need to know of an ingredient."""
    return IngredientRecord(
        id=ingredient.pk,
        name=ingredient.name,
        usable_pct=ingredient.usable_pct,
        density_kg_per_l=ingredient.density_kg_per_l,
        each_g=ingredient.each_g,
        brix=ingredient.brix,
        insoluble_pct=ingredient.insoluble_pct,
        sucrose_share=ingredient.sucrose_share,
        hexose_share=ingredient.hexose_share,
        acid_share=ingredient.acid_share,
        is_water=ingredient.category == Ingredient.Category.WATER,
    )


def ingredient_records(kitchen: Kitchen, ids: Iterable[int]) -> dict[int, IngredientRecord]:
    """Records of the ingredients named, in one query; those of other kitchens are left out."""
    rows = Ingredient.objects.filter(kitchen=kitchen, pk__in=possible_ids(ids))
    return {row.pk: ingredient_record(row) for row in rows}
