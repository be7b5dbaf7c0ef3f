"""Settings for the site: one file, read from the environment, safe when nothing is set.

PRODUCER_DEMO=1            the demo kitchen: its own database, one-button sign-in, loopback only
PRODUCER_VAR               folder for data (default: var/ beside manage.py)
PRODUCER_SECRET_KEY        else made once and kept in var/secret_key
PRODUCER_ALLOWED_HOSTS     comma-separated host names (default: this machine only)
PRODUCER_HTTPS=1           behind a proxy that speaks HTTPS: secure cookies, redirect, HSTS
PRODUCER_DEBUG=1           Django's debug pages, for developers
PRODUCER_TIME_ZONE         decides what "today" is (default: UTC)
DATABASE_URL               PostgreSQL; without it SQLite in var/db.sqlite3. Ignored in the demo.
"""

import contextlib
import importlib.util
import os
import tempfile
from pathlib import Path
from typing import Any

import dj_database_url

from producer.secret_key import secret_key_in


def _is_set(name: str) -> bool:
    return os.environ.get(name, "") in {"1", "true", "yes", "on"}


BASE_DIR = Path(__file__).resolve().parent.parent
VAR_DIR = Path(os.environ.get("PRODUCER_VAR", BASE_DIR / "var"))
STATIC_ROOT = VAR_DIR / "static"
with contextlib.suppress(OSError):  # a read-only disk is fine with PostgreSQL and a key of its own
    STATIC_ROOT.mkdir(parents=True, exist_ok=True)

DEMO = _is_set("PRODUCER_DEMO")
DEBUG = _is_set("PRODUCER_DEBUG")
SECRET_KEY = os.environ.get("PRODUCER_SECRET_KEY") or secret_key_in(VAR_DIR)

_LOOPBACK = ["127.0.0.1", "localhost", "[::1]"]
ALLOWED_HOSTS = [
    host.strip() for host in os.environ.get("PRODUCER_ALLOWED_HOSTS", "").split(",") if host.strip()
] or _LOOPBACK
if DEMO:
    ALLOWED_HOSTS = _LOOPBACK

INSTALLED_APPS = [
    "producer",
    "labels",
    "costing",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "producer.apps.StaticFilesWeUse",
    "crispy_forms",
    "crispy_bootstrap5",
    "django_htmx",
    "django_include_bootstrap",
    "csp",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "producer.urls"
WSGI_APPLICATION = "producer.wsgi.application"

# Our templates come first: a package we use for its CSS brings a base.html of its own.
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "producer.context.site",
            ],
        },
    },
]
CRISPY_ALLOWED_TEMPLATE_PACKS = "bootstrap5"
CRISPY_TEMPLATE_PACK = "bootstrap5"

# --- Data --------------------------------------------------------------------------------------


def _sqlite(name: str) -> dict[str, Any]:
    """SQLite that several workers can share: readers never wait, writers queue for 20 s."""
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": VAR_DIR / name,
        "OPTIONS": {
            # A transaction takes the write lock when it begins. Were it taken at the first write,
            # two workers that both had read could only be told "locked", however long they wait.
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": (
                "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL; PRAGMA foreign_keys=ON;"
            ),
        },
        # A file, not memory: browser tests then use one connection per thread, as in real life.
        "TEST": {"NAME": Path(tempfile.gettempdir()) / f"producer-test-{os.getpid()}.sqlite3"},
    }


if DEMO:
    DATABASES = {"default": _sqlite("demo.sqlite3")}
elif os.environ.get("DATABASE_URL"):
    DATABASES = {
        "default": {**dj_database_url.config(conn_max_age=60, conn_health_checks=True)},
    }
else:
    DATABASES = {"default": _sqlite("db.sqlite3")}

DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {"default": {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}}

# --- People ------------------------------------------------------------------------------------

LOGIN_URL = "sign_in"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "sign_in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]

# --- Language and time -------------------------------------------------------------------------

LANGUAGE_CODE = "en-gb"
LANGUAGES = [("en-gb", "English")]
TIME_ZONE = os.environ.get("PRODUCER_TIME_ZONE", "UTC")
USE_I18N = True
USE_TZ = True
# Typed numbers are read by our own parser, which asks when "1.250" could mean two things.
USE_THOUSAND_SEPARATOR = False

# --- Static files ------------------------------------------------------------------------------


def _font_folders() -> list[tuple[str, Path]]:
    """Fira Sans straight from its package, so that no font is copied into this project."""
    spec = importlib.util.find_spec("fontpkg_fira_sans")
    if spec is None or spec.origin is None:
        return []
    folder = Path(spec.origin).parent / "files"
    return [("fonts", folder)] if folder.is_dir() else []


STATIC_URL = "static/"
STATICFILES_DIRS = _font_folders()
# Until `collectstatic` has run, files are served from where they are installed: nothing to set up.
# Afterwards from var/static, compressed. Names stay unhashed, so a file missing from a manifest
# cannot turn a page into an error; browsers ask again after WhiteNoise's default minute.
WHITENOISE_USE_FINDERS = DEMO or DEBUG or not any(STATIC_ROOT.glob("*"))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedStaticFilesStorage"},
}

# --- Safety in the browser ---------------------------------------------------------------------

HTTPS = _is_set("PRODUCER_HTTPS") and not DEMO
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'none'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "img-src": ["'self'", "data:"],  # data: for the carets and ticks inside Bootstrap's CSS
        "font-src": ["'self'"],
        "connect-src": ["'self'"],
        "worker-src": ["'self'"],  # keeps the stove page at hand when the network is gone
        "form-action": ["'self'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'none'"],
    },
}
X_FRAME_OPTIONS = "DENY"
SECURE_REFERRER_POLICY = "same-origin"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
# Browsers keep cookies by host, whatever the port: the demo must not sign the maker out.
SESSION_COOKIE_NAME = "producer_demo_session" if DEMO else "producer_session"
CSRF_COOKIE_NAME = "producer_demo_csrf" if DEMO else "producer_csrf"
if HTTPS:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    SECURE_SSL_REDIRECT = True
    SECURE_HSTS_SECONDS = 365 * 24 * 3600
    SECURE_HSTS_INCLUDE_SUBDOMAINS = False

# --- Logging -----------------------------------------------------------------------------------

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": ["stderr"], "level": "WARNING", "propagate": False},
        "django.request": {"level": "ERROR"},  # a page not found is no news
        "django.security.DisallowedHost": {"level": "CRITICAL"},  # nor is a stranger's guess
    },
}
