"""What the batches say of a recipe, offered where it is read: one tap takes it over."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from costing.models import Kitchen, Recipe, RecipeVersion
from costing.reckoning.learning import short
from costing.selectors.kitchens import this_kitchens
from costing.selectors.recipes import current_version
from costing.services.learning import BRIX, RESIDUE, learnt
from costing.services.recipe_learnt import kept_source, subjects_of, take_over
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.lesson_offers import Offer, figure_to_take, source_of
from costing.views.menu import COOK

NAMES = {BRIX: "Brix", RESIDUE: "left in the pan"}


def recipe_offers(kitchen: Kitchen, version: RecipeVersion) -> list[Offer]:
    """What batches say otherwise than this version; nothing of one that is not cooked any more."""
    if not version.is_current:
        return []
    found = []
    for subject in subjects_of(version):
        told = learnt(kitchen, subject, recipe=version.recipe)
        figure = figure_to_take(told, source=kept_source(version.recipe, subject=subject))
        if figure is not None:
            words = f"{short(figure)} {told.unit}"
            found.append(Offer(subject, NAMES[subject], words, told.sentence))
    return found


@kitchen_view(COOK)
@require_POST
def recipe_learnt(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Take over what the batches say, with where it comes from."""
    recipe = this_kitchens(Recipe, kitchen=kitchen, pk=pk)
    subject = request.POST.get("subject", "")
    is_taught = subject in subjects_of(current_version(recipe))
    told = learnt(kitchen, subject, recipe=recipe) if is_taught else None
    figure = None
    if told is not None:
        figure = figure_to_take(told, source=kept_source(recipe, subject=subject))
    if told is None or figure is None:
        messages.info(request, "The batches say nothing else than what stands here.")
        return redirect("recipe", kitchen.pk, pk)
    by, source = request.user, source_of(told)
    try:
        take_over(recipe, by=by, subject=subject, value=figure, source=source)  # type: ignore[arg-type]
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    else:
        messages.success(request, f"{recipe.name} reckons with {short(figure)} {told.unit}.")
    return redirect("recipe", kitchen.pk, pk)
