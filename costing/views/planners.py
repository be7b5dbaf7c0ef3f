"""Planning what is poured: a pan into moulds, a pan into jars, and how heavy the paste is.

All three are questions: they answer what stands in their boxes, and save nothing.
"""

from dataclasses import dataclass
from decimal import Decimal

from django.http import HttpResponse, QueryDict
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from costing.forms.fields import as_typed, mistakes
from costing.forms.planners import JarsForm, SlabForm, TubForm
from costing.models import Kitchen, Member, Mould, Product
from costing.product_kinds import HOT_SUGAR
from costing.reckoning.book import CostSheet
from costing.reckoning.errors import ReckoningError
from costing.reckoning.jars import (
    GiveAway,
    JarFill,
    count_jars,
    fill_jar,
    give_away,
    suggested_target,
)
from costing.reckoning.paste_density import Strength, strength_of
from costing.reckoning.tub_density import TubDensity, tub_density
from costing.selectors.kitchens import this_kitchens
from costing.selectors.moulds import moulds_of
from costing.selectors.products import products_of
from costing.selectors.recipes import recipes_of
from costing.services.recipes import cost_recipes
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.jar_picture import JarPicture, jar_picture
from costing.views.menu import COOK
from costing.views.recipe_words import NBSP, Pen
from costing.views.slab_answers import Heavy, heavy, law_of, slab_answer

JARS = "jars"
_MOST_KEPT = 2000


@kitchen_view(COOK)
def mould_plan(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """How many of this mould, how deep, how cut, and where every gram goes."""
    mould = this_kitchens(Mould, kitchen=kitchen, pk=pk)
    is_asked = "by" in request.GET
    form = SlabForm(
        request.GET if is_asked else None,
        products=products_of(kitchen).exclude(form=Product.Form.JAR),
        recipes=recipes_of(kitchen),
        initial={"by": "net", **_brought(request)},
    )
    answer, weighs = None, None
    if is_asked and form.is_valid():
        try:
            weighs = _heavy(form, kitchen, _sheet(form, kitchen))
            answer = slab_answer(form, mould=mould, weighs=weighs, kitchen=kitchen)
        except ReckoningError as error:
            form.take(error)
    context = {
        "form": form,
        "mould": mould,
        "moulds": [one for one in moulds_of(kitchen) if one.pk != mould.pk],
        "answer": answer,
        "weighs": weighs,
        "hot_sugar": HOT_SUGAR,
        "mistakes": mistakes(form) if is_asked else [],
        "kept": request.GET.urlencode(),
    }
    return render(request, "costing/mould_plan.html", context)


@kitchen_view(COOK)
def jars(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """How many jars, how much into each, and how full they stand."""
    is_asked = "net_kg" in request.GET and "brimful_ml" in request.GET
    form = JarsForm(
        request.GET if is_asked else None,
        products=products_of(kitchen).filter(form=Product.Form.JAR),
        recipes=recipes_of(kitchen),
        initial=_brought(request),
    )
    answer, weighs = None, None
    if is_asked and form.is_valid():
        try:
            sheet = _sheet(form, kitchen)
            weighs = _heavy(form, kitchen, sheet)
            sees_costs = request.member.role == Member.Role.OWNER
            answer = jars_answer(
                form, weighs=weighs, kitchen=kitchen, sheet=sheet if sees_costs else None
            )
        except ReckoningError as error:
            form.take(error)
    context = {
        "form": form,
        "answer": answer,
        "weighs": weighs,
        "hot_sugar": HOT_SUGAR,
        "mistakes": mistakes(form) if is_asked else [],
        "kept": request.GET.urlencode(),
    }
    return render(request, "costing/jars.html", context)


@kitchen_view(COOK)
def density_test(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """How heavy a millilitre is: one small tub, weighed three times."""
    is_asked = "tub_g" in request.GET
    came = {name: request.GET.get(name, "") for name in ("to", "kept")}
    form = TubForm(request.GET if is_asked else None, initial=came)
    found = None
    if is_asked and form.is_valid():
        try:
            found = tub_density(**form.weighings())
        except ReckoningError as error:
            form.add_error(error.field if error.field in form.fields else None, str(error))
    context = {
        "form": form,
        "found": found,
        "density": Pen(kitchen).number(round(found.density_g_per_ml, 3)) if found else "",
        "give_or_take": Pen(kitchen).number(round(found.uncertainty_g_per_ml, 3)) if found else "",
        "ways_on": _ways_on(kitchen, found, came) if found else (),
        "mistakes": mistakes(form) if is_asked else [],
    }
    return render(request, "costing/tub_density.html", context)


def _brought(request: KitchenRequest) -> dict[str, str]:
    """Figures that a link brought along, for the boxes of a form nobody has sent yet."""
    return {name: str(value) for name, value in request.GET.items() if "\x00" not in value}


def _sheet(form: SlabForm | JarsForm, kitchen: Kitchen) -> CostSheet | None:
    if form.recipe is None:
        return None
    return cost_recipes(kitchen, [form.recipe.pk], on=timezone.localdate())[form.recipe.pk]


def _heavy(form: SlabForm | JarsForm, kitchen: Kitchen, sheet: CostSheet | None) -> Heavy:
    """What was typed goes before what the recipe says."""
    brix, whose = form.figure("brix"), ""
    strength = Strength(brix) if brix is not None else None
    if strength is None and sheet is not None and form.recipe is not None:
        strength, whose = strength_of(sheet), form.recipe.name
    return heavy(
        typed=form.figure("density"),
        strength=strength,
        fill_c=form.cleaned_data["fill_c"],
        whose=whose,
        pen=Pen(kitchen),
    )


# --- Jars -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class JarsAnswer:
    """What the page shows. facts: what, figure, note."""

    figure: str
    unit: str
    sentence: str
    picture: JarPicture
    facts: tuple[tuple[str, str, str], ...]
    cautions: tuple[str, ...]


def jars_answer(
    form: JarsForm, *, weighs: Heavy, kitchen: Kitchen, sheet: CostSheet | None
) -> JarsAnswer:
    """Work the jars out. sheet: what a kilo costs, None for who sees no costs.

    Raises ReckoningError, with its field, for what cannot be.
    """
    pen, data = Pen(kitchen), form.cleaned_data
    declared_g, brimful_ml = data["declared_g"], data["brimful_ml"]
    advised = suggested_target(
        declared_g, scale_step_g=data["scale_step_g"], spread_g=data["spread_g"],
        law=law_of(kitchen),
    )  # fmt: skip
    fill_g, because = _fill(form, advised.target_g)
    fill = fill_jar(fill_g=fill_g, brimful_ml=brimful_ml, density_g_per_ml=weighs.cold)
    at_hand = None if data["at_hand"] is None else int(data["at_hand"])
    count = count_jars(data["net_kg"] * 1000, target_g=fill_g, jars_at_hand=at_hand)
    given = give_away(
        declared_g=declared_g, fill_g=fill_g, jars=count.jars,
        cost_per_kg=None if sheet is None else sheet.cost_per_kg_finished,
    )  # fmt: skip
    hot_pct = None if weighs.hot is None else fill_g / weighs.hot * 100 / brimful_ml
    facts = (
        ("Fill each with", _g(fill_g, pen), because),
        ("Suggested", _g(advised.target_g, pen), advised.because),
        *_fill_facts(fill, pen),
        ("A millilitre", f"{pen.number(round(weighs.cold, 3))}{NBSP}g", weighs.source),
        ("Left over", pen.mass(count.remainder_g), "a tasting jar, or into the next batch"),
        *_given_facts(given, sheet, pen),
    )
    return JarsAnswer(
        figure=str(count.jars),
        unit="jar" if count.jars == 1 else "jars",
        sentence=f"{_g(fill_g, pen)} in each, {pen.mass(count.remainder_g)} left over.",
        picture=jar_picture(
            brimful_ml=brimful_ml, full_pct=fill.full_pct, hot_pct=hot_pct,
            height_mm=data["height_mm"], pen=pen,
        ),
        facts=facts,
        cautions=(*fill.cautions, *_hot_caution(hot_pct)),
    )  # fmt: skip


def _fill_facts(fill: JarFill, pen: Pen) -> tuple[tuple[str, str, str], ...]:
    return (
        ("It takes up", f"{pen.number(round(fill.volume_ml, 2))}{NBSP}ml",
         f"{pen.number(round(fill.full_pct, 2))}{NBSP}% of the jar"),
        ("Headspace", f"{pen.number(round(fill.headspace_ml, 2))}{NBSP}ml", "cold"),
    )  # fmt: skip


def _given_facts(
    given: GiveAway, sheet: CostSheet | None, pen: Pen
) -> tuple[tuple[str, str, str], ...]:
    """Grams over the label; what they cost, for who may see it and where it is known."""
    over = f"{_g(given.each_g, pen)} a jar over the label"
    grams = ("Given away", pen.mass(given.total_g), over)
    if given.cost is None or sheet is None:
        return (grams,)
    least = "" if sheet.is_complete else "at least, for not all is known: "
    return grams, ("That costs", pen.money(given.cost), f"{least}at your own cost of a kilo")


def _fill(form: JarsForm, advised_g: Decimal) -> tuple[Decimal, str]:
    """What goes into a jar, and who says so."""
    typed = form.figure("fill_g")
    if typed is not None:
        return typed, "as typed"
    product = form.product
    if product is not None and product.net_quantity_g == form.cleaned_data["declared_g"]:
        return product.fill_g, f"as {product.name} is filled"
    return advised_g, "as suggested"


def _hot_caution(hot_pct: Decimal | None) -> tuple[str, ...]:
    if hot_pct is None or hot_pct <= 100:
        return ()
    return ("Hot it does not fit: it would stand above the brim. Take a larger jar or fill less.",)


def _g(value: Decimal, pen: Pen) -> str:
    return f"{pen.number(round(value, 2))}{NBSP}g"


# --- On from the density test ---------------------------------------------------------------------


def _ways_on(
    kitchen: Kitchen, found: TubDensity, came: dict[str, str]
) -> tuple[tuple[str, str], ...]:
    """Planners that take the density, the one somebody came from first: words and address."""
    density = as_typed(round(found.density_g_per_ml, 3))
    moulds = {str(one.pk): one for one in moulds_of(kitchen)}
    ways = [("Plan jars with it", JARS, reverse("jars", args=[kitchen.pk]))] + [
        (f"Plan {one.name} with it", pk, reverse("mould_plan", args=[kitchen.pk, one.pk]))
        for pk, one in moulds.items()
    ]
    ways.sort(key=lambda way: way[1] != came["to"])
    return tuple(
        (words, f"{address}?{_with_density(came['kept'] if to == came['to'] else '', density)}")
        for words, to, address in ways
    )


def _with_density(kept: str, density: str) -> str:
    """The figures somebody came with, the density among them."""
    figures = QueryDict(kept[:_MOST_KEPT], mutable=True)
    figures["density"] = density
    return figures.urlencode()
