"""Masses of the plan's lines, as the scale shows them: in the state each line is given in."""

from collections.abc import Sequence
from decimal import Decimal

from costing.reckoning.book import Book
from costing.reckoning.errors import ReckoningError
from costing.reckoning.lines import weigh_lines


def planned_masses(book: Book, *, recipe_id: int) -> Sequence[Decimal | None]:
    """Grams of each line of a recipe; None where a density or the weight of one is not known."""
    recipe = book.recipes[recipe_id]
    try:
        return weigh_lines(recipe, book=book).masses_g
    except ReckoningError:
        return [None] * len(recipe.lines)
