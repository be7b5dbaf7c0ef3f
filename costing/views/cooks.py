"""Cooks: the list, and lighting the fire: how much, in which pan, by which thermometer."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.cooks import BY_BASE, BY_NET, BY_PAN, BY_UNITS, StartForm
from costing.forms.fields import mistakes, take_errors
from costing.models import Batch, Kitchen, Recipe
from costing.product_kinds import HOT_SUGAR, product_kind
from costing.reckoning.book import CostSheet
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.scaling import factor_for_net, scaling_caution
from costing.selectors.batches import batches_of, pans_of
from costing.selectors.products import products_of
from costing.selectors.recipes import recipes_of
from costing.services.batches import start_batch
from costing.services.recipes import cost_recipes
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.ingredients import searched
from costing.views.menu import COOK
from costing.views.recipe_words import Pen

PER_PAGE = 50
HALF = Decimal("0.5")
_KILO, _SPICE_G = Decimal(1000), Decimal(50)
# A pan of fruit and sugar weighs more than a litre of water; without its density a litre is taken
# as 1.1 kg, between fruit and a heavy syrup (common practice).
_G_PER_L = Decimal(1100)


@dataclass(frozen=True)
class Weigh:
    """One line of the sheet: what to weigh, rounded for the scale, and what the rounding does."""

    name: str
    weight: str
    rounding: str
    grams: Decimal | None
    exact_g: Decimal | None


@kitchen_view(COOK)
def cooks(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """What is on the fire, then what was cooked."""
    q = searched(request)
    rows = batches_of(kitchen)
    fires = list(rows.filter(status=Batch.Status.ON_THE_FIRE)) if not q else []
    done = rows.exclude(status=Batch.Status.ON_THE_FIRE) if not q else rows
    if q:
        done = done.filter(lot__icontains=q) | done.filter(recipe__name__icontains=q)
    page = Paginator(done, PER_PAGE).get_page(request.GET.get("page"))
    has_recipes = recipes_of(kitchen).exists()
    context = {"fires": fires, "page": page, "q": q, "has_recipes": has_recipes}
    return render(request, "costing/cooks.html", context)


@kitchen_view(COOK)
def cook_start(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Choose what to cook and how much; see the weights; light the fire."""
    form = StartForm(
        request.POST if request.method == "POST" else None,
        recipes=list(recipes_of(kitchen)),
        pans=list(pans_of(kitchen)),
        products=list(products_of(kitchen)),
        chosen=request.GET.get("recipe", ""),
    )
    recipe = form.recipe_chosen
    sheet = _sheet(kitchen, recipe) if recipe else None
    factor, is_told = Decimal(1), form.is_bound
    if form.is_bound and form.is_valid() and sheet is not None and recipe is not None:
        factor = _factor_or_mistake(form, sheet)
        if form.is_valid() and request.POST.get("do") == "start":
            batch = _started(request, form, sheet, recipe=recipe, factor=factor)
            if batch is not None:
                messages.success(request, f"Lot {batch.lot} is on the fire.")
                return redirect("cook", kitchen.pk, batch.pk)
    pen = Pen(kitchen)
    context: dict[str, Any] = {
        "form": form,
        "mistakes": mistakes(form) if is_told else [],
        "recipe": recipe,
        "has_recipes": bool(form.recipes),
    }
    if sheet is not None and recipe is not None:
        finished_g = None if sheet.finished_g is None else sheet.finished_g * factor
        context |= {
            "weights": weights(sheet, factor=factor, pen=pen),
            "finished": "" if finished_g is None else pen.kilos(finished_g),
            "scaling": scaling_caution(factor),
            "foam": foam_caution(sheet, form, factor=factor),
            "cautions": list(dict.fromkeys((HOT_SUGAR, *product_kind(recipe.kind).cautions))),
            "base_name": next((one.name for one in sheet.lines if one.line.is_base), ""),
        }
    return render(request, "costing/cook_start.html", context)


def _sheet(kitchen: Kitchen, recipe: Recipe) -> CostSheet:
    return cost_recipes(kitchen, [recipe.pk], on=timezone.localdate())[recipe.pk]


def _factor_or_mistake(form: StartForm, sheet: CostSheet) -> Decimal:
    """How many times the recipe; what stands in the way is said at its box."""
    try:
        return round(_factor(form, sheet), 6) or Decimal("0.000001")
    except MassUnknown as unknown:
        sentence = unknown.questions[0].sentence if unknown.questions else str(unknown)
        form.add_error("size_by", f"How much comes out is not known yet. {sentence}")
    except ReckoningError as error:
        form.add_error("size_by", str(error))
    return Decimal(1)


def _factor(form: StartForm, sheet: CostSheet) -> Decimal:
    data = form.cleaned_data
    way = data["size_by"]
    if way == BY_BASE:
        if not sheet.base_g:
            raise ReckoningError(
                "This recipe has no base, so its size cannot be told from one. Choose another way.",
                field="size_by",
            )
        return Decimal(data["base_kg"] * _KILO / sheet.base_g)
    if way == BY_NET:
        return factor_for_net(sheet, net_g=data["net_kg"] * _KILO)
    if way == BY_UNITS:
        product = form.products[data["product"]]
        return factor_for_net(sheet, net_g=data["units"] * product.fill_g)
    if way == BY_PAN:
        capacity_l = form.pans[data["pan"]].capacity_l
        if not sheet.ingoing_g or capacity_l is None:
            raise ReckoningError("What goes in is not all known in grams yet.", field="size_by")
        return Decimal(capacity_l * HALF * _G_PER_L / sheet.ingoing_g)
    return Decimal(1)


def _started(
    request: KitchenRequest, form: StartForm, sheet: CostSheet, *, recipe: Recipe, factor: Decimal
) -> Batch | None:
    """The batch on the fire; None when something has to be mended first."""
    now = timezone.now()
    try:
        return start_batch(
            recipe,
            by=request.user,  # type: ignore[arg-type]
            on=timezone.localdate(),
            started_at=now,
            pan=form.pan_chosen,
            factor=factor,
            lot=form.cleaned_data["lot"],
            water_reading_c=form.cleaned_data["water_reading_c"],
        )
    except ValidationError as error:
        take_errors(form, error)
        return None


# --- Weights for the scale ------------------------------------------------------------------------


def for_the_scale(grams: Decimal) -> Decimal:
    """A weight as it can be weighed: 0.1 g of a pinch, 1 g of spices, 5 g below a kilo, 10 above.

    >>> for_the_scale(Decimal("8103.4")), for_the_scale(Decimal(183))
    (Decimal('8100'), Decimal('185'))
    """
    step = Decimal(10) if grams >= _KILO else Decimal(5)
    if grams < _SPICE_G:
        step = Decimal(1) if grams >= 5 else Decimal("0.1")
    return (grams / step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step


def weights(sheet: CostSheet, *, factor: Decimal, pen: Pen) -> list[Weigh]:
    """What to weigh for this size, base first, with what rounding adds or takes."""
    ordered = sorted(sheet.lines, key=lambda line: not line.line.is_base)
    rows = []
    for one in ordered:
        if one.used_g is None:
            rows.append(Weigh(one.name, "", "not known in grams yet", None, None))
            continue
        exact_g = one.used_g * factor
        grams = for_the_scale(exact_g)
        rows.append(
            Weigh(one.name, pen.mass(grams), _rounding(grams - exact_g, pen), grams, exact_g)
        )
    return rows


def _rounding(difference_g: Decimal, pen: Pen) -> str:
    shown = round(difference_g, 1)
    if not shown:
        return ""
    return f"rounded {'up' if shown > 0 else 'down'} by {pen.number(abs(shown))} g"


def foam_caution(sheet: CostSheet, form: StartForm, *, factor: Decimal) -> str:
    """That a pan would be more than half full, where its size is known."""
    pan = form.pan_chosen
    if pan is None or pan.capacity_l is None or not sheet.ingoing_g:
        return ""
    litres = sheet.ingoing_g * factor / _G_PER_L
    if litres <= pan.capacity_l * HALF * Decimal("1.01"):
        return ""
    return (
        f"About {litres:.1f} litres go into {pan.name}, which holds {pan.capacity_l.normalize():f}."
        " More than half full boils over: cook it in two pans, or choose a larger one."
    )
