"""Cooks: what is on the fire, and what was cooked."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render

from costing.models import Batch, Kitchen
from costing.selectors.batches import batches_of
from costing.selectors.recipes import recipes_of
from costing.services.batch_costs import costs_of
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.ingredients import searched
from costing.views.menu import COOK
from costing.views.recipes import sees_money

PER_PAGE = 50


@dataclass(frozen=True)
class Cooked:
    """One row of the list. Without the right to see money only the batch is told.

    yield_pct: finished of what went in. is_complete: the cost is whole, not a lower bound.
    """

    batch: Batch
    per_kg: Decimal | None = None
    yield_pct: Decimal | None = None
    is_complete: bool = False


@kitchen_view(COOK)
def cooks(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """What is on the fire, then what was cooked."""
    q = searched(request)
    rows = batches_of(kitchen)
    fires = list(rows.filter(status=Batch.Status.ON_THE_FIRE)) if not q else []
    done = rows.exclude(status=Batch.Status.ON_THE_FIRE) if not q else rows
    if q:
        done = done.filter(lot__icontains=q) | done.filter(recipe__name__icontains=q)
    page = Paginator(done, PER_PAGE).get_page(request.GET.get("page"))
    context = {
        "fires": fires,
        "page": page,
        "rows": _cooked(page.object_list, with_money=sees_money(request)),
        "q": q,
        "has_recipes": recipes_of(kitchen).exists(),
        "sees_money": sees_money(request),
    }
    return render(request, "costing/cooks.html", context)


def _cooked(batches: Iterable[Batch], *, with_money: bool) -> list[Cooked]:
    """What each batch of a page gave and cost, in as many queries whatever their number."""
    told = list(batches)
    if not with_money:
        return [Cooked(batch) for batch in told]
    sheets = costs_of([one for one in told if one.status == Batch.Status.FINISHED])
    rows = []
    for batch in told:
        sheet = sheets.get(batch.pk)
        if sheet is None:
            rows.append(Cooked(batch))
            continue
        share = None
        if sheet.finished_g is not None and sheet.ingoing_g:
            share = sheet.finished_g * 100 / sheet.ingoing_g
        rows.append(Cooked(batch, sheet.cost_per_kg_finished, share, sheet.is_complete))
    return rows
