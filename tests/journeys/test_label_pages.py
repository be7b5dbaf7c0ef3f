"""The label pages in a real browser: both widths, axe, keyboard alone, a fault that is mended."""

import io
import re

import pdfplumber
import pypdfium2
import pytest
from django.core.cache import cache
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from costing.models import Ingredient, Product
from labels.models import LabelDesign, OwnSheet, PrintedLabel, QuantifiedIngredient
from labels.services.printing import LabelOrder, print_labels
from labels.stock import sheet
from tests.builders import (
    a_cook,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_product,
    a_recipe,
    an_ingredient,
    an_owner,
    no_allergens,
)
from tests.journeys.hands import SCROLLS_SIDEWAYS, WIDTHS, Hands, pdf_of

pytestmark = pytest.mark.django_db(transaction=True)
A4 = "a4-3x7-63.5x38.1"
PASTE, RELISH = "Damson cheese, 100 g piece", "Plum and mustard relish"
TOO_SMALL = """() => [...document.querySelectorAll('button, .action, .action-quiet, .menu a,'
    + ' select, summary, input:not([type=hidden]):not([type=checkbox]):not([type=radio])')]
    .filter(el => el.offsetParent && el.getBoundingClientRect().height < 43.5)
    .map(el => 'too small to touch: ' + el.outerHTML.slice(0, 80))"""
IS_FOCUSED = "el => el === document.activeElement"
SHOWS_FOCUS = """el => { const how = getComputedStyle(el);
    return (how.outlineStyle !== 'none' && parseFloat(how.outlineWidth) > 0)
        || how.boxShadow !== 'none'; }"""


@pytest.fixture(autouse=True)
def fresh_cache():
    cache.clear()


@pytest.fixture
def kitchen():
    """A paste that may be printed, a relish whose mustard nobody has answered for, and no more."""
    kitchen = a_kitchen(trading_name="Rookfold Kitchen")
    paste = a_damson_paste(kitchen)
    for each in Ingredient.objects.filter(kitchen=kitchen):
        no_allergens(each)
    cheese = _designed(a_product(paste, name=PASTE, net_quantity_g=100, fill_g=101, form="piece"))
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    QuantifiedIngredient.objects.create(kitchen=kitchen, design=cheese, preparation=puree)
    plums = no_allergens(a_fruit(kitchen, name="Plums"))
    mustard = an_ingredient(kitchen, name="Mustard seed", brix=5, insoluble_pct=60)
    relish = a_recipe(
        kitchen, name="Relish", lines=[(plums, 9), (mustard, "0.5")],
        cook_kind="cook loss", cook_loss_pct=40,
    )  # fmt: skip
    _designed(a_product(relish, name=RELISH))
    a_product(relish, name="Relish for the deli")  # no design yet
    return kitchen


def _designed(product):
    return LabelDesign.objects.create(
        kitchen=product.kitchen,
        product=product,
        name_of_food=product.recipe.name,
        brand_name="Rookfold Kitchen",
        storage="Store in a cool, dry place.",
        shelf_life_months=9,
        largest_surface_cm2=100,
        nutrition_exemption="small quantities",
        lot_prefix="DC",
        sheet_code=A4,
    )


def _page(name, kitchen, product="", **query):
    rest = [Product.objects.get(kitchen=kitchen, name=product).pk] if product else []
    return reverse(name, args=[kitchen.pk, *rest], query=query)


def _print(kitchen, user):
    design = LabelDesign.objects.get(product__name=PASTE)
    today = timezone.localdate()
    order = LabelOrder(on=today, made_on=today, sheet=sheet(A4), copies=24, start_at=5)
    printed, _ = print_labels(design, by=user, order=order)
    return printed


@pytest.mark.parametrize("width", WIDTHS)
def test_every_label_page_is_sound_on_a_phone_and_on_a_laptop(
    sign_in_as, live_server, axe_faults, kitchen, width
):
    owner = an_owner(kitchen)
    run = _print(kitchen, owner)
    page = sign_in_as(owner)
    eyes = Hands(page, axe_faults=axe_faults, width=width, journey="labels")
    pages = [
        _page("labels", kitchen),
        _page("label", kitchen, PASTE),
        _page("label", kitchen, RELISH),
        _page("label_design", kitchen, PASTE),
        _page("label_print", kitchen, PASTE),
        _page("printed_labels", kitchen),
        reverse("printed_label", args=[kitchen.pk, run.pk]),
        reverse("printed_reprint", args=[kitchen.pk, run.pk]),
        _page("label_versions", kitchen, PASTE),
        _page("printed_carrying", kitchen, lot=run.lot),
        _page("sheets", kitchen),
        _page("sheet_new", kitchen),
    ]
    for address in pages:
        assert page.goto(live_server.url + address).status == 200, address
        if address.endswith("/design/"):
            expect(page.locator("#sketch img")).to_be_visible()
        assert not page.evaluate(SCROLLS_SIDEWAYS), f"{address} scrolls with all closed"
        page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        eyes.look(page.locator("h1").inner_text())
        eyes.faults += [f"{address}: {fault}" for fault in page.evaluate(TOO_SMALL)]
    assert eyes.faults == []


@pytest.mark.parametrize("width", WIDTHS)
def test_a_kitchen_that_sells_nothing_yet_is_led_on(sign_in_as, live_server, axe_faults, width):
    empty = a_kitchen()
    eyes = Hands(sign_in_as(an_owner(empty)), axe_faults=axe_faults, width=width, journey="labels")
    for name, way_on in (("labels", "Make a product"), ("printed_labels", "Choose a product")):
        eyes.page.goto(live_server.url + _page(name, empty))
        eyes.look(eyes.page.locator("h1").inner_text())
        expect(eyes.page.get_by_role("link", name=way_on)).to_be_visible()
    assert eyes.faults == []


def test_the_label_is_drawn_again_while_it_is_designed(sign_in_as, live_server, kitchen):
    page = sign_in_as(an_owner(kitchen))
    page.goto(live_server.url + _page("label_design", kitchen, PASTE))
    picture = page.locator("#sketch img")
    before = picture.get_attribute("src")
    page.locator("#id_tagline").press_sequentially("For the cheese board")
    expect(picture).not_to_have_attribute("src", before)
    expect(page.locator("#sketch")).to_contain_text("Nothing to mend")
    page.locator("#id_nutrition_exemption input").first.check()
    expect(page.locator("#sketch")).to_contain_text("1 thing to mend")
    page.locator("#id_shelf_life_months").fill("500")
    expect(page.locator("#sketch")).to_contain_text("cannot be read yet")
    assert LabelDesign.objects.get(product__name=PASTE).tagline == ""


def test_the_plan_of_the_sheet_follows_the_numbers(sign_in_as, live_server, kitchen):
    page = sign_in_as(a_cook(kitchen))
    page.goto(live_server.url + _page("label_print", kitchen, PASTE))
    said = page.locator("#plan figcaption")
    page.locator("#id_copies").fill("24")
    page.locator("#id_start_at").fill("5")
    # 21 labels, four gone: 17 here and 7 on a second sheet.
    expect(said).to_contain_text("17 on the first sheet, 2 sheets in all")
    assert page.locator("#plan .is-used").count() == 4
    assert page.locator("#plan .is-printed").count() == 17
    page.locator("#id_sheet").select_option(label="A4, 2 x 4, 99.1 x 67.7 mm")
    expect(said).to_contain_text("4 on the first sheet, 4 sheets in all")
    page.locator("#id_start_at").fill("9")
    page.get_by_role("button", name="Make the sheets").click()
    told = page.get_by_role("link", name="This sheet has 8 labels; there is no 9.")
    told.press("Enter")
    expect(page.locator("#id_start_at")).to_be_focused()
    expect(page.locator("#id_copies")).to_have_value("24")


def _tab_to(page, target, *, most=80):
    """Press Tab until it has the focus, as somebody without a mouse does; it must be seen there."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if target.evaluate(IS_FOCUSED):
            assert target.evaluate(SHOWS_FOCUS), "the focus cannot be seen"
            return
    pytest.fail(f"{target} is not reached by {most} Tabs")


def test_a_label_is_printed_with_the_keyboard_alone(sign_in_as, live_server, kitchen):
    page = sign_in_as(a_cook(kitchen))
    page.goto(live_server.url + _page("labels", kitchen))
    _tab_to(page, page.get_by_role("link", name=PASTE))
    page.keyboard.press("Enter")
    expect(page.locator(".answer-number")).to_have_text("Ready to print")
    _tab_to(page, page.get_by_role("link", name="Print labels"))
    page.keyboard.press("Enter")
    copies = page.locator("#id_copies")
    copies.wait_for()
    _tab_to(page, copies)
    page.keyboard.press("Control+A")
    page.keyboard.type("3")
    _tab_to(page, page.get_by_role("button", name="Make the sheets"))
    page.keyboard.press("Enter")
    sheets = page.get_by_role("link", name="Open the sheets")
    sheets.wait_for()
    _tab_to(page, sheets)
    text = pypdfium2.PdfDocument(pdf_of(page, sheets))[0].get_textpage().get_text_range()
    assert text.count(PrintedLabel.objects.get().lot) == 3


def test_a_fault_is_mended_from_its_finding_and_the_label_prints(
    sign_in_as, live_server, axe_faults, kitchen
):
    owner = Hands(
        sign_in_as(an_owner(kitchen)), axe_faults=axe_faults, width="phone", journey="mended"
    )
    page = owner.page
    page.goto(live_server.url + _page("label_print", kitchen, RELISH))
    owner.press("Make the sheets")
    expect(page.get_by_role("heading", name="Nothing was printed")).to_be_visible()
    owner.look(f"Print labels of {RELISH}")
    owner.follow("mustard seed: nobody has said yet")
    owner.look("Mustard seed")
    for group in page.locator(".answer-line").all():
        is_mustard = group.locator("legend").inner_text() == "Mustard"
        group.get_by_label("Contains" if is_mustard else "Does not contain", exact=True).check()
        if is_mustard:
            group.get_by_role("textbox").fill("mustard")
    owner.press("Keep these figures")
    owner.look(RELISH)
    owner.follow("Print labels")
    owner.press("Make the sheets")
    pdf = pdf_of(page, page.get_by_role("link", name="Open the sheets"))
    # Regulation (EU) No 1169/2011, Art. 21(1)(b): the allergen stands out from the list.
    with pdfplumber.open(io.BytesIO(pdf)) as sheets:
        bold = "".join(
            c["text"] for c in sheets.pages[0].chars if c["fontname"].endswith("Sans-Bold")
        )
    assert set(re.findall(r"\w+", bold)) == {"mustard"}
    assert owner.faults == []


def test_a_sheet_of_ones_own_must_add_up_and_can_be_tried_on_plain_paper(
    sign_in_as, live_server, axe_faults, kitchen
):
    cook = Hands(sign_in_as(a_cook(kitchen)), axe_faults=axe_faults, width="phone", journey="sheet")
    page = cook.page
    page.goto(live_server.url + _page("sheet_new", kitchen))
    numbers = {
        "name": "Kraft, 2 x 6", "columns": "2", "rows": "6", "label_width_mm": "90",
        "label_height_mm": "42,5", "margin_left_mm": "15", "margin_top_mm": "21",
        "pitch_x_mm": "125", "pitch_y_mm": "42.5",
    }  # fmt: skip
    for name, typed in numbers.items():
        cook.fill(page.locator(f"#id_{name}"), typed)
    cook.press("Keep this sheet")
    # 15 + 125 + 90 = 230, wider than the 210 of the page.
    expect(page.locator(".mistakes")).to_contain_text("210")
    expect(page.locator("#id_label_height_mm")).to_have_value("42,5")
    cook.look("A sheet of your own")
    cook.fill(page.locator("#id_pitch_x_mm"), "90")
    cook.press("Keep this sheet")
    cook.look("Label sheets")
    assert OwnSheet.objects.get().pitch_x_mm == 90
    row = page.locator(".sheet-rows li", has_text="Kraft, 2 x 6")
    test_page = pypdfium2.PdfDocument(pdf_of(page, row.get_by_role("link", name="Test page")))
    assert len(test_page) == 1
    assert cook.faults == []
