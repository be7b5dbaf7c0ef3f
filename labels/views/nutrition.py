"""The record behind a nutrition declaration, and the maker's decision about a trace."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.models import Ingredient, Kitchen, Product
from costing.reckoning.nutrition import NAMES, TRACE_BELOW_PCT
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from labels import law
from labels.facts import LabelFacts, NutrientSource, Nutrition
from labels.forms.nutrition import TraceForm
from labels.mechanics.nutrition_table import RecordRow
from labels.services.designs import design_of, is_kept
from labels.services.facts import food_facts
from labels.services.nutrition import decide_trace, reasons_of, trace_of, undo_trace


@dataclass(frozen=True)
class ShownSource:
    """One ingredient of the record. is_trace: the maker may decide about what is missing of it."""

    source: NutrientSource
    is_trace: bool

    @property
    def missing(self) -> str:
        """What nobody knows of it, in words."""
        return ", ".join(self.source.missing)


@dataclass(frozen=True)
class ShownNutrition:
    """The record as the page shows it."""

    nutrition: Nutrition
    rows: tuple[RecordRow, ...]
    sources: tuple[ShownSource, ...]
    law: str

    @property
    def roundings(self) -> dict[str, str]:
        """Each rule of rounding with what it is for: rule -> "fat, carbohydrate, ..."."""
        found: dict[str, list[str]] = {}
        for row in self.rows:
            found.setdefault(row.rounding, []).append(row.name)
        return {rule: ", ".join(names) for rule, names in found.items()}


def nutrition_shown(facts: LabelFacts) -> ShownNutrition | None:
    """The record of a label that declares nutrition; None for any other."""
    if facts.nutrition is None:
        return None
    return ShownNutrition(
        nutrition=facts.nutrition,
        rows=law.nutrition_record(facts),
        sources=tuple(
            ShownSource(each, is_trace=each.share_g < TRACE_BELOW_PCT)
            for each in facts.nutrition.sources
        ),
        law=law.nutrition_sources(facts),
    )


@kitchen_view()
def label_trace(
    request: HttpRequest, kitchen: Kitchen, product_pk: int, ingredient_pk: int
) -> HttpResponse:
    """Does what is missing of this trace count as nothing, and why."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("recipe", "kitchen"))
    ingredient = this_kitchens(Ingredient, kitchen=kitchen, pk=ingredient_pk)
    design = design_of(product)
    if not is_kept(design):
        return redirect("label_design", kitchen.pk, product.pk)
    food = food_facts(design, on=timezone.localdate())
    row = trace_of(design, food, ingredient=ingredient)
    if row is None:
        messages.info(request, f"Nothing that this label needs is missing of {ingredient.name}.")
        return redirect("label", kitchen.pk, product.pk)
    if request.method == "POST" and "undo" in request.POST:
        undo_trace(design, by=request.user, ingredient=ingredient)
        messages.success(request, f"{ingredient.name} is asked for again.")
        return redirect("label", kitchen.pk, product.pk)
    form = TraceForm(request.POST or None, initial={"reason": row.reason})
    if request.method == "POST" and form.is_valid():
        reason = form.cleaned_data["reason"]
        try:
            decide_trace(design, food, by=request.user, ingredient=ingredient, reason=reason)
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, f"What is missing of {ingredient.name} counts as nothing.")
            return redirect("label", kitchen.pk, product.pk)
    page: dict[str, Any] = {
        "product": product, "ingredient": ingredient, "row": row, "form": form,
        "mistakes": mistakes(form), "limit_pct": TRACE_BELOW_PCT,
        "missing": [NAMES[name] for name in row.missing],
        "is_decided": ingredient.pk in reasons_of(design),
    }  # fmt: skip
    return render(request, "labels/nutrition_trace.html", page)
