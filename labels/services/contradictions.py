"""A recipe that cannot be reckoned, as the label pages need it: nothing known, and why."""

from decimal import Decimal

from costing.reckoning.book import Book, CostSheet, Question
from costing.reckoning.composition import Used, composition
from costing.reckoning.errors import ReckoningError
from costing.reckoning.recipes import cost_recipe

__all__ = ["reckoned"]


def reckoned(book: Book, recipe_id: int) -> tuple[CostSheet, Used | None]:
    """What a recipe makes and what was used of everything; None and a question where it cannot."""
    known: dict[int, CostSheet] = {}
    try:
        sheet = cost_recipe(book, recipe_id, known=known)
        return sheet, composition(book, recipe_id, known=known)
    except ReckoningError as error:
        return _contradicted(book, recipe_id, error=error), None


def _contradicted(book: Book, recipe_id: int, *, error: ReckoningError) -> CostSheet:
    """The sheet of a recipe whose figures contradict each other: a question, and no mass."""
    asked = Question(
        sentence=str(error), about="finished weight", recipe_id=recipe_id, blocks="mass"
    )
    return CostSheet(
        recipe=book.recipes[recipe_id],
        on=book.on,
        currency=book.kitchen.currency,
        lines=(),
        ingoing_g=None,
        balance=None,
        breakdown={},
        cost_total=Decimal(0),
        cost_per_kg_finished=None,
        cost_per_kg_ingoing=None,
        energy_kwh=None,
        questions=(asked,),
    )
