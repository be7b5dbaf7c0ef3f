"""What the batches say of an ingredient, offered where its figure stands: one tap takes it over."""

from dataclasses import dataclass
from decimal import Decimal

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from costing.models import Ingredient, Kitchen
from costing.reckoning.learning import short
from costing.selectors.kitchens import this_kitchens
from costing.services.ingredients import save_ingredient
from costing.services.learning import BRIX, USABLE, Learnt, learnt
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.menu import COOK

COLUMNS = {USABLE: ("usable_pct", "Left to use"), BRIX: ("brix", "Brix")}
WORTH_A_LINE = Decimal("0.1")
"""Nearer than this to what is entered, there is nothing to take over."""


@dataclass(frozen=True)
class Offer:
    """A figure that could be taken over, and the words for it."""

    subject: str
    name: str
    figure: str
    sentence: str


def offers_of(kitchen: Kitchen, ingredient: Ingredient) -> list[Offer]:
    """What batches say otherwise than what is entered."""
    found = []
    for subject, (_, name) in COLUMNS.items():
        told = learnt(kitchen, subject, ingredient=ingredient)
        figure = figure_to_take(told, source=_source(ingredient, subject))
        if figure is not None:
            words = f"{short(figure)} {told.unit}"
            found.append(Offer(subject, name, words, told.sentence))
    return found


def _source(ingredient: Ingredient, subject: str) -> str:
    known = ingredient.figure_sources if isinstance(ingredient.figure_sources, dict) else {}
    return str(known.get(COLUMNS[subject][0], ""))


def source_of(told: Learnt) -> str:
    """Where a figure comes from, as it is kept with it."""
    return f"Own batches: {told.sentence}."


def figure_to_take(told: Learnt, *, source: str) -> Decimal | None:
    """To a tenth; None where no batch stands behind it or it is as entered.

    source: of what is entered. What was taken over already holds these batches: blended with them
    once more it would count them twice, so that it is offered again only when there are others.
    """
    if told.value is None or not told.batches or told.is_pinned:
        return None
    if source.startswith(f"Own batches: {told.sentence.partition(':')[0]}:"):
        return None
    figure = round(told.value, 1)
    if told.default is not None and abs(figure - told.default) < WORTH_A_LINE:
        return None
    return figure


@kitchen_view(COOK)
@require_POST
def ingredient_learnt(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Take over what the batches say, with where it comes from."""
    ingredient = this_kitchens(Ingredient, kitchen=kitchen, pk=pk)
    subject = request.POST.get("subject", "")
    told = learnt(kitchen, subject, ingredient=ingredient) if subject in COLUMNS else None
    figure = None
    if told is not None:
        figure = figure_to_take(told, source=_source(ingredient, subject))
    if told is None or figure is None:
        messages.info(request, "The batches say nothing else than what stands here.")
        return redirect("ingredient", kitchen.pk, pk)
    column, _ = COLUMNS[subject]
    known = ingredient.figure_sources if isinstance(ingredient.figure_sources, dict) else {}
    sources = {**known, column: source_of(told)}
    values = {column: figure, "figure_sources": sources}
    try:
        save_ingredient(kitchen, by=request.user, ingredient=ingredient, values=values)  # type: ignore[arg-type]
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    else:
        messages.success(request, f"{ingredient.name} reckons with {short(figure)} {told.unit}.")
    return redirect("ingredient", kitchen.pk, pk)
