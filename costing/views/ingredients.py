"""Prices: the price book, one ingredient, and the starter pantry."""

from datetime import date
from itertools import groupby
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.forms.ingredients import (
    NUTRIENTS,
    AllergenForm,
    IngredientForm,
    parts_formset,
    parts_typed,
)
from costing.models import AllergenAnswer, Ingredient, Kitchen
from costing.selectors.ingredients import allergen_answers, compound_parts, ingredients_of
from costing.selectors.kitchens import this_kitchens
from costing.selectors.price_book import price_book, without_price
from costing.selectors.purchases import price_history, suppliers_side_by_side
from costing.services.ingredients import PartInput, add_from_pantry, save_ingredient
from costing.services.pantry import PantryItem, pantry_items
from costing.views.access import KitchenRequest, kitchen_view, way_back
from costing.views.lesson_offers import offers_of
from costing.views.menu import ACCOUNTANT, COOK, OWNER
from costing.views.price_chart import Series, StepPicture, step_picture

PER_PAGE = 50
FOOD, PACKAGING, UNPRICED = "food", "packaging", "unpriced"


def searched(request: HttpRequest) -> str:
    """What was typed in the search box, fit for any database."""
    return request.GET.get("q", "").replace("\x00", "").strip()[:80]


def _may(request: KitchenRequest) -> dict[str, bool]:
    """What this page may show and offer: money is not the cook's, editing not the accountant's."""
    role = request.member.role
    return {
        "sees_money": role in {OWNER, ACCOUNTANT},
        "may_edit": role in {OWNER, COOK},
        "may_price": role == OWNER,
    }


@kitchen_view(COOK, ACCOUNTANT)
def ingredients(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """The price book: what is really paid for a usable kilo, and how that changed."""
    on, q = timezone.localdate(), searched(request)
    show = request.GET.get("show", "")
    may = _may(request)
    kind = Ingredient.Kind.PACKAGING if show == PACKAGING else Ingredient.Kind.FOOD
    rows = ingredients_of(kitchen, kind=None if show == UNPRICED or q else kind)
    if q:
        rows = rows.filter(name__icontains=q)
    if show == UNPRICED and may["sees_money"]:
        rows = without_price(rows, on=on)
    page = Paginator(rows, PER_PAGE).get_page(request.GET.get("page"))
    context = {
        **may,
        "page": page,
        "q": q,
        "show": show,
        "policy": policy_in_words(kitchen),
        "lines": price_book(kitchen, list(page.object_list), on=on),
    }
    return render(request, "costing/ingredients.html", context)


def policy_in_words(kitchen: Kitchen) -> str:
    """Which price counts, for a sentence beside a cost."""
    words = {
        Kitchen.Policy.LATEST: "the latest price",
        Kitchen.Policy.AVERAGE: "the average of the suppliers",
        Kitchen.Policy.WORST: "the dearest supplier",
    }
    if kitchen.price_policy == Kitchen.Policy.FIXED and kitchen.prices_fixed_on:
        day = kitchen.prices_fixed_on
        return f"prices as they stood on {day.day} {day:%B %Y}"
    return words.get(Kitchen.Policy(kitchen.price_policy), "the latest price")


@kitchen_view(COOK, ACCOUNTANT)
def ingredient(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """One ingredient: what a usable kilo costs, from whom, since when; and what is known of it."""
    on = timezone.localdate()
    subject = this_kitchens(Ingredient, kitchen=kitchen, pk=pk)
    subject.kitchen = kitchen
    may = _may(request)
    context: dict[str, Any] = {
        **may,
        "ingredient": subject,
        "is_packaging": subject.kind == Ingredient.Kind.PACKAGING,
        "figures": figures_of(subject),
        "nutrition": [(label, getattr(subject, name)) for name, label in NUTRIENTS.items()],
        "has_nutrition": any(getattr(subject, name) is not None for name in NUTRIENTS),
        "parts": compound_parts(subject) if subject.is_compound else [],
    }
    if not context["is_packaging"]:
        answers = list(allergen_answers(subject).values())
        context |= _allergens_in_words(answers)
        context["learnt"] = offers_of(kitchen, subject) if may["may_edit"] else []
    if may["sees_money"]:
        history = price_history(subject)
        context |= {
            "line": price_book(kitchen, [subject], on=on)[0],
            "policy": policy_in_words(kitchen),
            "history": history,
            "offers": suppliers_side_by_side(subject, on=on),
            "picture": price_picture(subject, history, on=on),
        }
    return render(request, "costing/ingredient.html", context)


def price_picture(subject: Ingredient, history: list[Any], *, on: date) -> StepPicture | None:
    """Prices of each supplier over time, per usable kilo, or per piece for packaging."""
    by_piece = subject.kind == Ingredient.Kind.PACKAGING
    steps: dict[str, dict[date, Any]] = {}
    for price in reversed(history):  # a later entry for the same day counts
        figure = price.per_each if by_piece else price.per_kg
        if price.voided_at is None and figure is not None:
            usable = figure if by_piece else figure * 100 / subject.usable_pct
            steps.setdefault(price.supplier.name, {})[price.valid_from] = usable
    series = [Series(name, tuple(days.items())) for name, days in steps.items()]
    unit = f"{subject.kitchen.currency} {'each' if by_piece else 'a usable kilo'}"
    return step_picture(series, on=on, key="prices", title="Price over time", unit=unit)


def _allergens_in_words(answers: list[Any]) -> dict[str, Any]:
    labels = allergen_groups()
    groups = dict(zip(labels, answers, strict=True))
    contains = [
        (labels[group], answer.named_as)
        for group, answer in groups.items()
        if answer is not None and answer.answer == "contains"
    ]
    unknown = [
        labels[group]
        for group, answer in groups.items()
        if answer is None or answer.answer == "unknown"
    ]
    free = len(labels) - len(contains) - len(unknown)
    return {"contains": contains, "unknown": unknown, "free": free, "groups": len(labels)}


def allergen_groups() -> dict[str, str]:
    """The fourteen groups by their code, in the law's order."""
    return {str(code): str(label) for code, label in AllergenAnswer.Group.choices}


FIGURES = (
    ("usable_pct", "Left to use", "%"),
    ("density_kg_per_l", "A litre weighs", "kg"),
    ("each_g", "One weighs", "g"),
    ("brix", "Brix of its juice", "Brix"),
    ("insoluble_pct", "Fibre, pips and skins", "%"),
    ("sucrose_share", "Sucrose, share of the solids", ""),
    ("hexose_share", "Glucose and fructose, share", ""),
    ("acid_share", "Acids, share", ""),
    ("ph_low", "pH from", ""),
    ("ph_high", "pH to", ""),
    ("sulphite_mg_per_kg", "Sulphites", "mg/kg"),
)


def figures_of(subject: Ingredient) -> list[tuple[str, Any, str, str]]:
    """(label, figure, unit, source) of what is known, or would be needed in the pan."""
    sources = subject.figure_sources if isinstance(subject.figure_sources, dict) else {}
    always = {"usable_pct", "brix", "insoluble_pct"}
    found: list[tuple[str, Any, str, str]] = []
    said = ""
    for name, label, unit in FIGURES:
        if name in always or getattr(subject, name) is not None:
            source = str(sources.get(name, ""))
            found.append((label, getattr(subject, name), unit, "" if source == said else source))
            said = source
    return found


# --- Made and changed -----------------------------------------------------------------------------


@kitchen_view(COOK)
def ingredient_new(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """A new ingredient."""
    return _edit(request, kitchen, None)


@kitchen_view(COOK)
def ingredient_edit(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Change what is known of an ingredient."""
    return _edit(request, kitchen, this_kitchens(Ingredient, kitchen=kitchen, pk=pk))


def _edit(request: KitchenRequest, kitchen: Kitchen, subject: Ingredient | None) -> HttpResponse:
    data = request.POST or None
    answers = allergen_answers(subject) if subject else {}
    parts = compound_parts(subject) if subject else []
    back = way_back(request, request.GET.get("back", ""))
    form = IngredientForm(data, ingredient=subject)
    allergens = AllergenForm(data, answers=answers)
    lines = parts_formset(data, kitchen=kitchen, ingredient=subject, parts=parts)
    if request.method == "POST":
        saved = _saved(request, kitchen, subject, form=form, allergens=allergens, lines=lines)
        if saved is not None:
            messages.success(request, f"{saved.name} is kept.")
            return redirect(back) if back else redirect("ingredient", kitchen.pk, saved.pk)
    context = {
        "ingredient": subject,
        "back": back,
        "form": form,
        "allergens": allergens,
        "parts": lines,
        "has_parts": bool(parts) or bool(data and data.get("is_compound")),
        "mistakes": mistakes(form, allergens, *lines.forms),
    }
    return render(request, "costing/ingredient_form.html", context)


def _saved(
    request: KitchenRequest,
    kitchen: Kitchen,
    subject: Ingredient | None,
    *,
    form: IngredientForm,
    allergens: AllergenForm,
    lines: Any,
) -> Ingredient | None:
    """The saved ingredient; None when something was refused, with the sentences in the forms."""
    forms_are_valid = [form.is_valid(), allergens.is_valid(), lines.is_valid()]
    if not all(forms_are_valid):
        return None
    values = form.values()
    if parts_typed(lines) and not values["is_compound"]:
        # Dropped without a word, they would take their allergens with them.
        form.add_error(
            "is_compound",
            "You say what it is made of, but this is not ticked. Tick it, or empty those lines.",
        )
        return None
    values["figure_sources"] = sources_after(form, subject, by=request.user.get_username())
    is_food = values["kind"] == Ingredient.Kind.FOOD
    parts = [PartInput(pk, share) for pk, share in parts_typed(lines)]
    try:
        return save_ingredient(
            kitchen,
            by=request.user,  # type: ignore[arg-type]
            ingredient=subject,
            values=values,
            allergens=allergens.answers() if is_food else None,
            parts=parts if values["is_compound"] else [],
        )
    except ValidationError as error:
        take_errors(form, error)
        return None


def sources_after(form: IngredientForm, subject: Ingredient | None, *, by: str) -> dict[str, Any]:
    """Where each figure comes from, once changed: what was typed, or who typed it and when."""
    known = subject.figure_sources if subject else {}
    sources = dict(known) if isinstance(known, dict) else {}
    day = timezone.localdate()
    typed = form.cleaned_data.get("source") or f"typed by {by}, {day.day} {day:%b %Y}"
    figures = {name for name, _, _ in FIGURES} | set(NUTRIENTS)
    for name in figures & set(form.changed_data):
        sources[name] = typed
        if form.cleaned_data.get(name) is None:
            sources.pop(name)
    return sources


# --- The starter pantry ---------------------------------------------------------------------------


@kitchen_view(COOK)
def pantry(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Common ingredients with their figures and sources, to be copied by name."""
    q = searched(request)
    problem = ""
    chosen = request.POST.getlist("food")
    if request.method == "POST":
        try:
            added = add_from_pantry(kitchen, by=request.user, slugs=chosen)  # type: ignore[arg-type]
        except ValidationError as error:
            problem = " ".join(error.messages)
        else:
            if added:
                return _to_the_prices(request, kitchen, added)
            problem = "Nothing was ticked. Tick what you cook with, then add it."
    present = {name.casefold() for name in ingredients_of(kitchen).values_list("name", flat=True)}
    found = [item for item in pantry_items() if q.casefold() in item.name.casefold()]
    groups = [
        (
            group,
            [
                (item, item_in_words(item), item.name.casefold() in present, item.slug in chosen)
                for item in items
            ],
        )
        for group, items in groupby(found, key=lambda item: item.group)
    ]
    context = {"groups": groups, "q": q, "problem": problem, "count": len(pantry_items())}
    return render(request, "costing/pantry.html", context)


def _to_the_prices(
    request: KitchenRequest, kitchen: Kitchen, added: list[Ingredient]
) -> HttpResponse:
    """An owner goes on to what the first of them costs; a cook back to the list."""
    word = "ingredient" if len(added) == 1 else "ingredients"
    if request.member.role == OWNER:
        unpriced = without_price(
            ingredients_of(kitchen).filter(pk__in=[row.pk for row in added]),
            on=timezone.localdate(),
        ).first()
        messages.success(request, f"{len(added)} {word} added. Now what they cost.")
        if unpriced is not None:
            return redirect("price_new", kitchen.pk, unpriced.pk)
    else:
        messages.success(request, f"{len(added)} {word} added.")
    return redirect("ingredients", kitchen.pk)


def item_in_words(item: PantryItem) -> str:
    """What the pantry knows of a food, for the line under its name."""
    values = item.values
    known = []
    if "usable_pct" in values and values["usable_pct"] != 100:
        known.append(f"{values['usable_pct'].normalize():f} % usable")
    if "brix" in values:
        known.append(f"{values['brix'].normalize():f} Brix")
    return ", ".join(known)
