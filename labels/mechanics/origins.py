"""Where a food and what is in it come from, as typed: whether they differ, and how that reads."""

from collections.abc import Iterable

from labels.facts import UsedIngredient
from labels.mechanics.text import one_line, sentence


def is_from_elsewhere(ingredient: UsedIngredient, *, given: str) -> bool:
    """Whether an ingredient has a known origin that the one given for the food does not hold."""
    own = one_line(ingredient.origin).casefold()
    return bool(own) and own not in given.casefold()


def with_other_origins(given: str, *, ingredients: Iterable[UsedIngredient]) -> str:
    """The origin given, followed by those of the ingredients known to come from elsewhere."""
    others = [
        f"{one_line(i.name)}: {one_line(i.origin)}"
        for i in ingredients
        if is_from_elsewhere(i, given=given)
    ]
    return f"{sentence(given)} {'; '.join(others)}" if others else given
