"""A person at the screen: types, clicks, counts both, and looks at every page on the way."""

import os
import re
from decimal import Decimal
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

PICTURES = os.environ.get("JOURNEY_PICTURES", "")
"""A folder to put a picture of every page into; none are taken when it is not set."""

WIDTHS = {"phone": (360, 740), "laptop": (1280, 900)}
SCROLLS_SIDEWAYS = "document.documentElement.scrollWidth > innerWidth"


def pdf_of(page: Page, link: Locator) -> bytes:
    """The file behind a link, fetched as this person would get it."""
    address = link.get_attribute("href")
    answer = page.context.request.get(page.evaluate("a => new URL(a, location).href", address))
    assert answer.status == 200, answer.text()[:300]
    assert answer.headers["content-type"] == "application/pdf"
    if PICTURES:
        Path(PICTURES, Path(address).name).write_bytes(answer.body())
    return answer.body()


def energy_kwh(*, ingoing_kg, evaporated_kg):
    """Energy bought, by hand: 3.7 kJ/kg K from 15 to 100 °C, then 2257 kJ/kg boiled off (IAPWS-95).

    An open pan takes up 55 % of it (the kitchen's default); 3600 kJ are a kilowatt-hour.
    """
    return (ingoing_kg * Decimal("3.7") * 85 + evaporated_kg * 2257) / 3600 / Decimal("0.55")


def money(amount):
    """An amount as an Irish kitchen sees it."""
    return f"€{amount:.2f}"


class Hands:
    """One person at one page. `fields` and `clicks` count what it took.

    axe_faults: without it pages are only read, because another journey looks at them.
    """

    def __init__(self, page: Page, *, axe_faults=None, width: str, journey: str) -> None:
        self.page = page
        self.fields = 0
        self.clicks = 0
        self.faults: list[str] = []
        self._axe = axe_faults
        self._name = f"{journey}-{width}"
        self._seen = 0
        page.set_default_timeout(15_000)
        page.set_viewport_size(dict(zip(("width", "height"), WIDTHS[width], strict=True)))

    # --- typing and clicking ---------------------------------------------------------------------

    def fill(self, box, text: str) -> None:
        """Type into a box: the beginning of its label, or a locator."""
        self.fields += 1
        self._box(box).fill(text)

    def choose(self, box, option: str) -> None:
        """Take one option of a list."""
        self.fields += 1
        self._box(box).select_option(label=option)

    def tick(self, box) -> None:
        """Tick a box or take one of several answers: a click."""
        self.clicks += 1
        self._box(box).check()

    def press(self, word: str) -> None:
        """A button by the word on it."""
        self._click(self.page.get_by_role("button", name=word))

    def follow(self, word: str) -> None:
        """A link in the page by its words."""
        self._click(self.page.get_by_role("main").get_by_role("link", name=word).first)

    def go_to(self, word: str) -> None:
        """A word of the menu."""
        menu = self.page.get_by_role("navigation", name="The work")
        self._click(menu.get_by_role("link", name=word, exact=True))

    def open(self, summary: str) -> None:
        """A part of the page that is folded away."""
        self._click(self.page.locator("summary", has_text=re.compile(summary)).first)

    def _box(self, box) -> Locator:
        if not isinstance(box, str):
            return box
        return self.page.get_by_label(re.compile(rf"^\s*{re.escape(box)}"))

    def _click(self, what: Locator) -> None:
        self.clicks += 1
        what.click()

    # --- looking ---------------------------------------------------------------------------------

    def look(self, heading: str) -> None:
        """The page with this heading, and that it is sound for eyes, fingers and readers."""
        expect(self.page.locator("h1")).to_have_text(heading)
        self.page.wait_for_load_state("load")
        expect(self.page.locator(".htmx-request")).to_have_count(0)
        self.picture()
        faults = self._axe(self.page) if self._axe else []
        if self.page.evaluate(SCROLLS_SIDEWAYS):
            faults.append("scrolls sideways")
        if self.page.locator("main .action:visible").count() > 1:
            faults.append("more than one main action")
        self.faults += [f"{heading}: {fault}" for fault in faults]

    def picture(self, name: str = "") -> None:
        """Keep a picture of the page as it stands, for somebody to look at."""
        if not PICTURES:
            return
        self._seen += 1
        title = re.sub(r"\W+", "-", name or self.page.locator("h1").inner_text()).strip("-")
        Path(PICTURES).mkdir(parents=True, exist_ok=True)
        file = Path(PICTURES) / f"{self._name}-{self._seen:02}-{title[:40]}.png"
        self.page.screenshot(path=file, full_page=True)
