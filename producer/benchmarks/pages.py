"""Pages of a kitchen with ten recipes and with a thousand: queries, and time as a ratio."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from producer.benchmarks.made_up_kitchen import MadeUpKitchen, make_kitchen
from producer.benchmarks.reporting import Table, in_ms, in_ratio, verdict
from producer.benchmarks.throwaway_database import fresh_database, using
from producer.benchmarks.timing import Maker, medians_ms

FEW, FULL_PAGE, MANY = 10, 250, 1000
MOST_RATIO = 1.2

_NOTES = (
    f"Goal: as many queries with {MANY} recipes as with {FEW}, at most {MOST_RATIO} x the time.",
    "A list of ten has fewer rows to show than the first page of a thousand, and so is quicker;",
    f"with {FULL_PAGE} recipes the first page of each list is full too, and only what grows with",
    "the kitchen is left. Each kitchen has its own database, with as many ingredients and prices.",
)


@dataclass(frozen=True)
class Measured:
    """One page in the three kitchens, the smallest first. rows: of its tables."""

    name: str
    queries: tuple[int, ...]
    rows: tuple[int, ...]
    times_ms: tuple[float, ...]

    def is_met(self, *, against: int = 0) -> bool:
        """Whether the goal is met between one of the kitchens and the largest."""
        return (
            self.queries[against] == self.queries[-1]
            and self.times_ms[-1] <= MOST_RATIO * self.times_ms[against]
        )


@dataclass(frozen=True)
class _Visited:
    """A kitchen in its own database, and its owner's browser."""

    connection: BaseDatabaseWrapper
    made: MadeUpKitchen
    client: Client

    def get(self, name: str) -> Any:
        """Fetch a page. Raises: RuntimeError unless it is there."""
        address = _address(name, self.made)
        answer = self.client.get(address)
        if answer.status_code != 200:
            raise RuntimeError(f"{address} answered {answer.status_code}, so it was not measured.")
        return answer

    @contextmanager
    def here(self) -> Iterator[None]:
        """Questions to the database go to this kitchen's."""
        before = connections[DEFAULT_DB_ALIAS]
        connections[DEFAULT_DB_ALIAS] = self.connection
        try:
            yield
        finally:
            connections[DEFAULT_DB_ALIAS] = before

    def counted(self, name: str) -> tuple[int, int]:
        """Queries of a page, once the kitchen was looked at before, and rows of its tables."""
        with self.here():
            self.get(name)
            with CaptureQueriesContext(self.connection) as found:
                answer = self.get(name)
            return len(found), answer.content.count(b"<tr")

    def maker(self, name: str) -> Maker:
        """The work of fetching a page, for the clock."""

        def fetch() -> None:
            with self.here():
                self.get(name)

        return lambda _number: fetch


def _address(name: str, made: MadeUpKitchen) -> str:
    rows = {"ingredient": made.ingredients[0], "recipe": made.recipe}
    rows |= {"product": made.product, "label": made.product}
    return reverse(name, args=[made.kitchen.pk, *([rows[name].pk] if name in rows else [])])


PAGES = ("today", "ingredients", "ingredient", "recipes", "recipe", "products", "product",
         "labels", "label")  # fmt: skip


def page_tables(folder: Path, *, on: date, is_quick: bool) -> list[Table]:
    """Every page with few and with many recipes, and what that says of the goal."""
    return [_as_table(measured_pages(folder, on=on, is_quick=is_quick), is_quick=is_quick)]


def sizes(*, is_quick: bool) -> tuple[int, int, int]:
    """How many recipes the three kitchens have."""
    return (5, 10, 20) if is_quick else (FEW, FULL_PAGE, MANY)


def measured_pages(folder: Path, *, on: date, is_quick: bool) -> list[Measured]:
    """Queries and median time of every page in each of the three kitchens."""
    rounds = 1 if is_quick else 9
    # The site's own settings, but for what keeps a browser of no host and no HTTPS out.
    with override_settings(ALLOWED_HOSTS=["testserver"], SECURE_SSL_REDIRECT=False, DEBUG=False):
        visited = [_visited(folder, count, on=on) for count in sizes(is_quick=is_quick)]
        try:
            return [_measured(name, visited, rounds=rounds) for name in PAGES]
        finally:
            for each in visited:
                each.connection.close()


def _measured(name: str, visited: list[_Visited], *, rounds: int) -> Measured:
    queries, rows = zip(*(each.counted(name) for each in visited), strict=True)
    times_ms = medians_ms(*(each.maker(name) for each in visited), rounds=rounds)
    return Measured(name, queries, rows, times_ms)


def _visited(folder: Path, count: int, *, on: date) -> _Visited:
    connection = fresh_database(folder, f"pages-{count}")
    with using(connection):
        made = make_kitchen(recipes=count, on=on)
        client = Client()
        client.force_login(made.owner)
    return _Visited(connection, made, client)


def _as_table(pages: list[Measured], *, is_quick: bool) -> Table:
    few, full, many = sizes(is_quick=is_quick)
    return Table(
        f"Pages with {few} and with {many} recipes",
        ("page", "queries", "rows", "time ratio", "goal", f"{few}", f"{many}",
         f"ratio to {full}", "goal"),
        tuple(
            (
                page.name,
                f"{page.queries[0]} -> {page.queries[-1]}",
                f"{page.rows[0]} -> {page.rows[-1]}",
                in_ratio(page.times_ms[-1], page.times_ms[0]),
                verdict(is_met=page.is_met()),
                in_ms(page.times_ms[0]),
                in_ms(page.times_ms[-1]),
                in_ratio(page.times_ms[-1], page.times_ms[1]),
                verdict(is_met=page.is_met(against=1)),
            )
            for page in pages
        ),
        _NOTES,
    )  # fmt: skip
