"""From a recipe and a design to the facts of one label."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from costing.models import AllergenAnswer, CompoundPart, Ingredient, Kitchen, Recipe
from costing.reckoning.book import CostSheet, Question
from costing.reckoning.composition import Used
from costing.selectors.recipes import load_book
from labels.facts import ALLERGEN_GROUPS, Allergen, LabelFacts, UsedIngredient
from labels.models import LabelDesign, QuantifiedIngredient
from labels.services.contradictions import reckoned
from labels.services.languages import in_its_languages
from labels.services.packs import surface_cm2

_DEEPEST = 12
"""Lists within lists of a bought-in ingredient; deeper than that counts as a list not entered."""


@dataclass(frozen=True)
class FoodFacts:
    """What a recipe makes, as a label needs it: who went in, and how much came out.

    questions: what is not known that keeps the finished mass, and so the label, from being told.
    used, larder: the same as it was used, with the kitchen's rows, for what else is asked of it.
    """

    ingredients: tuple[UsedIngredient, ...]
    finished_g: Decimal | None
    sheet: CostSheet
    questions: tuple[Question, ...]
    used: Used | None = None
    larder: "Larder | None" = None


@dataclass(frozen=True)
class Larder:
    """The ingredients of a recipe with all that the label asks of them."""

    ingredients: Mapping[int, Ingredient]
    answers: Mapping[int, Mapping[str, AllergenAnswer]]
    parts: Mapping[int, tuple[CompoundPart, ...]]
    recipes: Mapping[int, Recipe]
    quantified_ingredients: Mapping[int, str] = field(default_factory=dict)
    quantified_recipes: Mapping[int, str] = field(default_factory=dict)

    def declaring(self, quantified: Iterable[QuantifiedIngredient]) -> "Larder":
        """The same rows for a label that declares these quantities, each with its reason."""
        rows = list(quantified)
        return replace(
            self,
            quantified_ingredients={q.ingredient_id: q.reason for q in rows if q.ingredient_id},
            quantified_recipes={q.preparation_id: q.reason for q in rows if q.preparation_id},
        )


def label_facts(
    design: LabelDesign,
    *,
    on: date,
    lot: str,
    made_on: date,
    best_before: date | None,
    quantified: Sequence[QuantifiedIngredient] | None = None,
    food: FoodFacts | None = None,
) -> tuple[LabelFacts, FoodFacts]:
    """Everything that is true of one product's label on one day, and the food behind it.

    quantified: what is declared, for a design that is not saved; else the rows of the design.
    food: of one batch, where the label is of a batch; else the recipe as it stands tells it.
    """
    kitchen = design.kitchen
    product = design.product
    if food is None:
        food = food_facts(design, on=on, quantified=quantified)
    facts = LabelFacts(
        name_of_food=design.name_of_food,
        ingredients=food.ingredients,
        finished_g=food.finished_g,
        net_quantity_g=product.net_quantity_g,
        largest_surface_cm2=surface_cm2(design),
        operator_name=kitchen.trading_name,
        operator_address=_on_one_line(kitchen.address),
        made_on=made_on,
        best_before=best_before,
        lot=lot,
        country_of_sale=kitchen.country,
        language=kitchen.label_language,
        product_kind=product.recipe.kind,
        soluble_solids_pct=food.sheet.balance.finishing_brix if food.sheet.balance else None,
        **_as_designed(design),
    )
    return in_its_languages(facts, design=design), food


def _as_designed(design: LabelDesign) -> dict[str, Any]:
    """What the maker adds to the recipe, for the facts of a label."""
    claims = map(str.strip, (design.claims or "").splitlines())
    return {
        "storage": design.storage,
        "storage_after_opening": design.storage_after_opening,
        "origin": design.origin,
        "brand_name": design.brand_name,
        "tagline": design.tagline,
        "market": design.market,
        "has_e_mark": design.has_e_mark,
        "nutrition_exemption": "" if design.declares_nutrition else design.nutrition_exemption,
        "shows_nutrition": design.declares_nutrition,
        "groups_spices": design.groups_spices,
        "contents_g_per_kg": _contents(design),
        "claims": tuple(filter(None, claims)),
    }


def _contents(design: LabelDesign) -> tuple[tuple[str, Decimal], ...]:
    """What is known of a kilo of the food, by the names that the laws ask it under."""
    found = {
        "inner flesh": design.inner_flesh_g_per_kg,
        "fat": design.fat_g_per_kg,
        "egg yolk solids": design.egg_yolk_solids_g_per_kg,
        "vine fruit": design.vine_fruit_g_per_kg,
        "peel": design.peel_g_per_kg,
        "suet": design.suet_g_per_kg,
    }
    return tuple((name, grams) for name, grams in found.items() if grams is not None)


def _on_one_line(address: str) -> str:
    lines = (" ".join(line.split()).rstrip(",") for line in address.splitlines())
    return ", ".join(line for line in lines if line)


def food_facts(
    design: LabelDesign,
    *,
    on: date,
    quantified: Sequence[QuantifiedIngredient] | None = None,
) -> FoodFacts:
    """The ingredients as used and the food they gave, through preparations of any depth."""
    recipe = design.product.recipe
    book = load_book(design.kitchen, [recipe.pk], on=on)
    sheet, used = reckoned(book, recipe.pk)
    questions = tuple(q for q in sheet.questions if q.blocks == "mass")
    if used is None:
        return FoodFacts((), None, sheet, questions)
    larder = larder_of(design.kitchen, [used]).declaring(declared_of(design, quantified))
    return FoodFacts(
        ingredients=as_listed(used, larder),
        finished_g=sheet.balance.pot_g if sheet.balance else None,
        sheet=sheet,
        questions=questions,
        used=used,
        larder=larder,
    )


def declared_of(
    design: LabelDesign, quantified: Sequence[QuantifiedIngredient] | None
) -> list[QuantifiedIngredient]:
    """What the label declares the quantity of: as told, else the rows of the design."""
    return list(design.quantified.all()) if quantified is None else list(quantified)


def as_listed(used: Used, larder: Larder) -> tuple[UsedIngredient, ...]:
    """What was used as the label lists it; nothing where the mass of a part is not known.

    Part of a list is worse than none: what cannot be weighed cannot be put in its place.
    """
    return _merge_same(_spread(used.parts, larder)) if _is_weighed(used) else ()


def _is_weighed(used: Used) -> bool:
    return all(part.used_g is not None and _is_weighed(part) for part in used.parts)


def larder_of(kitchen: Kitchen, several: Iterable[Used]) -> Larder:
    """All rows that the ingredients of some food need, in four queries whatever its depth."""
    ingredient_ids: set[int] = set()
    recipe_ids: set[int] = set()
    for used in several:
        of_this = ids_of(used)
        ingredient_ids |= of_this[0]
        recipe_ids |= of_this[1]
    parts: dict[int, list[CompoundPart]] = {}
    for part in CompoundPart.objects.filter(kitchen=kitchen).order_by("position", "id"):
        parts.setdefault(part.compound_id, []).append(part)
        ingredient_ids.add(part.part_id)
    answers: dict[int, dict[str, AllergenAnswer]] = {}
    for answer in AllergenAnswer.objects.filter(kitchen=kitchen, ingredient__in=ingredient_ids):
        answers.setdefault(answer.ingredient_id, {})[answer.group] = answer
    return Larder(
        ingredients=Ingredient.objects.filter(kitchen=kitchen).in_bulk(ingredient_ids),
        answers=answers,
        parts={compound: tuple(rows) for compound, rows in parts.items()},
        recipes=Recipe.objects.filter(kitchen=kitchen).in_bulk(recipe_ids),
    )


def ids_of(used: Used) -> tuple[set[int], set[int]]:
    """Ingredients and preparations in it, however deep, by id."""
    ingredients: set[int] = set()
    recipes: set[int] = set()
    for part in used.parts:
        if part.ingredient_id is not None:
            ingredients.add(part.ingredient_id)
        if part.recipe_id is not None:
            recipes.add(part.recipe_id)
        below = ids_of(part)
        ingredients |= below[0]
        recipes |= below[1]
    return ingredients, recipes


def _spread(parts: Iterable[Used], larder: Larder) -> list[UsedIngredient]:
    """Each part as the label lists it: an ingredient, a preparation, or a preparation's parts."""
    listed: list[UsedIngredient] = []
    for part in parts:
        if part.ingredient_id is not None:
            listed.append(_ingredient(larder, part.ingredient_id, used_g=_mass_g(part)))
        elif part.recipe_id is not None:
            listed += _preparation(part, larder)
        else:  # water added at the stove comes from the tap and has no row
            listed.append(UsedIngredient("water", used_g=_mass_g(part), category="water"))
    return listed


def _preparation(part: Used, larder: Larder) -> list[UsedIngredient]:
    """A preparation under one name, with its list, or dissolved into its ingredients.

    One name alone is only honest when it holds one ingredient besides water; with more, their
    names must be readable (Regulation (EU) No 1169/2011, Annex VII, part E), so the list is kept.
    """
    recipe = larder.recipes[part.recipe_id or 0]
    reason = larder.quantified_recipes.get(recipe.pk, "")
    inside = _merge_same(_spread(part.parts, larder))
    solid = [i for i in inside if not _is_plain_water(i)]
    if recipe.on_label == Recipe.OnLabel.MERGED:
        return [replace(i, quid_reason=i.quid_reason or _unless_water(i, reason)) for i in inside]
    name = recipe.label_name or recipe.name
    if recipe.on_label == Recipe.OnLabel.ONE_NAME and len(solid) == 1:
        return [
            replace(
                solid[0],
                name=name,
                called=solid[0].called or solid[0].name,
                prepared_as=str(recipe.pk),
                used_g=_mass_g(part),
                # What boils off is not deducted: a reduction holds more in each kilo.
                sulphite_mg_per_kg=_sulphite_of(inside, _mass_g(part)),
                fruit_from_g=_fruit_from_g(solid[0]),
                quid_reason=reason,
            )
        ]
    return [
        UsedIngredient(
            name=name,
            used_g=_mass_g(part),
            allergens_not_known=tuple(
                dict.fromkeys(group for i in inside for group in i.allergens_not_known)
            ),
            sulphite_mg_per_kg=_sulphite_of(inside, _mass_g(part)),
            parts=inside,
            quid_reason=reason,
            prepared_as=str(recipe.pk),
        )
    ]


def _fruit_from_g(fruit: UsedIngredient) -> Decimal | None:
    """The fruit a puree was made of, where there is one: its water is no fruit."""
    if fruit.category not in {"fruit", "vegetable"}:
        return None
    return fruit.used_g if fruit.fruit_from_g is None else fruit.fruit_from_g


def _mass_g(part: Used) -> Decimal:
    if part.used_g is None:
        raise ValueError(f"{part.name}: its mass is not known, so it has no place in a list.")
    return part.used_g


def _is_plain_water(ingredient: UsedIngredient) -> bool:
    is_water = ingredient.category == "water"
    return is_water and not ingredient.allergens and not ingredient.allergens_not_known


def _unless_water(ingredient: UsedIngredient, reason: str) -> str:
    return "" if ingredient.category == "water" else reason


def _sulphite_of(inside: Iterable[UsedIngredient], used_g: Decimal) -> Decimal | None:
    """Sulphite of a preparation [mg/kg]; not known as soon as one of its ingredients' is not."""
    total_mg = Decimal(0)
    for ingredient in inside:
        if ingredient.sulphite_mg_per_kg is None:
            return None
        total_mg += ingredient.sulphite_mg_per_kg * ingredient.used_g / 1000
    return total_mg * 1000 / used_g if used_g else Decimal(0)


def _ingredient(larder: Larder, pk: int, *, used_g: Decimal, depth: int = 0) -> UsedIngredient:
    """One stored ingredient as used, with the parts of a bought-in compound."""
    row = larder.ingredients[pk]
    answers = larder.answers.get(pk, {})
    parts = larder.parts.get(pk, ()) if row.is_compound and depth < _DEEPEST else ()
    return UsedIngredient(
        name=row.label_name or row.name.lower(),
        used_g=used_g,
        allergens=tuple(
            Allergen(group, answers[group].named_as)
            for group in ALLERGEN_GROUPS
            if group in answers and answers[group].answer == AllergenAnswer.Answer.CONTAINS
        ),
        allergens_not_known=tuple(
            group
            for group in ALLERGEN_GROUPS
            if group not in answers or answers[group].answer == AllergenAnswer.Answer.UNKNOWN
        ),
        sulphite_mg_per_kg=_own_sulphite(row, answers.get("sulphites")),
        additive_class=row.additive_class,
        additive_number=row.additive_number,
        category=row.category,
        composition_fixed_by_law=row.composition_fixed_by_law,
        origin=row.origin,
        key=str(pk),
        called=row.name,
        lacks_its_list=row.is_compound and not parts,
        quid_reason=larder.quantified_ingredients.get(pk, ""),
        parts=tuple(
            _ingredient(
                larder,
                part.part_id,
                used_g=used_g * (part.share_pct or Decimal(0)) / 100,
                depth=depth + 1,
            )
            for part in parts
        ),
    )


def _own_sulphite(row: Ingredient, answer: AllergenAnswer | None) -> Decimal | None:
    """The figure from the specification; without one, "does not contain" is a figure too: none."""
    is_free = answer is not None and answer.answer == AllergenAnswer.Answer.FREE
    return Decimal(0) if row.sulphite_mg_per_kg is None and is_free else row.sulphite_mg_per_kg


def _merge_same(listed: Iterable[UsedIngredient]) -> tuple[UsedIngredient, ...]:
    """What is printed under the same name is listed once, with both masses and both truths."""
    merged: dict[tuple[str, ...], UsedIngredient] = {}
    for ingredient in listed:
        key = (
            ingredient.name,
            ingredient.category,
            ingredient.additive_class,
            ingredient.additive_number,
        )
        known = merged.get(key)
        if known is not None and not _may_merge(known, ingredient):
            merged[(f"{ingredient.name}/{len(merged)}", *key[1:])] = ingredient
        else:
            merged[key] = ingredient if known is None else _as_one(known, ingredient)
    return tuple(merged.values())


def _may_merge(one: UsedIngredient, other: UsedIngredient) -> bool:
    """Lists stay apart, and so do open questions of two ingredients: each leads to its own."""
    if one.parts or other.parts or one.lacks_its_list or other.lacks_its_list:
        return False
    return one.key == other.key or not (one.allergens_not_known or other.allergens_not_known)


def _as_one(one: UsedIngredient, other: UsedIngredient) -> UsedIngredient:
    used_g = one.used_g + other.used_g
    return replace(
        one,
        used_g=used_g,
        allergens=tuple(dict.fromkeys((*one.allergens, *other.allergens))),
        sulphite_mg_per_kg=_sulphite_of((one, other), used_g),
        fruit_from_g=_fruit_of((one, other)),
        quid_reason=one.quid_reason or other.quid_reason,
        called=", ".join(dict.fromkeys(filter(None, (one.called, other.called)))),
    )


def _fruit_of(several: Iterable[UsedIngredient]) -> Decimal | None:
    """Fruit behind several of one name [g]; None where none of them is a puree."""
    rows = tuple(several)
    if all(row.fruit_from_g is None for row in rows):
        return None
    return sum(
        (row.used_g if row.fruit_from_g is None else row.fruit_from_g for row in rows),
        start=Decimal(0),
    )
