"""Calling a pan done, putting a figure right, giving a pan up, and the sheet for paper."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.cooks import CorrectForm, FinishForm, GiveUpForm, unit_of
from costing.forms.fields import AmountField, Mistake, mistakes, take_errors
from costing.models import Batch, BatchReading, Kitchen, Product
from costing.selectors.batches import BatchPage, batch_page
from costing.selectors.products import products_of
from costing.services.batches import InputGiven, YieldGiven, correct_event, finish_batch, give_up
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_record import reading_in_words
from costing.views.cook_stove import stove_context
from costing.views.menu import COOK
from costing.views.recipe_words import Pen

_COUNT = AmountField(required=False, least=0, most=99_999, places=0)
_KILOS = AmountField(required=False, least=0, most=999, places=4)
_G_PER_KG = Decimal(1000)
_NAMES = {"net_g": "net_kg", "pot_g": "pot_kg"}


@dataclass
class TypedInput:
    """How much of a line really went in, and its supplier's lot, as typed."""

    what: str
    planned: str
    position: int
    is_bought: bool
    name: str
    typed: str = ""
    lot: str = ""
    error: str = ""
    weighed_g: Decimal | None = None


@dataclass
class TypedYield:
    """How many of a product came out, as typed."""

    product: Product
    name: str
    typed: str = ""
    error: str = ""
    units: int | None = None


@kitchen_view(COOK)
def cook_finish(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """What came out of the pan."""
    page = batch_page(kitchen, pk)
    batch = page.batch
    if batch.status != Batch.Status.ON_THE_FIRE:
        return redirect("cook", kitchen.pk, pk)
    is_done = request.method == "POST" and request.POST.get("do") != "give up"
    form = FinishForm(request.POST if is_done else None, initial=_last_read(page))
    spoilt = GiveUpForm(request.POST if request.method == "POST" and not is_done else None)
    rows = _rows(kitchen, batch, request.POST if is_done else {})
    inputs = _inputs(page, request.POST if is_done else {})
    if is_done and form.is_valid() and not _has_faults(rows, inputs):
        if _finished(request, batch, form, rows, inputs):
            messages.success(request, f"Lot {batch.lot} is finished.")
            return redirect("cook", kitchen.pk, pk)
    elif spoilt.is_bound and spoilt.is_valid() and _given_up(request, batch, spoilt):
        return redirect("cook", kitchen.pk, pk)
    wrong = [Mistake(row.error, row.product.name, f"id_{row.name}") for row in rows if row.error]
    wrong += [Mistake(row.error, row.what, f"id_{row.name}") for row in inputs if row.error]
    context = {
        "batch": batch,
        "form": form,
        "spoilt": spoilt,
        "rows": rows,
        "inputs": inputs,
        "mistakes": [*mistakes(form, spoilt), *wrong],
        "tare": "" if not _tare_g(batch) else Pen(kitchen).kilos(_tare_g(batch) or Decimal(0)),
    }
    return render(request, "costing/cook_finish.html", context)


def _tare_g(batch: Batch) -> Decimal | None:
    return batch.pan.tare_g if batch.pan is not None else None


def _last_read(page: BatchPage) -> dict[str, Any]:
    """The last temperature, and pH, so that they are not typed twice; a weight is taken afresh."""
    found: dict[str, Any] = {"ph": page.batch.ph}
    for row in page.in_force:
        if row.kind == BatchReading.Kind.TEMPERATURE:
            found["end_reading_c"] = row.value
    return found


def _rows(kitchen: Kitchen, batch: Batch, data: Any) -> list[TypedYield]:
    rows = []
    for product in products_of(kitchen).filter(recipe=batch.recipe):
        row = TypedYield(product, f"units-{product.pk}")
        row.typed = data.get(row.name, "")
        try:
            units = _COUNT.clean(row.typed)
        except ValidationError as error:
            row.error = error.messages[0]
        else:
            row.units = None if units is None else int(units)
        rows.append(row)
    return rows


def _inputs(page: BatchPage, data: Any) -> list[TypedInput]:
    """A row for each line of the plan; an empty box means as planned."""
    pen = Pen(page.batch.kitchen)
    rows = []
    for one in page.inputs:
        row = TypedInput(
            what=str(one.ingredient or one.preparation),
            planned="" if one.planned_g is None else pen.mass(one.planned_g),
            position=one.position,
            is_bought=one.ingredient_id is not None,
            name=f"weighed-{one.position}",
            lot=data.get(f"lot-{one.position}", one.supplier_lot)[:60],
        )
        row.typed = data.get(row.name, "")
        try:
            kilos = _KILOS.clean(row.typed)
        except ValidationError as error:
            row.error = error.messages[0]
        else:
            row.weighed_g = one.weighed_g if kilos is None else round(kilos * _G_PER_KG, 3)
        rows.append(row)
    return rows


def _finished(
    request: KitchenRequest,
    batch: Batch,
    form: FinishForm,
    rows: list[TypedYield],
    inputs: list[TypedInput],
) -> bool:
    yields = [YieldGiven(product=row.product, units=row.units) for row in rows if row.units]
    try:
        finish_batch(
            batch,
            by=request.user,  # type: ignore[arg-type]
            finished_at=timezone.now(),
            values=form.values(tare_g=_tare_g(batch)),
            yields=yields,
            inputs=[
                InputGiven(
                    position=row.position,
                    weighed_g=row.weighed_g,
                    supplier_lot=row.lot.strip() if row.is_bought else "",
                )
                for row in inputs
                if row.typed.strip() or (row.is_bought and row.lot.strip())
            ],
        )
    except ValidationError as error:
        take_errors(form, error, names=_NAMES)
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


def _has_faults(rows: Iterable[Any], inputs: Iterable[Any]) -> bool:
    return any(row.error for row in (*rows, *inputs))


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
