"""What went into a batch and what it became: put down, priced on its day, and told in words."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError

from costing.models import (
    Batch,
    BatchInput,
    BatchYield,
    Ingredient,
    Kitchen,
    Product,
    Supplier,
)
from costing.reckoning.book import Book, RecipeRecord
from costing.reckoning.coming_out import THROWN_AWAY
from costing.reckoning.weighing import round_to_weigh
from costing.selectors.batches import sources_of
from costing.selectors.cook_lines import fine_ingredients
from costing.selectors.purchases import prices_in_force
from costing.services.batch_costs import batch_cost, cost_of_a_kilo, planned_cost
from costing.services.batch_plans import book_of, planned_masses
from costing.services.saving import as_error, check, prefixed, refuse_strangers

LOOKED_UP = ("kitchen", "batch", "ingredient", "preparation", "from_batch", "supplier")
"""Links of a line that come from its plan, or from rows of this kitchen read before."""


@dataclass(frozen=True)
class InputGiven:
    """What really went in for a line of the plan (position from 0), or beside the plan.

    weighed_g: in the state of the plan's line; None = not weighed yet. A line may be given in
    several parts, from several batches or lots. ingredient: only for what the plan does not have.
    """

    position: int
    weighed_g: Decimal | None = None
    from_batch: Batch | None = None
    supplier: Supplier | None = None
    supplier_lot: str = ""
    measured_brix: Decimal | None = None
    ingredient: Ingredient | None = None


@dataclass(frozen=True)
class YieldGiven:
    """What the pan became: units of a product (each at its fill unless weighed), or grams kept."""

    mass_g: Decimal | None = None
    product: Product | None = None
    units: int | None = None
    what: str = ""


def fill(batch: Batch, *, inputs: Sequence[InputGiven], book: Book) -> None:
    """Rows for the lines that were given, and for every other line of the plan as planned."""
    plan = book.recipes[batch.recipe_id]
    planned = planned_masses(book, recipe_id=batch.recipe_id)
    there = set(batch.inputs.values_list("position", flat=True))
    given = {one.position for one in inputs}
    batch.inputs.filter(position__in=given).delete()
    missing = [
        InputGiven(position=i) for i in range(len(plan.lines)) if i not in given and i not in there
    ]
    prices = prices_in_force(
        batch.kitchen,
        [one.ingredient.pk for one in inputs if one.ingredient is not None],
        on=batch.made_on,
    )
    fine = fine_ingredients(batch.kitchen, [line.ingredient_id for line in plan.lines])
    rows = []
    for one in [*inputs, *missing]:
        row = _row(batch, one, plan=plan, planned=planned)
        row.to_weigh_g = _as_the_scale_shows(row, fine=fine)
        row.per_kg = _per_kg(row, book=book, prices=prices)
        try:
            check(row, skip=LOOKED_UP)
        except ValidationError as error:
            raise prefixed(error, where=f"Line {one.position + 1}", field="inputs") from error
        rows.append(row)
    BatchInput.objects.bulk_create(sorted(rows, key=lambda row: row.position))


def _row(
    batch: Batch,
    one: InputGiven,
    *,
    plan: RecipeRecord,
    planned: Sequence[Decimal | None],
) -> BatchInput:
    refuse_strangers(batch.kitchen, one.from_batch, one.supplier, one.ingredient)
    row = BatchInput(
        kitchen=batch.kitchen,
        batch=batch,
        position=one.position,
        weighed_g=one.weighed_g,
        from_batch=one.from_batch,
        supplier=one.supplier,
        supplier_lot=one.supplier_lot.strip(),
        measured_brix=one.measured_brix,
    )
    if one.position >= len(plan.lines):
        if one.ingredient is None or one.weighed_g is None:
            raise as_error("inputs", "Beside the plan: say what went in, and how much of it.")
        row.ingredient = one.ingredient
        return row
    line = plan.lines[one.position]
    row.planned_g = _to_store(planned[one.position])
    row.ingredient_id, row.preparation_id = line.ingredient_id, line.recipe_id
    if one.ingredient is not None and one.ingredient.pk != line.ingredient_id:
        row.ingredient, row.preparation_id = one.ingredient, None  # something else in its place
    if one.from_batch is not None:
        _refuse_source(row, one.from_batch)
    return row


def _refuse_source(row: BatchInput, source: Batch) -> None:
    """A line is filled from a finished batch of what it is."""
    if source.recipe_id != row.preparation_id:
        raise as_error("inputs", f"{source.lot} is {source.recipe.name}, which this line is not.")
    if source.pk == row.batch_id or source.status != Batch.Status.FINISHED:
        raise as_error("inputs", f"{source.lot} is not finished. Take a batch that is done.")


def _refuse_later(batch: Batch, source: Batch) -> None:
    """Put right afterwards, a line could name what was made of its own pan, or only after it."""
    if batch.pk in sources_of(source):
        raise as_error(
            "inputs",
            f"{source.lot} was made out of this batch, so it cannot have gone into it. Choose"
            " another, or put right first what went into that one.",
        )
    if source.made_on > batch.made_on:
        day = f"{source.made_on.day} {source.made_on:%B %Y}"
        raise as_error(
            "inputs",
            f"{source.lot} was cooked on {day}, after this batch. Choose the one that was there.",
        )


def _per_kg(row: BatchInput, *, book: Book, prices: Mapping[int, Any]) -> Decimal | None:
    """What a kilo of it costs on this day: of its own batch, else by the book that was kept."""
    if row.from_batch is not None:
        return cost_of_a_kilo(batch_cost(row.from_batch))
    if row.preparation_id is not None:
        return cost_of_a_kilo(planned_cost(book, row.preparation_id))
    price = book.prices.get(row.ingredient_id or 0) or prices.get(row.ingredient_id or 0)
    return None if price is None else price.per_kg


def _as_the_scale_shows(row: BatchInput, *, fine: Collection[int]) -> Decimal | None:
    """The planned mass as it can be weighed out; spices and pectin finer than fruit."""
    if row.planned_g is None:
        return None
    is_fine = row.ingredient_id in fine
    return _to_store(round_to_weigh("", exact_g=row.planned_g, is_spice=is_fine).weigh_g)


def _to_store(mass_g: Decimal | None) -> Decimal | None:
    return None if mass_g is None else mass_g.quantize(Decimal("0.001"))


def correct_inputs(batch: Batch, inputs: Sequence[InputGiven]) -> None:
    """Put right weights, Brix, supplier, lot and own batch of lines that are there.

    Not what they are. From another batch a line also costs what a kilo of that one does.
    """
    rows: dict[int, list[BatchInput]] = {}
    for row in batch.inputs.all():
        rows.setdefault(row.position, []).append(row)
    for one in inputs:
        found = rows.get(one.position, [])
        if not found:
            raise as_error("inputs", f"Line {one.position + 1} is not in this batch.")
        row = found.pop(0)
        row.weighed_g, row.measured_brix = one.weighed_g, one.measured_brix
        row.supplier, row.supplier_lot = one.supplier, one.supplier_lot.strip()
        _put_source_right(batch, row, one.from_batch)
        try:
            check(row, skip=("kitchen", "batch"))
        except ValidationError as error:
            raise prefixed(error, where=f"Line {one.position + 1}", field="inputs") from error
        row.save()


def _put_source_right(batch: Batch, row: BatchInput, source: Batch | None) -> None:
    if row.from_batch_id == (source and source.pk):
        return
    # Two phones at once could otherwise name each other's batches.
    Kitchen.objects.select_for_update().get(pk=batch.kitchen_id)
    refuse_strangers(batch.kitchen, source)
    if source is not None:
        _refuse_source(row, source)
        _refuse_later(batch, source)
    row.from_batch = source
    row.per_kg = _per_kg(row, book=book_of(batch.plan), prices={})


def write_yields(batch: Batch, yields: Sequence[YieldGiven]) -> None:
    """Put down what a batch became, in place of what was put down before."""
    batch.yields.all().delete()
    for number, one in enumerate(yields, start=1):
        refuse_strangers(batch.kitchen, one.product)
        mass_g = one.mass_g
        if mass_g is None and one.product is not None and one.units is not None:
            mass_g = one.product.fill_g * one.units
        if mass_g is None:
            raise as_error("yields", f"Row {number}: how many, or how many grams?")
        row = BatchYield(
            kitchen=batch.kitchen,
            batch=batch,
            product=one.product,
            units=one.units,
            mass_g=mass_g.quantize(Decimal("0.1")),
            what=one.what.strip(),
        )
        try:
            check(row, skip=("kitchen", "batch"))
        except ValidationError as error:
            raise prefixed(error, where=f"Row {number}", field="yields") from error
        row.save()


def yielded_g(batch: Batch) -> Decimal | None:
    """What a batch became, together, without what was thrown away; None where nothing is told."""
    rows = batch.yields.exclude(product__isnull=True, what=THROWN_AWAY)
    masses = list(rows.values_list("mass_g", flat=True))
    return sum(masses, Decimal(0)) if masses else None


def told(batch: Batch) -> dict[str, Any]:
    """Inputs and yields in words, for the history; save_checked tells of the columns itself."""
    became = [
        f"{row.units or ''} {row.product or row.what} {row.mass_g.normalize():f} g".strip()
        for row in batch.yields.select_related("product")
    ]
    return {**inputs_told(batch), "yields": "; ".join(became)}


def inputs_told(batch: Batch) -> dict[str, Any]:
    """What went in, in words."""
    rows = batch.inputs.select_related("ingredient", "preparation", "from_batch", "supplier")
    return {"inputs": "; ".join(_in_words(row) for row in rows)}


def _in_words(row: BatchInput) -> str:
    weighed = "not weighed" if row.weighed_g is None else f"{row.weighed_g.normalize():f} g"
    more = [row.from_batch, row.supplier, row.supplier_lot]
    if row.measured_brix is not None:
        more.append(f"{row.measured_brix.normalize():f} Brix")
    told: Iterable[str] = (str(one) for one in more if one)
    return " ".join([str(row.ingredient or row.preparation), weighed, *told])
