"""What the settings come to in a process of their own, started as an installation starts it."""

import json
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.template.loader import get_template

ROOT = Path(__file__).parents[2]


def site_says(folder: Path, expression: str, **environment: str):
    """Evaluate an expression in a fresh Django process whose data lie in a folder."""
    code = (
        "import json, django; django.setup()\n"
        "from django.conf import settings\n"
        "from django.db import connection\n"
        "def pragma(name): return connection.cursor().execute(f'PRAGMA {name}').fetchone()[0]\n"
        f"print(json.dumps({expression}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={
            "PATH": os.environ["PATH"],
            "DJANGO_SETTINGS_MODULE": "producer.settings",
            "PRODUCER_VAR": str(folder),
            **environment,
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_sqlite_lets_readers_and_writers_work_together_and_keeps_its_references(tmp_path):
    # https://www.sqlite.org/pragma.html
    found = site_says(
        tmp_path, "[pragma('journal_mode'), pragma('foreign_keys'), pragma('busy_timeout')]"
    )
    assert found == ["wal", 1, 20_000]


def test_a_database_url_means_postgresql(tmp_path):
    url = "postgres://maker@/shop?host=%2Frun%2Fpostgresql"
    found = site_says(tmp_path, "settings.DATABASES['default']", DATABASE_URL=url)
    assert found["ENGINE"] == "django.db.backends.postgresql"
    assert (found["NAME"], found["USER"]) == ("shop", "maker")
    assert found["OPTIONS"]["host"] == "/run/postgresql"


def test_the_demo_never_touches_the_makers_own_data(tmp_path):
    found = site_says(
        tmp_path,
        "[settings.DATABASES['default']['ENGINE'], str(settings.DATABASES['default']['NAME']),"
        " settings.ALLOWED_HOSTS]",
        PRODUCER_DEMO="1",
        DATABASE_URL="postgres://maker@/shop",
        PRODUCER_ALLOWED_HOSTS="shop.example",
    )
    assert found == [
        "django.db.backends.sqlite3",
        str(tmp_path / "demo.sqlite3"),
        ["127.0.0.1", "localhost", "[::1]"],
    ]


def test_the_demo_and_the_real_site_keep_their_sign_ins_apart(tmp_path):
    # RFC 6265, section 8.5: cookies do not tell ports apart.
    names = "[settings.SESSION_COOKIE_NAME, settings.CSRF_COOKIE_NAME]"
    assert not set(site_says(tmp_path, names)) & set(site_says(tmp_path, names, PRODUCER_DEMO="1"))


def test_the_secret_key_is_made_once_and_only_its_owner_reads_it(tmp_path):
    first = site_says(tmp_path, "settings.SECRET_KEY")
    assert len(first) >= 50
    assert site_says(tmp_path, "settings.SECRET_KEY") == first
    assert stat.S_IMODE((tmp_path / "secret_key").stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.glob(".secret_key*")] == []


def test_workers_that_start_together_agree_on_the_secret_key(tmp_path):
    code = (
        "from pathlib import Path; from producer.secret_key import secret_key_in\n"
        f"print(secret_key_in(Path({str(tmp_path)!r})))"
    )
    workers = [
        subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, stdout=subprocess.PIPE, text=True)
        for _ in range(4)
    ]
    assert len({worker.communicate()[0] for worker in workers}) == 1


def test_behind_https_cookies_and_redirects_are_secure(tmp_path):
    expression = (
        "[settings.SESSION_COOKIE_SECURE, settings.CSRF_COOKIE_SECURE,"
        " getattr(settings, 'SECURE_SSL_REDIRECT'), settings.SECURE_HSTS_SECONDS]"
    )
    assert site_says(tmp_path, expression) == [False, False, False, 0]
    assert site_says(tmp_path, expression, PRODUCER_HTTPS="1") == [True, True, True, 31_536_000]


def test_djangos_own_deployment_check_has_nothing_to_say_behind_https(tmp_path):
    done = subprocess.run(
        [sys.executable, "manage.py", "check", "--deploy", "--tag", "security"],
        cwd=ROOT,
        env={"PATH": os.environ["PATH"], "PRODUCER_VAR": str(tmp_path), "PRODUCER_HTTPS": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    # W005 and W021 ask for promises about other subdomains, which are not ours to make.
    told = [line for line in done.stderr.splitlines() if line.startswith("?:")]
    assert [line for line in told if "W005" not in line and "W021" not in line] == []
    assert done.returncode == 0


@pytest.mark.django_db
def test_pages_may_load_nothing_from_elsewhere_and_run_no_inline_script(client):
    policy = client.get("/no-such-page/").headers["Content-Security-Policy"]
    parts = dict(part.strip().split(" ", 1) for part in policy.split(";"))
    assert parts["default-src"] == "'none'"
    assert parts["script-src"] == parts["style-src"] == parts["connect-src"] == "'self'"
    assert parts["frame-ancestors"] == parts["base-uri"] == "'none'"
    assert "unsafe" not in policy


def test_our_base_page_wins_over_the_one_that_comes_with_bootstrap():
    assert Path(get_template("base.html").origin.name) == settings.BASE_DIR / "templates/base.html"


@pytest.mark.parametrize(
    "file",
    [
        "css/bootstrap.min.css",
        "js/bootstrap.bundle.min.js",
        "fonts/FiraSans-Regular.ttf",
        "fonts/FiraSans-Bold.ttf",
    ],
)
def test_what_pages_load_comes_with_the_packages(file):
    assert finders.find(file) is not None
