"""At the stove: one target, one reading box, one button; the record once the pan is done."""

import uuid
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from costing.forms.cooks import READINGS, ReadingForm
from costing.forms.fields import mistakes
from costing.models import Batch, BatchInput, BatchReading, Kitchen
from costing.product_kinds import HOT_SUGAR, product_kind
from costing.reckoning.stove import (
    DONE,
    TOO_FAR,
    Band,
    Now,
    StovePlan,
    Target,
    curve,
    now,
    overshoot,
    refractometer_shows,
    target,
)
from costing.selectors.batches import BatchPage, batch_page
from costing.services.batch_learnt import learnt_words
from costing.services.batch_stove import stove_plan
from costing.services.batches import batch_cost, note_event
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_asks import Asked, asked, event_of
from costing.views.cook_curve import curve_picture
from costing.views.cook_keeping import keeping_chapter, setting_chapter
from costing.views.cook_record import reading_in_words, record
from costing.views.menu import COOK
from costing.views.recipe_words import NBSP, NOT_PROOF, Pen
from costing.views.recipes import sees_money

BY_SCRIPT = "stove"
BURNT = (
    "Burnt by boiling sugar? Cool running water for 20 minutes, at once; nothing else on it; ring"
    " the emergency number if it is larger than a hand, or on the face."
)


_MISSES = "its sugar scale misses part of the invert sugar and the acid"


@dataclass(frozen=True)
class Told:
    """One figure below the fold: its name, itself, the range that holds it mostly, and why."""

    name: str
    figure: str
    between: str = ""
    note: str = ""


@kitchen_view(COOK)
def cook(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The stove page while the pan is on the fire, the record of it afterwards."""
    page = batch_page(kitchen, pk)
    if page.batch.status != Batch.Status.ON_THE_FIRE:
        return record(request, kitchen, page)
    response = render(
        request, "costing/cook.html", stove_context(kitchen, page, with_money=sees_money(request))
    )
    response["X-Stove"] = "on the fire"  # only such an answer is kept for a lost network
    return response


@kitchen_view(COOK)
@require_POST
def cook_event(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Keep one reading. By script: the live panel, or 422 with the sentence that was refused."""
    page = batch_page(kitchen, pk)
    is_script = request.headers.get("X-Requested-With") == BY_SCRIPT
    form = ReadingForm(request.POST)
    is_read = form.is_valid()
    refused = _noted(request, page.batch, form) if is_read else mistakes(form)[0].sentence
    if is_script and refused:
        return HttpResponse(refused, status=422, content_type="text/plain; charset=utf-8")
    if is_script:
        page, with_money = batch_page(kitchen, pk), sees_money(request)
        context = stove_context(kitchen, page, with_money=with_money)
        return render(request, "costing/cook_now.html", context)
    if not refused:
        messages.success(request, "Kept.")
        return redirect("cook", kitchen.pk, pk)
    if page.batch.status != Batch.Status.ON_THE_FIRE:
        messages.error(request, refused)
        return redirect("cook", kitchen.pk, pk)
    typed = {"typed": request.POST.get("value", ""), "kind": request.POST.get("kind", "")}
    context = (
        stove_context(kitchen, page, with_money=sees_money(request)) | typed | {"refused": refused}
    )
    return render(request, "costing/cook.html", context)


def _noted(request: KitchenRequest, batch: Batch, form: ReadingForm) -> str:
    """Why it was refused; empty when it was kept."""
    data = form.cleaned_data
    tare_g = None
    if data["kind"] == BatchReading.Kind.WEIGHT and batch.pan is not None:
        tare_g = batch.pan.tare_g
    received = timezone.now()
    read_at = data["read_at"] or received
    try:
        note_event(
            batch,
            by=request.user,  # type: ignore[arg-type]
            kind=data["kind"],
            value=data["value"],
            key=data["key"],
            read_at=min(read_at, received),
            tare_g=tare_g,
            sample_c=data["sample_c"] if data["kind"] == BatchReading.Kind.BRIX else None,
        )
    except ValidationError as error:
        return " ".join(error.messages)
    return ""


def stove_context(kitchen: Kitchen, page: BatchPage, *, with_money: bool = False) -> dict[str, Any]:
    """Everything the stove page shows, for the readings that count.

    with_money: an owner is told too what a pan gone too far does to the cost of a kilo.
    """
    pen, batch = Pen(kitchen), page.batch
    plan = stove_plan(batch)
    rows = {event_of(row): row for row in page.in_force}
    events, at = list(rows), timezone.now()
    goal, state = target(plan), now(plan, events, at=at)
    figure, unit = _big(goal, pen=pen)
    beside = overshoot(plan, state)
    if with_money and beside.is_over:
        beside = overshoot(plan, state, cost_total=batch_cost(batch).cost_total)
    return {
        "batch": batch,
        "kinds": READINGS,
        "kind": page.in_force[-1].kind if page.in_force else BatchReading.Kind.TEMPERATURE,
        "key": uuid.uuid4().hex,
        "figure": figure,
        "unit": unit,
        "sentence": _line(goal, plan, pen=pen),
        "now": state,
        "asks": [*asked(state.asks, rows, pen=pen), *map(Asked, state.contradictions)],
        "wants": [] if state.asks else [ask.sentence for ask in goal.asks],
        "advice": (*beside.sentences, beside.caution) if beside.is_over else (),
        "too_soft": () if beside.is_over or state.brix is None else beside.sentences,
        "keeping": keeping_chapter(plan, state, ph=batch.ph, pen=pen),
        "setting": setting_chapter(batch.recipe.kind, poured_at=_poured_at(state)),
        "as_of": timezone.localtime(at),
        "last": _last(page, pen=pen),
        "figures": _figures(goal, state, shows=_lens_shows(goal, plan), pen=pen),
        "weakest": goal.weakest,
        "notes": (*state.notes, *goal.cautions),
        "learnt": learnt_words(batch, inputs=page.inputs),
        "picture": curve_picture(curve(plan, events), pen=pen),
        "events": [(row, reading_in_words(row, pen=pen)) for row in page.in_force],
        "inputs": [(row, _went_in(row, pen=pen)) for row in page.inputs],
        "cautions": list(dict.fromkeys((HOT_SUGAR, *product_kind(batch.recipe.kind).cautions))),
        "burnt": BURNT,
        "not_proof": NOT_PROOF,
        "has_tare": batch.pan is not None and batch.pan.tare_g is not None,
    }  # fmt: skip


def _poured_at(state: Now) -> datetime | None:
    """When it was seen to be done, by the device's clock."""
    return state.as_of if state.verdict in (DONE, TOO_FAR) else None


def _big(goal: Target, *, pen: Pen) -> tuple[str, str]:
    """The one number: the thermometer's, else the scale's, else Brix."""
    if goal.reading_c is not None:
        return pen.number(round(goal.reading_c.value, 1), places=1), "°C"
    if goal.gross_g is not None:
        return pen.number(goal.gross_g.value / 1000, places=2), "kg on the scale"
    if goal.pot_g is not None:
        return pen.number(goal.pot_g.value / 1000, places=2), "kg in the pan"
    if goal.brix is not None:
        return pen.number(goal.brix.value, places=1), "Brix"
    return "", ""


def _line(goal: Target, plan: StovePlan, *, pen: Pen) -> str:
    """The one line under it: on which thermometer, and what it means."""
    if goal.reading_c is None:
        return "Stop when the pan has come down to this." if goal.pot_g is not None else ""
    rise = "" if goal.rise_k is None else f", {pen.number(goal.rise_k.value, places=1)} above water"
    if plan.water_reading_c is not None:
        return f"on your thermometer, today{rise}"
    return f"if your thermometer is true{rise}; it was not read in boiling water today"


def _lens_shows(goal: Target, plan: StovePlan) -> Decimal | None:
    """The refractometer when it is done, whose scale misses part of what is not sucrose."""
    return None if goal.brix is None else refractometer_shows(plan, goal.brix.value)


def _figures(goal: Target, state: Now, *, shows: Decimal | None, pen: Pen) -> list[Told]:
    told = []
    if state.water_to_go_g is not None and state.water_to_go_g > 0:
        told.append(Told("Water still to boil off", pen.kilos(state.water_to_go_g)))
    elif goal.water_g is not None and not state.estimates:
        told.append(_mass("Water to boil off in all", goal.water_g, pen=pen))
    if state.minutes_to_go is not None and state.minutes_to_go > 0:
        told.append(Told("Minutes to go", f"about {pen.number(state.minutes_to_go, places=0)}"))
    elif goal.minutes is not None and not state.estimates:
        told.append(_plain("Minutes in all", goal.minutes, "min", places=0, pen=pen))
    if state.brix is not None:
        told.append(_plain("Now", state.brix, "Brix", places=1, pen=pen))
    return [*told, *_at_the_end(goal, shows=shows, pen=pen)]


def _at_the_end(goal: Target, *, shows: Decimal | None, pen: Pen) -> list[Told]:
    """Where the other instruments stand when it is done."""
    told = []
    if goal.brix is not None:
        told.append(_plain("Brix at the end", goal.brix, "Brix", places=1, pen=pen))
    if shows is not None:
        figure = f"{pen.number(shows, places=1)}{NBSP}Brix"
        told.append(Told("Refractometer then shows", figure, note=_MISSES))
    if goal.rise_k is not None:
        told.append(_plain("Above your boiling water", goal.rise_k, "degrees", places=1, pen=pen))
    if goal.gross_g is not None:
        told.append(_mass("On the scale, pan and all", goal.gross_g, pen=pen))
    if goal.pot_g is not None:
        told.append(_mass("Food in the pan at the end", goal.pot_g, pen=pen))
    if goal.finished_g is not None:
        told.append(_mass("Comes out of it", goal.finished_g, pen=pen))
    return told


def _mass(name: str, band: Band, *, pen: Pen) -> Told:
    between = f"{pen.kilos(band.low)} to {pen.kilos(band.high)}"
    return Told(name, pen.kilos(band.value), between if band.low < band.high else "")


def _plain(name: str, band: Band, unit: str, *, places: int, pen: Pen) -> Told:
    low, high = pen.number(band.low, places=places), pen.number(band.high, places=places)
    figure = f"{pen.number(band.value, places=places)}{NBSP}{unit}"
    return Told(name, figure, f"{low} to {high}" if low != high else "")


def _went_in(row: BatchInput, *, pen: Pen) -> str:
    """What was weighed of a line; else what the scale was to show."""
    known = (row.weighed_g, row.to_weigh_g, row.planned_g)
    grams = next((one for one in known if one is not None), None)
    return "" if grams is None else pen.mass(grams)


def _last(page: BatchPage, *, pen: Pen) -> str:
    if not page.in_force:
        return ""
    row = page.in_force[-1]
    at = timezone.localtime(row.read_at)
    return f"{row.get_kind_display()} {reading_in_words(row, pen=pen)} at {at:%H:%M}"
