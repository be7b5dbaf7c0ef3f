"""What a batch really cost: its own weights, the prices of its day, and why it differs."""

from dataclasses import dataclass, replace
from decimal import Decimal

from costing.models import Batch, BatchInput, BatchReading
from costing.reckoning.book import (
    NO_COOK,
    PREPARED,
    WEIGHED_OUT,
    Book,
    CookRecord,
    CostSheet,
    IngredientRecord,
    LineRecord,
    PriceRecord,
    RecipeRecord,
)
from costing.reckoning.errors import ReckoningError
from costing.reckoning.lines import HUNDRED, is_bought_whole
from costing.reckoning.recipes import cost_recipe as reckon
from costing.selectors.batches import events_in_force, inputs_of
from costing.services.batch_inputs import planned_masses
from costing.services.batch_plans import book_of
from costing.services.recipe_costs import sheet_of

NEARLY_ALL_SUGAR = Decimal(95)
THIS = -1
"""Id of the batch among the recipes of its own book; its inputs have 1, 2, 3 ..."""


@dataclass(frozen=True)
class Difference:
    """A part of what a kilo cost more (or less) than planned. kind: "price", "trim" (what went
    in, and what the knife and the sieve kept back), "evaporation", "residue" or "time"."""

    kind: str
    per_kg: Decimal
    sentence: str


SENTENCES = {
    "price": "other prices than the plan's, or a preparation's own batch",
    "trim": "other weights put in, or more or less kept back by the knife and the sieve",
    "evaporation": "boiled further, or less far, than planned",
    "residue": "left in the pan, on the way to the jar, or unaccounted for",
    "time": "more or fewer minutes at the pan",
}


def planned_cost(book: Book, recipe_id: int) -> CostSheet:
    """What a recipe of a kept book costs by that book."""
    return sheet_of(book, recipe_id)


def cost_of_a_kilo(sheet: CostSheet) -> Decimal | None:
    """None where something is not known; eight decimals are kept."""
    if not sheet.is_complete or sheet.cost_per_kg_finished is None:
        return None
    return sheet.cost_per_kg_finished.quantize(Decimal("1e-8"))


def batch_cost(batch: Batch) -> CostSheet:
    """What a batch cost: own prices, own weights, own end; never moved by what changes later.

    What was not weighed counts as planned. What is not known stands in `questions`; before it is
    finished, the finished weight is one of them.
    """
    return sheet_of(_Own(batch).book(), THIS)


class _Own:
    """A batch as a book of its own in which it is one more recipe, weighed out at the end."""

    def __init__(self, batch: Batch) -> None:
        self.batch = batch
        self.kept = book_of(batch.plan)
        self.plan = self.kept.recipes[batch.plan["recipe_id"]]
        self.planned_g = planned_masses(self.kept, recipe_id=self.plan.id)
        self.inputs = list(inputs_of(batch))
        self.events = events_in_force(batch)

    def book(self) -> Book:
        raise NotImplementedError


def against_plan(batch: Batch) -> tuple[Difference, ...]:
    """Why a kilo cost more or less than planned; the parts add up to the whole difference."""
    raise NotImplementedError


_UNUSED = (
    BatchInput,
    BatchReading,
    replace,
    NO_COOK,
    PREPARED,
    WEIGHED_OUT,
    CookRecord,
    IngredientRecord,
    LineRecord,
    PriceRecord,
    RecipeRecord,
    ReckoningError,
    HUNDRED,
    is_bought_whole,
    reckon,
)
