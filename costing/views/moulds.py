"""Moulds: how large they are inside, and how many of each there are."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render

from costing.forms.fields import mistakes, take_errors
from costing.forms.planners import MouldForm
from costing.models import Kitchen, Mould
from costing.selectors.kitchens import this_kitchens
from costing.selectors.moulds import moulds_of
from costing.services.moulds import save_mould
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.menu import COOK


@kitchen_view(COOK)
def moulds(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """The moulds of the kitchen; what a link brings along goes on to the plan of any of them."""
    rows = list(moulds_of(kitchen, with_archived=True))
    context = {"moulds": rows, "kept": request.GET.urlencode()}
    return render(request, "costing/moulds.html", context)


@kitchen_view(COOK)
def mould_new(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Another mould."""
    return _edited(request, kitchen, None)


@kitchen_view(COOK)
def mould_edit(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Change a mould; what was poured into it stays as it was written down."""
    return _edited(request, kitchen, this_kitchens(Mould, kitchen=kitchen, pk=pk))


def _edited(request: KitchenRequest, kitchen: Kitchen, mould: Mould | None) -> HttpResponse:
    form = MouldForm(request.POST if request.method == "POST" else None, mould=mould)
    if request.method == "POST" and form.is_valid():
        try:
            kept = save_mould(
                kitchen,
                by=request.user,  # type: ignore[arg-type]
                mould=mould,
                values=form.values(),
            )
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, f"{kept.name} is kept.")
            return redirect("moulds", kitchen.pk)
    context = {"form": form, "mould": mould, "mistakes": mistakes(form)}
    return render(request, "costing/mould_form.html", context)
