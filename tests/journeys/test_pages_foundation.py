"""The buying half of the site in a real browser: both widths, axe, keyboard, live sums."""

from datetime import timedelta

import pytest
from django.core.cache import cache
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from costing.models import AllergenAnswer, Ingredient, SupplierPrice
from tests.builders import (
    PASSWORD,
    a_fruit,
    a_kitchen,
    a_price,
    a_recipe,
    a_supplier,
    an_owner,
    no_allergens,
    packaging,
    sugar,
)

pytestmark = pytest.mark.django_db(transaction=True)
SCROLLS = "document.documentElement.scrollWidth > innerWidth"
WIDTHS = {"phone": (360, 740), "laptop": (1280, 900)}


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


@pytest.fixture
def kitchen():
    return a_kitchen(trading_name="Rookfold Kitchen", altitude_m=240)


@pytest.fixture
def plums(kitchen):
    """A fruit with two suppliers and a history, as pages look when they are in use."""
    today = timezone.localdate()
    fruit = no_allergens(a_fruit(kitchen, name="Damsons", usable_pct=75))
    orchard = a_supplier(kitchen, name="Hollowmere Orchard")
    carry = a_supplier(kitchen, name="Sable & Finch Cash-and-Carry")
    for supplier, days, price in ((orchard, 200, 1.8), (orchard, 20, 2.2), (carry, 120, 1.95)):
        a_price(fruit, per_kg=price, supplier=supplier, valid_from=today - timedelta(days=days))
    return fruit


@pytest.fixture
def busy(kitchen, plums):
    """The rest of a kitchen in use: something unpriced, something old, packaging, a mixture."""
    white = sugar(kitchen)
    a_price(white, valid_from=timezone.localdate() - timedelta(days=200))
    a_price(packaging(kitchen, name="Paste wrap"), per_each="0.038")
    mustard = a_fruit(kitchen, name="Mustard", is_compound=True)
    AllergenAnswer.objects.create(
        kitchen=kitchen, ingredient=mustard, group="mustard", answer="contains", named_as="mustard"
    )
    a_recipe(kitchen, lines=[(plums, 1), (white, 1), (mustard, 1)])
    return kitchen


def _pages(kitchen):
    price = SupplierPrice.objects.filter(kitchen=kitchen, ingredient__name="Damsons").first()
    mustard = Ingredient.objects.get(kitchen=kitchen, name="Mustard")
    wrap = Ingredient.objects.get(kitchen=kitchen, name="Paste wrap")
    plums = price.ingredient_id
    named = [
        ("today",), ("kitchen",), ("people",), ("ingredients",), ("ingredient_new",), ("pantry",),
        ("suppliers",), ("supplier_new",), ("ingredient", plums), ("ingredient", mustard.pk),
        ("ingredient", wrap.pk), ("ingredient_edit", mustard.pk), ("price_new", plums),
        ("price_void", price.pk), ("supplier", price.supplier_id),
        ("supplier_edit", price.supplier_id),
    ]  # fmt: skip
    pages = [reverse(name, args=[kitchen.pk, *rest]) for name, *rest in named]
    book = reverse("ingredients", args=[kitchen.pk])
    pages += [f"{book}?show=packaging", f"{book}?show=unpriced", f"{book}?q=zzz"]
    return [*pages, "/kitchens/new/"]


def _faults(page, axe_faults):
    """What is wrong with a page as it stands, for eyes, fingers and readers."""
    faults = axe_faults(page)
    if page.evaluate(SCROLLS):
        faults.append("the page scrolls sideways")
    if page.locator("h1").count() != 1:
        faults.append("not one heading of the first level")
    if page.locator("main .action:visible").count() > 1:
        faults.append("more than one main action")
    small = page.evaluate(
        """() => [...document.querySelectorAll('button, .action, .action-quiet, .menu a, select,'
            + ' input:not([type=hidden]):not([type=checkbox]):not([type=radio])')]
            .filter(el => el.offsetParent && el.getBoundingClientRect().height < 43.5)
            .map(el => el.outerHTML.slice(0, 80))"""
    )
    return faults + [f"too small to touch: {one}" for one in small]


@pytest.mark.parametrize("width", WIDTHS)
def test_every_page_is_sound_on_a_phone_and_on_a_laptop(
    sign_in_as, live_server, axe_faults, busy, width
):
    page = sign_in_as(an_owner(busy))
    page.set_viewport_size(dict(zip(("width", "height"), WIDTHS[width], strict=True)))
    found = {}
    for address in _pages(busy):
        assert page.goto(live_server.url + address).status == 200, address
        scrolls = page.evaluate(SCROLLS)
        assert not scrolls, f"{address} scrolls sideways while everything is closed"
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        if faults := _faults(page, axe_faults):
            found[address] = faults
    assert found == {}


@pytest.mark.parametrize("width", WIDTHS)
def test_the_door_is_sound(watched_page, live_server, axe_faults, width):
    watched_page.set_viewport_size(dict(zip(("width", "height"), WIDTHS[width], strict=True)))
    watched_page.goto(live_server.url)
    assert watched_page.url.endswith("/welcome/")
    assert _faults(watched_page, axe_faults) == []
    an_owner(username="maud")
    watched_page.goto(live_server.url)
    assert watched_page.url.endswith("/sign-in/")
    assert _faults(watched_page, axe_faults) == []
    watched_page.get_by_label("Your name here").fill("maud")
    watched_page.get_by_label("Password").fill("wrong")
    watched_page.get_by_role("button", name="Sign in").click()
    expect(watched_page.get_by_text("do not go together")).to_be_visible()
    assert _faults(watched_page, axe_faults) == []


def test_a_page_that_is_not_there_is_sound(page, live_server, axe_faults, busy):
    # Not the watched page: a browser notes every 404 in its console.
    assert page.goto(f"{live_server.url}/nowhere/").status == 404
    assert axe_faults(page) == []


def test_a_price_is_worked_out_while_it_is_typed(sign_in_as, live_server, axe_faults, plums):
    page = sign_in_as(an_owner(plums.kitchen))
    before = SupplierPrice.objects.count()
    page.goto(live_server.url + reverse("price_new", args=[plums.kitchen_id, plums.pk]))
    page.get_by_label("A pack is").press_sequentially("1 crate of 10 kg")
    page.get_by_label("It costs").press_sequentially("18,00")
    working = page.locator("#working")
    # 18.00 / 10 kg = 1.80 a kilo; 1.80 / 0.75 = 2.40 a usable kilo.
    expect(working).to_contain_text("€2.40")
    expect(working).to_contain_text("€1.80 a kilo as bought")
    page.get_by_label("It costs").fill("1.250")
    expect(working).to_contain_text("one and a quarter")
    assert axe_faults(page) == []
    page.get_by_label("It costs").fill("9.25")
    page.get_by_label("A pack is").fill("5 l")
    expect(working).to_contain_text("What does one litre weigh", ignore_case=True)
    assert SupplierPrice.objects.count() == before


def test_mistakes_lead_to_their_fields_by_keyboard(sign_in_as, live_server, axe_faults, plums):
    page = sign_in_as(an_owner(plums.kitchen))
    page.goto(live_server.url + reverse("price_new", args=[plums.kitchen_id, plums.pk]))
    page.get_by_label("A pack is").fill("5 m")
    page.get_by_label("It costs").fill("-3")
    page.get_by_role("button", name="Record this price").click()
    expect(page.get_by_role("heading", name="2 things need another look")).to_be_visible()
    assert axe_faults(page) == []
    expect(page.get_by_label("A pack is")).to_have_value("5 m")
    page.get_by_role("link", name="measures a length").press("Enter")
    expect(page.get_by_label("A pack is")).to_be_focused()
    described = page.get_by_label("A pack is").get_attribute("aria-describedby").split()
    assert all(page.locator(f"#{one}").count() == 1 for one in described)
    assert page.get_by_label("A pack is").get_attribute("aria-invalid") == "true"


def test_the_skip_link_comes_first(sign_in_as, live_server, busy):
    page = sign_in_as(an_owner(busy))
    page.goto(live_server.url + reverse("today", args=[busy.pk]))
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Skip to the page")).to_be_focused()


def test_the_picture_has_its_numbers_in_a_table(sign_in_as, live_server, plums):
    page = sign_in_as(an_owner(plums.kitchen))
    page.goto(live_server.url + reverse("ingredient", args=[plums.kitchen_id, plums.pk]))
    picture = page.get_by_role("img", name="Price over time")
    expect(picture).to_be_visible()
    page.get_by_text("The same in figures").click()
    # 2.20 / 0.75 = 2.93
    expect(page.locator("figure.picture table")).to_contain_text("2.93")


def test_which_one_is_asked_only_where_an_allergen_is_in_it(sign_in_as, live_server, kitchen):
    page = sign_in_as(an_owner(kitchen))
    page.goto(live_server.url + reverse("ingredient_new", args=[kitchen.pk]))
    page.get_by_text("Answer one by one").click()
    milk = page.get_by_role("group", name="Milk")
    expect(milk.get_by_role("textbox")).to_be_hidden()
    milk.get_by_label("Contains", exact=True).check()
    expect(milk.get_by_role("textbox")).to_be_visible()


def test_from_nothing_to_three_prices(watched_page, live_server, axe_faults):
    """The first part of the first ten minutes, as a newcomer walks it."""
    page = watched_page
    page.set_viewport_size({"width": 360, "height": 740})
    page.goto(live_server.url)
    page.get_by_label("Your name here").fill("maud")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Make my account").click()
    page.get_by_label("What is your kitchen called?").fill("Plum Row")
    page.get_by_label("In which country do you sell?").select_option(label="Ireland")
    page.get_by_role("button", name="Open this kitchen").click()
    assert _faults(page, axe_faults) == []
    page.get_by_role("link", name="Choose three ingredients").click()
    page.get_by_label("Damsons").check()
    page.get_by_label("Quinces").check()
    page.get_by_label("Apples", exact=False).first.check()
    page.get_by_role("button", name="Add what is ticked").click()
    for number, (pack, price) in enumerate((("10 kg", "18"), ("5 kg", "9,50"), ("12 kg", "15.60"))):
        if number == 0:
            page.get_by_label("Supplier").fill("Hollowmere Orchard")
        page.get_by_label("A pack is").fill(pack)
        page.get_by_label("It costs").fill(price)
        expect(page.locator("#working")).to_contain_text("€")
        further = page.get_by_role("button", name="Record, then price")
        (further if number < 2 else page.get_by_role("button", name="Record this price")).click()
    assert SupplierPrice.objects.count() == 3
    # The start page leads on, to the three figures without which no cost is whole.
    page.get_by_role("link", name="Say what they cost").click()
    expect(page.get_by_label("An hour of work")).to_be_visible()
