"""Everything a kitchen's finished batches measured, of every subject at once, in three queries."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from django.db.models import F

from costing.models import Batch, BatchInput, BatchReading, Ingredient, Kitchen
from costing.selectors.batch_lessons import HUNDRED, Key, Measured, rate_between_weights
from costing.selectors.batches import thrown_away_of_each

USABLE, BRIX, RESIDUE, EVAPORATION = "usable", "brix", "residue", "evaporation"
WEIGHED_OUT = "weighed out"
TELLS_A_RATE = (
    BatchReading.Kind.WEIGHT,
    BatchReading.Kind.WATER,
    BatchReading.Kind.SUGAR,
    BatchReading.Kind.STRUCK,
)


@dataclass(frozen=True)
class _Food:
    """One thing that went in. ingredient_id None = a preparation."""

    ingredient_id: int | None
    supplier_id: int | None
    weighed_g: Decimal | None
    measured_brix: Decimal | None
    is_water: bool


@dataclass
class _Done:
    """A finished batch, as much of it as teaches something."""

    pk: int
    lot: str
    made_on: date
    cook_kind: str
    recipe_id: int
    pan_id: int | None
    pot_g: Decimal | None
    net_g: Decimal | None
    end_brix: Decimal | None
    thrown_g: Decimal
    foods: list[_Food] = field(default_factory=list)
    events: list[BatchReading] = field(default_factory=list)

    def told(self, value: Decimal) -> Measured:
        """A figure with where it comes from."""
        return Measured(value, self.lot, self.made_on, self.pk)


def every_figure(kitchen: Kitchen) -> dict[Key, list[Measured]]:
    """By what it is of, oldest first: the same figures the selectors of one subject give.

    Of a fruit also by supplier; Brix of what was cooked only where it is weighed out, as a puree
    is: the end of a paste is decided, and teaches nothing.
    """
    found: dict[Key, list[Measured]] = defaultdict(list)
    for done in _batches(kitchen):
        _usable(done, found)
        for food in done.foods:
            if food.ingredient_id is not None and food.measured_brix is not None:
                _of_fruit(found, BRIX, food, done.told(food.measured_brix))
        if done.cook_kind == WEIGHED_OUT:
            if done.end_brix is not None:
                found[Key(BRIX, recipe_id=done.recipe_id)].append(done.told(done.end_brix))
        elif done.pot_g is not None and done.net_g is not None:
            lost_g = done.pot_g - done.net_g - done.thrown_g
            share = done.told(lost_g * HUNDRED / done.pot_g)
            found[Key(RESIDUE, recipe_id=done.recipe_id)].append(share)
            if done.pan_id is not None:
                found[Key(RESIDUE, pan_id=done.pan_id)].append(done.told(lost_g))
        rate = None
        if done.pan_id is not None:
            rate = rate_between_weights(done.events, done_g=done.pot_g, end_brix=done.end_brix)
        if rate is not None:
            found[Key(EVAPORATION, pan_id=done.pan_id)].append(done.told(rate))
    return dict(found)


def _usable(done: _Done, found: dict[Key, list[Measured]]) -> None:
    """Net over what was weighed of a fruit, where one fruit alone went in."""
    foods = [food for food in done.foods if not food.is_water]
    fruits = {food.ingredient_id for food in foods}
    if done.cook_kind != WEIGHED_OUT or len(fruits) != 1 or None in fruits or done.net_g is None:
        return
    weighed = [food.weighed_g for food in foods if food.weighed_g]
    if len(weighed) < len(foods):
        return
    told = done.told(done.net_g * HUNDRED / sum(weighed, Decimal(0)))
    found[Key(USABLE, ingredient_id=foods[0].ingredient_id)].append(told)
    suppliers = {food.supplier_id for food in foods}
    if len(suppliers) == 1 and None not in suppliers:
        key = Key(USABLE, ingredient_id=foods[0].ingredient_id, supplier_id=foods[0].supplier_id)
        found[key].append(told)


def _of_fruit(found: dict[Key, list[Measured]], subject: str, food: _Food, told: Measured) -> None:
    found[Key(subject, ingredient_id=food.ingredient_id)].append(told)
    if food.supplier_id is not None:
        key = Key(subject, ingredient_id=food.ingredient_id, supplier_id=food.supplier_id)
        found[key].append(told)


def _batches(kitchen: Kitchen) -> Sequence[_Done]:
    """Finished batches, oldest first. Rows are read as plain values: a plan alone is a book."""
    finished = Batch.objects.filter(kitchen=kitchen, status=Batch.Status.FINISHED)
    rows = finished.order_by("made_on", "pk").values(
        "pk", "lot", "made_on", "recipe_id", "pan_id", "pot_g", "net_g", "end_brix",
        cook_kind=F("version__cook_kind"), thrown_g=thrown_away_of_each(),
    )  # fmt: skip
    batches = {row["pk"]: _Done(**row) for row in rows}
    if not batches:
        return ()
    inputs = BatchInput.objects.filter(
        kitchen=kitchen, batch__status=Batch.Status.FINISHED
    ).values_list(
        "batch_id", "ingredient_id", "supplier_id", "weighed_g", "measured_brix",
        "ingredient__category",
    )  # fmt: skip
    for batch_id, ingredient_id, supplier_id, weighed_g, brix, category in inputs:
        if batch_id in batches:
            is_water = category == Ingredient.Category.WATER
            food = _Food(ingredient_id, supplier_id, weighed_g, brix, is_water)
            batches[batch_id].foods.append(food)
    events = BatchReading.objects.filter(
        kitchen=kitchen, batch__status=Batch.Status.FINISHED, kind__in=TELLS_A_RATE
    )
    for event in events:
        if event.batch_id in batches:
            batches[event.batch_id].events.append(event)
    return tuple(batches.values())
