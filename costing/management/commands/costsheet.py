"""The cost sheet of a recipe on the command line, for reading and for scripts."""

import difflib
import json
from argparse import RawDescriptionHelpFormatter
from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from costing.models import Kitchen, Recipe
from costing.money import format_money, format_number
from costing.reckoning.book import CostedLine, CostSheet
from costing.selectors.kitchens import kitchens_called
from costing.selectors.recipes import recipes_of
from costing.services.recipes import cost_recipe

HELP = """What a kilo of a recipe costs on a day, and where its mass and money go.

  manage.py costsheet "Damson cheese"
  manage.py costsheet "Damson cheese" --on 2026-09-20 --format json
  manage.py costsheet "Damson cheese" --kitchen "Rookfold Kitchen"

JSON has the units in its names; figures are strings, so that none is rounded; what is not known
is null, never 0:

  recipe, kitchen, version, on, currency, policy
  ingoing_g, evaporated_g, sieved_out_g, pan_residue_g, handling_loss_g, finished_g
  finishing_brix, total_solids_pct, rise_k (above boiling water), reading_c (this thermometer's)
  cost_total, cost_per_kg_finished, cost_per_kg_ingoing, energy_kwh
  breakdown {materials, labour, energy, packaging, overhead}
  lines [{name, amount, unit, used_g, purchased_g, cost, price_per_kg, supplier, valid_from}]
  unpriced [names], questions [sentences], cautions [sentences]
  is_lower_bound (true while a question is open: then every cost is "at least")
"""


class Command(BaseCommand):
    """Print one recipe's cost sheet as text or JSON."""

    help = HELP

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """Keep the lines of the help as they are written."""
        kwargs.setdefault("formatter_class", RawDescriptionHelpFormatter)
        return super().create_parser(prog_name, subcommand, **kwargs)

    def add_arguments(self, parser: CommandParser) -> None:
        """The recipe by name, and optionally the kitchen, the day and the format."""
        parser.add_argument("recipe", help="name of the recipe")
        parser.add_argument("--kitchen", default="", help="trading name or number of the kitchen")
        parser.add_argument("--on", default="", metavar="DATE", help="YYYY-MM-DD (default: today)")
        parser.add_argument("--format", choices=["text", "json"], default="text")

    def handle(self, **options: Any) -> None:
        """Find the recipe, cost it, print it."""
        on = the_day(options["on"])
        kitchen = the_kitchen(options["kitchen"])
        recipe = the_recipe(kitchen, options["recipe"])
        sheet = cost_recipe(recipe, on=on)
        if options["format"] == "json":
            self.stdout.write(
                json.dumps(as_json(sheet, kitchen=kitchen), indent=2, ensure_ascii=False)
            )
        else:
            self.stdout.write(as_text(sheet, kitchen=kitchen))


def the_day(text: str, *, option: str = "--on") -> date:
    """The day asked for, today when none was."""
    if not text:
        return timezone.localdate()
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise CommandError(
            f"{option} {text}: not a day. Type year, month and day, such as 2026-09-20."
        ) from error


def the_kitchen(text: str) -> Kitchen:
    """The kitchen asked for by name or number; the only one when none was named."""
    found = kitchens_called(text)
    if len(found) == 1:
        return found[0]
    if not found and not text:
        raise CommandError("There is no kitchen yet. Start the site and make one first.")
    known = "\n".join(f"  {kitchen.pk}  {kitchen}" for kitchen in found or kitchens_called(""))
    if not found:
        raise CommandError(f"There is no kitchen called “{text}”. Those known are:\n{known}")
    raise CommandError(f"There are several kitchens: say which with --kitchen.\n{known}")


def the_recipe(kitchen: Kitchen, name: str) -> Recipe:
    """The recipe by its name, however it is capitalised; names like it when there is none."""
    recipes = {recipe.name.casefold(): recipe for recipe in recipes_of(kitchen, with_archived=True)}
    wanted = " ".join(name.split()).casefold()
    if wanted in recipes:
        return recipes[wanted]
    if not recipes:
        raise CommandError(f"{kitchen} has no recipes yet.")
    near = difflib.get_close_matches(wanted, recipes, n=5, cutoff=0.5)
    near += [key for key in recipes if wanted and wanted in key and key not in near]
    if near:
        told = f"Did you mean {_either([recipes[key].name for key in near[:5]])}?"
    else:
        told = f"Its recipes are: {', '.join(sorted(r.name for r in recipes.values())[:20])}."
    raise CommandError(f"{kitchen} has no recipe called “{name}”. {told}")


def _either(names: Sequence[str]) -> str:
    quoted = [f"“{name}”" for name in names]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


# --- JSON ----------------------------------------------------------------------------------------


def as_json(sheet: CostSheet, *, kitchen: Kitchen) -> dict[str, Any]:
    """The sheet as plain data: figures as strings, unknown as null."""
    balance = sheet.balance
    masses = ("evaporated_g", "sieved_out_g", "pan_residue_g", "handling_loss_g", "finished_g")
    readings = ("finishing_brix", "total_solids_pct", "rise_k", "reading_c")
    return {
        "recipe": sheet.recipe.name,
        "kitchen": kitchen.trading_name,
        "version": sheet.recipe.version,
        "on": sheet.on.isoformat(),
        "currency": sheet.currency,
        "policy": sheet.policy,
        "ingoing_g": _figure(sheet.ingoing_g),
        **{name: _figure(getattr(balance, name, None)) for name in (*masses, *readings)},
        "cost_total": _figure(sheet.cost_total),
        "cost_per_kg_finished": _figure(sheet.cost_per_kg_finished),
        "cost_per_kg_ingoing": _figure(sheet.cost_per_kg_ingoing),
        "energy_kwh": _figure(sheet.energy_kwh),
        "breakdown": {nature: _figure(cost) for nature, cost in sheet.breakdown.items()},
        "lines": [_line(line) for line in sheet.lines],
        "unpriced": list(sheet.unpriced),
        "questions": [question.sentence for question in sheet.questions],
        "cautions": list(balance.cautions) if balance else [],
        "is_lower_bound": not sheet.is_complete,
    }


def _line(line: CostedLine) -> dict[str, Any]:
    price = line.price
    return {
        "name": line.name,
        "amount": _figure(line.line.amount),
        "unit": line.line.unit,
        "used_g": _figure(line.used_g),
        "purchased_g": _figure(line.purchased_g),
        "cost": _figure(line.cost),
        "price_per_kg": _figure(price.per_kg) if price else None,
        "supplier": price.supplier if price else None,
        "valid_from": price.valid_from.isoformat() if price and price.valid_from else None,
    }


def _figure(value: Decimal | None) -> str | None:
    if value is None:
        return None
    plain = f"{value:f}"
    return (plain.rstrip("0").rstrip(".") or "0") if "." in plain else plain


# --- Text ----------------------------------------------------------------------------------------


def as_text(sheet: CostSheet, *, kitchen: Kitchen) -> str:
    """The sheet for reading: aligned columns, "at least" while something is not known."""
    policy = Kitchen.Policy(sheet.policy).label.lower()
    rows = [
        f"{sheet.recipe.name}, version {sheet.recipe.version}",
        f"{kitchen}, prices of {sheet.on.isoformat()} ({policy})",
        "",
        *_material_rows(sheet, kitchen=kitchen),
        "",
        *_mass_rows(sheet, kitchen=kitchen),
        "",
        *_money_rows(sheet, kitchen=kitchen),
    ]
    if sheet.questions:
        rows += ["", "Not known yet, so every cost above is a lower bound:"]
        rows += [
            f"  - {sentence}" for sentence in dict.fromkeys(q.sentence for q in sheet.questions)
        ]
    if sheet.balance and sheet.balance.cautions:
        rows += ["", "Mind:", *(f"  - {caution}" for caution in sheet.balance.cautions)]
    return "\n".join(rows)


def _material_rows(sheet: CostSheet, *, kitchen: Kitchen) -> list[str]:
    rows = [_row("In the pan", "kg used", "cost")]
    for line in sheet.lines:
        cost = "not known" if line.cost is None else _money(line.cost, kitchen)
        rows.append(_row(f"  {line.name}", _kg(line.used_g, kitchen), cost))
    return rows


def _mass_rows(sheet: CostSheet, *, kitchen: Kitchen) -> list[str]:
    rows = [_row("Mass", "kg", ""), _row("  went in", _kg(sheet.ingoing_g, kitchen), "")]
    balance = sheet.balance
    if balance is None:
        return [*rows, _row("  finished", "not known", "")]
    for name, mass_g in (
        ("evaporated", balance.evaporated_g),
        ("sieved out", balance.sieved_out_g),
        ("left on the pan", balance.pan_residue_g),
        ("lost in handling", balance.handling_loss_g),
    ):
        if mass_g:
            rows.append(_row(f"  {name}", _kg(mass_g, kitchen), ""))
    rows.append(_row("  finished", _kg(balance.finished_g, kitchen), ""))
    if balance.finishing_brix is not None:
        stop = f"  done at {_number(balance.finishing_brix, kitchen, 1)} Brix"
        if balance.reading_c is not None:
            stop += f", {_number(balance.reading_c, kitchen, 1)} °C on your thermometer"
        rows.append(stop)
    return rows


def _money_rows(sheet: CostSheet, *, kitchen: Kitchen) -> list[str]:
    at_least = "" if sheet.is_complete else "at least "
    rows = [_row("Cost", "", "")]
    for nature, cost in sheet.breakdown.items():
        if cost:
            rows.append(_row(f"  {nature}", "", _money(cost, kitchen)))
    rows.append(_row("  in all", "", at_least + _money(sheet.cost_total, kitchen)))
    for name, cost_per_kg in (
        ("  per kg finished", sheet.cost_per_kg_finished),
        ("  per kg put in", sheet.cost_per_kg_ingoing),
    ):
        told = "not known" if cost_per_kg is None else at_least + _money(cost_per_kg, kitchen)
        rows.append(_row(name, "", told))
    return rows


def _row(name: str, mass: str, cost: str) -> str:
    shown = name if len(name) <= 38 else f"{name[:37]}…"
    return f"{shown:<38} {mass:>12} {cost:>20}".rstrip()


def _kg(mass_g: Decimal | None, kitchen: Kitchen) -> str:
    return "not known" if mass_g is None else _number(mass_g / 1000, kitchen, 3)


def _number(value: Decimal, kitchen: Kitchen, places: int) -> str:
    return format_number(value, locale=kitchen.number_format, places=places)


def _money(amount: Decimal, kitchen: Kitchen) -> str:
    return format_money(amount, currency=kitchen.currency, locale=kitchen.number_format)
