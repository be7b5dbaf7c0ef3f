"""Whether sulphites are to be shown, and with which ingredients; the line is each law's.

"sulphites" is the key of the group in the facts of a label, not the word that is printed.
"""

from decimal import Decimal

from labels.facts import Allergen, LabelFacts, UsedIngredient
from labels.mechanics.masses import least_sulphite_mg_per_kg, sulphite_mg, with_all_parts

GROUP = "sulphites"


def says_so_without_figure(ingredient: UsedIngredient) -> bool:
    """Whether an ingredient is marked with sulphites while nobody knows how much it holds."""
    return bool(_named(ingredient)) and not ingredient.sulphite_mg_per_kg


def are_over(facts: LabelFacts, *, limit_mg_per_kg: Decimal) -> bool:
    """Whether the food holds more than the limit, or some and nobody knows how much."""
    if any(map(says_so_without_figure, with_all_parts(facts.ingredients))):
        return True
    known = least_sulphite_mg_per_kg(facts)
    if known is None:
        return any(sulphite_mg(i) for i in facts.ingredients)
    return known > limit_mg_per_kg


def shown_above(facts: LabelFacts, *, limit_mg_per_kg: Decimal) -> Decimal | None:
    """Above which figure an ingredient is marked [mg/kg]; None if none is.

    Where some ingredient is itself over the limit only such are marked; where traces add up, each.
    """
    if not are_over(facts, limit_mg_per_kg=limit_mg_per_kg):
        return None
    has_bearer = any(
        says_so_without_figure(i) or (i.sulphite_mg_per_kg or 0) > limit_mg_per_kg
        for i in with_all_parts(facts.ingredients)
    )
    return limit_mg_per_kg if has_bearer else Decimal(0)


def allergens_shown(
    ingredient: UsedIngredient, *, sulphites_above: Decimal | None, called: str
) -> tuple[Allergen, ...]:
    """The allergens to show with one ingredient itself; sulphites last, and only above a figure.

    sulphites_above: None shows none [mg/kg]. called: their name where the maker gave none.
    """
    found = [a for a in ingredient.allergens if a.group != GROUP]
    named = _named(ingredient)
    held = ingredient.sulphite_mg_per_kg or Decimal(0)
    if sulphites_above is not None and (named or held > sulphites_above):
        found += named or [Allergen(GROUP, called)]
    return tuple(found)


def _named(ingredient: UsedIngredient) -> list[Allergen]:
    return [a for a in ingredient.allergens if a.group == GROUP]
