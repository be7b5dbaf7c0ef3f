"""`manage.py benchmark`: how quick it is, as ratios against a floor in the same run."""

from argparse import ArgumentParser
from collections.abc import Iterator
from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from producer.benchmarks.cooks import cook_tables
from producer.benchmarks.costs import cost_tables
from producer.benchmarks.labels import label_tables
from producer.benchmarks.pages import page_tables
from producer.benchmarks.reporting import Table
from producer.benchmarks.throwaway_database import throwaway_folder

PARTS = ("labels", "costs", "pages", "cooks")


class Command(BaseCommand):
    """Measure the parts that were asked for; all of them when none was."""

    help = (
        "Print how quick labels, costs, pages and cooks are, as ratios of medians measured in the "
        "same run: labels against ReportLab setting the same text in the same type, costs against "
        "the same sums done bare, pages of a kitchen of 1000 recipes against one of 10, a cook "
        "drawn 10 000 times against bare numpy and a reading against an empty view. Processor "
        "time is counted, so other programs disturb little. Works in temporary databases; yours "
        "is never opened. A few minutes for everything; --quick is a trial whose figures mean "
        "nothing."
    )
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        for part in PARTS:
            parser.add_argument(f"--{part}", action="store_true", help=f"measure {part}")
        parser.add_argument(
            "--quick", action="store_true", help="small and once: only to see that it works"
        )

    def handle(self, *, quick: bool, **options: Any) -> None:
        wanted = [part for part in PARTS if options[part]] or list(PARTS)
        if quick:
            self.stdout.write("A quick trial: small, and measured once. Do not quote it.\n")
        for table in _tables(wanted, is_quick=quick):
            self.stdout.write(f"{table.as_text()}\n")


def _tables(wanted: list[str], *, is_quick: bool) -> Iterator[Table]:
    if "labels" in wanted:
        yield from label_tables(is_quick=is_quick)
    if {"costs", "pages", "cooks"} & set(wanted):
        on = timezone.localdate()
        with throwaway_folder() as folder:
            if "costs" in wanted:
                yield from cost_tables(folder, on=on, is_quick=is_quick)
            if "pages" in wanted:
                yield from page_tables(folder, on=on, is_quick=is_quick)
            if "cooks" in wanted:
                yield from cook_tables(folder, on=on, is_quick=is_quick)
