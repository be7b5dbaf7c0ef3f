"""`manage.py demo`: the invented kitchen, ready to try, on this machine only."""

import fcntl
import os
import sys
from argparse import ArgumentParser
from collections.abc import Callable
from pathlib import Path
from typing import IO, Any

from django.apps import apps
from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError, connection
from django.db.migrations.exceptions import InconsistentMigrationHistory
from django.db.migrations.executor import MigrationExecutor
from django.utils import timezone

from producer.bootstrap import port_problem


class Command(BaseCommand):
    """Prepare the demo's database, then become the server."""

    help = "Open the demo kitchen in a browser on this machine. Its data are kept until --fresh."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--port", type=int, default=8000, help="default: 8000")
        parser.add_argument(
            "--fresh", action="store_true", help="throw the demo's data away and start it again"
        )
        parser.add_argument("--yes", action="store_true", help="do not ask before --fresh")

    def handle(self, *, port: int, fresh: bool, yes: bool, **options: Any) -> None:
        if not settings.DEMO:
            raise CommandError("Start it so: python3 manage.py demo")
        refusal = port_problem(port)
        if refusal:
            raise CommandError(refusal)
        database = Path(settings.DATABASES["default"]["NAME"])
        lock = (database.parent / "demo.lock").open("a")
        if fresh:
            _throw_away(database, lock=lock, yes=yes)
        # Held for as long as the server runs: it survives the exec below.
        fcntl.flock(lock, fcntl.LOCK_SH)
        os.set_inheritable(lock.fileno(), True)
        try:
            _migrate()
            _load_once(say=self.stdout.write)
        except (DatabaseError, InconsistentMigrationHistory) as problem:
            raise CommandError(
                f"The demo's data cannot be used any more ({problem}). Start again, which throws "
                "them away: python3 manage.py demo --fresh"
            ) from problem
        connection.close()
        _serve(port=port)


def _throw_away(database: Path, *, lock: IO[str], yes: bool) -> None:
    """Delete the demo's database, after asking, unless a demo is running on it."""
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        raise CommandError(
            "The demo is running, so its data cannot be thrown away. Close it first (Ctrl-C)."
        ) from None
    if database.exists() and not yes:
        if not sys.stdin.isatty():
            raise CommandError(
                "--fresh throws away what was entered in the demo and there is no terminal to ask "
                "on. To do it without asking: python3 manage.py demo --fresh --yes"
            )
        prompt = "This throws away everything entered in the demo. Type yes to go on: "
        if input(prompt).strip().lower() != "yes":
            raise CommandError("Nothing was changed.")
    for path in (database, *database.parent.glob(f"{database.name}-*")):
        path.unlink(missing_ok=True)


def _migrate() -> None:
    """Bring the tables up to date; looks first, since a full `migrate` takes half a second."""
    executor = MigrationExecutor(connection)
    if executor.migration_plan(executor.loader.graph.leaf_nodes()):
        call_command("migrate", interactive=False, verbosity=0)


def _load_once(*, say: Callable[[str], Any]) -> None:
    """Fill an empty demo. The loader is all or nothing: no interrupted start leaves half of it."""
    if apps.get_model("costing", "Kitchen").objects.exists():
        return
    from producer.demo import load_demo

    say("Filling the demo kitchen.")
    load_demo(on=timezone.localdate(), at=timezone.now())


def _serve(*, port: int) -> None:
    """Become the server: from here on this process is gunicorn."""
    os.environ["PRODUCER_PORT"] = str(port)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "producer.settings")
    os.chdir(settings.BASE_DIR)
    command = ["-m", "gunicorn", "--config", "python:producer.serving", "producer.wsgi"]
    sys.stdout.flush()
    os.execv(sys.executable, [sys.executable, *command])
