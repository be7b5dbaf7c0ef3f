"""The facts of a label as each of its languages tells them, and the statements of both together."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from labels.facts import (
    Allergen,
    CrossContactAnswer,
    LabelFacts,
    Particular,
    UsedIngredient,
)
from labels.law.eu.annex_ii import said_in
from labels.law.eu.quid import declared
from labels.law.eu.words import word

Place = tuple[int, ...]
SAID_ONCE = frozenset(("net_quantity", "operator", "lot"))
"""Figures and names, which are the same in every language."""
_ELSEWHERE = "in the name in the other language"


def voices(facts: LabelFacts) -> tuple[LabelFacts, ...]:
    """The facts in each language of the label: allergens by their names in it, and in all of them
    the quantities of the same ingredients, even where only one name speaks of them.
    """
    second = facts.in_second_language
    told = [_with_allergens_named(replace(facts, second=None))]
    if second is None or second.language == facts.language:
        return tuple(told)
    told.append(_with_allergens_named(second))
    due = [frozenset(_places_declared(each)) for each in told]
    every = frozenset().union(*due)
    return tuple(_declaring(each, every - own) for each, own in zip(told, due, strict=True))


def of_both(
    first: Iterable[Particular], second: Iterable[Particular], *, language: str
) -> tuple[Particular, ...]:
    """The statements of a label in two languages: the second's after the first's.

    What reads alike in both, and what is the same in every language, is said once.
    """
    said = tuple(first)
    known = {(each.kind, each.text) for each in said}
    return said + tuple(
        replace(each, language=language)
        for each in second
        if each.kind not in SAID_ONCE and (each.kind, each.text) not in known
    )


def _with_allergens_named(facts: LabelFacts) -> LabelFacts:
    return replace(
        facts,
        ingredients=tuple(_named(each, facts.language) for each in facts.ingredients),
        cross_contact=tuple(_risk_named(each, facts.language) for each in facts.cross_contact),
    )


def _risk_named(answer: CrossContactAnswer, language: str) -> CrossContactAnswer:
    """What may get in, by its name in the language."""
    if not answer.named_as:
        return answer
    told = said_in(Allergen(answer.group, answer.named_as), language=language)
    return replace(answer, named_as=told.named_as) if told else answer


def _named(ingredient: UsedIngredient, language: str) -> UsedIngredient:
    """Its allergens by their names in the language; one that has none keeps its own.

    Plain water, which may come from the tap and be in no larder, has its word in the table.
    """
    is_plain = ingredient.category == "water" and ingredient.name == word("water", language="en")
    return replace(
        ingredient,
        name=word("water", language=language) if is_plain else ingredient.name,
        allergens=tuple(said_in(a, language=language) or a for a in ingredient.allergens),
        parts=tuple(_named(part, language) for part in ingredient.parts),
    )


def _walk(
    ingredients: Iterable[UsedIngredient], above: Place = ()
) -> Iterator[tuple[Place, UsedIngredient]]:
    for number, each in enumerate(ingredients):
        place = (*above, number)
        yield place, each
        yield from _walk(each.parts, place)


def _places_declared(facts: LabelFacts) -> Iterator[Place]:
    declared_ids = {
        id(i) for each in declared(facts) if not each.category for i in each.ingredients
    }
    for place, each in _walk(facts.ingredients):
        if id(each) in declared_ids:
            yield place


def _declaring(facts: LabelFacts, places: Collection[Place]) -> LabelFacts:
    if not places:
        return facts

    def rebuilt(each: UsedIngredient, place: Place) -> UsedIngredient:
        reason = each.quid_reason or (_ELSEWHERE if place in places else "")
        parts = tuple(rebuilt(part, (*place, n)) for n, part in enumerate(each.parts))
        return replace(each, quid_reason=reason, parts=parts)

    return replace(
        facts, ingredients=tuple(rebuilt(each, (n,)) for n, each in enumerate(facts.ingredients))
    )
