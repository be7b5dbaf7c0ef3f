"""What all tests share: a browser that is really there, and what a database leg runs."""

import os
from datetime import date

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings as django_settings
from django.core.management import call_command
from django.db import connection, transaction

from costing.models import Kitchen
from producer.demo import load_demo
from producer.quality import REQUIRE_ALL, chromium
from producer.system_packages import apt_line

# Playwright's synchronous interface keeps an event loop, in which Django would refuse the ORM.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")

DATABASE_FIXTURES = {"db", "transactional_db", "live_server"}


def pytest_addoption(parser):
    parser.addoption(
        "--database-tests-only",
        action="store_true",
        help="leave out tests that never touch the database (they are the same on any)",
    )


def pytest_collection_modifyitems(config, items):
    if not config.getoption("--database-tests-only"):
        return
    kept = [
        item
        for item in items
        if item.get_closest_marker("django_db")
        or DATABASE_FIXTURES & set(getattr(item, "fixturenames", ()))
    ]
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
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        guards = cursor.fetchall()
        for name, _ in guards:
            cursor.execute(f"DROP TRIGGER {name}")
        call_command("flush", interactive=False, verbosity=0, inhibit_post_migrate=True)
        for _, sql in guards:
            cursor.execute(sql)


# --- The invented kitchen, entered once for a whole module ----------------------------------------

DEMO_DAY = date(2026, 3, 2)


@pytest.fixture(scope="module")
def demo_once(django_db_setup, django_db_blocker):
    """The demo kitchen for every test of a module, inside a transaction that is taken back.

    Entering it takes over a second. Not for tests with transactions of their own.
    """
    with django_db_blocker.unblock(), transaction.atomic():
        yield load_demo(on=DEMO_DAY).pk
        transaction.set_rollback(True)


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
