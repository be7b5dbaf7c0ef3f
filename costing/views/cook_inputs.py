"""What really went into a pan that is on the fire: weighed, from whom, which lot, at what Brix."""

from decimal import Decimal

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render

from costing.forms.cook_lines import LinesForm
from costing.forms.fields import Mistake, mistakes
from costing.models import Batch, Kitchen
from costing.selectors.batches import BatchPage, batch_page
from costing.services.batches import put_in
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_lines import as_told, lines_of_batch
from costing.views.menu import COOK
from costing.views.recipe_words import Pen


@kitchen_view(COOK)
def cook_inputs(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Fill in, line by line, what was not noted when the fire was lit."""
    page = batch_page(kitchen, pk)
    batch = page.batch
    if batch.status != Batch.Status.ON_THE_FIRE:
        return redirect("cook", kitchen.pk, pk)
    lines = LinesForm(
        request.POST if request.method == "POST" else None,
        lines=lines_of_batch(page, pen=Pen(kitchen)),
        initial=as_told(page),
    )
    refused: list[str] = []
    if lines.is_valid():
        planned_g = _planned_g(page)
        lines.ask_about_kilos(planned_g)
        lines.ask_about_stock(planned_g)
        refused = [] if lines.errors else _put_in(request, batch, lines)
        if not lines.errors and not refused:
            messages.success(request, "Kept.")
            return redirect("cook", kitchen.pk, pk)
    wrong = [Mistake(sentence) for sentence in refused]
    context = {"batch": batch, "lines": lines, "mistakes": [*wrong, *mistakes(lines)]}
    return render(request, "costing/cook_inputs.html", context)


def _planned_g(page: BatchPage) -> dict[int, Decimal]:
    return {row.position: row.planned_g for row in page.inputs if row.planned_g is not None}


def _put_in(request: KitchenRequest, batch: Batch, lines: LinesForm) -> list[str]:
    """Why it was refused; nothing when it was kept."""
    try:
        put_in(batch, by=request.user, inputs=lines.inputs(with_empty=True))  # type: ignore[arg-type]
    except ValidationError as error:
        return error.messages
    return []
