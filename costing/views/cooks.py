"""Cooks: what is on the fire, and what was cooked."""

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render

from costing.models import Batch, Kitchen
from costing.selectors.batches import batches_of
from costing.selectors.recipes import recipes_of
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.ingredients import searched
from costing.views.menu import COOK

PER_PAGE = 50


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
    has_recipes = recipes_of(kitchen).exists()
    context = {"fires": fires, "page": page, "q": q, "has_recipes": has_recipes}
    return render(request, "costing/cooks.html", context)
