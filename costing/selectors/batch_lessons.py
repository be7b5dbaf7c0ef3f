"""What a kitchen's finished batches measured: one figure a batch, oldest first."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from django.db.models import QuerySet

from costing.models import (
    Batch,
    BatchInput,
    BatchReading,
    Ingredient,
    Kitchen,
    Lesson,
    Pan,
    Recipe,
    Supplier,
)
from costing.reckoning.stove_time import food_when_turned_down_g, full_fire_rate
from costing.selectors.batches import still_in_force, thrown_away_of_each

HUNDRED = Decimal(100)
SHORTEST_MINUTES = Decimal(5)
"""Between two weights of a pan: below, the scale's own steps make up the rate (judgement)."""


@dataclass(frozen=True)
class Measured:
    """One figure of one batch."""

    value: Decimal
    lot: str
    made_on: date
    batch_id: int = 0


class Key(NamedTuple):
    """What a figure is of, by the numbers of the rows."""

    subject: str
    ingredient_id: int | None = None
    supplier_id: int | None = None
    pan_id: int | None = None
    recipe_id: int | None = None


@dataclass(frozen=True)
class Decided:
    """The latest decision about something learnt, and the answers about single batches."""

    latest: Lesson | None = None
    answers: Mapping[int, bool] = field(default_factory=dict)


def decisions(kitchen: Kitchen) -> dict[Key, Decided]:
    """Everything decided about what is learnt, in one query."""
    latest: dict[Key, Lesson] = {}
    answers: dict[Key, dict[int, bool | None]] = {}
    for lesson in Lesson.objects.filter(kitchen=kitchen):  # newest first
        key = Key(
            lesson.subject, lesson.ingredient_id, lesson.supplier_id, lesson.pan_id,
            lesson.recipe_id,
        )  # fmt: skip
        if lesson.batch_id is None:
            latest.setdefault(key, lesson)
        else:
            answers.setdefault(key, {}).setdefault(lesson.batch_id, lesson.counts)
    return {
        key: Decided(
            latest.get(key),
            {pk: counts for pk, counts in answers.get(key, {}).items() if counts is not None},
        )
        for key in {*latest, *answers}
    }


def lesson_of(
    kitchen: Kitchen,
    *,
    subject: str,
    ingredient: Ingredient | None = None,
    supplier: Supplier | None = None,
    pan: Pan | None = None,
    recipe: Recipe | None = None,
) -> Lesson | None:
    """The latest decision about what is learnt, or None."""
    rows = Lesson.objects.filter(
        kitchen=kitchen,
        subject=subject,
        ingredient=ingredient,
        supplier=supplier,
        pan=pan,
        recipe=recipe,
        batch=None,
    )
    return rows.first()


def usable_shares(
    kitchen: Kitchen, *, ingredient: Ingredient, supplier: Supplier | None = None
) -> list[Measured]:
    """Percent of a fruit that got past the sieve: of batches weighed out at the end, made of it.

    Net over what was weighed of it. Batches with a second fruit cannot say whose share it was.
    """
    found = []
    for batch, rows in _with_inputs(kitchen, ingredient=ingredient):
        foods = [row for row in rows if not _is_water(row)]
        if batch.version.cook_kind != "weighed out" or any(
            row.ingredient_id != ingredient.pk for row in foods
        ):
            continue
        if _of_supplier(foods, supplier) and all(row.weighed_g for row in foods):
            whole_g = sum((row.weighed_g or Decimal(0) for row in foods), Decimal(0))
            share = (batch.net_g or Decimal(0)) * HUNDRED / whole_g
            found.append(Measured(share, batch.lot, batch.made_on, batch.pk))
    return found


def brix_of(
    kitchen: Kitchen, *, ingredient: Ingredient, supplier: Supplier | None = None
) -> list[Measured]:
    """Brix read of an ingredient as it went in."""
    rows = BatchInput.objects.filter(
        kitchen=kitchen,
        ingredient=ingredient,
        measured_brix__isnull=False,
        batch__status=Batch.Status.FINISHED,
    )
    if supplier is not None:
        rows = rows.filter(supplier=supplier)
    ordered = rows.select_related("batch").order_by("batch__made_on", "batch_id", "id")
    return [
        Measured(row.measured_brix, row.batch.lot, row.batch.made_on, row.batch_id)
        for row in ordered
        if row.measured_brix is not None
    ]


def brix_of_finished(kitchen: Kitchen, *, recipe: Recipe) -> list[Measured]:
    """Brix of a recipe in the end: of a puree, what the paste made from it starts with."""
    return [
        Measured(batch.end_brix, batch.lot, batch.made_on, batch.pk)
        for batch in _finished(kitchen).filter(recipe=recipe, end_brix__isnull=False)
        if batch.end_brix is not None
    ]


def residues_g(kitchen: Kitchen, *, pan: Pan) -> list[Measured]:
    """Grams that were in a pan and were not filled."""
    rows = _finished(kitchen).filter(pan=pan).exclude(version__cook_kind="weighed out")
    return [
        Measured(lost_g, batch.lot, batch.made_on, batch.pk) for batch, lost_g, _ in _lost(rows)
    ]


def residue_shares(kitchen: Kitchen, *, recipe: Recipe) -> list[Measured]:
    """The same in percent of what was in the pan, for a recipe."""
    rows = _finished(kitchen).filter(recipe=recipe).exclude(version__cook_kind="weighed out")
    return [
        Measured(lost_g * HUNDRED / pot_g, batch.lot, batch.made_on, batch.pk)
        for batch, lost_g, pot_g in _lost(rows)
    ]


def evaporation_rates(kitchen: Kitchen, *, pan: Pan) -> list[Measured]:
    """Grams of water a pan lost in a minute at full fire, between its weights in each cook."""
    found = []
    batches = _finished(kitchen).filter(pan=pan).prefetch_related("readings")
    for batch in batches:
        rate = rate_between_weights(
            batch.readings.all(), done_g=batch.pot_g, end_brix=batch.end_brix
        )
        if rate is not None:
            found.append(Measured(rate, batch.lot, batch.made_on, batch.pk))
    return found


def rate_between_weights(
    events: Iterable[BatchReading],
    *,
    done_g: Decimal | None = None,
    end_brix: Decimal | None = None,
) -> Decimal | None:
    """Water lost in a minute at full fire, from the first weight to the last; additions count.

    done_g, end_brix: of the food when done; they tell how much of it went on the low fire.
    """
    told = sorted(still_in_force(events), key=lambda event: (event.read_at, event.pk))
    weights = [event for event in told if event.kind == BatchReading.Kind.WEIGHT]
    if not weights or weights[0] is weights[-1]:
        return None
    first, last = weights[0], weights[-1]
    minutes = Decimal(str((last.read_at - first.read_at).total_seconds())) / 60
    if minutes < SHORTEST_MINUTES:
        return None
    added_g = sum(
        (
            event.value
            for event in told
            if event.kind in (BatchReading.Kind.WATER, BatchReading.Kind.SUGAR)
            and first.read_at < event.read_at <= last.read_at
        ),
        Decimal(0),
    )
    return full_fire_rate(
        lost_g=_food_g(first) + added_g - _food_g(last),
        left_g=_food_g(last),
        thick_g=food_when_turned_down_g(done_g=done_g, end_brix=end_brix),
        minutes=minutes,
    )


def _food_g(weight: BatchReading) -> Decimal:
    return weight.value - (weight.tare_g or Decimal(0))


def _finished(kitchen: Kitchen) -> QuerySet[Batch]:
    rows = Batch.objects.filter(kitchen=kitchen, status=Batch.Status.FINISHED)
    return rows.select_related("version").order_by("made_on", "id")


def _with_inputs(
    kitchen: Kitchen, *, ingredient: Ingredient
) -> list[tuple[Batch, list[BatchInput]]]:
    batches = list(_finished(kitchen).filter(inputs__ingredient=ingredient).distinct())
    rows: dict[int, list[BatchInput]] = {batch.pk: [] for batch in batches}
    for row in BatchInput.objects.filter(kitchen=kitchen, batch__in=batches).select_related(
        "ingredient"
    ):
        rows[row.batch_id].append(row)
    return [(batch, rows[batch.pk]) for batch in batches]


def _is_water(row: BatchInput) -> bool:
    return row.ingredient is not None and row.ingredient.category == Ingredient.Category.WATER


def _of_supplier(rows: list[BatchInput], supplier: Supplier | None) -> bool:
    return supplier is None or all(row.supplier_id == supplier.pk for row in rows)


def _lost(batches: QuerySet[Batch]) -> list[tuple[Batch, Decimal, Decimal]]:
    """Batch, grams that stayed on the pan and on the way, and grams that were in the pan.

    Offcuts that were thrown away had left the pan: they are not among them.
    """
    return [
        (batch, batch.pot_g - batch.net_g - batch.thrown_g, batch.pot_g)
        for batch in batches.annotate(thrown_g=thrown_away_of_each())
        if batch.pot_g is not None and batch.net_g is not None
    ]
