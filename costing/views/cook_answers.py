"""At the stove: one-tap answers to what it asks, the pH, and the page kept for a lost network."""

from decimal import Decimal

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from costing.forms.fields import mistakes
from costing.forms.stove import PhForm
from costing.models import Batch, BatchReading, Kitchen
from costing.reckoning.stove import now
from costing.selectors.batches import BatchPage, batch_page
from costing.services.batch_events import correct_event, note_ph
from costing.services.batch_stove import stove_plan
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_asks import AS_MEANT, STRIKE, Asked, answer_key, asked, event_of
from costing.views.cook_stove import BY_SCRIPT, stove_context
from costing.views.menu import COOK
from costing.views.recipe_words import Pen
from costing.views.recipes import sees_money

ANSWERED = "That question is not asked any more. Look at what stands there now."
_REASONS = {
    "tare": "Answered at the stove: the weight of the pan",
    "fahrenheit": "Answered at the stove: it was read in Fahrenheit",
}
_MISREAD = "Answered at the stove: misread"


@kitchen_view(COOK)
@require_POST
def cook_answer(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Put a reading right as the question about it suggested, or strike it out; once."""
    refused = _answered(request, batch_page(kitchen, pk))
    if _is_by_script(request):
        return _told(request, kitchen, pk, refused)
    if refused:
        messages.error(request, refused)
    else:
        messages.success(request, "Kept. What stood there before stays in the record.")
    return redirect("cook", kitchen.pk, pk)


def _is_by_script(request: KitchenRequest) -> bool:
    return request.headers.get("X-Requested-With") == BY_SCRIPT


def _told(request: KitchenRequest, kitchen: Kitchen, pk: int, refused: str) -> HttpResponse:
    """For the script: the live panel, or 422 with the sentence that was refused.

    Where another phone was faster the panel is what is needed, with that said in it.
    """
    if refused and refused != ANSWERED:
        return HttpResponse(refused, status=422, content_type="text/plain; charset=utf-8")
    page, with_money = batch_page(kitchen, pk), sees_money(request)
    context = stove_context(kitchen, page, with_money=with_money)
    return render(request, "costing/cook_now.html", context | {"told": refused})


def _answered(request: KitchenRequest, page: BatchPage) -> str:
    """Why it was refused; empty when it is kept, now or by the same answer before."""
    code, wanted = request.POST.get("answer", ""), request.POST.get("reading", "")
    row = next((one for one in page.events if str(one.pk) == wanted), None)
    if row is None or code not in (AS_MEANT, STRIKE):
        return ANSWERED
    key = answer_key(row, code)
    if any(one.key == key for one in page.events):
        return ""
    question = _question(page, row)
    if question is None or (code == AS_MEANT and question.suggestion is None):
        return ANSWERED
    suggestion = question.suggestion if code == AS_MEANT else None
    tare_g = None
    if suggestion is not None and suggestion.kind == BatchReading.Kind.WEIGHT:
        tare_g = suggestion.tare_g or Decimal(0)
    try:
        correct_event(
            row,
            by=request.user,  # type: ignore[arg-type]
            value=None if suggestion is None else suggestion.value,
            reason=_MISREAD if suggestion is None else _REASONS.get(question.about, _MISREAD),
            key=key,
            tare_g=tare_g,
        )
    except ValidationError as error:
        return " ".join(error.messages)
    return ""


def _question(page: BatchPage, row: BatchReading) -> Asked | None:
    """What is asked about this reading as things stand now."""
    rows = {event_of(one): one for one in page.in_force}
    state = now(stove_plan(page.batch), list(rows), at=timezone.now())
    every = asked(state.asks, rows, pen=Pen(page.batch.kitchen))
    return next(
        (one for one in every if one.reading is not None and one.reading.pk == row.pk), None
    )


@kitchen_view(COOK)
@require_POST
def cook_ph(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The pH of the finished, cooled food, as soon as it is measured."""
    page = batch_page(kitchen, pk)
    form = PhForm(request.POST)
    refused = (
        _ph_noted(request, page.batch, form) if form.is_valid() else mistakes(form)[0].sentence
    )
    if _is_by_script(request):
        return _told(request, kitchen, pk, refused)
    if not refused:
        messages.success(request, "Kept: pH.")
        return redirect("cook", kitchen.pk, pk)
    if page.batch.status != Batch.Status.ON_THE_FIRE:
        messages.error(request, refused)
        return redirect("cook", kitchen.pk, pk)
    more = {"ph_typed": request.POST.get("ph", ""), "ph_refused": refused}
    return render(
        request,
        "costing/cook.html",
        stove_context(kitchen, page, with_money=sees_money(request)) | more,
    )


def _ph_noted(request: KitchenRequest, batch: Batch, form: PhForm) -> str:
    """Why it was refused; empty when it was kept."""
    try:
        note_ph(batch, by=request.user, ph=form.cleaned_data["ph"])  # type: ignore[arg-type]
    except ValidationError as error:
        return " ".join(error.messages)
    return ""


@kitchen_view(COOK)
@require_GET
def cook_worker(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The script that keeps this one stove page at hand; its address is also its whole reach."""
    batch_page(kitchen, pk)
    return render(request, "costing/stove-worker.js", content_type="text/javascript")
