"""A machine without the text library Pango: labels say so, and everything else works."""

import os
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest
from playwright.sync_api import expect

ROOT = Path(__file__).parents[2]
APT_LINE = "apt-get install --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0"
LOAD = """
import datetime, django
django.setup()
from producer.demo import load_demo
load_demo(on=datetime.date.today())
"""


@pytest.fixture(scope="module")
def bare_site(tmp_path_factory):
    """The demo, served by processes of their own that cannot load Pango.

    The dynamic linker looks into LD_LIBRARY_PATH first, finds empty files there under the names of
    the library, and refuses them, as it refuses a library that is not installed.
    """
    folder = tmp_path_factory.mktemp("without-pango")
    for name in ("libpango-1.0.so.0", "libpangoft2-1.0.so.0"):
        (folder / name).touch()
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    surroundings = {
        **{name: value for name, value in os.environ.items() if name != "DATABASE_URL"},
        "LD_LIBRARY_PATH": str(folder),
        "PRODUCER_DEMO": "1",
        "PRODUCER_VAR": str(folder / "var"),
        "PRODUCER_PORT": str(port),
        "DJANGO_SETTINGS_MODULE": "producer.settings",
    }
    (folder / "var").mkdir()
    for made in (["-m", "django", "migrate", "--verbosity=0"], ["-c", LOAD]):
        subprocess.run([sys.executable, *made], cwd=ROOT, env=surroundings, check=True)
    serve = ["-m", "gunicorn", "--config", "python:producer.serving", "producer.wsgi"]
    with subprocess.Popen([sys.executable, *serve], cwd=ROOT, env=surroundings) as server:
        try:
            _wait_for(port, server)
            yield f"http://127.0.0.1:{port}"
        finally:
            server.terminate()


def _wait_for(port, server):
    for _ in range(100):
        with socket.socket() as there:
            if there.connect_ex(("127.0.0.1", port)) == 0:
                return
        assert server.poll() is None, "the server gave up"
        time.sleep(0.1)
    pytest.fail("the server did not open its port")


def _menu(page, word):
    page.get_by_role("navigation", name="The work").get_by_role("link", name=word).click()


def test_without_pango_labels_name_what_to_install_and_the_rest_works(page, bare_site, axe_faults):
    noticed = []
    page.on("pageerror", lambda error: noticed.append(str(error)))
    page.on("response", lambda got: noticed.append(got.url) if got.status >= 400 else None)
    page.goto(bare_site)
    page.get_by_role("button").first.click()

    # Costs and prices.
    _menu(page, "Recipes")
    page.get_by_role("link", name="Damson cheese").click()
    expect(page.locator(".answer-figure").first).to_contain_text("€")
    _menu(page, "Products")
    page.get_by_role("link", name="Damson cheese, 100 g piece").click()
    expect(page.locator("#answer .answer-figure")).to_contain_text("€")

    # The label: every statement and finding, no drawing, no print, and the line to type.
    _menu(page, "Labels")
    page.get_by_role("link", name="Damson cheese, 100 g piece").click()
    expect(page.locator(".answer-sentence")).to_contain_text(APT_LINE)
    expect(page.locator(".statements")).to_contain_text("damson")
    assert page.get_by_role("link", name="Print labels").count() == 0
    assert page.locator("main img").count() == 0
    assert axe_faults(page) == []
    page.get_by_role("link", name="Change the design").click()
    expect(page.locator("#sketch")).to_contain_text(APT_LINE)
    assert axe_faults(page) == []

    # Whoever asks for the sheets all the same gets the same answer, and nothing is recorded.
    page.goto(page.url.replace("/design/", "/print/"))
    page.get_by_role("button", name="Make the sheets").click()
    expect(page.locator(".mistakes")).to_contain_text(APT_LINE)
    assert axe_faults(page) == []
    page.goto(page.url.replace("/print/", "/"))
    _menu(page, "Labels")
    page.get_by_role("link", name="Printed").click()
    expect(page.get_by_text("No label has been printed yet")).to_be_visible()
    assert noticed == []

    # The files themselves: not there, and why.
    address = page.url.replace("/printed/", "/sheets/a4-3x7-63.5x38.1/test.pdf")
    refused = page.context.request.get(address)
    assert refused.status == 503
    assert APT_LINE in refused.text()
