"""One recost of a recipe of forty lines in three levels, against the same sums done bare."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.physics import (
    PRESERVE,
    boiling_point_rise_k,
    brix_from_rise,
    standard_pressure_pa,
)
from costing.reckoning.book import RISE, Book
from costing.reckoning.recipes import cost_recipe
from costing.selectors.recipes import load_book
from producer.benchmarks.deep_recipe import (
    LINES,
    STOP_BRIX,
    bare_cost,
    bare_recipes,
    write_deep_recipe,
)
from producer.benchmarks.made_up_kitchen import make_kitchen
from producer.benchmarks.reporting import Table, in_ms, in_ratio
from producer.benchmarks.throwaway_database import fresh_database, using
from producer.benchmarks.timing import always, medians_ms, repeated

_TIMES = 20
_ALTITUDE_M = 0.0


def cost_tables(folder: Path, *, on: date, is_quick: bool) -> list[Table]:
    """Ratios of a recost from figures in memory, from the database, and of its boiling point."""
    times, rounds = (2, 1) if is_quick else (_TIMES, 15)
    with using(fresh_database(folder, "costs")):
        made = make_kitchen(recipes=10, on=on)
        top = write_deep_recipe(made.kitchen, made.ingredients)
        book = load_book(made.kitchen, [top.pk], on=on)
        with CaptureQueriesContext(connection) as queries:
            load_book(made.kitchen, [top.pk], on=on)
            count = len(queries)
        by_rise = stopped_by_rise(book, top.pk)
        bare, rates = bare_recipes(book, top.pk)
        works = {
            "floor": lambda: bare_cost(bare, rates),
            "sums": lambda: cost_recipe(book, top.pk),
            "sums by rise": lambda: cost_recipe(by_rise, top.pk),
            "database": lambda: cost_recipe(load_book(made.kitchen, [top.pk], on=on), top.pk),
            "inverse": _inverse,
            "forward": _forward,
        }
        found = medians_ms(
            *(always(repeated(work, times)) for work in works.values()), rounds=rounds
        )
    each = {name: time_ms / times for name, time_ms in zip(works, found, strict=True)}
    return [_sums(each, queries=count), _boiling_point(each)]


def stopped_by_rise(book: Book, recipe_id: int) -> Book:
    """The same book with the recipe stopped at kelvins above boiling water, not at a Brix."""
    recipe = book.recipes[recipe_id]
    cook = replace(recipe.cook, stop_form=RISE, stop_value=Decimal(5))
    return replace(book, recipes={**book.recipes, recipe_id: replace(recipe, cook=cook)})


def _inverse() -> float:
    pressure_pa = standard_pressure_pa(altitude_m=_ALTITUDE_M)
    return brix_from_rise(rise_k=5.0, pressure_pa=pressure_pa, composition=PRESERVE)


def _forward() -> float:
    pressure_pa = standard_pressure_pa(altitude_m=_ALTITUDE_M)
    return boiling_point_rise_k(
        brix=float(STOP_BRIX), pressure_pa=pressure_pa, composition=PRESERVE
    )


def _sums(each: Mapping[str, float], *, queries: int) -> Table:
    whats = {
        "sums": "sums alone, stopped at a Brix",
        "sums by rise": "sums alone, stopped at a rise in K",
        "database": f"from the database, {queries} queries",
    }
    floor = each["floor"]
    return Table(
        f"One recost of a recipe of {LINES} lines in 3 levels, against the same sums done bare",
        ("what", "ratio", "ours", "floor"),
        tuple(
            (what, in_ratio(each[name], floor), in_ms(each[name]), in_ms(floor))
            for name, what in whats.items()
        ),
        (
            "Floor: the same multiplying and adding in Decimal over tuples made ready before: no",
            "units, no checks, no questions, no temperature, nothing kept for a page to show.",
        ),
    )


def _boiling_point(each: Mapping[str, float]) -> Table:
    whole = each["sums by rise"]
    return Table(
        "What the boiling point takes of a recost stopped at a rise in K",
        ("what", "share", "time", "of"),
        tuple(
            (what, f"{each[name] / whole:.0%}", in_ms(each[name]), in_ms(whole))
            for name, what in (
                ("inverse", "rise to Brix, by bisection"),
                ("forward", "Brix to rise"),
            )
        ),
    )
