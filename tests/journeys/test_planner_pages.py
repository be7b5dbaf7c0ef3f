"""A mould added, its density tested, a pan planned into it, and into jars: phone and laptop."""

import pytest
from django.core.cache import cache
from django.urls import reverse
from playwright.sync_api import expect

from tests.builders import a_cook, a_kitchen
from tests.journeys.hands import Hands

pytestmark = pytest.mark.django_db(transaction=True)
TOO_SMALL = """() => [...document.querySelectorAll('main button, main .box, main .action')]
    .filter(el => el.offsetParent && el.getBoundingClientRect().height < 43.5)
    .map(el => el.outerHTML.slice(0, 80))"""


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_from_an_unknown_density_to_a_tray_with_its_cuts(
    sign_in_as, live_server, axe_faults, width
):
    kitchen = a_kitchen(trading_name="Rookfold Kitchen")
    page = sign_in_as(a_cook(kitchen))
    hands = Hands(page, axe_faults=axe_faults, width=width, journey="planners")
    page.goto(live_server.url + reverse("cooks", args=[kitchen.pk]))
    page.get_by_role("navigation", name="Cooks").get_by_role("link", name="Moulds").click()
    hands.look("Moulds")
    hands.follow("Add a mould")
    for box, typed in (("Name", "Steel tray"), ("Length, inside", "310"), ("Width, inside", "210"),
                       ("Height of the rim", "40"), ("How many", "5")):  # fmt: skip
        hands.fill(box, typed)
    hands.look("A new mould")
    hands.press("Keep this mould")
    hands.follow("Steel tray")

    for box, typed in (("Paste in hand", "11,8903"), ("Length of a piece", "50"),
                       ("Width of a piece", "45"), ("Depth, when set", "30")):  # fmt: skip
        hands.fill(box, typed)
    hands.press("Show the plan")
    expect(page.locator(".mistakes")).to_contain_text("density test")
    hands.look("Plan Steel tray")
    hands.follow("Test the density")
    for box, typed in (("Empty", "12"), ("Full of water", "212"), ("Full of paste", "288,5")):
        hands.fill(box, typed)
    hands.press("Show the density")
    expect(page.locator(".answer-figure")).to_have_text("1.38")
    hands.look("Density test")

    hands.follow("Plan Steel tray with it")
    expect(page.locator(".answer-figure")).to_have_text("4")
    drawn = page.get_by_role("img", name="The mould and its cuts, to scale")
    expect(drawn).to_be_visible()  # the one for this width; the other is hidden
    hands.look("Plan Steel tray")
    assert page.evaluate(TOO_SMALL) == []

    page.get_by_role("navigation", name="Cooks").get_by_role("link", name="Jars").click()
    for box, typed in (("In the pan", "30,7590"), ("The jar holds", "282"), ("Filled with", "342"),
                       ("Weight on the label", "340"), ("A millilitre weighs", "1,33"),
                       ("Brix", "62"), ("Inside height", "95")):  # fmt: skip
        hands.fill(box, typed)
    hands.press("Show the jars")
    expect(page.locator(".answer-figure")).to_have_text("89")
    expect(page.get_by_role("img", name="The jar and its fill line")).to_be_visible()
    hands.look("Plan jars")
    assert hands.faults == []
