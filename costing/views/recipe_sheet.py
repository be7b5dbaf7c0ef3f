"""The cost sheet in the maker's words: every amount with the sum it comes from."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from django.urls import reverse

from costing.reckoning.book import (
    AS_PURCHASED,
    ENERGY,
    LABOUR,
    MATERIALS,
    NATURES,
    NO_COOK,
    OVERHEAD,
    PACKAGING,
    CostedLine,
    CostSheet,
    IngredientRecord,
    MassBalance,
    PriceRecord,
)
from costing.selectors.kitchens import kitchen_record
from costing.views.charts import BarPicture, money_picture
from costing.views.recipe_words import Pen, as_written, base_called, day

_HUNDRED = Decimal(100)
_G_PER_KG = Decimal(1000)
_KJ_PER_KWH = Decimal(3600)


@dataclass(frozen=True)
class SheetRow:
    """One amount of the sheet and how it came about.

    aside: the mass or the time, beside the name. amount: empty where it is not known.
    steps: the sum, sentence by sentence. links: (words, address) to where a figure is kept.
    """

    name: str
    aside: str = ""
    amount: str = ""
    steps: tuple[str, ...] = ()
    links: tuple[tuple[str, str], ...] = ()
    is_lower_bound: bool = False


@dataclass(frozen=True)
class SheetPage:
    """The whole sheet, ready for its template."""

    lines: tuple[SheetRow, ...]
    here: tuple[SheetRow, ...]
    losses: tuple[SheetRow, ...]
    total: SheetRow
    per_kg: SheetRow
    per_kg_ingoing: SheetRow
    natures: tuple[SheetRow, ...]
    picture: BarPicture | None


def sheet_page(
    sheet: CostSheet, *, pen: Pen, ingredients: Mapping[int, IngredientRecord]
) -> SheetPage:
    """Every amount of a cost sheet with its working."""
    lines = tuple(_line_row(line, sheet, pen=pen, ingredients=ingredients) for line in sheet.lines)
    return SheetPage(
        lines=lines,
        here=_here(sheet, pen=pen),
        losses=_losses(sheet, pen=pen),
        total=_total(sheet, pen=pen),
        per_kg=_per_kg(sheet, pen=pen),
        per_kg_ingoing=_per_kg_ingoing(sheet, pen=pen),
        natures=tuple(_nature(nature, sheet, pen=pen) for nature in NATURES),
        picture=_money_picture(sheet, pen=pen),
    )


# --- What goes in --------------------------------------------------------------------------------


def _line_row(
    costed: CostedLine,
    sheet: CostSheet,
    *,
    pen: Pen,
    ingredients: Mapping[int, IngredientRecord],
) -> SheetRow:
    row = SheetRow(
        name=costed.name,
        aside="" if costed.used_g is None else pen.kilos(costed.used_g),
        amount="" if costed.cost is None else pen.money(costed.cost),
        is_lower_bound=costed.cost is None,
    )
    steps = _mass_steps(costed, sheet, pen=pen, ingredients=ingredients)
    if costed.line.recipe_id is not None:
        return _preparation_row(row, costed, steps, pen=pen)
    pk = costed.line.ingredient_id
    found = ingredients.get(pk) if pk is not None else None
    links = [(f"Prices of {costed.name}", _to("ingredient", pen, pk))]
    if costed.price is None and found is not None and found.is_water:
        steps.append("Water has no price here. It counts as weight, and in the energy bill.")
    elif costed.price is None:
        steps.append(f"Its price is not known on {day(sheet.on)}.")
        links = [(f"Record a price of {costed.name}", _to("price_new", pen, pk))]
    elif costed.cost is not None and costed.purchased_g is not None:
        price = costed.price
        steps.append(
            f"{pen.kilos(costed.purchased_g)} × {pen.price(price.per_kg)} a kilo"
            f" = {pen.money(costed.cost)}."
        )
        steps.append(_price_in_words(price))
    return replace(row, steps=tuple(steps), links=tuple(links))


def _preparation_row(row: SheetRow, costed: CostedLine, steps: list[str], *, pen: Pen) -> SheetRow:
    if costed.cost is not None and costed.used_g is not None and costed.per_kg_used is not None:
        steps.append(
            f"{pen.kilos(costed.used_g)} × {pen.price(costed.per_kg_used)} a finished"
            f" kilo = {pen.money(costed.cost)}."
        )
    known = [f"{nature} {pen.money(cost)}" for nature, cost in costed.natures.items() if cost > 0]
    if known:
        steps.append(f"In it: {', '.join(known)}.")
    least = sum(costed.natures.values(), Decimal(0))
    if costed.cost is None:
        steps.append("Something in it is not known yet, so it costs at least that.")
        row = replace(row, amount=pen.money(least) if least else "")
    link = (f"The sheet of {costed.name}", _to("recipe", pen, costed.line.recipe_id))
    return replace(row, steps=tuple(steps), links=(link,))


def _mass_steps(
    costed: CostedLine,
    sheet: CostSheet,
    *,
    pen: Pen,
    ingredients: Mapping[int, IngredientRecord],
) -> list[str]:
    """From what was typed to what goes into the pan and what must be bought for it."""
    line, steps = costed.line, []
    if costed.used_g is None:
        return [f"{as_written(line.amount, line.unit, pen=pen)}: its weight is not known yet."]
    typed_g = costed.purchased_g if line.state == AS_PURCHASED else costed.used_g
    if line.is_base and line.unit == "%" and line.amount == _HUNDRED:
        steps.append(f"The base: {pen.kilos(costed.used_g)}.")
    elif line.unit == "%" and sheet.base_g is not None:
        steps.append(
            f"{pen.percent(line.amount)} of {pen.kilos(sheet.base_g)} {base_called(sheet)}"
            f" = {pen.kilos(typed_g or costed.used_g)}."
        )
    elif line.unit not in {"kg", "g"} and typed_g is not None:
        found = ingredients.get(line.ingredient_id or -1)
        weighs = ""
        if found is not None and found.each_g is not None and line.unit in {"each", "dozen"}:
            typed_g = costed.purchased_g or typed_g
            weighs = f", at {pen.mass(found.each_g)} each"
        elif found is not None and found.density_kg_per_l is not None:
            weighs = f", at {pen.number(found.density_kg_per_l)} kg a litre"
        steps.append(
            f"{as_written(line.amount, line.unit, pen=pen)}{weighs} = {pen.kilos(typed_g)}."
        )
    return [*steps, *_yield_steps(costed, used_g=costed.used_g, pen=pen)]


def _yield_steps(costed: CostedLine, *, used_g: Decimal, pen: Pen) -> list[str]:
    """What trimming takes away, where it takes anything."""
    bought_g = costed.purchased_g
    if bought_g is None or bought_g == used_g:
        return []
    bought, used = pen.kilos(bought_g), pen.kilos(used_g)
    usable = pen.percent(costed.usable_pct)
    if costed.line.state == AS_PURCHASED or costed.line.unit in {"each", "dozen"}:
        return [f"{bought} as bought, {usable} of it usable: {used} goes into the pan."]
    return [f"{used} ready to use ÷ {usable} usable = {bought} to buy."]


def _price_in_words(price: PriceRecord) -> str:
    """The pack, who sells it, since when, and why this price is the one that counts."""
    parts = [f"{price.pack} from {price.supplier}" if price.pack else price.supplier]
    if price.valid_from is not None:
        parts.append(f"since {day(price.valid_from)}")
    told = ", ".join(part for part in parts if part)
    why = price.note.partition(":")[0]
    return f"{told} ({why})." if why else f"{told}."


# --- Work, overhead, energy ----------------------------------------------------------------------


def _own(nature: str, sheet: CostSheet) -> Decimal:
    """What this pan itself adds to a nature of cost, beside what came in with preparations."""
    brought = sum((line.natures[nature] for line in sheet.lines), Decimal(0))
    return sheet.breakdown[nature] - brought


def _here(sheet: CostSheet, *, pen: Pen) -> tuple[SheetRow, ...]:
    minutes = sheet.recipe.attended_minutes
    kitchen = pen.kitchen
    packaging = SheetRow(
        name="Packaging",
        amount=pen.money(Decimal(0)),
        steps=("Nothing here: jars, wraps and labels are counted with each product.",),
    )
    rows = [
        _by_the_hour("Work at this pan", LABOUR, kitchen.labour_rate_per_h, sheet, pen=pen),
        _by_the_hour("Overhead", OVERHEAD, kitchen.overhead_rate_per_h, sheet, pen=pen),
        _energy_row(sheet, pen=pen),
    ]
    if minutes is None:
        link = (("Say how long", _to("recipe_edit", pen, sheet.recipe.id)),)
        untold = ("Nobody has said how long somebody stands at it.",)
        open_row = SheetRow("", steps=untold, links=link, is_lower_bound=True)
        rows[:2] = [replace(open_row, name=row.name) for row in rows[:2]]
    return (*rows, packaging)


def _by_the_hour(
    name: str, nature: str, rate: Decimal | None, sheet: CostSheet, *, pen: Pen
) -> SheetRow:
    minutes = sheet.recipe.attended_minutes or Decimal(0)
    settings = (("The kitchen's rates", _to("kitchen", pen)),)
    if rate is None and minutes > 0:
        told = (f"{pen.hours(minutes)}, at a rate an hour that is not known yet.",)
        return SheetRow(name, pen.hours(minutes), "", told, settings, is_lower_bound=True)
    cost = _own(nature, sheet)
    step = f"{pen.hours(minutes)} × {pen.money(rate or Decimal(0))} an hour = {pen.money(cost)}."
    return SheetRow(name, pen.hours(minutes), pen.money(cost), (step,), settings)


def _energy_row(sheet: CostSheet, *, pen: Pen) -> SheetRow:
    if sheet.recipe.cook.kind == NO_COOK or not sheet.recipe.cook.is_heated:
        return SheetRow("Energy", "", pen.money(Decimal(0)), ("Nothing is heated.",))
    settings = (("The kitchen's rates", _to("kitchen", pen)),)
    if sheet.energy_kwh is None or sheet.balance is None:
        told = ("How much water boils off is not known yet.",)
        return SheetRow("Energy", "", "", told, is_lower_bound=True)
    aside = f"{pen.number(sheet.energy_kwh, places=2)} kWh"
    steps = energy_steps(sheet.balance, energy_kwh=sheet.energy_kwh, pen=pen)
    price = pen.kitchen.energy_price_per_kwh
    if price is None:
        steps = (*steps, "What a kilowatt-hour costs is not known yet.")
        return SheetRow("Energy", aside, "", steps, settings, is_lower_bound=True)
    cost = _own(ENERGY, sheet)
    steps = (*steps, f"{aside} × {pen.price(price)} = {pen.money(cost)}.")
    return SheetRow("Energy", aside, pen.money(cost), steps, settings)


def energy_steps(balance: MassBalance, *, energy_kwh: Decimal, pen: Pen) -> tuple[str, ...]:
    """The heat bill in three sentences: warming, boiling off, what the hob passes on."""
    rates = kitchen_record(pen.kitchen)
    degrees = max(rates.boils_at_c - rates.start_temperature_c, Decimal(0))
    warming = balance.ingoing_g / _G_PER_KG * rates.heat_capacity_kj_per_kg_k * degrees
    boiling = balance.evaporated_g / _G_PER_KG * rates.latent_heat_kj_per_kg
    in_pan = (warming + boiling) / _KJ_PER_KWH
    warmed = (
        f"Heating {pen.kilos(balance.ingoing_g)} by {pen.number(degrees)} degrees, at "
        f"{pen.number(rates.heat_capacity_kj_per_kg_k)} kJ a kilo and degree: "
        f"{pen.number(warming, places=0)} kJ."
    )
    boiled = (
        f"Boiling off {pen.kilos(balance.evaporated_g)} of water, at "
        f"{pen.number(rates.latent_heat_kj_per_kg)} kJ a kilo: {pen.number(boiling, places=0)} kJ."
    )
    drawn = (
        f"That is {pen.number(in_pan, places=2)} kWh in the pan; the hob passes on "
        f"{pen.percent(rates.hob_efficiency_pct)}, so it draws "
        f"{pen.number(energy_kwh, places=2)} kWh."
    )
    return warmed, boiled, drawn


# --- Sums ----------------------------------------------------------------------------------------


def _total(sheet: CostSheet, *, pen: Pen) -> SheetRow:
    return SheetRow(
        "This pan in all",
        amount=pen.money(sheet.cost_total),
        is_lower_bound=not sheet.is_complete,
        steps=("The rows above, added up unrounded; only what is shown is rounded.",),
    )


def _per_kg(sheet: CostSheet, *, pen: Pen) -> SheetRow:
    name = "A finished kilo"
    if sheet.cost_per_kg_finished is None or sheet.finished_g is None:
        return SheetRow(name, steps=("How much comes out is not known yet.",), is_lower_bound=True)
    cost = pen.money(sheet.cost_per_kg_finished)
    step = f"{pen.money(sheet.cost_total)} ÷ {pen.kilos(sheet.finished_g)} finished = {cost}."
    return SheetRow(name, pen.kilos(sheet.finished_g), cost, (step,), (), not sheet.is_complete)


def _per_kg_ingoing(sheet: CostSheet, *, pen: Pen) -> SheetRow:
    name = "A kilo put in, which is not what you sell"
    if sheet.cost_per_kg_ingoing is None or sheet.ingoing_g is None:
        return SheetRow(name, steps=("How much goes in is not known yet.",), is_lower_bound=True)
    cost = pen.money(sheet.cost_per_kg_ingoing)
    step = f"{pen.money(sheet.cost_total)} ÷ {pen.kilos(sheet.ingoing_g)} put in = {cost}."
    return SheetRow(name, pen.kilos(sheet.ingoing_g), cost, (step,), (), not sheet.is_complete)


def _losses(sheet: CostSheet, *, pen: Pen) -> tuple[SheetRow, ...]:
    """What sticks and spills has been paid for; it makes every other kilo dearer."""
    balance = sheet.balance
    if balance is None or sheet.cost_per_kg_finished is None:
        return ()
    rows = []
    for name, lost_g in (
        ("Left on the pan", balance.pan_residue_g),
        ("Lost in handling", balance.handling_loss_g),
    ):
        if lost_g <= 0:
            continue
        without = sheet.cost_total * _G_PER_KG / (balance.finished_g + lost_g)
        dearer = sheet.cost_per_kg_finished - without
        step = (
            f"Paid for and not sold. Could it all be saved, a kilo would cost {pen.money(without)}"
            f" instead of {pen.money(sheet.cost_per_kg_finished)}."
        )
        rows.append(SheetRow(name, pen.kilos(lost_g), f"{pen.money(dearer)} a kilo", (step,)))
    return tuple(rows)


_ALL = frozenset(NATURES)
_OPEN = {
    "price": {MATERIALS},
    "minutes": {LABOUR, OVERHEAD},
    "labour rate": {LABOUR},
    "overhead rate": {OVERHEAD},
    "energy price": {ENERGY},
    "evaporated": {ENERGY},
}
"""What a question is about -> the natures of cost it leaves open; all of them for any other."""


def _open_natures(sheet: CostSheet) -> set[str]:
    """Natures of cost that are only a lower bound; packaging is never counted here."""
    found: set[str] = set()
    for question in sheet.questions:
        found |= _OPEN.get(question.about, _ALL)
    return found - {PACKAGING}


def _money_picture(sheet: CostSheet, *, pen: Pen) -> BarPicture | None:
    written = {nature: pen.money(cost) for nature, cost in sheet.breakdown.items()}
    picture = money_picture(sheet.breakdown, written=written)
    if picture is None or sheet.is_complete:
        return picture
    return replace(picture, title="Where the money goes, as far as it is known")


def _nature(nature: str, sheet: CostSheet, *, pen: Pen) -> SheetRow:
    """One nature of cost: what this pan adds, and what came in with each preparation."""
    parts = []
    if nature == MATERIALS:
        bought = [line for line in sheet.lines if line.line.recipe_id is None]
        own = sum((line.natures[nature] for line in bought), Decimal(0))
        parts.append(f"Bought for this pan: {pen.money(own)}.")
    elif nature == PACKAGING:
        parts.append("Counted with each product, not here.")
    else:
        parts.append(f"At this pan: {pen.money(_own(nature, sheet))}.")
    parts += [
        f"In {line.name}: {pen.money(line.natures[nature])}."
        for line in sheet.lines
        if line.line.recipe_id is not None and line.natures[nature] > 0
    ]
    cost = sheet.breakdown[nature]
    is_open = nature in _open_natures(sheet)
    return SheetRow(
        nature.capitalize(),
        amount="" if is_open and not cost else pen.money(cost),
        steps=tuple(parts),
        is_lower_bound=is_open,
    )


def _to(name: str, pen: Pen, pk: int | None = None) -> str:
    args = [pen.kitchen.pk] if pk is None else [pen.kitchen.pk, pk]
    return reverse(name, args=args)
