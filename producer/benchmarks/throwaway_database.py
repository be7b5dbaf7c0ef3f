"""A database in a temporary file in place of the site's own, which is never opened."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from django.core.management import call_command
from django.db import DEFAULT_DB_ALIAS, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.utils import ConnectionHandler


@contextmanager
def throwaway_folder() -> Iterator[Path]:
    """A folder with an empty, migrated database in it; gone with all that is in it afterwards."""
    with tempfile.TemporaryDirectory(prefix="producer-benchmark-") as name:
        folder = Path(name)
        (folder / "empty.sqlite3").write_bytes(_migrated())
        yield folder


@cache
def _migrated() -> bytes:
    """An empty database after every migration, made once in a process: it takes seconds."""
    with tempfile.TemporaryDirectory(prefix="producer-benchmark-") as name:
        path = Path(name) / "empty.sqlite3"
        with using(_opened(path)):
            call_command("migrate", interactive=False, verbosity=0)
        return path.read_bytes()  # closed, and so with all of its log written into it


def fresh_database(folder: Path, name: str) -> BaseDatabaseWrapper:
    """A connection to a new copy of the empty database."""
    shutil.copy(folder / "empty.sqlite3", folder / f"{name}.sqlite3")
    return _opened(folder / f"{name}.sqlite3")


@contextmanager
def using(connection: BaseDatabaseWrapper) -> Iterator[None]:
    """Let everything that asks for the site's database get this one instead; then close it."""
    before = connections[DEFAULT_DB_ALIAS]
    connections[DEFAULT_DB_ALIAS] = connection
    try:
        yield
    finally:
        connections[DEFAULT_DB_ALIAS] = before
        connection.close()


def _opened(path: Path) -> BaseDatabaseWrapper:
    """SQLite as the site uses it. Nothing is opened before the first query."""
    pragmas = "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA foreign_keys=ON;"
    handler = ConnectionHandler(
        {
            DEFAULT_DB_ALIAS: {
                "ENGINE": "django.db.backends.sqlite3",
                "NAME": path,
                "OPTIONS": {"transaction_mode": "IMMEDIATE", "init_command": pragmas},
            }
        }
    )
    return handler[DEFAULT_DB_ALIAS]
