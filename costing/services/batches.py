"""Batches: lit, filled, called done or given up, and corrected with a reason."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.core.exceptions import ValidationError
from django.db import transaction

from costing.models import (
    Batch,
    Kitchen,
    Mould,
    Pan,
    Recipe,
)
from costing.reckoning.book import Book, RecipeRecord
from costing.reckoning.errors import ReckoningError
from costing.reckoning.scaling import scale
from costing.selectors.kitchens import membership
from costing.selectors.recipes import current_version, load_book
from costing.services.audit import record_changes
from costing.services.batch_costs import batch_cost, planned_cost, what_happened
from costing.services.batch_differences import Difference, against_plan
from costing.services.batch_events import correct_event, note_event
from costing.services.batch_inputs import (
    InputGiven,
    YieldGiven,
    correct_inputs,
    fill,
    inputs_told,
    told,
    write_yields,
    yielded_g,
)
from costing.services.batch_learnt import learnt_for
from costing.services.batch_plans import book_of, kept
from costing.services.batch_stove import stove_events, stove_plan
from costing.services.lots import next_lot
from costing.services.saving import as_error, refuse_strangers, save_checked

__all__ = [
    "Difference",
    "InputGiven",
    "YieldGiven",
    "against_plan",
    "batch_cost",
    "correct_batch",
    "correct_event",
    "finish_batch",
    "give_up",
    "next_lot",
    "note_event",
    "plan_of",
    "planned_cost",
    "put_in",
    "start_batch",
    "stove_events",
    "stove_plan",
]

MEASURED = (
    "end_brix", "end_reading_c", "ph", "fill_c", "pot_g", "net_g", "attended_minutes",
    "texture", "taste", "deviations", "water_reading_c", "cooked_by", "finished_at",
    "mould", "moulds_filled",
)  # fmt: skip
"""Columns of a batch that somebody measures or notes; the others say which batch it is."""

NOT_ON_THE_FIRE = "This pan is not on the fire any more. Look at its record."


@transaction.atomic
def start_batch(  # noqa: PLR0913 - what is known when a fire is lit
    recipe: Recipe,
    *,
    by: AbstractBaseUser | None,
    on: date,
    started_at: datetime,
    pan: Pan | None = None,
    mould: Mould | None = None,
    factor: Decimal = Decimal(1),
    lot: str = "",
    water_reading_c: Decimal | None = None,
    report_hpa: Decimal | None = None,
    inputs: Sequence[InputGiven] = (),
) -> Batch:
    """Light the fire: the scaled recipe, its prices and the kitchen's rates are kept as they are.

    mould: which it is meant to fill. lot: as wished; empty takes the next one. report_hpa: air
    pressure at sea level, as a weather report gives it. inputs: what is known by now; every other
    line of the plan is put down as planned. Raises ValidationError by field.
    """
    kitchen = recipe.kitchen
    refuse_strangers(kitchen, recipe, pan, mould)
    Kitchen.objects.select_for_update().get(pk=kitchen.pk)  # two phones must not take one lot
    book = load_book(kitchen, [recipe.pk], on=on)
    book = _with_this_pan(book, recipe_id=recipe.pk, factor=factor, water_reading_c=water_reading_c)
    values = {
        "recipe": recipe,
        "version": current_version(recipe),
        "pan": pan,
        "mould": mould,
        "lot": lot.strip() or next_lot(recipe, on=on),
        "plan": {
            **kept(book, recipe_id=recipe.pk),
            "learnt": learnt_for(kitchen, pan=pan, plan=book.recipes[recipe.pk]),
        },
        "factor": factor,
        "water_reading_c": water_reading_c,
        "report_hpa": report_hpa,
        "made_on": on,
        "started_at": started_at,
        "cooked_by": by,
        "started_by": by,
    }
    batch = save_checked(Batch(kitchen=kitchen), by=by, values=values)
    fill(batch, inputs=inputs, book=book)
    return batch


def _with_this_pan(
    book: Book, *, recipe_id: int, factor: Decimal, water_reading_c: Decimal | None
) -> Book:
    """The book with the recipe in the size of this pan, and today's boiling water."""
    try:
        recipe = scale(book.recipes[recipe_id], factor=factor)
    except ReckoningError as error:
        raise as_error(error.field, str(error)) from error
    if not recipe.lines:
        raise ValidationError(f"What goes into {recipe.name}? It has no lines yet.")
    kitchen = book.kitchen
    if water_reading_c is not None:
        kitchen = replace(kitchen, water_reading_c=water_reading_c)
    return replace(book, kitchen=kitchen, recipes={**book.recipes, recipe_id: recipe})


@transaction.atomic
def put_in(batch: Batch, *, by: AbstractBaseUser | None, inputs: Sequence[InputGiven]) -> None:
    """Say what really went in, while the pan is on the fire: replaces the lines it names."""
    _lock(batch, on_the_fire=True)
    before = inputs_told(batch)
    fill(batch, inputs=inputs, book=book_of(batch.plan))
    record_changes(batch, by=by, before=before, after=inputs_told(batch))


@transaction.atomic
def finish_batch(
    batch: Batch,
    *,
    by: AbstractBaseUser | None,
    finished_at: datetime,
    values: Mapping[str, Any],
    yields: Sequence[YieldGiven] = (),
    inputs: Sequence[InputGiven] = (),
) -> Batch:
    """Call a pan done: what was measured, what it became, and what really went in.

    values: of MEASURED. Without a net weight, what it became is added up. Raises ValidationError
    by field, also for weights that cannot be true together.
    """
    given, batch = batch, _lock(batch, on_the_fire=True)
    if finished_at < batch.started_at:
        raise as_error("finished_at", "It was done before it was started. Check both times.")
    if inputs:
        put_in(batch, by=by, inputs=inputs)
    write_yields(batch, yields)
    refuse_strangers(batch.kitchen, values.get("mould"))
    typed = _measured(values) | {"finished_at": finished_at, "status": Batch.Status.FINISHED}
    if typed.get("net_g") is None:
        typed["net_g"] = _yielded_g(batch)
    save_checked(batch, by=by, values=typed)
    _refuse_contradictions(batch)
    given.refresh_from_db()
    return given


@transaction.atomic
def give_up(batch: Batch, *, by: AbstractBaseUser | None, reason: str) -> Batch:
    """A pan that came to nothing. It is kept, with the reason; its lot is not used again."""
    given, batch = batch, _lock(batch, on_the_fire=True)
    if not reason.strip():
        raise as_error("reason", "Say in a few words why it was given up.")
    noted = f"{batch.deviations}\nGiven up: {reason.strip()}".strip()
    save_checked(batch, by=by, values={"status": Batch.Status.GIVEN_UP, "deviations": noted})
    given.refresh_from_db()
    return given


@transaction.atomic
def correct_batch(
    batch: Batch,
    *,
    by: AbstractBaseUser | None,
    values: Mapping[str, Any],
    reason: str,
    yields: Sequence[YieldGiven] | None = None,
    inputs: Sequence[InputGiven] = (),
) -> Batch:
    """Put right what was noted of a finished batch; the old figures stay in its history.

    inputs: only the weight, Brix, supplier, lot and own batch of lines that are there. yields: None
    leaves them. Raises ValidationError without a reason.
    """
    given, batch = batch, _lock(batch, on_the_fire=False)
    if not reason.strip():
        raise as_error("reason", "Say in a few words why it is corrected; the old figures stay.")
    refuse_strangers(batch.kitchen, values.get("mould"))
    _refuse_outsider(batch, values.get("cooked_by"))
    before = told(batch)
    correct_inputs(batch, inputs)
    if yields is not None:
        write_yields(batch, yields)
    save_checked(batch, by=by, values=_measured(values))
    _refuse_contradictions(batch)
    after = told(batch)
    if before != after or values:
        record_changes(batch, by=by, before=before, after={**after, "reason": reason.strip()})
    given.refresh_from_db()
    return given


def _refuse_outsider(batch: Batch, person: AbstractBaseUser | None) -> None:
    """Who cooked works here, or did when it was put down."""
    if person is None or person.pk == batch.cooked_by_id:
        return
    if membership(person, batch.kitchen_id) is None:
        raise as_error("cooked_by", f"{person.get_username()} does not work in this kitchen.")


def _yielded_g(batch: Batch) -> Decimal:
    grams = yielded_g(batch)
    if grams is None:
        raise as_error("net_g", "How much is there in the end? Weigh it, or say what it became.")
    return grams


def _refuse_contradictions(batch: Batch) -> None:
    """Weights that cannot be true together: a tare was forgotten, or a line was not put down."""
    if not batch.net_g:
        raise as_error("net_g", "Nothing came of it? Then give the pan up, with the reason.")
    if batch.pot_g is not None and batch.net_g > batch.pot_g:
        raise as_error(
            "net_g",
            f"{batch.net_g:f} g were filled out of {batch.pot_g:f} g in the pan. Check both"
            " weights, and the tare of the pan.",
        )
    became_g = yielded_g(batch) or Decimal(0)
    if became_g > batch.net_g:
        raise as_error(
            "yields",
            f"What it became weighs {became_g:f} g together, more than the {batch.net_g:f} g"
            " there were.",
        )
    happened = what_happened(batch)
    _refuse_more_than_went_in(batch, ingoing_g=happened.filling().ingoing_g)
    for question in happened.sheet().questions:
        if question.about == "contradiction":
            field = "net_g" if batch.pot_g is None else "pot_g"
            raise as_error(field, question.sentence)


def _refuse_more_than_went_in(batch: Batch, *, ingoing_g: Decimal) -> None:
    field = "net_g" if batch.pot_g is None else "pot_g"
    weighed_g = batch.net_g if batch.pot_g is None else batch.pot_g
    if weighed_g is not None and weighed_g > ingoing_g > 0:
        raise as_error(
            field,
            f"{weighed_g:f} g are more than the {ingoing_g:.0f} g that went in. Was the weight of"
            " the pan taken off, and is everything that was added put down?",
        )


def _measured(values: Mapping[str, Any]) -> dict[str, Any]:
    strange = set(values) - set(MEASURED)
    if strange:
        raise ValidationError(f"This cannot be changed of a batch: {', '.join(sorted(strange))}.")
    return dict(values)


def _lock(given: Batch, *, on_the_fire: bool) -> Batch:
    """Wait for whoever writes to this batch, then read it as it stands now.

    What is worked on is not the caller's object: where it is refused, that stays as it was.
    """
    batch = Batch.objects.select_for_update().get(pk=given.pk)
    if on_the_fire and batch.status != Batch.Status.ON_THE_FIRE:
        raise ValidationError(NOT_ON_THE_FIRE)
    if not on_the_fire and batch.status != Batch.Status.FINISHED:
        raise ValidationError("Only a batch that was called done is corrected.")
    return batch


def plan_of(batch: Batch) -> RecipeRecord:
    """The scaled recipe as it was when the fire was lit."""
    return book_of(batch.plan).recipes[batch.plan["recipe_id"]]
