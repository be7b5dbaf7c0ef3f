"""Pricing in a real browser: a slab and a jar, worked out while typed, kept, seen at the stall."""

import pytest
from django.core.cache import cache
from django.urls import reverse
from playwright.sync_api import expect

from costing.models import Product, Recipe
from tests.builders import (
    a_kitchen,
    a_price,
    a_product,
    a_recipe,
    a_stall_hand,
    an_ingredient,
    an_owner,
    packaging,
)
from tests.costing.views.season import LONG_AGO

pytestmark = pytest.mark.django_db(transaction=True)
SCROLLS = "document.documentElement.scrollWidth > innerWidth"
WIDTHS = {"phone": {"width": 360, "height": 740}, "laptop": {"width": 1280, "height": 900}}


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


@pytest.fixture
def kitchen():
    """A paste at 10.00 a kilo, a marmalade at 5.00, and what they are packed in."""
    kitchen = a_kitchen(trading_name="Rookfold Kitchen")
    for name, per_kg in (("Damson cheese", 10), ("Marmalade", 5)):
        food = an_ingredient(kitchen)
        a_price(food, per_kg=per_kg, valid_from=LONG_AGO)
        a_recipe(kitchen, name=name, lines=[(food, 1)])
    for name, each in (("Sheet of 21 labels", "0.42"), ("Jar", "0.40"), ("Wrap", "0.05")):
        a_price(packaging(kitchen, name=name), per_each=each, valid_from=LONG_AGO)
    return kitchen


@pytest.fixture
def slab(kitchen):
    recipe = kitchen_recipe(kitchen, "Damson cheese")
    return a_product(
        recipe, name="Damson slab", form="slab", net_quantity_g=100, fill_g=100, packing_minutes=0,
        wholesale_price="1.50",
    )  # fmt: skip


def kitchen_recipe(kitchen, name):
    return Recipe.objects.get(kitchen=kitchen, name=name)


def at(live_server, name, kitchen, *args):
    return live_server.url + reverse(name, args=[kitchen.pk, *args])


def add_product(page, *, recipe, name, form, net, fill, minutes, packing):
    page.get_by_label("What is in it").select_option(label=recipe)
    page.get_by_label("Name").fill(name)
    page.get_by_label(form, exact=True).check()
    page.get_by_label("Net quantity").fill(net)
    page.get_by_label("Really filled").fill(fill)
    page.get_by_label("Packing one takes").fill(minutes)
    for place, (item, quantity, spoilt) in enumerate(packing):
        part = page.get_by_role("group", name=f"Part {place + 1}", exact=True)
        part.get_by_role("combobox").select_option(label=item)
        part.get_by_label("How many").fill(quantity)
        part.get_by_label("Spoilt").fill(spoilt)
    page.locator(".form-end").get_by_role("button", name="Keep this product").click()


def test_a_slab_and_a_jar_are_priced_and_stand_on_the_stall_hands_list(
    sign_in_as, live_server, axe_faults, kitchen
):
    page = sign_in_as(an_owner(kitchen))
    page.goto(at(live_server, "products", kitchen))
    page.get_by_role("link", name="Add a product").click()
    add_product(
        page, recipe="Damson cheese", name="Damson slab", form="Slab", net="100", fill="103,5",
        minutes="0,6", packing=[("Wrap", "1", "0"), ("Sheet of 21 labels", "1/21", "0")],
    )  # fmt: skip
    # 1.035 + 0.05 + 0.42 / 21 + 0.6 min x 23 / 60 = 1.335; / 0.6 x 1.1 = 2.4475, up to 2.50.
    answer = page.locator("#answer")
    expect(answer).to_contain_text("€2.50")
    expect(page.locator("#cost")).to_contain_text("€1.3350")

    # A margin of 50 % instead: 1.335 / 0.5 x 1.1 = 2.937, up to the next .95: 2.95.
    page.get_by_label("Of at least").fill("50")
    expect(answer).to_contain_text("€3.00")
    page.get_by_label("Up to an ending").check()
    page.get_by_label("Step or ending").fill("0,95")
    expect(answer).to_contain_text("€2.95")
    # 2.95 / 1.1 = 2.6818 less 1.335 = 1.3468: 50.2 %. A kilo 29.50.
    expect(answer).to_contain_text("50.2 %: €1.35 of each")
    expect(page.locator("#prices")).to_contain_text("€29.50")
    assert Product.objects.get().stall_price is None
    assert axe_faults(page) == []

    page.get_by_label("The price I will ask at the stall").fill("3,2")
    expect(answer).to_contain_text("You ask €3.20")
    page.get_by_label("What shops pay me").fill("1.9")
    # 1.90 / 0.65 x 1.1 = 3.2154.
    expect(page.locator("#shelf")).to_have_text("€3.22")
    page.get_by_role("button", name="Ask this price").click()
    expect(page.get_by_role("status")).to_contain_text("you now ask €3.20 at the stall")

    page.goto(at(live_server, "product_new", kitchen))
    add_product(
        page, recipe="Marmalade", name="Marmalade jar", form="Jar", net="340", fill="342",
        minutes="0.75", packing=[("Jar", "1", "2"), ("Sheet of 21 labels", "1/21", "5")],
    )  # fmt: skip
    # 1.71 + 0.4 / 0.98 + 0.02 / 0.95 + 0.2875 = 2.4267; / 0.6 x 1.1 = 4.4490, up to 4.50.
    expect(page.locator("#answer")).to_contain_text("€4.50")
    page.get_by_role("button", name="Ask this price").click()
    expect(page.get_by_role("status")).to_contain_text("you now ask €4.50")

    page = sign_in_as(a_stall_hand(kitchen))
    page.goto(at(live_server, "products", kitchen))
    slab, jar = page.get_by_role("row").all()[1:]
    expect(slab).to_contain_text("Damson slab")
    expect(slab).to_contain_text("€3.20")
    expect(slab).to_contain_text("€32.00/kg")
    expect(jar).to_contain_text("€4.50")
    expect(page.get_by_role("main")).not_to_contain_text("margin", ignore_case=True)


def test_a_mistake_is_said_while_it_is_typed_and_goes_when_it_is_mended(
    sign_in_as, live_server, axe_faults, kitchen, slab
):
    page = sign_in_as(an_owner(kitchen))
    page.goto(at(live_server, "product", kitchen, slab.pk))
    answer = page.locator("#answer")
    page.get_by_label("Of at least").fill("100")
    expect(answer).to_contain_text("A margin of 100 % cannot be")
    assert axe_faults(page) == []
    # 1.00 with as much again on top, and 10 % tax: 2.20.
    page.get_by_label("Markup: added on top of the cost").check()
    expect(answer).to_contain_text("€2.20")
    expect(answer).to_contain_text("a markup of 100 %")


def test_a_comma_and_a_point_give_the_same_price(sign_in_as, live_server, kitchen, slab):
    page = sign_in_as(an_owner(kitchen))
    page.goto(at(live_server, "product", kitchen, slab.pk))
    box, answer = page.get_by_label("The price I will ask at the stall"), page.locator("#answer")
    for typed in ("2,5", "2.5"):
        box.fill("")
        expect(answer).not_to_contain_text("You ask")
        box.press_sequentially(typed)
        # 2.50 / 1.1 = 2.2727 less 1.00 = 1.2727: 56 %.
        expect(answer).to_contain_text("You ask €2.50: 56.0 % margin, €1.27 of each")


def test_the_whole_page_works_by_keyboard(sign_in_as, live_server, kitchen, slab):
    page = sign_in_as(an_owner(kitchen))
    page.goto(at(live_server, "product", kitchen, slab.pk))
    page.get_by_label("Margin: share of the price I keep").focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_label("Markup: added on top of the cost")).to_be_checked()
    page.keyboard.press("Tab")
    expect(page.get_by_label("Of at least")).to_be_focused()
    page.keyboard.type("60")
    # 1.00 x 1.6 x 1.1 = 1.76, up to 1.80.
    expect(page.locator("#answer")).to_contain_text("€1.80")
    expect(page.get_by_label("Of at least")).to_be_focused()  # the swap leaves the hand alone
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("you now ask €1.80")


def test_a_box_in_use_is_not_under_the_answer_on_a_phone(sign_in_as, live_server, kitchen, slab):
    page = sign_in_as(an_owner(kitchen))
    page.set_viewport_size(WIDTHS["phone"])
    page.emulate_media(
        reduced_motion="reduce"
    )  # else the page is still gliding when it is measured
    page.goto(at(live_server, "product", kitchen, slab.pk))
    page.get_by_label("Margin: share of the price I keep").focus()
    for _ in range(7):
        page.keyboard.press("Tab")
        covered = page.evaluate(
            """() => document.activeElement.getBoundingClientRect().bottom
                 > document.querySelector('#answer').getBoundingClientRect().top"""
        )
        assert not covered, page.evaluate("document.activeElement.id")


def test_parts_come_and_go_without_losing_what_is_typed(
    sign_in_as, live_server, axe_faults, kitchen
):
    page = sign_in_as(an_owner(kitchen))
    page.goto(at(live_server, "product_new", kitchen))
    page.get_by_label("Name").fill("Slab")
    page.get_by_label("How many").first.fill("1/21")
    page.get_by_role("button", name="Add a part").click()
    expect(page.get_by_label("How many")).to_have_count(4)
    expect(page.get_by_label("Part 4", exact=True)).to_be_focused()
    page.get_by_role("button", name="Take out part 2").click()
    expect(page.get_by_label("How many")).to_have_count(3)
    expect(page.get_by_label("Name")).to_have_value("Slab")
    expect(page.get_by_label("How many").first).to_have_value("1/21")
    assert axe_faults(page) == []
    page.get_by_label("Name").press("Enter")  # keeps the product, and takes no row out
    expect(page.get_by_role("heading", name="need another look")).to_be_visible()
    expect(page.get_by_label("How many")).to_have_count(3)


def test_everything_works_without_scripts(browser, client, live_server, kitchen, slab, settings):
    client.force_login(an_owner(kitchen))
    name = settings.SESSION_COOKIE_NAME
    context = browser.new_context(java_script_enabled=False)
    context.add_cookies(
        [{"name": name, "value": client.cookies[name].value, "url": live_server.url}]
    )
    page = context.new_page()
    page.goto(at(live_server, "product_edit", kitchen, slab.pk))
    page.get_by_label("Name").fill("Slab, wrapped")
    page.get_by_role("button", name="Add a part").click()
    expect(page.get_by_label("Name")).to_have_value("Slab, wrapped")
    page.get_by_label("Part 1", exact=True).select_option(label="Wrap")
    page.locator(".form-end").get_by_role("button", name="Keep this product").click()
    # 1.00 + 0.05 = 1.05; / 0.6 x 1.1 = 1.925, up to 2.00.
    expect(page.locator("#answer")).to_contain_text("€2.00")
    page.get_by_label("Of at least").fill("50")
    page.get_by_role("button", name="Ask this price").click()
    # 1.05 / 0.5 x 1.1 = 2.31, up to 2.40.
    expect(page.get_by_role("status")).to_contain_text("you now ask €2.40")
    context.close()


def faults_of(page, axe_faults):
    """What is wrong with a page as it stands, for eyes, fingers and readers."""
    faults = axe_faults(page)
    if page.evaluate(SCROLLS):
        faults.append("the page scrolls sideways")
    if page.locator("h1").count() != 1:
        faults.append("not one heading of the first level")
    if page.locator("main .action:visible").count() > 1:
        faults.append("more than one main action")
    small = page.evaluate(
        """() => [...document.querySelectorAll('main button:not(.visually-hidden), main select,'
            + ' main .action-quiet,'
            + ' main input:not([type=hidden]):not([type=radio]):not([type=checkbox])')]
            .filter(el => el.offsetParent && el.getBoundingClientRect().height < 43.5)
            .map(el => el.outerHTML.slice(0, 80))"""
    )
    return faults + [f"too small to touch: {one}" for one in small]


@pytest.mark.parametrize("width", WIDTHS)
def test_every_product_page_is_sound_on_a_phone_and_on_a_laptop(
    sign_in_as, live_server, axe_faults, kitchen, slab, width
):
    unknown = a_product(
        kitchen_recipe(kitchen, "Marmalade"), name="Not timed", stall_price="1.10",
        parts=[(packaging(kitchen, name="Unpriced lid"), 1, 0)],
    )  # fmt: skip
    page = sign_in_as(an_owner(kitchen))
    page.set_viewport_size(WIDTHS[width])
    found = {}
    for name, *rest in (
        ("products",), ("product_new",), ("product", slab.pk), ("product", unknown.pk),
        ("product_edit", slab.pk),
    ):  # fmt: skip
        address = at(live_server, name, kitchen, *rest)
        assert page.goto(address).status == 200
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        if faults := faults_of(page, axe_faults):
            found[address] = faults
    page = sign_in_as(a_stall_hand(kitchen))
    page.goto(at(live_server, "products", kitchen))
    found |= {"stall": faults} if (faults := faults_of(page, axe_faults)) else {}
    assert found == {}
