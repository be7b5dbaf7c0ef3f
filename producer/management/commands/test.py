"""`manage.py test`: every check and every test. manage.py runs it before Django is loaded."""

import sys
from typing import Any

from django.core.management.base import BaseCommand

from producer import quality


class Command(BaseCommand):
    """Listed among the commands; the work is in producer/quality.py."""

    help = "Run lint, types, contracts and all tests; with arguments, pytest alone with those."

    def run_from_argv(self, argv: list[str]) -> None:
        sys.exit(quality.run(argv[2:]))

    def handle(self, *args: Any, **options: Any) -> None:
        sys.exit(quality.run([]))
