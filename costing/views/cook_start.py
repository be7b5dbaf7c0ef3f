"""Lighting the fire: how much, in which pan, by which thermometer, out of what."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.cook_lines import LinesForm
from costing.forms.cook_start import StartForm
from costing.forms.fields import mistakes, take_errors
from costing.models import Batch, Kitchen, Pan, Recipe
from costing.product_kinds import HOT_SUGAR, product_kind
from costing.reckoning.book import CostSheet
from costing.reckoning.weighing import Weighing, as_weighed, pan_caution, weighing_list
from costing.selectors.batches import pans_of
from costing.selectors.cook_lines import fine_ingredients
from costing.selectors.moulds import moulds_of
from costing.selectors.products import products_of
from costing.selectors.recipes import recipes_of
from costing.services.batches import start_batch
from costing.services.lots import next_lot
from costing.services.recipes import cost_recipes
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_learnt import pan_lessons
from costing.views.cook_lines import lines_of_sheet
from costing.views.cook_sizes import Size, as_written, size_or_mistake
from costing.views.cook_thermometer import thermometer_words
from costing.views.menu import COOK
from costing.views.recipe_words import Pen

_ML_PER_L = Decimal(1000)
CHANGED = (
    "The recipe was changed: what was typed for the lines belonged to the other one. Look at the"
    " lines again, then light the fire."
)


@dataclass(frozen=True)
class Weigh:
    """One line of the sheet: what to weigh, rounded for the scale, and what is said beside it."""

    name: str
    weight: str
    asides: tuple[str, ...] = ()


@kitchen_view(COOK)
def cook_start(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Choose what to cook and how much; see the weights; light the fire."""
    form = _form(request, kitchen)
    recipe = form.recipe_chosen
    if recipe is None:
        return render(request, "costing/cook_start.html", _context(form, LinesForm(lines=())))
    lot = next_lot(recipe, on=timezone.localdate())
    form.fields["lot"].help_text = f"Empty: {lot}, by the kitchen’s scheme."
    sheet = cost_recipes(kitchen, [recipe.pk], on=timezone.localdate())[recipe.pk]
    lines = _lines(request, kitchen, sheet, form=form)
    size = _size(form, lines, sheet)
    if _is_to_be_lit(request, form, lines):
        batch = _started(request, form, lines, recipe=recipe, size=size)
        if batch is not None:
            messages.success(request, f"Lot {batch.lot} is on the fire.")
            return redirect("cook", kitchen.pk, batch.pk)
    context = _context(form, lines) | _sheet_context(kitchen, form, sheet, size=size)
    return render(request, "costing/cook_start.html", context)


def _size(form: StartForm, lines: LinesForm, sheet: CostSheet) -> Size:
    """The size asked for, as far as its own boxes can be read; else the recipe as it stands."""
    form.is_valid()
    lines.is_valid()
    if not form.is_bound or not form.is_sized or not sheet.lines:
        return as_written(sheet)
    size = size_or_mistake(form, lines, sheet)
    planned_g = _planned_g(sheet, size=size)
    lines.ask_about_kilos(planned_g)
    lines.ask_about_stock(planned_g)
    return size


def _is_to_be_lit(request: KitchenRequest, form: StartForm, lines: LinesForm) -> bool:
    return request.POST.get("do") == "start" and form.is_valid() and not lines.errors


def _form(request: KitchenRequest, kitchen: Kitchen) -> StartForm:
    return StartForm(
        request.POST if request.method == "POST" else None,
        kitchen=kitchen,
        recipes=recipes_of(kitchen),
        pans=pans_of(kitchen),
        products=products_of(kitchen),
        moulds=moulds_of(kitchen),
        chosen=request.GET.get("recipe", ""),
    )


def _lines(
    request: KitchenRequest, kitchen: Kitchen, sheet: CostSheet, *, form: StartForm
) -> LinesForm:
    """Boxes for the lines of this recipe; what was typed for another recipe is not taken."""
    lines = lines_of_sheet(kitchen, sheet, pen=Pen(kitchen))
    if request.method != "POST":
        return LinesForm(lines=lines, asks_in_hand=True)
    typed_for = request.POST.get("lines_of", "")
    is_same = typed_for == str(sheet.recipe.id)
    if typed_for and not is_same and form.is_valid():
        names = ("weighed-", "lot-", "supplier-", "source-", "brix-", "hand-")
        if any(value for name, value in request.POST.items() if name.startswith(names)):
            form.add_error("recipe", CHANGED)
    return LinesForm(request.POST if is_same else None, lines=lines, asks_in_hand=True)


def _planned_g(sheet: CostSheet, *, size: Size) -> dict[int, Decimal]:
    lines = as_weighed(sheet, factor=size.factor).lines
    return {n: one.used_g for n, one in enumerate(lines) if one.used_g is not None}


def _started(
    request: KitchenRequest, form: StartForm, lines: LinesForm, *, recipe: Recipe, size: Size
) -> Batch | None:
    """The batch on the fire; None when something has to be mended first."""
    data = form.cleaned_data
    try:
        return start_batch(
            recipe,
            by=request.user,  # type: ignore[arg-type]
            on=timezone.localdate(),
            started_at=timezone.now(),
            pan=form.pan_chosen,
            mould=form.mould_to_fill,
            factor=size.factor,
            lot=data["lot"],
            water_reading_c=data["water_reading_c"],
            report_hpa=data["report_hpa"],
            inputs=lines.inputs() if lines.is_bound else (),
        )
    except ValidationError as error:
        take_errors(form, error)
        return None


# --- What the page shows --------------------------------------------------------------------------


def _context(form: StartForm, lines: LinesForm) -> dict[str, Any]:
    return {
        "form": form,
        "lines": lines,
        "lines_open": lines.is_bound and (bool(lines.errors) or lines.has_something),
        "mistakes": mistakes(form, lines) if form.is_bound else [],
        "has_recipes": bool(form.recipes),
        "has_moulds": bool(form.kept_moulds),
    }


def _sheet_context(
    kitchen: Kitchen, form: StartForm, sheet: CostSheet, *, size: Size
) -> dict[str, Any]:
    pen, pan = Pen(kitchen), form.pan_chosen
    recipe = form.recipes[str(sheet.recipe.id)]
    fine = _fine_positions(kitchen, sheet)
    finished_g = None if sheet.finished_g is None else sheet.finished_g * size.factor
    rows, total = weights(sheet, size=size, fine=fine, pen=pen)
    return {
        "recipe": recipe,
        "factor": f"{size.factor:f}",
        "pan_chosen": pan,
        "weights": rows,
        "total": total,
        "finished": "" if finished_g is None else pen.kilos(finished_g),
        "because": _because(size, pen=pen, is_mended=not form.is_bound or form.is_sized),
        "notes": size.notes,
        "questions": [one.sentence for one in sheet.questions if one.blocks == "mass"],
        "size_cautions": size_cautions(sheet, size=size, pan=pan, fine=fine),
        "cautions": list(dict.fromkeys((HOT_SUGAR, *product_kind(recipe.kind).cautions))),
        "thermometer": thermometer_words(kitchen, form, pen=pen),
        "pan_lessons": pan_lessons(kitchen, pan),
    }


def _because(size: Size, *, pen: Pen, is_mended: bool) -> str:
    """What set the size, in a sentence; while something is to be mended, the recipe stands here."""
    if not is_mended:
        return "Until that is mended: the recipe once, as it is written."
    times = pen.number(round(size.factor, 3))
    if size.factor == 1:
        return f"The recipe once, {size.start.because}."
    return f"{times} times the recipe: {size.start.because}."


def _fine_positions(kitchen: Kitchen, sheet: CostSheet) -> frozenset[int]:
    """Lines that are weighed to a gram, and looked at twice when the size changes much."""
    fine = fine_ingredients(kitchen, [one.line.ingredient_id for one in sheet.lines])
    return frozenset(n for n, one in enumerate(sheet.lines) if one.line.ingredient_id in fine)


def weights(
    sheet: CostSheet, *, size: Size, fine: frozenset[int], pen: Pen
) -> tuple[list[Weigh], Weigh | None]:
    """What to weigh for this size, base first, with what rounding adds or takes; and in all."""
    scaled = as_weighed(sheet, factor=size.factor)
    listed = weighing_list(scaled, spices=fine)
    known = iter(listed.lines)
    weighings = [None if one.used_g is None else next(known) for one in scaled.lines]
    rows = [
        _weigh(n, weighings[n], one.name, size=size, pen=pen)
        for n, one in sorted(enumerate(scaled.lines), key=lambda pair: not pair[1].line.is_base)
    ]
    if not listed.lines:
        return rows, None
    aside = _rounding(listed.error_g, pen=pen) or "rounding changes nothing"
    exact_g = listed.weigh_g - listed.error_g
    if listed.error_g and exact_g:
        share = pen.percent(round(abs(listed.error_g) * 100 / exact_g, 2))
        aside = f"all rounding together: {aside}, {share}"
    return rows, Weigh("In all", pen.mass(listed.weigh_g), (aside,))


def _weigh(position: int, one: Weighing | None, name: str, *, size: Size, pen: Pen) -> Weigh:
    if one is None:
        return Weigh(name, "", ("not known in grams yet",))
    asides = [_rounding(one.error_g, pen=pen)]
    if one.is_large:
        asides[0] += f", {pen.percent(round(abs(one.error_pct), 1))} of it: weigh it finer"
    left_g = (size.start.left_over or {}).get(position)
    if left_g is not None:
        asides.append(f"{pen.told(left_g)} stays over" if left_g >= 1 else "all of it")
    return Weigh(name, pen.mass(one.weigh_g), tuple(aside for aside in asides if aside))


def _rounding(difference_g: Decimal, *, pen: Pen) -> str:
    shown = round(difference_g, 1)
    if not shown:
        return ""
    return f"rounded {'up' if shown > 0 else 'down'} by {pen.number(abs(shown))} g"


def size_cautions(
    sheet: CostSheet, *, size: Size, pan: Pan | None, fine: Sequence[int] | frozenset[int]
) -> list[str]:
    """The foam, and what does not grow with the size; the lines it concerns are named."""
    foam = ""
    if pan is not None and pan.capacity_l and sheet.ingoing_g:
        foam = pan_caution(sheet.ingoing_g * size.factor, pan_ml=pan.capacity_l * _ML_PER_L)
    said = [one for one in size.start.cautions if one not in foam]
    if any(one.startswith("This is ") for one in said):
        named = [one.name for n, one in enumerate(sheet.lines) if n in fine]
        if named:
            said.append(f"Above all: {', '.join(named)}.")
        minutes = sheet.recipe.attended_minutes
        if minutes:
            said.append(f"The {minutes.normalize():f} minutes of the recipe are for its own size.")
    return [foam, *said] if foam else said
