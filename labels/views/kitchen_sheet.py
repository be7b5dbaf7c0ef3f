"""The kitchen sheet as one page of paper, for a pan on the fire or for a recipe not yet lit."""

from datetime import datetime
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from costing.forms.fields import AmountField
from costing.models import BatchInput, BatchReading, Kitchen, Member, Pan, Recipe
from costing.product_kinds import HOT_SUGAR, PIECE, SLAB, product_kind
from costing.reckoning.book import CostedLine, CostSheet
from costing.reckoning.errors import ReckoningError
from costing.reckoning.setting import USUAL, Wait, ready_times
from costing.reckoning.stove import Band, Target, target
from costing.reckoning.weighing import as_weighed, round_to_weigh
from costing.selectors.batches import BatchPage, batch_page
from costing.selectors.kitchens import possible_ids, this_kitchens
from costing.services.batch_stove import stove_plan
from costing.services.recipes import cost_recipes
from costing.views.access import kitchen_view
from costing.views.cook_stove import BURNT
from costing.views.recipe_words import NOT_PROOF, Pen, day
from labels.rendering.fonts import RenderingUnavailable
from labels.rendering.paper import (
    PaperRow,
    PaperSheet,
    PaperStop,
    PaperWeight,
    kitchen_sheet_pdf,
)

COOK = Member.Role.COOK
_FACTOR = AmountField(required=False, above=0, most=10_000, places=6)
_KIND = BatchReading.Kind
_G_PER_KG = Decimal(1000)
_RANGES = "The range under a figure holds the true one nine times in ten."


@kitchen_view(COOK)
def batch_sheet(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The sheet of one pan: this thermometer, this pan, what is known by now."""
    page = batch_page(kitchen, pk)
    sheet = of_batch(page, pen=Pen(kitchen))
    return _answer(sheet, kitchen=kitchen, name=f"sheet-{page.batch.lot}")


@kitchen_view(COOK)
def recipe_sheet(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The sheet of a recipe before it is lit, in the size that the address names: ?factor=1,5."""
    recipe = this_kitchens(Recipe, kitchen=kitchen, pk=pk)
    pan = _pan(kitchen, request.GET.get("pan", ""))
    try:
        factor = _FACTOR.clean(request.GET.get("factor", "")) or Decimal(1)
        costed = cost_recipes(kitchen, [recipe.pk], on=timezone.localdate())[recipe.pk]
    except ValidationError as error:
        return _refused(f"How many times the recipe? {error.messages[0]}")
    except ReckoningError as error:
        return _refused(f"{recipe.name} cannot be reckoned: {error}")
    sheet = of_recipe(recipe, costed, factor=factor, pan=pan, pen=Pen(kitchen))
    return _answer(sheet, kitchen=kitchen, name=f"sheet-{recipe.name}")


def _pan(kitchen: Kitchen, named: str) -> Pan | None:
    if not (named.isascii() and named.isdigit() and possible_ids([int(named[:20])])):
        return None
    return this_kitchens(Pan, kitchen=kitchen, pk=int(named[:20]))


def _refused(sentence: str) -> HttpResponse:
    return HttpResponse(sentence, status=400, content_type="text/plain; charset=utf-8")


def _answer(sheet: PaperSheet, *, kitchen: Kitchen, name: str) -> HttpResponse:
    try:
        pdf = kitchen_sheet_pdf(sheet, paper="A4" if kitchen.paper_size == "A4" else "Letter")
    except RenderingUnavailable as reason:
        return HttpResponse(str(reason), status=503, content_type="text/plain; charset=utf-8")
    safe = "".join(sign if sign.isalnum() or sign == "-" else "_" for sign in name)
    response = HttpResponse(pdf, content_type="application/pdf")
    ascii_name = safe.encode("ascii", "ignore").decode()
    response["Content-Disposition"] = f'inline; filename="{ascii_name}.pdf"'
    return response


# --- A pan ----------------------------------------------------------------------------------------


def of_batch(page: BatchPage, *, pen: Pen) -> PaperSheet:
    """The sheet of a batch, with what was read and weighed by now already in its boxes."""
    batch = page.batch
    goal = target(stove_plan(batch))
    about = [day(batch.made_on)]
    if batch.pan is not None:
        about.append(batch.pan.name)
        if batch.pan.tare_g is not None:
            about.append(f"empty {pen.kilos(batch.pan.tare_g)}")
    water = batch.water_reading_c
    stops = stops_of(goal, has_water=water is not None, pen=pen)
    ranges = _RANGES if any(stop.between for stop in stops) else ""
    return PaperSheet(
        title=batch.recipe.name,
        lot=batch.lot,
        about=", ".join(about),
        stops=stops,
        rise=_figure(goal.rise_k, pen=pen),
        water="" if water is None else pen.number(water, places=1),
        weights=tuple(_of_input(row, pen=pen) for row in page.inputs),
        readings=tuple(_of_reading(row, pen=pen) for row in page.in_force),
        asks=tuple(ask.sentence for ask in goal.asks),
        setting=setting_in_words(batch.recipe.kind, poured_at=batch.finished_at),
        notes=tuple(filter(None, (ranges, goal.weakest))),
        cautions=cautions_of(batch.recipe, goal.cautions),
        first_aid=BURNT,
    )


def stops_of(goal: Target, *, has_water: bool, pen: Pen) -> tuple[PaperStop, ...]:
    """Thermometer, scale and refractometer, each with its 5 to 95 % band."""
    thermometer = "This thermometer" if has_water else "A true thermometer"
    on_the_scale = ("Scale, pan and all", goal.gross_g)
    if goal.gross_g is None:
        on_the_scale = ("Scale, pan taken off", goal.pot_g)
    found = (
        (thermometer, goal.reading_c, "°C", Decimal(1), 1),
        (*on_the_scale, "kg", _G_PER_KG, 2),
        ("Refractometer", goal.brix, "Brix", Decimal(1), 1),
    )
    return tuple(
        PaperStop(
            name,
            _figure(band, pen=pen, per=per, places=places),
            unit,
            _between(band, pen=pen, per=per, places=places),
        )
        for name, band, unit, per, places in found
        if band is not None
    )


def _figure(band: Band | None, *, pen: Pen, per: Decimal = Decimal(1), places: int = 1) -> str:
    return "" if band is None else pen.number(band.value / per, places=places)


def _between(band: Band, *, pen: Pen, per: Decimal, places: int) -> str:
    low, high = (pen.number(edge / per, places=places) for edge in (band.low, band.high))
    return f"{low} to {high}" if low != high else ""


def _of_input(row: BatchInput, *, pen: Pen) -> PaperWeight:
    name = str(row.ingredient or row.preparation)
    lot = row.from_batch.lot if row.from_batch is not None else row.supplier_lot
    if row.from_batch is None and row.supplier is not None:
        lot = ", ".join(filter(None, (row.supplier.name, lot)))
    weighed = "" if row.weighed_g is None else pen.mass(row.weighed_g)
    if row.planned_g is None:
        return PaperWeight(name, "not known", weighed=weighed, lot=lot)
    line = round_to_weigh(name, exact_g=row.planned_g)
    weigh_g = line.weigh_g if row.to_weigh_g is None else row.to_weigh_g
    note = _rounding(weigh_g - row.planned_g, pen=pen)
    return PaperWeight(name, pen.mass(weigh_g), note, weighed=weighed, lot=lot)


def _rounding(error_g: Decimal, *, pen: Pen) -> str:
    shown = round(error_g, 1)
    if not shown:
        return ""
    return f"rounded {'up' if shown > 0 else 'down'} by {pen.number(abs(shown))} g"


def _of_reading(row: BatchReading, *, pen: Pen) -> PaperRow:
    at, value = f"{timezone.localtime(row.read_at):%H:%M}", pen.number(row.value)
    if row.kind == _KIND.TEMPERATURE:
        return PaperRow(at, temperature=value)
    if row.kind == _KIND.WEIGHT:
        return PaperRow(at, scale=pen.number(row.value / _G_PER_KG, places=2))
    if row.kind == _KIND.BRIX:
        return PaperRow(at, brix=value)
    return PaperRow(at, added=f"{row.kind} {value}")


# --- A recipe -------------------------------------------------------------------------------------


def of_recipe(
    recipe: Recipe, costed: CostSheet, *, factor: Decimal, pan: Pan | None, pen: Pen
) -> PaperSheet:
    """The sheet of a recipe not yet lit: the plan's figures, without bands, and boxes for all."""
    balance = costed.balance
    times = "the recipe as written" if factor == 1 else f"{pen.number(round(factor, 3))} times it"
    comes = "" if balance is None else f"about {pen.kilos(balance.finished_g * factor)} come of it"
    rise = None if balance is None else balance.rise_k
    lines = as_weighed(costed, factor=factor).lines
    base_first = sorted(lines, key=lambda line: not line.line.is_base)
    return PaperSheet(
        title=recipe.name,
        lot="",
        about=", ".join(filter(None, (times, "" if pan is None else pan.name, comes))),
        stops=_planned_stops(costed, factor=factor, pan=pan, pen=pen),
        rise="" if rise is None else pen.number(rise, places=1),
        weights=tuple(_of_line(line, pen=pen) for line in base_first),
        asks=tuple(q.sentence for q in costed.questions if q.blocks == "mass"),
        setting=setting_in_words(recipe.kind, poured_at=None),
        cautions=cautions_of(recipe, () if balance is None else balance.cautions),
        first_aid=BURNT,
    )


def _of_line(line: CostedLine, *, pen: Pen) -> PaperWeight:
    if line.used_g is None:
        return PaperWeight(line.name, "not known")
    weighed = round_to_weigh(line.name, exact_g=line.used_g)
    return PaperWeight(line.name, pen.mass(weighed.weigh_g), _rounding(weighed.error_g, pen=pen))


def _planned_stops(
    costed: CostSheet, *, factor: Decimal, pan: Pan | None, pen: Pen
) -> tuple[PaperStop, ...]:
    balance = costed.balance
    if balance is None:
        return ()
    tare_g = None if pan is None else pan.tare_g
    pot_g = balance.pot_g * factor
    found = []
    if balance.reading_c is not None:
        reading = pen.number(balance.reading_c, places=1)
        found.append(PaperStop("Kitchen thermometer", reading, "°C"))
    name = "Scale, pan taken off" if tare_g is None else "Scale, pan and all"
    gross_kg = (pot_g + (tare_g or Decimal(0))) / _G_PER_KG
    found.append(PaperStop(name, pen.number(gross_kg, places=2), "kg"))
    if balance.finishing_brix is not None:
        brix = pen.number(balance.finishing_brix, places=1)
        found.append(PaperStop("Refractometer", brix, "Brix"))
    return tuple(found)


# --- Both -----------------------------------------------------------------------------------------


def setting_in_words(kind: str, *, poured_at: datetime | None) -> tuple[str, ...]:
    """When a slab can be cut and packed: by the clock once it is poured; nothing for jars alone."""
    if not {SLAB, PIECE} & set(product_kind(kind).forms):
        return ()
    if poured_at is None:
        cut, pack = _hours(USUAL.cut), _hours(USUAL.pack)
        return (f"Cut {cut} after pouring, pack {pack} after ({USUAL.source}).",)
    ready = ready_times(timezone.localtime(poured_at))
    cut, pack = f"{ready.cut_from:%A %H:%M}", f"{ready.pack_from:%A %H:%M}"
    poured = f"{ready.poured_at:%H:%M}"
    return (f"Poured {poured}: cut from {cut}, pack from {pack} ({ready.source}).",)


def _hours(wait: Wait) -> str:
    shortest, longest = (
        int(each.total_seconds() // 3600) for each in (wait.shortest, wait.longest)
    )
    return f"{shortest} to {longest} h"


def cautions_of(recipe: Recipe, of_the_pan: tuple[str, ...]) -> tuple[str, ...]:
    """Boiling sugar first, then the kind's own, then this pan's, and what this is not."""
    every = (HOT_SUGAR, *product_kind(recipe.kind).cautions, *of_the_pan, NOT_PROOF)
    return tuple(dict.fromkeys(every))
