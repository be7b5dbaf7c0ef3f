"""The site as an app: its checks and commands, and which static files it hands out."""

from django.apps import AppConfig
from django.contrib.staticfiles.apps import StaticFilesConfig


class ProducerConfig(AppConfig):
    """Settings, routing, commands; no business rule."""

    name = "producer"

    def ready(self) -> None:
        from producer import checks  # noqa: F401 (importing registers the checks)


class StaticFilesWeUse(StaticFilesConfig):
    """`collectstatic` without the variants no page asks for: a fifth of the files."""

    ignore_patterns = (
        *StaticFilesConfig.ignore_patterns,
        "*.map",
        "*.rtl.*",
        "hx-*",
        "htmax-*",
        "bootstrap-*",
        "bootstrap.css",
        "bootstrap.js",
        "bootstrap.min.js",
        "bootstrap.esm.*",
        "bootstrap.bundle.js",
        "FiraSans-Black*",
        "FiraSans-Extra*",
        "FiraSans-Light*",
        "FiraSans-Thin*",
    )
