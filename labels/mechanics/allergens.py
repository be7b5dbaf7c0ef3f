"""Allergens over a whole recipe: each once, set apart in a text, asked for, and left unmarked."""

import re
from collections.abc import Callable, Collection, Iterable, Iterator

from labels.facts import Allergen, CrossContactAnswer, LabelFacts, UsedIngredient
from labels.mechanics.listing import AllergenKey
from labels.mechanics.masses import with_all_parts
from labels.mechanics.runs import Runs, emphasised
from labels.mechanics.sulphites import GROUP as SULPHITES
from labels.mechanics.text import forms, one_line


def key_of(allergen: Allergen, *, told_by_kind: Collection[str]) -> AllergenKey:
    """What makes two allergens the same: the group, and in some groups also the kind's name."""
    if allergen.group in told_by_kind:
        return (allergen.group, min(forms(one_line(allergen.named_as)), key=len))
    return (allergen.group, "")


def each_once(
    ingredients: Iterable[UsedIngredient],
    *,
    shown: Callable[[UsedIngredient], Iterable[Allergen]],
    key: Callable[[Allergen], AllergenKey],
) -> tuple[Allergen, ...]:
    """Every allergen shown with some ingredients and all their parts, each as first met."""
    found: dict[AllergenKey, Allergen] = {}
    for each in with_all_parts(ingredients):
        for allergen in shown(each):
            found.setdefault(key(allergen), allergen)
    return tuple(found.values())


def set_apart(
    text: str, allergens: Iterable[Allergen], *, pattern: Callable[[Allergen], re.Pattern[str]]
) -> tuple[Runs, tuple[Allergen, ...]]:
    """The text with what names the allergens emphasised, and the allergens it does not name."""
    asked = tuple(allergens)
    runs, missing = emphasised(text, [pattern(a) for a in asked])
    return runs, tuple(asked[n] for n in missing)


def unanswered(
    ingredients: Iterable[UsedIngredient],
) -> Iterator[tuple[UsedIngredient, tuple[str, ...]]]:
    """Ingredients with the groups nobody answered for; asked of a part, not again of the whole."""
    for each in with_all_parts(ingredients):
        asked_within = {g for p in with_all_parts(each.parts) for g in p.allergens_not_known}
        open_groups = tuple(g for g in each.allergens_not_known if g not in asked_within)
        if open_groups:
            yield each, open_groups


def unmarked(
    ingredients: Iterable[UsedIngredient],
    *,
    groups: Iterable[str],
    speaks_of: Callable[[str, str], bool],
) -> Iterator[tuple[UsedIngredient, str, str]]:
    """Ingredient, group and name, where the name speaks of a group that is neither marked nor open.

    Both names are read: one changed for the label must not make an allergen disappear.
    """
    asked = tuple(groups)
    for each in with_all_parts(ingredients):
        marked = {a.group for p in each.with_parts() for a in p.allergens}
        marked |= set(each.allergens_not_known)
        if (each.sulphite_mg_per_kg or 0) > 0:
            marked.add(SULPHITES)
        for group in (g for g in asked if g not in marked):
            telling = next((n for n in (each.name, each.called) if speaks_of(group, n)), "")
            if telling:
                yield each, group, telling


def risks_left(
    facts: LabelFacts, *, key: Callable[[Allergen], AllergenKey]
) -> tuple[CrossContactAnswer, ...]:
    """Risks that remain of allergens that are no ingredient anyway, in the order recorded."""
    inside = {key(a) for each in with_all_parts(facts.ingredients) for a in each.allergens}
    return tuple(
        answer
        for answer in facts.cross_contact
        if answer.remains and key(Allergen(answer.group, answer.named_as)) not in inside
    )
