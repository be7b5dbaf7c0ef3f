"""Sums over what went into the pan: what a residue comes to, and shares of the whole."""

from collections.abc import Iterable
from decimal import Decimal

from labels.facts import LabelFacts, UsedIngredient

G_PER_KG = Decimal(1000)


def with_all_parts(ingredients: Iterable[UsedIngredient]) -> tuple[UsedIngredient, ...]:
    """Some ingredients and, however deep, all that they are made of."""
    return tuple(part for each in ingredients for part in each.with_parts())


def counted_g(ingredient: UsedIngredient) -> Decimal:
    """The mass that stands for an ingredient [g]: as left, else as before drying, else as used."""
    if ingredient.remaining_g is not None:
        return ingredient.remaining_g
    if ingredient.fresh_equivalent_g is not None:
        return ingredient.fresh_equivalent_g
    return ingredient.used_g


def left_of_it_g(facts: LabelFacts, *, others: Iterable[UsedIngredient]) -> Decimal | None:
    """What is left of the finished mass [g] when all others are taken off as used; never below 0.

    None if the finished mass is not known.
    """
    finished_g = facts.usable_finished_g
    if finished_g is None:
        return None
    return max(finished_g - sum((i.used_g for i in others), start=Decimal(0)), Decimal(0))


def share_pct(ingredients: Iterable[UsedIngredient], facts: LabelFacts) -> Decimal | None:
    """Share of some ingredients, as used, of the finished food [%]; None if it is not known."""
    finished_g = facts.usable_finished_g
    if finished_g is None:
        return None
    return sum((i.used_g for i in ingredients), start=Decimal(0)) * 100 / finished_g


def sulphite_mg(ingredient: UsedIngredient) -> Decimal | None:
    """Total SO2 that the ingredient brings [mg]; None if it, or a part of it, is not known.

    A compound's own figure and the sum of its parts are two answers to one question: the larger.
    """
    inside = Decimal(0)
    for part in ingredient.parts:
        of_part = sulphite_mg(part)
        if of_part is None:
            return None
        inside += of_part
    if ingredient.sulphite_mg_per_kg is None:
        return None
    return max(ingredient.sulphite_mg_per_kg * ingredient.used_g / G_PER_KG, inside)


def sulphite_mg_per_kg(facts: LabelFacts) -> Decimal | None:
    """Total SO2 in the finished food, over all ingredients [mg/kg]; None if not known.

    What boils off is not deducted: the figure is the most there can be.
    """
    amounts = [sulphite_mg(ingredient) for ingredient in facts.ingredients]
    finished_g = facts.usable_finished_g
    if finished_g is None or any(amount is None for amount in amounts):
        return None
    total = sum((amount for amount in amounts if amount is not None), start=Decimal(0))
    return total * G_PER_KG / finished_g


def least_sulphite_mg_per_kg(facts: LabelFacts) -> Decimal | None:
    """SO2 that is known to be there [mg/kg], unknowns left aside; None without a finished mass."""
    finished_g = facts.usable_finished_g
    if finished_g is None:
        return None
    known = sum((sulphite_mg(i) or Decimal(0) for i in facts.ingredients), start=Decimal(0))
    return known * G_PER_KG / finished_g
