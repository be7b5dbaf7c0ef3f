"""What one label says in other languages than the kitchen's, and which names are still missing."""

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.models import Kitchen, Product
from costing.models.names import LABEL_LANGUAGES
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from labels.forms.words import FIELDS, WordsForm
from labels.models import LabelDesign
from labels.services.designs import design_of, is_kept
from labels.services.facts import food_facts
from labels.services.languages import (
    names_in,
    other_languages,
    save_words,
    what_is_named,
    words_in,
)


@dataclass(frozen=True)
class NamedOnLabel:
    """An ingredient or preparation on a label: its names by language, and where they are kept."""

    own: str
    names: tuple[tuple[str, str], ...]
    url: str

    @property
    def is_missing(self) -> bool:
        """Whether some language has no name for it."""
        return not all(name for _, name in self.names)


@kitchen_view()
def label_words(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """The label's own words in each of its other languages, and the names in its list."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("recipe", "kitchen"))
    design = design_of(product)
    if not is_kept(design):
        return redirect("label_design", kitchen.pk, product.pk)
    languages = other_languages(design)
    kept = _kept(design)
    own = {name: str(getattr(design, name)) for name in FIELDS}
    form = WordsForm(
        request.POST if request.method == "POST" else None,
        languages=languages,
        own=own,
        initial=kept,
    )
    if request.method == "POST" and form.is_valid():
        try:
            save_words(design, by=request.user, words=form.words)
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, "These words are kept. This is what the label says now.")
            return redirect("label", kitchen.pk, product.pk)
    named = _named(design, kitchen=kitchen, product=product)
    page: dict[str, Any] = {
        "product": product,
        "form": form,
        "mistakes": mistakes(form),
        "languages": [dict(LABEL_LANGUAGES).get(each, each) for each in languages],
        "named": named,
        "missing": sum(each.is_missing for each in named),
        "unsaid": len([name for name in form.due if not kept.get(name, "").strip()]),
    }
    return render(request, "labels/words.html", page)


def _kept(design: LabelDesign) -> dict[str, str]:
    return {
        f"{language}_{name}": getattr(row, name)
        for language, row in words_in(design).items()
        for name in FIELDS
    }


def _named(design: LabelDesign, *, kitchen: Kitchen, product: Product) -> list[NamedOnLabel]:
    """Everything that stands in the list by a name of its own, each once, in its order."""
    languages = other_languages(design)
    if not languages:
        return []
    ingredients = food_facts(design, on=timezone.localdate()).ingredients
    names = names_in(design, ingredients)
    back = urlencode({"back": reverse("label_words", args=[kitchen.pk, product.pk])})
    spoken = dict(LABEL_LANGUAGES)
    found: dict[str, NamedOnLabel] = {}
    for each in (part for whole in ingredients for part in whole.with_parts()):
        what = what_is_named(each)
        if not what or what in found:
            continue
        kind, _, pk = what.partition("-")
        found[what] = NamedOnLabel(
            own=each.name,
            names=tuple((spoken[x], names.get((x, what), "")) for x in languages),
            url=f"{reverse(f'{kind}_names', args=[kitchen.pk, int(pk)])}?{back}",
        )
    return list(found.values())
