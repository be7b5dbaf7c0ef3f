"""Calling a pan done, giving it up, and putting one reading right."""

import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.cook_finish import CorrectForm, FinishForm, GiveUpForm
from costing.forms.cook_rows import (
    TypedInput,
    TypedYield,
    ask_about_stock,
    counted,
    inputs_given,
    row_mistakes,
    typed_yields,
    yields_given,
)
from costing.forms.cooks import unit_of
from costing.forms.fields import mistakes, take_errors
from costing.models import Batch, BatchReading, Ingredient, Kitchen
from costing.product_kinds import LOW_ACID
from costing.reckoning.book import CostSheet
from costing.reckoning.coming_out import (
    LOW_ACID_PH,
    OFFCUTS_KEPT,
    THROWN_AWAY,
    ComingOut,
    Counted,
    odd_figures,
)
from costing.selectors.batches import BatchPage, batch_page
from costing.selectors.cook_lines import stock_by_preparation, suppliers_by_ingredient
from costing.selectors.moulds import moulds_of
from costing.selectors.products import products_of
from costing.services.batch_plans import book_of
from costing.services.batches import correct_event, finish_batch, give_up, planned_cost
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_record import reading_in_words
from costing.views.cook_stove import stove_context
from costing.views.menu import COOK
from costing.views.recipe_words import Pen

NAMES = {"net_g": "net_kg", "pot_g": "pot_kg"}
_G_PER_KG = Decimal(1000)
_HAS_A_BRIX = (Ingredient.Category.FRUIT, Ingredient.Category.VEGETABLE)


@kitchen_view(COOK)
def cook_finish(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """What came out of the pan. A request of htmx only wants the sum of what is typed so far."""
    page = batch_page(kitchen, pk)
    batch = page.batch
    if batch.status != Batch.Status.ON_THE_FIRE:
        return redirect("cook", kitchen.pk, pk)
    is_done = request.method == "POST" and request.POST.get("do") != "give up"
    data = request.POST if is_done else None
    form = FinishForm(data, moulds=list(moulds_of(kitchen)), initial=_last_read(page))
    spoilt = GiveUpForm(request.POST if request.method == "POST" and not is_done else None)
    rows = typed_yields(products_of(kitchen).filter(recipe=batch.recipe), data)
    inputs = typed_inputs(page, data)
    summed = sum_of(form, rows, batch, pen=Pen(kitchen))
    if request.htmx:
        return render(request, "costing/cook_accounted.html", summed)
    ask_of_lines(form, inputs)
    wrong = row_mistakes(rows, inputs)
    if is_done and not wrong and form.is_valid():
        if _finished(request, batch, form, rows, inputs):
            messages.success(request, f"Lot {batch.lot} is finished.")
            return redirect("cook", kitchen.pk, pk)
    elif spoilt.is_bound and spoilt.is_valid() and _given_up(request, batch, spoilt):
        return redirect("cook", kitchen.pk, pk)
    context = summed | {
        "batch": batch,
        "form": form,
        "spoilt": spoilt,
        "rows": rows,
        "inputs": inputs,
        "mistakes": [*mistakes(form, spoilt), *wrong],
        "tare": _tare(batch, pen=Pen(kitchen)),
    }
    return render(request, "costing/cook_finish.html", context)


def tare_g(batch: Batch) -> Decimal | None:
    """Of the pan it was cooked in."""
    return batch.pan.tare_g if batch.pan is not None else None


def _tare(batch: Batch, *, pen: Pen) -> str:
    grams = tare_g(batch)
    return pen.kilos(grams) if grams else ""


def _last_read(page: BatchPage) -> dict[str, Any]:
    """The last temperature, and pH, so that they are not typed twice; a weight is taken afresh."""
    found: dict[str, Any] = {"ph": page.batch.ph, "mould": page.batch.mould_id or ""}
    for row in page.in_force:
        if row.kind == BatchReading.Kind.TEMPERATURE:
            found["end_reading_c"] = row.value
    if page.batch.ph is not None:
        found["ph"] = page.batch.ph
    return found


# --- The sum of what is typed, and the rows of what went in: also for putting a record right -----


def sum_of(
    form: FinishForm,
    rows: list[TypedYield],
    batch: Batch,
    *,
    pen: Pen,
    others: Iterable[Counted] = (),
) -> dict[str, Any]:
    """Where what came out went, in words, as far as it is typed; odd figures are put to the form.

    For a form that nobody filled in yet: nothing. others: what it became that has no box here.
    """
    if not form.is_bound:
        return {}
    form.is_valid()
    out = form.coming_out([*counted(rows), *others])
    planned = _planned(batch)
    read = form.measured(
        tare_g=tare_g(batch),
        planned_g=planned.finished_g,
        planned_brix=None if planned.balance is None else planned.balance.finishing_brix,
    )
    odd = odd_figures(out, read)
    form.ask_about(odd)
    is_low_acid = read.ph is not None and read.ph > LOW_ACID_PH
    return {
        "accounted": accounted_in_words(out, planned_g=planned.finished_g, pen=pen),
        "odd": [one.sentence for one in odd],
        "low_acid": LOW_ACID if is_low_acid else "",
    }


def _planned(batch: Batch) -> CostSheet:
    return planned_cost(book_of(batch.plan), batch.plan["recipe_id"])


def accounted_in_words(
    out: ComingOut, *, planned_g: Decimal | None, pen: Pen
) -> list[tuple[str, str, bool]]:
    """Rows of the sum: name, figure, and whether it is a line below which something is added up."""
    if out.came_out_g is None:
        return []
    rows = [("Came out", pen.kilos(out.came_out_g), False)]
    for one in out.counted:
        name = one.name if one.units is None else f"{one.units} of {one.name}"
        rows.append((name, f"− {pen.kilos(one.mass_g)}", False))
    if out.kept_g:
        rows.append(("Offcuts kept", f"− {pen.kilos(out.kept_g)}", False))
    if out.thrown_away_g:
        rows.append(("Offcuts thrown away", f"− {pen.kilos(out.thrown_away_g)}", False))
    rest_g, finished_g = out.rest_g, out.finished_g
    if out.told_g and rest_g is not None:
        name = "Not counted yet" if rest_g >= 0 else "Counted too much"
        rows.append((name, pen.kilos(abs(rest_g)), True))
    if out.thrown_away_g and finished_g is not None:
        rows.append(("Finished, for the cost of a kilo", pen.kilos(finished_g), True))
    if planned_g:
        rows.append(("Planned", pen.kilos(planned_g), False))
    return rows


def ask_of_lines(form: FinishForm, inputs: list[TypedInput]) -> None:
    """Ask once about more of an own batch than is left of it."""
    if form.is_bound:
        form.is_valid()
        form.ask_about_lines(ask_about_stock(inputs, is_looked_at=form.is_looked_at))


def typed_inputs(page: BatchPage, data: Any) -> list[TypedInput]:
    """A row for each part of each line; an empty weight means as planned."""
    batch = page.batch
    kitchen = batch.kitchen
    suppliers = suppliers_by_ingredient(kitchen, [one.ingredient_id for one in page.inputs])
    stock = stock_by_preparation(
        kitchen, [one.preparation_id for one in page.inputs], besides=batch
    )
    rows: list[TypedInput] = []
    parts: dict[int, int] = {}
    for one in page.inputs:
        part = parts[one.position] = parts.get(one.position, 0) + 1
        sellers = list(suppliers.get(one.ingredient_id or 0, ()))
        if one.supplier is not None and one.supplier not in sellers:
            sellers.append(one.supplier)
        of_it = stock.get(one.preparation_id or 0, ())
        sources = [stored.batch for stored in of_it]
        if one.from_batch is not None and one.from_batch not in sources:
            sources.append(one.from_batch)
        fruit = one.ingredient
        row = TypedInput(
            row=one,
            key=str(one.position) if part == 1 else f"{one.position}-{part}",
            suppliers=sellers,
            sources=sources,
            left_g={stored.batch.pk: stored.left_g for stored in of_it},
            takes_brix=fruit is None or fruit.category in _HAS_A_BRIX,
        )
        row.read(data)
        rows.append(row)
    return rows


def offcuts(form: FinishForm) -> list[tuple[str, Decimal]]:
    """Offcuts as they are kept with what a batch became."""
    out = form.coming_out(())
    return [(OFFCUTS_KEPT, out.kept_g), (THROWN_AWAY, out.thrown_away_g)]


def _finished(
    request: KitchenRequest,
    batch: Batch,
    form: FinishForm,
    rows: list[TypedYield],
    inputs: list[TypedInput],
) -> bool:
    try:
        finish_batch(
            batch,
            by=request.user,  # type: ignore[arg-type]
            finished_at=timezone.now(),
            values=form.values(tare_g=tare_g(batch)),
            yields=yields_given(rows, offcuts=offcuts(form)),
            inputs=inputs_given(inputs),
        )
    except ValidationError as error:
        take_errors(form, error, names=NAMES)
        return False
    return True


def _given_up(request: KitchenRequest, batch: Batch, form: GiveUpForm) -> bool:
    try:
        give_up(batch, by=request.user, reason=form.cleaned_data["reason"])  # type: ignore[arg-type]
    except ValidationError as error:
        take_errors(form, error)
        return False
    messages.success(request, f"Lot {batch.lot} is given up. Its record stays.")
    return True


@kitchen_view(COOK)
def cook_correct(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Put one reading right; the old figure stays in the record, struck through."""
    page = batch_page(kitchen, pk)
    wanted = request.GET.get("reading", "")
    reading = next((row for row in page.in_force if str(row.pk) == wanted), None)
    if reading is None and wanted:
        raise Http404("No such reading of this batch, or it was corrected already.")
    if reading is None:
        return redirect("cook", kitchen.pk, pk)
    is_weight = reading.kind == BatchReading.Kind.WEIGHT
    data = request.POST if request.method == "POST" else None
    form = CorrectForm(data, unit=unit_of(reading.kind), initial={"key": uuid.uuid4().hex})
    if form.is_valid():
        value = form.cleaned_data["value"]
        try:
            correct_event(
                reading,
                by=request.user,  # type: ignore[arg-type]
                value=value * _G_PER_KG if is_weight else value,
                reason=form.cleaned_data["reason"],
                key=form.cleaned_data["key"],
            )
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, "Corrected. What stood there before stays in the record.")
            return redirect("cook", kitchen.pk, pk)
    context = {
        "batch": page.batch,
        "reading": reading,
        "words": reading_in_words(reading, pen=Pen(kitchen)),
        "form": form,
        "mistakes": mistakes(form),
    }
    return render(request, "costing/cook_correct.html", context)


@kitchen_view(COOK)
def cook_sheet(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The kitchen sheet for paper: one page with boxes to fill in."""
    page = batch_page(kitchen, pk)
    context = stove_context(kitchen, page) | {"rows": range(8)}
    return render(request, "costing/cook_sheet.html", context)
