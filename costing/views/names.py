"""Names of ingredients and preparations on labels in other languages."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from costing.forms.fields import mistakes, take_errors
from costing.forms.names import NamesForm
from costing.models import Ingredient, Kitchen, Recipe
from costing.models.names import LABEL_LANGUAGES
from costing.selectors.kitchens import this_kitchens
from costing.services.names import save_names
from costing.views.access import KitchenRequest, kitchen_view, way_back
from costing.views.menu import COOK


@kitchen_view(COOK)
def ingredient_names(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """What labels in other languages call an ingredient."""
    subject = this_kitchens(Ingredient, kitchen=kitchen, pk=pk)
    own = subject.label_name or subject.name.lower()
    home = reverse("ingredient", args=[kitchen.pk, subject.pk])
    return _named(request, kitchen, subject, own=own, home=home)


@kitchen_view(COOK)
def recipe_names(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """What labels in other languages call a preparation that stands in a list under its name."""
    subject = this_kitchens(Recipe, kitchen=kitchen, pk=pk)
    own = subject.label_name or subject.name
    home = reverse("recipe", args=[kitchen.pk, subject.pk])
    return _named(request, kitchen, subject, own=own, home=home)


def _named(
    request: KitchenRequest, kitchen: Kitchen, subject: Ingredient | Recipe, *, own: str, home: str
) -> HttpResponse:
    back = way_back(request, request.GET.get("back", ""), otherwise=home)
    known = {row.language: row.name for row in subject.names.all()}
    data = request.POST if request.method == "POST" else None
    form = NamesForm(data, own_language=kitchen.label_language, initial=known)
    if request.method == "POST" and form.is_valid():
        try:
            save_names(subject, by=request.user, names=form.cleaned_data)  # type: ignore[arg-type]
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, f"The names of {subject.name} are kept.")
            return redirect(back)
    context = {
        "subject": subject,
        "own": own,
        "own_language": dict(LABEL_LANGUAGES).get(kitchen.label_language, kitchen.label_language),
        "back": back,
        "form": form,
        "mistakes": mistakes(form),
        "missing": len([code for code in form.languages if code not in known]),
    }
    return render(request, "costing/names.html", context)
