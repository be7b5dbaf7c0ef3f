"""What all tests share: a browser that is really there, and what a database leg runs."""

import os
from contextlib import contextmanager
from datetime import date

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.apps import apps
from django.conf import settings as django_settings
from django.core.management import call_command
from django.core.management.color import no_style
from django.db import connection, transaction
from hypothesis import settings as hypothesis_settings
from psycopg.types.json import Jsonb

from costing.models import Kitchen
from producer.demo import load_demo
from producer.quality import REQUIRE_ALL, chromium
from producer.system_packages import apt_line

# Playwright's synchronous interface keeps an event loop, in which Django would refuse the ORM.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")

DATABASE_FIXTURES = {"db", "transactional_db", "live_server"}

# How long one example takes says what else the machine is doing, not whether it is right.
hypothesis_settings.register_profile("unhurried", deadline=None)
hypothesis_settings.load_profile("unhurried")


def pytest_addoption(parser):
    parser.addoption(
        "--database-tests-only",
        action="store_true",
        help="leave out tests that never touch the database (they are the same on any)",
    )


def pytest_configure(config):
    config.addinivalue_line(
        "markers",
        "own_database: works in a SQLite file of its own, whatever the site's database is",
    )


def depends_on_the_database(item):
    """Whether a test could end differently on another database."""
    if item.get_closest_marker("own_database"):
        return False
    return bool(
        item.get_closest_marker("django_db")
        or DATABASE_FIXTURES & set(getattr(item, "fixturenames", ()))
    )


def pytest_collection_modifyitems(config, items):
    if not config.getoption("--database-tests-only"):
        return
    kept = [item for item in items if depends_on_the_database(item)]
    config.hook.pytest_deselected(items=[item for item in items if item not in kept])
    items[:] = kept


def skip_unless_everything_is_required(reason):
    """A skip that a developer may live with is a failure where nothing may be left out."""
    if os.environ.get(REQUIRE_ALL) == "1":
        pytest.fail(reason, pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def browser_type_launch_args():
    program = chromium()
    if program is None:
        skip_unless_everything_is_required(f"Browser journeys need: {apt_line(['chromium'])}")
    return {
        "executable_path": program,
        "headless": True,
        # --no-sandbox: the tests may run as root, where Chromium's sandbox refuses to start.
        "args": [
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
        ],
    }


@pytest.fixture(autouse=True)
def quick_password_hashing(settings):
    """Slow on purpose in use, and only slow here."""
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(autouse=True)
def sweep_in_spite_of_guards(request):
    """Between tests with transactions of their own, tables are emptied row by row on SQLite.

    The guards on frozen recipes and on prices refuse that, as they should; so they are lifted for
    the sweep and put back as they were. PostgreSQL truncates, which no guard sees.
    """
    marker = request.node.get_closest_marker("django_db")
    commits = {"transactional_db", "live_server"} & set(request.fixturenames)
    if not commits and not (marker and marker.kwargs.get("transaction")):
        yield
        return
    request.getfixturevalue("transactional_db")  # so that this is undone before it is
    yield
    if connection.vendor != "sqlite":
        return
    with connection.cursor() as cursor, no_guards(cursor):
        call_command("flush", interactive=False, verbosity=0, inhibit_post_migrate=True)


@contextmanager
def no_guards(cursor):
    """Without the guards on what is past, which are then as they were before."""
    if connection.vendor == "postgresql":
        cursor.execute("SET LOCAL session_replication_role = replica")
        yield
        cursor.execute("SET LOCAL session_replication_role = origin")
        return
    cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    guards = cursor.fetchall()
    for name, _ in guards:
        cursor.execute(f"DROP TRIGGER {name}")
    yield
    for _, sql in guards:
        cursor.execute(sql)


# --- The invented kitchen, entered once for a whole module ----------------------------------------

DEMO_DAY = date(2026, 3, 2)


@pytest.fixture(scope="session")
def demo_rows(django_db_setup, django_db_blocker):
    """Every row of the demo kitchen by its table, entered once the way a maker would."""
    rows = {}
    with django_db_blocker.unblock(), transaction.atomic():
        load_demo(on=DEMO_DAY)
        with connection.cursor() as cursor:
            for table in _tables_of_people_and_kitchens():
                cursor.execute(f"SELECT * FROM {table}")  # noqa: S608 (our own tables)
                columns = [column[0] for column in cursor.description]
                if found := cursor.fetchall():
                    rows[table] = (columns, found)
        transaction.set_rollback(True)
    return rows


def _tables_of_people_and_kitchens():
    return [
        model._meta.db_table
        for model in apps.get_models(include_auto_created=True)
        if model._meta.app_label in {"costing", "labels"} or model.__name__ == "User"
    ]


@pytest.fixture(scope="module")
def demo_once(demo_rows, django_db_blocker):
    """The demo kitchen for every test of a module, inside a transaction that is taken back.

    Entering it takes seconds, so its rows are put back as they were. Not for tests with
    transactions of their own.
    """
    with django_db_blocker.unblock(), transaction.atomic():
        _put_back(demo_rows)
        yield Kitchen.objects.get(is_demo=True).pk
        transaction.set_rollback(True)


def _put_back(rows):
    """Write rows that went through every rule before, in any order: keys are checked at the end."""
    with connection.cursor() as cursor, no_guards(cursor):
        for table, (columns, found) in rows.items():
            names = ", ".join(map(connection.ops.quote_name, columns))
            places = ", ".join(["%s"] * len(columns))
            cursor.executemany(
                f"INSERT INTO {table} ({names}) VALUES ({places})",  # noqa: S608 (our own tables)
                [[_as_written(value) for value in row] for row in found],
            )
        # New rows go on after these, also where a sweep began the numbers again.
        for statement in connection.ops.sequence_reset_sql(no_style(), apps.get_models()):
            cursor.execute(statement)


def _as_written(value):
    return Jsonb(value) if isinstance(value, dict | list) else value


@pytest.fixture
def demo(demo_once, db):
    """The demo kitchen as on 2 March 2026, afresh for each test."""
    return Kitchen.objects.get(pk=demo_once)


# --- A browser that notices --------------------------------------------------------------------


@pytest.fixture
def watched_page(page, live_server):
    """A page of the site; complains at the end about foreign hosts, scripts that fail, 500s."""
    noticed = []
    page.on(
        "request",
        lambda request: (
            None
            if request.url.startswith((live_server.url, "data:"))
            else noticed.append(f"asked another host: {request.url}")
        ),
    )
    page.on(
        "console",
        lambda message: (
            noticed.append(f"console: {message.text}") if message.type == "error" else None
        ),
    )
    page.on("pageerror", lambda error: noticed.append(f"script: {error}"))
    yield page
    assert noticed == []


@pytest.fixture
def sign_in_as(watched_page, live_server, client):
    """Sign somebody in without typing: sign_in_as(user) gives the page back."""

    def enter(user):
        client.force_login(user)
        name = django_settings.SESSION_COOKIE_NAME
        watched_page.context.add_cookies(
            [{"name": name, "value": client.cookies[name].value, "url": live_server.url}]
        )
        return watched_page

    return enter


@pytest.fixture(scope="session")
def axe_faults():
    """What axe finds wrong with the page as it stands: rule and place, empty when all is well."""
    axe = Axe()

    def faults(page):
        return [
            f"{violation['id']}: {', '.join(str(node['target']) for node in violation['nodes'])}"
            for violation in axe.run(page).response["violations"]
        ]

    return faults
