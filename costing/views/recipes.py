"""Recipes to read: the list, one recipe with what its kilo costs, and its versions."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from costing.models import Ingredient, Kitchen, Member, Recipe, RecipeVersion
from costing.product_kinds import product_kind
from costing.reckoning.book import Book, CostSheet
from costing.selectors.ingredients import ingredients_of
from costing.selectors.kitchens import this_kitchens
from costing.selectors.products import products_of
from costing.selectors.recipes import load_book, recipes_of, used_in, versions_of
from costing.services.recipes import cost_recipes, sheet_of
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.ingredients import policy_in_words, searched
from costing.views.menu import COOK, OWNER
from costing.views.pan_picture import pan_picture
from costing.views.recipe_offers import recipe_offers
from costing.views.recipe_questions import asked, forgotten_water, missing_in_words
from costing.views.recipe_sheet import sheet_page
from costing.views.recipe_words import (
    LOW_ACID_PH,
    NOT_PROOF,
    RELIABILITY,
    Pen,
    base_called,
    card,
    card_as_written,
    cautions,
    day,
    prices_in_words,
    sentence,
    stops,
)

PER_PAGE = 25


@dataclass(frozen=True)
class ListedRecipe:
    """One line of the list."""

    recipe: Recipe
    kind: str
    finished_g: Decimal | None
    per_kg: Decimal | None
    is_complete: bool


def sees_money(request: KitchenRequest) -> bool:
    """Weights are the cook's business, money is not."""
    return request.member.role == OWNER


@kitchen_view(COOK)
def recipes(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """The list: what each recipe gives and what its kilo costs, preparations apart."""
    on, q = timezone.localdate(), searched(request)
    show_archived = request.GET.get("show") == "archived"
    rows = recipes_of(kitchen, with_archived=show_archived)
    if show_archived:
        rows = rows.filter(is_archived=True)
    if q:
        rows = rows.filter(name__icontains=q)
    ordered = rows.order_by("is_preparation", "name")
    page = Paginator(ordered, PER_PAGE).get_page(request.GET.get("page"))
    sheets = cost_recipes(kitchen, [recipe.pk for recipe in page.object_list], on=on)
    listed = [_listed(recipe, sheets[recipe.pk]) for recipe in page.object_list]
    context = {
        "page": page,
        "q": q,
        "show_archived": show_archived,
        "sees_money": sees_money(request),
        "policy": policy_in_words(kitchen),
        "groups": [
            ("", [one for one in listed if not one.recipe.is_preparation]),
            ("Preparations", [one for one in listed if one.recipe.is_preparation]),
        ],
    }
    return render(request, "costing/recipes.html", context)


def _listed(recipe: Recipe, sheet: CostSheet) -> ListedRecipe:
    return ListedRecipe(
        recipe=recipe,
        kind=product_kind(recipe.kind).words.partition(" (")[0],
        finished_g=sheet.finished_g,
        per_kg=sheet.cost_per_kg_finished,
        is_complete=sheet.is_complete,
    )


@kitchen_view(COOK)
def recipe(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """One recipe: what a kilo costs, down to the price, the weighing and the day.

    ?version=2 shows an earlier version, at the prices of today, to read only.
    """
    on = timezone.localdate()
    subject = this_kitchens(Recipe, kitchen=kitchen, pk=pk)
    versions = versions_of(subject)
    shown = _shown(versions, request.GET.get("version", ""))
    pinned = () if shown.is_current else (shown.pk,)
    book = load_book(kitchen, () if pinned else [subject.pk], on=on, version_ids=pinned)
    sheet = sheet_of(book, subject.pk)
    sold_as = list(products_of(kitchen).filter(recipe=subject))
    context: dict[str, Any] = {
        **_in_words(sheet, kind=subject.kind, kitchen=kitchen, book=book),
        "recipe": subject,
        "version": shown,
        "versions": versions,
        "sees_money": sees_money(request),
        "kind": product_kind(subject.kind).words,
        "used_in": used_in(subject),
        "products": sold_as,
        "learnt": recipe_offers(kitchen, shown),
        "leads_on": _leads_on(request, shown) and not sold_as,
        "questions": asked(sheet.questions, kitchen=kitchen, sees_money=sees_money(request)),
    }
    if not sheet.lines:  # its figures contradict each other: what was written is all there is
        context["card"] = card_as_written(shown.lines.all(), pen=Pen(kitchen))
    if context["sees_money"]:
        context |= _money(sheet, kitchen=kitchen, book=book)
    return render(request, "costing/recipe.html", context)


@kitchen_view(COOK)
def recipe_versions(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Every version of a recipe: when, by whom, and which of them may never change."""
    subject = this_kitchens(Recipe, kitchen=kitchen, pk=pk)
    context = {"recipe": subject, "versions": versions_of(subject)}
    return render(request, "costing/recipe_versions.html", context)


def _leads_on(request: KitchenRequest, version: RecipeVersion) -> bool:
    """Whether a price and a label come next: for the owner, of what is sold, as it is now."""
    recipe = version.recipe
    is_for_sale = version.is_current and not (recipe.is_preparation or recipe.is_archived)
    return is_for_sale and request.member.role == Member.Role.OWNER


def _shown(versions: list[RecipeVersion], asked_for: str) -> RecipeVersion:
    """The version asked for by its number, else the current one."""
    if not asked_for:
        return next(version for version in versions if version.is_current)
    for version in versions:
        if asked_for == str(version.number):
            return version
    raise Http404("No such version of this recipe.")


def _in_words(sheet: CostSheet, *, kind: str, kitchen: Kitchen, book: Book) -> dict[str, Any]:
    """Everything about weights and words, for whoever may see the recipe."""
    pen = Pen(kitchen)
    balance = sheet.balance
    return {
        "sheet": sheet,
        "card": card(sheet, pen=pen),
        "base": base_called(sheet),
        "has_base": any(line.line.is_base for line in sheet.lines),
        "sentence": sentence(sheet, pen=pen),
        "stops": stops(sheet, pen=pen),
        "reliability": RELIABILITY.get(balance.reliability, "") if balance else "",
        "assumed": balance.cautions if balance else (),
        "cautions": cautions(sheet, kind=kind, ph_of=_low_in_acid(kitchen, book)),
        "not_proof": NOT_PROOF,
        "pan": pan_picture(balance, pen=pen) if balance else None,
        "finished": pen.kilos(balance.finished_g) if balance else "",
        "batch": batch_in_words(sheet, pen=pen),
        "attended": (
            pen.hours(sheet.recipe.attended_minutes)
            if sheet.recipe.attended_minutes is not None
            else ""
        ),
    }


def batch_in_words(sheet: CostSheet, *, pen: Pen) -> str:
    """What comes out of this pan, or that it is not known."""
    if sheet.finished_g is None:
        return "How much comes out of this pan is not known yet"
    return f"{pen.kilos(sheet.finished_g)} from this pan"


def _money(sheet: CostSheet, *, kitchen: Kitchen, book: Book) -> dict[str, Any]:
    """Everything about money, for the owner only."""
    pen, policy = Pen(kitchen), policy_in_words(kitchen)
    batch, prices = batch_in_words(sheet, pen=pen), prices_in_words(kitchen)
    cost = sheet.cost_per_kg_finished
    return {
        "figure": "" if cost is None else pen.money(cost),
        "answer_sentence": f"{batch} on {day(sheet.on)}, {prices}.",
        "policy": policy,
        "headline": missing_in_words(sheet, pen=pen),
        "forgotten": forgotten_water(sheet, pen=pen),
        "page": sheet_page(sheet, pen=pen, ingredients=book.ingredients) if sheet.lines else None,
    }


def _low_in_acid(kitchen: Kitchen, book: Book) -> dict[str, Decimal]:
    """Fruit and vegetables in it, preparations included, whose pH may be above the limit."""
    grown = (Ingredient.Category.FRUIT, Ingredient.Category.VEGETABLE)
    rows = ingredients_of(kitchen, with_archived=True).filter(
        pk__in=list(book.ingredients), category__in=grown, ph_high__gt=LOW_ACID_PH
    )
    return {row.name: row.ph_high for row in rows if row.ph_high is not None}
