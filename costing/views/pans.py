"""Pans: what they weigh, how wide they are, what stays on them and how fast they lose water."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render

from costing.forms.cooks import PanForm
from costing.forms.fields import mistakes, take_errors
from costing.models import Kitchen, Pan
from costing.selectors.batches import pans_of
from costing.selectors.kitchens import this_kitchens
from costing.services.pans import save_pan
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.menu import COOK


@kitchen_view(COOK)
def pans(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """The pans of the kitchen."""
    context = {"pans": list(pans_of(kitchen, with_archived=True))}
    return render(request, "costing/pans.html", context)


@kitchen_view(COOK)
def pan_new(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Another pan."""
    return _edited(request, kitchen, None)


@kitchen_view(COOK)
def pan_edit(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Change a pan; batches keep their own weights."""
    return _edited(request, kitchen, this_kitchens(Pan, kitchen=kitchen, pk=pk))


def _edited(request: KitchenRequest, kitchen: Kitchen, pan: Pan | None) -> HttpResponse:
    form = PanForm(request.POST if request.method == "POST" else None, pan=pan)
    if request.method == "POST" and form.is_valid():
        try:
            kept = save_pan(kitchen, by=request.user, pan=pan, values=form.values())  # type: ignore[arg-type]
        except ValidationError as error:
            take_errors(form, error, names={"tare_g": "tare_kg"})
        else:
            messages.success(request, f"{kept.name} is kept.")
            return redirect("pans", kitchen.pk)
    context = {"form": form, "pan": pan, "mistakes": mistakes(form)}
    return render(request, "costing/pan_form.html", context)
