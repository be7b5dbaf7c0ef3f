"""Writing a recipe, with its cost under the page's own eyes while it is typed."""

import re
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db.models import Q
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from costing.forms.fields import Mistake
from costing.forms.recipe_lines import TypedLines
from costing.forms.recipes import RecipeForm
from costing.models import Ingredient, Kitchen, Recipe, RecipeVersion
from costing.reckoning.book import CostSheet
from costing.selectors.ingredients import ingredients_of
from costing.selectors.kitchens import this_kitchens
from costing.selectors.recipes import current_version, recipes_of
from costing.services.recipes import NEW, cost_draft, save_recipe
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.menu import COOK
from costing.views.pan_picture import pan_picture
from costing.views.recipe_questions import asked, forgotten_water, missing_in_words
from costing.views.recipe_words import Pen, prices_in_words, sentence, stops
from costing.views.recipes import batch_in_words, sees_money

_TAKE_OUT = re.compile(r"^out-(\d{1,3})$")
BLANK_ROWS = 3


@dataclass(frozen=True)
class Choice:
    """One thing that can stand in a line."""

    value: str
    name: str


@kitchen_view(COOK)
def recipe_new(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """A recipe from nothing."""
    form = RecipeForm(request.POST if request.method == "POST" else None, kitchen=kitchen)
    if request.method == "GET":
        for _ in range(BLANK_ROWS):
            form.lines.add()
        for row in form.lines.rows:
            row.is_focus = False
    return _edited(request, kitchen, form, version=None)


@kitchen_view(COOK)
def recipe_edit(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Change a recipe; one that a label was printed from is kept, and a new version made."""
    subject = this_kitchens(Recipe, kitchen=kitchen, pk=pk)
    version = current_version(subject)
    data = request.POST if request.method == "POST" else None
    form = RecipeForm(data, kitchen=kitchen, version=version)
    return _edited(request, kitchen, form, version=version)


@kitchen_view(COOK)
@require_POST
def recipe_reckon(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """The pan beside the form: what is typed now, reckoned without saving it."""
    pk = request.POST.get("recipe", "")
    recipe_id = int(pk) if re.fullmatch(r"[0-9]{1,15}", pk) else NEW
    form = RecipeForm(request.POST, kitchen=kitchen)
    context = {"is_live": True, **_pan(request, kitchen, form, recipe_id=recipe_id)}
    return render(request, "costing/recipe_pan.html", context)


def _edited(
    request: KitchenRequest, kitchen: Kitchen, form: RecipeForm, *, version: RecipeVersion | None
) -> HttpResponse:
    act = request.POST.get("do", "save") if request.method == "POST" else ""
    is_told = False
    if act == "more":
        form.lines.add()
    elif found := _TAKE_OUT.match(act):
        form.lines.take_out(int(found[1]))
    elif act:
        is_told = True
        saved = _saved(request, kitchen, form, recipe=version.recipe if version else None)
        if saved is not None:
            messages.success(request, "Kept. This is what a kilo of it costs."
                             if sees_money(request) else "Kept.")  # fmt: skip
            return redirect("recipe", kitchen.pk, saved.pk)
    recipe_id = version.recipe_id if version else NEW
    pan = _pan(request, kitchen, form, recipe_id=recipe_id)
    if not is_told:
        form.forget_mistakes()
    context = {
        "form": form,
        "version": version,
        "recipe": version.recipe if version else None,
        "mistakes": form.mistakes() if is_told else [],
        "groups": _choices(kitchen, form.lines, recipe_id=recipe_id),
        **pan,
    }
    return render(request, "costing/recipe_edit.html", context)


def _saved(
    request: KitchenRequest, kitchen: Kitchen, form: RecipeForm, *, recipe: Recipe | None
) -> Recipe | None:
    """The recipe as saved; None when something has to be mended first."""
    if not form.is_valid():
        return None
    user: Any = request.user
    try:
        return save_recipe(
            kitchen,
            by=user,
            recipe=recipe,
            values=form.values(),
            version_values=form.version_values(),
            lines=form.line_inputs(),
            expected_version=form.cleaned_data.get("expected_version") or None,
        )
    except ValidationError as error:
        form.take(error)
        return None


def _pan(
    request: KitchenRequest, kitchen: Kitchen, form: RecipeForm, *, recipe_id: int
) -> dict[str, Any]:
    """What the pan beside the form shows: the sum of what can be read, and what cannot."""
    pen, on = Pen(kitchen), timezone.localdate()
    reckoned = form if form.is_bound else _as_posted(form, kitchen)
    reckoned.is_valid()
    unread = reckoned.not_understood() if form.is_bound else []
    sheet: CostSheet | None = None
    refused: list[str] = []
    if unread and not reckoned.is_clear:
        refused = [": ".join(part for part in (unread[0].label, unread[0].sentence) if part)]
    elif reckoned.line_inputs():
        try:
            sheet = cost_draft(kitchen, reckoned.draft(recipe_id=recipe_id), on=on)
        except ValidationError as error:
            refused = list(error.messages)
    context: dict[str, Any] = {
        "sees_money": sees_money(request),
        "prices": prices_in_words(kitchen),
        "unread": _once(unread),
        "refused": refused,
        "sheet": sheet,
        "pan": None,
    }
    if sheet is None:
        return context
    questions = asked(
        sheet.questions, kitchen=kitchen, here=recipe_id, sees_money=sees_money(request)
    )
    return context | _told(sheet, pen=pen) | {"questions": questions}


def _told(sheet: CostSheet, *, pen: Pen) -> dict[str, Any]:
    """The sheet of a draft in words, figures and its picture."""
    balance = sheet.balance
    per_kg = sheet.cost_per_kg_finished
    return {
        "pan": pan_picture(balance, pen=pen) if balance else None,
        "stops": stops(sheet, pen=pen),
        "assumed": balance.cautions if balance else (),
        "batch": batch_in_words(sheet, pen=pen),
        "finished": pen.kilos(balance.finished_g) if balance else "",
        "figure": pen.money(per_kg) if per_kg is not None else "",
        "sentence": sentence(sheet, pen=pen),
        "headline": missing_in_words(sheet, pen=pen),
        "forgotten": forgotten_water(sheet, pen=pen),
    }


def _as_posted(form: RecipeForm, kitchen: Kitchen) -> RecipeForm:
    """The stored recipe as if it had just been typed, so that one way of reckoning serves all."""
    data: dict[str, Any] = {}
    for name in form.fields:
        value = form[name].value()
        if value is not None and value is not False:
            data[name] = "on" if value is True else str(value)
    read = RecipeForm(data, kitchen=kitchen)
    read.lines = TypedLines(form.lines.rows)
    return read


def _once(unread: list[Mistake]) -> list[Mistake]:
    return list({(one.label, one.sentence): one for one in unread}.values())


def _choices(
    kitchen: Kitchen, lines: TypedLines, *, recipe_id: int
) -> list[tuple[str, list[Choice]]]:
    """What a line may hold: preparations first, then ingredients; put away ones only where used."""
    chosen = [row.ingredient_id for row in lines.rows if row.ingredient_id is not None]
    made = [row.recipe_id for row in lines.rows if row.recipe_id is not None]
    foods = ingredients_of(kitchen, kind=Ingredient.Kind.FOOD, with_archived=True).filter(
        Q(is_archived=False) | Q(pk__in=chosen)
    )
    preparations = recipes_of(kitchen, with_archived=True).filter(
        Q(is_preparation=True, is_archived=False) | Q(pk__in=made)
    )
    if recipe_id not in made:
        preparations = preparations.exclude(pk=recipe_id)
    return [
        (
            "Preparations of this kitchen",
            [Choice(f"p{pk}", name) for pk, name in preparations.values_list("pk", "name")],
        ),
        ("Ingredients", [Choice(f"i{pk}", name) for pk, name in foods.values_list("pk", "name")]),
    ]
