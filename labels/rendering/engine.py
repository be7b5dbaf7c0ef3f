"""The one door to WeasyPrint: opened late, one at a time, and deaf to no warning."""

import atexit
import logging
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from django.template import Context, Engine, Template

from labels.rendering.fonts import RenderingUnavailable, font_face_css, pango_is_missing

__all__ = ["RenderingFault", "TypeSetter", "html_of", "page_of", "type_setter"]

_TEMPLATES = Path(__file__).resolve().parents[2] / "templates"
_LANGUAGE_TAG = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*")
_FAR_MM = 3000  # a page so tall that text which has no room on the label is still laid out

# WeasyPrint shares fonts and font maps between renders; they are not safe to share at one time.
_LOCK = threading.RLock()


class RenderingFault(RuntimeError):
    """The type setter complained: a label drawn in spite of that is not to be trusted."""


@cache
def _template(name: str) -> Template:
    return Engine(dirs=[str(_TEMPLATES)], autoescape=True).get_template(f"labels/{name}")


def page_of(labels: list[dict[str, Any]], *, title: str, language: str) -> str:
    """The HTML of some labels, one page each."""
    spoken = language if _LANGUAGE_TAG.fullmatch(language) else "und"
    return html_of("label.html", {"labels": labels, "title": title, "language": spoken})


def html_of(template: str, context: dict[str, Any]) -> str:
    """A template filled in; every text in it is escaped, and none is read as a template."""
    return _template(template).render(Context(context, use_l10n=False, use_tz=False))


class _Complaints(logging.Handler):
    """Collects what WeasyPrint warns of in this thread."""

    def __init__(self) -> None:
        super().__init__(level=logging.WARNING)
        self.thread = threading.get_ident()
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        if record.thread == self.thread:
            self.heard.append(record.getMessage())


@dataclass(frozen=True)
class TypeSetter:
    """WeasyPrint with our type and our stylesheet already read."""

    font_config: Any
    stylesheet: Any
    fetcher: Any  # opens nothing: a label holds text only

    def lay_out(self, html: str, *, width_mm: float, height_mm: float = _FAR_MM) -> Any:
        """Lay out one page per label. Left at its default height, no text can fall off the page."""
        from weasyprint import CSS, HTML

        page = CSS(
            string=f"@page {{ size: {width_mm:.3f}mm {height_mm:.3f}mm; margin: 0 }}",
            font_config=self.font_config,
        )
        return HTML(string=html, url_fetcher=self.fetcher).render(
            font_config=self.font_config, stylesheets=[self.stylesheet, page]
        )


@cache
def _load() -> TypeSetter:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher

    fonts = FontConfiguration()
    style = font_face_css() + (_TEMPLATES / "labels" / "label.css").read_text(encoding="utf-8")
    # Its fonts lie in a folder that it removes itself, while Python can still do that.
    atexit.register(_load.cache_clear)
    return TypeSetter(
        font_config=fonts,
        stylesheet=CSS(string=style, font_config=fonts),
        fetcher=URLFetcher(allowed_protocols=()),
    )


@contextmanager
def type_setter() -> Iterator[TypeSetter]:
    """The type setter, for one thread at a time.

    Raises: RenderingUnavailable where a system library is missing, RenderingFault on a warning.
    """
    if missing := pango_is_missing():
        raise RenderingUnavailable(
            "Labels need a text library of the system. Install it with: "
            f"sudo apt-get install --no-install-recommends {' '.join(missing)}"
        )
    with _LOCK:
        complaints, logger = _Complaints(), logging.getLogger("weasyprint")
        logger.addHandler(complaints)
        try:
            yield _load()
        finally:
            logger.removeHandler(complaints)
    if complaints.heard:
        raise RenderingFault("; ".join(dict.fromkeys(complaints.heard)))
