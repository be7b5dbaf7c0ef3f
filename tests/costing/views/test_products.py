"""The list of products, the price of one, and the product as typed: each role, each mistake."""

import html
import re
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import Product, ProductPart
from tests.builders import (
    a_damson_paste,
    a_kitchen,
    a_price,
    a_product,
    a_recipe,
    a_stall_hand,
    an_ingredient,
    an_owner,
    packaging,
)
from tests.costing.views.season import LONG_AGO, a_season

pytestmark = pytest.mark.django_db
D = Decimal


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def owner(client, kitchen):
    client.force_login(an_owner(kitchen))


def at(name, kitchen, *args, **query):
    return reverse(name, args=[kitchen.pk, *args], query=query)


def text_of(answer):
    """What a person reads on a page: no tags, one space between words."""
    assert answer.status_code == 200
    words = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return " ".join(html.unescape(words).split())


def priced(kitchen, per_kg="4", **overrides):
    """A product of something that costs so much a kilo, ready weighed."""
    food = an_ingredient(kitchen)
    if per_kg is not None:
        a_price(food, per_kg=per_kg, valid_from=LONG_AGO)
    recipe = a_recipe(kitchen, lines=[(food, 1)])
    values = {"net_quantity_g": 250, "fill_g": 250, "packing_minutes": 0} | overrides
    return a_product(recipe, **values)


def typed(**changes):
    """The price form as it would be posted."""
    return {
        "aim": "margin", "aim_pct": "40", "rounding": "step", "rounding_value": "0.10",
        "sales_tax_pct": "10", "stall_price": "", "wholesale_price": "", "shop_margin_pct": "35",
        "shelf_price": "",
    } | changes  # fmt: skip


def reckoned(client, kitchen, product, **changes):
    answer = client.post(at("product_reckon", kitchen, product.pk), typed(**changes))
    return text_of(answer)


# --- A season's sums ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "new_sugar", "unit_cost"),
    [
        # Content + packaging + 0.75 or 0.60 min at (15 + 8) an hour:
        ("SM340", False, "2.6245"),  # 1.7880 + 0.5490 + 0.2875
        ("SM340", True, "2.6778"),
        ("TC230", False, "2.5113"),  # 1.7361 + 0.4877 + 0.2875
        ("TC230", True, "2.5222"),
        ("DC100", False, "1.2584"),  # 0.9447 + 0.0837 + 0.2300
        ("DC100", True, "1.2753"),
        ("PA100", False, "1.3375"),  # 1.0238 + 0.0837 + 0.2300
        ("PA100", True, "1.3539"),
    ],
)
def test_what_one_costs_stands_on_its_page(client, name, new_sugar, unit_cost):
    kitchen, products = a_season(new_sugar=new_sugar)
    client.force_login(an_owner(kitchen))
    page = text_of(client.get(at("product", kitchen, products[name].pk)))
    assert f"One in all €{unit_cost}" in page


@pytest.mark.parametrize(
    ("name", "new_sugar", "stall", "margin", "markup", "wholesale", "keeps", "shelf"),
    [
        # 5.20 / 1.10 = 4.7273 less 2.6245; 3.40 less 2.6245; 3.40 / 0.65 x 1.10 = 5.75.
        ("SM340", False, "5.20", "44.48", "80.12", "3.40", "22.81", "5.75"),
        ("TC230", False, "5.00", "44.75", "81.00", "3.20", "21.52", "5.42"),
        ("DC100", True, "3.00", "53.24", "113.85", "1.90", "32.88", "3.22"),
        ("PA100", True, "3.20", "53.46", "114.87", "2.00", "32.31", "3.38"),
    ],
)
def test_what_its_prices_leave_stands_on_its_page(
    client, name, new_sugar, stall, margin, markup, wholesale, keeps, shelf
):
    kitchen, products = a_season(new_sugar=new_sugar)
    client.force_login(an_owner(kitchen))
    page = text_of(client.get(at("product", kitchen, products[name].pk)))

    assert f"You ask €{stall}" in page
    # The table's unit costs stand at four decimals; the page divides unrounded ones.
    assert near(after(page, "Margin share of the price you keep"), margin)
    assert near(after(page, "Markup added on top of the cost"), markup, within="0.03")
    row = re.search(r"To a shop what it pays you €[\d.]+ €([\d.]+) ([\d.]+) %", page)
    assert row[1] == wholesale
    assert near(row[2], keeps, within="0.06")  # shown with one decimal
    assert f"On its shelf with 10 % tax €{shelf}" in page


def after(page, words):
    return re.search(re.escape(words) + r" (-?[\d.,]+)", page)[1]


def near(figure, expected, *, within="0.01"):
    return abs(D(figure.replace(",", "")) - D(expected)) <= D(within)


# --- The answer and its working -------------------------------------------------------------------


def test_the_answer_is_the_rounded_price_and_what_it_really_leaves(client, owner, kitchen):
    # 250 g at 4.00 = 1.00; / 0.6 = 1.6667; x 1.1 = 1.8333, up to 1.90. That is 1.7273 without
    # tax: 0.7273 left, 42.1 %; tax 0.1727. Down to 1.80: 1.6364, 38.9 %. 1.90 / 0.250 = 7.60.
    page = text_of(client.get(at("product", kitchen, priced(kitchen).pk)))
    assert "€1.90 at the stall, tax included" in page
    assert "Really leaves a margin of 42.1 % : €0.73 of each" in page
    assert "€1.00 of cost and €0.17 of tax" in page
    assert "Exactly at your aim €1.0000 ÷ (1 − 40 % ), and 10 % tax €1.8333" in page
    assert "Down instead would leave 38.9 % margin, 63.6 % markup, below your aim €1.80" in page
    assert "A kilo, for the ticket €1.90 ÷ 250 g on the label €7.60 /kg" in page


def test_margin_and_markup_stand_apart_each_with_its_own_sum(client, owner, kitchen):
    # 2.20 with 10 % tax is 2.00 without; 1.00 left: half the price, as much again as the cost.
    page = text_of(client.get(at("product", kitchen, priced(kitchen, stall_price="2.20").pk)))
    assert "Margin share of the price you keep 50.00 % €1.00 left ÷ €2.00 price" in page
    assert "Markup added on top of the cost 100.00 % €1.00 left ÷ €1.00 cost" in page


@pytest.mark.parametrize(
    ("changes", "price"),
    [
        ({}, "1.90"),
        ({"aim": "markup"}, "1.60"),  # 1.00 x 1.4 x 1.1 = 1.54
        ({"rounding": "ending", "rounding_value": "0.95"}, "1.95"),
        ({"rounding": "ending", "rounding_value": "0,50"}, "2.50"),
        ({"rounding": "none"}, "1.83"),
        ({"sales_tax_pct": "0"}, "1.70"),
        ({"sales_tax_pct": "20"}, "2.00"),  # 1.6667 x 1.2 = 2.00 exactly: not a step further
        ({"aim_pct": "62,5"}, "3.00"),  # 1 / 0.375 x 1.1 = 2.9333
        ({"aim_pct": "62.5"}, "3.00"),
    ],
)
def test_the_price_follows_what_is_typed_and_nothing_is_saved(
    client, owner, kitchen, changes, price
):
    product = priced(kitchen)
    before = Product.objects.values().get()
    page = reckoned(client, kitchen, product, **changes)
    assert f"€{price} at the stall" in page
    assert Product.objects.values().get() == before


def test_from_a_shelf_price_back_to_what_a_shop_can_pay(client, owner, kitchen):
    # 3.30 / 1.1 = 3.00 without tax; a shop that keeps 35 % can pay 1.95: 0.95 left, 48.7 %.
    page = reckoned(client, kitchen, priced(kitchen), shelf_price="3,30")
    assert "It can pay you at most €1.95" in page
    assert "That would leave 48.7 % margin, 95 % markup." in page


def test_from_wholesale_up_to_the_shelf_beside_the_stall(client, owner, kitchen):
    # 1.30 / 0.65 = 2.00 without tax, 2.20 on the shelf; the stall asks 1.90.
    page = reckoned(client, kitchen, priced(kitchen), wholesale_price="1.30", stall_price="1.90")
    assert "€1.30 ÷ (1 − 35 % ) = €2.00 without tax €0.70" in page
    assert "On its shelf with 10 % tax €2.20 That is €0.30 over your stall." in page


def test_a_price_below_cost_says_what_each_sale_loses(client, owner, kitchen):
    # 0.55 / 1.1 = 0.50 less 1.00.
    page = reckoned(client, kitchen, priced(kitchen), stall_price="0.55")
    assert "You ask €0.55 : each sale loses €0.50." in page


def test_a_kitchen_outside_sales_tax_has_none_in_its_price(client):
    kitchen = a_kitchen(is_tax_registered=False)
    client.force_login(an_owner(kitchen))
    page = text_of(client.get(at("product", kitchen, priced(kitchen).pk)))
    assert "€1.70 at the stall Really leaves" in page  # 1.6667 up
    assert "not registered for it" in page
    assert "Sales tax on this product" not in page


def test_the_price_is_written_as_the_kitchen_writes_it(client):
    kitchen = a_kitchen(number_format="de_DE")
    client.force_login(an_owner(kitchen))
    assert "1,90 €" in text_of(client.get(at("product", kitchen, priced(kitchen).pk)))


# --- What is not known ----------------------------------------------------------------------------


def test_an_unknown_rate_of_tax_is_asked_for_and_the_price_is_a_bound(client):
    kitchen = a_kitchen(food_tax_pct=None)
    client.force_login(an_owner(kitchen))
    product = priced(kitchen, stall_price="2.20")
    page = text_of(client.get(at("product", kitchen, product.pk)))
    assert "at least €1.67 and its sales tax" in page
    assert "Ask your accountant" in page
    assert "A kilo €2.20 ÷ 250 g on the label €8.80 /kg" in page  # known without the rate
    assert "Margin share" not in page
    assert "€1.90 at the stall" in reckoned(client, kitchen, product)


@pytest.mark.parametrize(
    ("overrides", "asked"),
    [
        ({"packing_minutes": None}, "How many minutes does packing one take?"),
        ({"parts": "jar"}, "What does one Jar 282 ml cost?"),
    ],
)
def test_what_is_missing_makes_the_price_a_bound_and_is_named(
    client, owner, kitchen, overrides, asked
):
    if overrides.get("parts"):
        overrides = {"parts": [(packaging(kitchen, name="Jar 282 ml"), 1, 0)]}
    product = priced(kitchen, **overrides)
    page = text_of(client.get(at("product", kitchen, product.pk)))
    assert f"? {asked}" in page or asked in page
    assert "at least €1.90 at the stall" in page
    assert "at most a margin of 42.1 %" in page
    assert "One in all at least €1.0000" in page
    assert "at least €1.00" in text_of(client.get(at("products", kitchen)))


def test_without_a_mass_there_is_no_price_and_the_way_on_is_shown(client, owner, kitchen):
    recipe = a_recipe(kitchen, lines=[(an_ingredient(kitchen, name="Vinegar"), 1, "l")])
    product = a_product(recipe, stall_price="5")
    answer = client.get(at("product", kitchen, product.pk))
    page = text_of(answer)
    assert "not known yet" in page
    assert "What is missing" in page
    vinegar = recipe.versions.get().lines.get().ingredient_id
    assert at("ingredient_edit", kitchen, vinegar) in answer.content.decode()
    assert "not known yet" in text_of(client.get(at("products", kitchen)))


def test_food_that_costs_nothing_breaks_no_page(client, owner, kitchen):
    product = priced(kitchen, per_kg="0", stall_price="2")
    assert "nothing has no margin" in text_of(client.get(at("product", kitchen, product.pk)))
    assert "€2.00" in text_of(client.get(at("products", kitchen)))


# --- Keeping it -----------------------------------------------------------------------------------


def test_asking_a_price_keeps_it_with_its_aim(client, owner, kitchen):
    product = priced(kitchen)
    answer = client.post(at("product", kitchen, product.pk), typed(stall_price="2,5", aim_pct="45"))
    assert answer.status_code == 302
    product.refresh_from_db()
    assert (product.stall_price, product.aim_pct) == (D("2.50"), D(45))
    assert "you now ask €2.50 at the stall" in text_of(client.get(answer.url))


@pytest.mark.parametrize("changes", [{}, {"stall_price": "9", "then": "suggested"}])
def test_the_price_worked_out_is_asked_where_no_other_is_wanted(client, owner, kitchen, changes):
    product = priced(kitchen)
    client.post(at("product", kitchen, product.pk), typed(**changes))
    product.refresh_from_db()
    assert product.stall_price == D("1.90")


def test_without_a_price_worked_out_none_is_made_up(client):
    kitchen = a_kitchen(food_tax_pct=None)
    client.force_login(an_owner(kitchen))
    product = priced(kitchen)
    answer = client.post(at("product", kitchen, product.pk), typed(sales_tax_pct=""))
    product.refresh_from_db()
    assert product.stall_price is None
    assert "No stall price is decided yet" in text_of(client.get(answer.url))


def test_a_margin_of_everything_is_refused_in_words_and_what_was_typed_stays(
    client, owner, kitchen
):
    product = priced(kitchen, stall_price="2")
    live = reckoned(client, kitchen, product, aim_pct="100")
    assert "A margin of 100 % cannot be" in live
    answer = client.post(
        at("product", kitchen, product.pk), typed(aim_pct="100", stall_price="7,77")
    )
    assert "A margin of 100 % cannot be" in text_of(answer)
    assert 'value="7,77"' in answer.content.decode()
    product.refresh_from_db()
    assert product.stall_price == 2


def test_the_live_price_cannot_be_opened_as_a_page(client, owner, kitchen):
    product = priced(kitchen)
    answer = client.get(at("product_reckon", kitchen, product.pk))
    assert answer.url == at("product", kitchen, product.pk)


# --- The list -------------------------------------------------------------------------------------


def test_the_list_says_what_each_price_leaves_and_which_are_below_the_aim(client, owner, kitchen):
    # 2.20 and 1.65 with 10 % tax are 2.00 and 1.50: margins of 50 % and 33.3 % on a cost of 1.00.
    priced(kitchen, name="Fine", stall_price="2.20", wholesale_price="1.25")
    priced(kitchen, name="Short", stall_price="1.65")
    priced(kitchen, name="Added", stall_price="1.65", aim="markup", aim_pct=60)
    priced(kitchen, name="Open")
    page = text_of(client.get(at("products", kitchen)))
    assert re.search(r"Fine Jar of Recipe \d+ 250 g €1.00 €2.20 50 % €1.25 leaves 20 %", page)
    assert "€1.65 33.3 % below the 40 % aimed at" in page
    assert "€1.65 33.3 % its markup, 50 % , is below the 60 % aimed at" in page
    assert "€1.00 not decided none" in page


def test_a_margin_that_only_rounds_to_its_aim_is_not_called_short(client, owner, kitchen):
    # 1 / 0.6 x 1.1 = 1.8333; 1.83 leaves 39.89 %, and 1.833 would leave 39.99 %.
    product = priced(kitchen, stall_price="1.83", aim_pct="39.9")
    page = text_of(client.get(at("products", kitchen)))
    assert "39.9 %" in page
    assert "below" not in page
    Product.objects.filter(pk=product.pk).update(aim_pct="40")
    assert "below the 40 % aimed at" in text_of(client.get(at("products", kitchen)))


def test_the_list_finds_by_name_and_is_empty_politely(client, owner, kitchen):
    assert "Nothing is listed yet" in text_of(client.get(at("products", kitchen)))
    priced(kitchen, name="Damson slab")
    priced(kitchen, name="Quince jar")
    found = text_of(client.get(at("products", kitchen, q="dams")))
    assert "Damson slab" in found
    assert "Quince jar" not in found
    assert "Nothing here is called “{{ 7*7 }}”" in text_of(
        client.get(at("products", kitchen, q="{{ 7*7 }}"))
    )


def test_a_list_of_a_thousand_asks_as_often_as_one_of_ten(client, owner, kitchen):
    paste = a_damson_paste(kitchen)
    jar = packaging(kitchen)
    a_price(jar, per_each="0.4")
    for _ in range(10):
        a_product(paste, stall_price="3", parts=[(jar, 1, 2)])
    client.get(at("products", kitchen))
    with CaptureQueriesContext(connection) as few:
        client.get(at("products", kitchen))
    Product.objects.bulk_create(
        Product(kitchen=kitchen, recipe=paste, name=f"Slab {n}", form="slab", net_quantity_g=100,
                fill_g=100, stall_price=3)
        for n in range(990)
    )  # fmt: skip
    ProductPart.objects.bulk_create(
        ProductPart(kitchen=kitchen, product=product, item=jar)
        for product in Product.objects.filter(name__startswith="Slab ")
    )
    with CaptureQueriesContext(connection) as many:
        page = text_of(client.get(at("products", kitchen, page=2)))
    assert "Page 2 of 20" in page
    assert len(many) == len(few) <= 15


def test_one_product_asks_as_often_with_many_parts_as_with_one(client, owner, kitchen):
    paste = a_damson_paste(kitchen)
    counts = []
    for parts in (1, 8):
        items = [packaging(kitchen) for _ in range(parts)]
        for item in items:
            a_price(item, per_each="0.1")
        product = a_product(paste, parts=[(item, 1, 0) for item in items])
        client.get(at("product", kitchen, product.pk))
        with CaptureQueriesContext(connection) as asked:
            client.get(at("product", kitchen, product.pk))
        counts.append(len(asked))
    assert counts[0] == counts[1] <= 13


# --- The stall hand -------------------------------------------------------------------------------

NOT_FOR_THE_STALL = re.compile(
    r"margin|markup|cost|recipe|wholesale|shop|leaves|aim|profit", re.IGNORECASE
)


def test_the_stall_hand_sees_names_net_quantities_and_prices_only(client):
    kitchen, _products = a_season()
    client.force_login(a_stall_hand(kitchen))
    answer = client.get(at("products", kitchen))
    page = text_of(answer)
    assert "SM340 340 g €15.29 /kg €5.20" in page  # 5.20 / 0.340
    assert not NOT_FOR_THE_STALL.search(page)
    for secret in ("2.62", "3.40", "44.4", "44.5", "Seville"):
        assert secret not in answer.content.decode()


def test_the_stall_hands_list_asks_nothing_about_costs(client, kitchen):
    client.force_login(a_stall_hand(kitchen))
    priced(kitchen, stall_price="2.20", name="Jar")
    client.get(at("products", kitchen))
    with CaptureQueriesContext(connection) as asked:
        assert "€8.80" in text_of(client.get(at("products", kitchen)))
    tables = " ".join(query["sql"] for query in asked)
    assert "supplierprice" not in tables
    assert "recipeline" not in tables


def test_a_price_not_decided_is_not_shown_as_nothing(client, kitchen):
    client.force_login(a_stall_hand(kitchen))
    assert "Nothing is listed yet" in text_of(client.get(at("products", kitchen)))
    priced(kitchen)
    page = text_of(client.get(at("products", kitchen)))
    assert "not decided" in page
    assert "€" not in page


@pytest.mark.parametrize("name", ["product", "product_edit", "product_reckon"])
def test_the_rest_is_the_owners(client, kitchen, name):
    client.force_login(a_stall_hand(kitchen))
    address = at(name, kitchen, priced(kitchen).pk)
    assert client.get(address).status_code == 403
    assert client.post(address, typed()).status_code == 403


# --- Made and changed -----------------------------------------------------------------------------


def edit_form(recipe, **changes):
    return {
        "recipe": recipe.pk, "name": "Damson slab", "form": "slab", "net_quantity_g": "200",
        "fill_g": "204,5", "packing_minutes": "0,5",
    } | changes  # fmt: skip


def row(number, item, quantity="1", loss="0"):
    return {
        f"part-{number}-item": item, f"part-{number}-quantity": quantity,
        f"part-{number}-loss": loss,
    }  # fmt: skip


def test_a_product_is_made_with_a_share_of_a_sheet(client, owner, kitchen):
    recipe, sheet = a_recipe(kitchen), packaging(kitchen, name="Sheet of 21")
    a_price(sheet, per_each="0.28", valid_from=LONG_AGO)
    answer = client.post(
        at("product_new", kitchen), edit_form(recipe) | row(0, sheet.pk, "1/21", "5") | row(1, "")
    )
    product = Product.objects.get()
    assert answer.url == at("product", kitchen, product.pk)
    assert (product.fill_g, product.packing_minutes) == (D("204.5"), D("0.5"))
    part = product.parts.get()
    assert (part.quantity, part.loss_pct) == (D("0.04761905"), 5)
    # 0.28 / 21 / 0.95 = 0.0140
    assert "1/21 × €0.28 each, of which 5 % is spoilt: ÷ 0.95." in text_of(client.get(answer.url))
    edit = client.get(at("product_edit", kitchen, product.pk)).content.decode()
    assert 'value="1/21"' in edit
    assert reverse("label", args=[kitchen.pk, product.pk]) in edit


@pytest.mark.parametrize(("rows", "left"), [("add", 3), ("out-0", 1)])
def test_rows_come_and_go_without_judging_or_losing_what_is_typed(
    client, owner, kitchen, rows, left
):
    recipe, jar = a_recipe(kitchen), packaging(kitchen)
    data = edit_form(recipe, name="", fill_g="2,0x", rows=rows)
    answer = client.post(
        at("product_new", kitchen), data | row(0, jar.pk, "many") | row(1, jar.pk, "two")
    )
    page = answer.content.decode()
    assert page.count('<fieldset class="packing-row') == left
    assert 'value="2,0x"' in page
    assert 'value="two"' in page
    assert ('value="many"' in page) is (rows == "add")
    assert "line-error" not in page
    assert not Product.objects.exists()


def test_changing_a_product_keeps_its_prices(client, owner, kitchen):
    jar = packaging(kitchen)
    product = priced(kitchen, stall_price="2.20", parts=[(jar, 1, 2)])
    client.post(
        at("product_edit", kitchen, product.pk), edit_form(product.recipe) | row(0, jar.pk, "2")
    )
    product.refresh_from_db()
    assert (product.name, product.stall_price) == ("Damson slab", D("2.20"))
    assert product.parts.get().quantity == 2


def test_a_product_no_longer_sold_leaves_the_list_and_can_come_back(client, owner, kitchen):
    product = priced(kitchen)
    address = at("product_edit", kitchen, product.pk)
    client.post(address, edit_form(product.recipe, is_archived="on"))
    assert "Nothing is listed yet" in text_of(client.get(at("products", kitchen)))
    client.post(address, edit_form(product.recipe))
    assert "Damson slab" in text_of(client.get(at("products", kitchen)))


def test_packing_listed_twice_is_refused_and_nothing_is_lost(client, owner, kitchen):
    recipe, jar = a_recipe(kitchen), packaging(kitchen)
    data = edit_form(recipe) | row(0, jar.pk) | row(1, jar.pk, "3")
    answer = client.post(at("product_new", kitchen), data)
    assert "A part is listed twice" in text_of(answer)
    assert 'value="3"' in answer.content.decode()
    assert not Product.objects.exists()


def test_packing_of_another_kitchen_is_refused(client, owner, kitchen):
    theirs = packaging(a_kitchen())
    answer = client.post(
        at("product_new", kitchen), edit_form(a_recipe(kitchen)) | row(0, theirs.pk)
    )
    assert "choose packaging of this kitchen" in text_of(answer).lower()
    assert not Product.objects.exists()


def test_a_name_that_is_taken_is_said_at_the_name(client, owner, kitchen):
    priced(kitchen, name="DAMSON SLAB")
    answer = client.post(at("product_new", kitchen), edit_form(a_recipe(kitchen)))
    assert "Name: There is already a product of that name." in text_of(answer)


def test_without_a_recipe_the_way_to_one_is_shown(client, owner, kitchen):
    assert "none is written yet" in text_of(client.get(at("product_new", kitchen)))


def test_a_new_product_begins_with_the_recipe_it_was_asked_for_from(client, owner, kitchen):
    recipe = a_recipe(kitchen, kind="jam")
    page = client.get(at("product_new", kitchen, recipe=recipe.pk)).content.decode()
    assert f'<option value="{recipe.pk}" selected>' in page
    assert re.search(r'value="jar"[^>]* checked', page)
    assert " checked" not in client.get(at("product_new", kitchen)).content.decode()


# --- Bad input, by name ---------------------------------------------------------------------------

BAD = {
    "empty": "", "negative": "-3", "zero": "0", "absurd": "1000000000000", "forty digits": "9" * 40,
    "either": "1.250", "points": "1.2.3,4,5", "other digits": "१२", "letters": "двенадцать",
    "emoji": "😀", "html": "<b onclick=x>1</b>", "template": "{{ 7*7 }}", "tag": "{% now 'Y' %}",
    "not a number": "NaN", "endless": "Infinity", "power": "1e5", "nul": "1\x002", "unit": "5 kg",
    "half a pair": "\ud800",
}  # fmt: skip
PRICES = [
    "aim", "aim_pct", "rounding", "rounding_value", "sales_tax_pct", "stall_price",
    "wholesale_price", "shop_margin_pct", "shelf_price",
]  # fmt: skip


def sent(text):
    """As a browser would send it: half a pair of signs becomes a question mark on the way."""
    return text.encode("utf-8", "replace").decode()


def no_fault(answer, text):
    """The page stands, shows what was typed only as text, and works no template out."""
    assert answer.status_code in {200, 302}
    page = answer.content.decode()
    assert "<b onclick" not in page
    if "7*7" in text:
        assert ">49<" not in page
    return page


@pytest.mark.parametrize("case", BAD)
def test_the_live_price_stands_whatever_is_typed(client, owner, kitchen, case):
    product = priced(kitchen, stall_price="2.20", wholesale_price="1.50")
    before = Product.objects.values().get()
    text = sent(BAD[case])
    for field in PRICES:
        address = at("product_reckon", kitchen, product.pk)
        answer = client.post(address, typed(**{field: text}))
        page = no_fault(answer, text)
        assert answer.status_code == 200, field
        assert "at the stall" in page or "line-error" in page, field
    assert Product.objects.values().get() == before


@pytest.mark.parametrize("case", BAD)
def test_a_price_is_kept_or_refused_in_words(client, owner, kitchen, case):
    text = sent(BAD[case])
    product = priced(kitchen, stall_price="2.20")
    for field in PRICES:
        answer = client.post(at("product", kitchen, product.pk), typed(**{field: text}))
        page = no_fault(answer, text)
        if answer.status_code == 200:
            assert "another look" in page, field
            if field not in {"aim", "rounding"} and text and "\x00" not in text:
                assert f'value="{html.escape(text)}"' in page, field


WORDS = [
    "name", "form", "recipe", "net_quantity_g", "fill_g", "packing_minutes", "part-0-item",
    "part-0-quantity", "part-0-loss", "rows",
]  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_a_product_is_kept_or_refused_in_words(client, owner, kitchen, case):
    recipe, jar = a_recipe(kitchen), packaging(kitchen)
    text = sent(BAD[case])
    for number, field in enumerate(WORDS):
        before = Product.objects.count()
        data = edit_form(recipe, name=f"Slab {number}") | row(0, jar.pk) | {field: text}
        answer = client.post(at("product_new", kitchen), data)
        page = no_fault(answer, text)
        assert Product.objects.count() == before + (answer.status_code == 302)
        if answer.status_code == 302:
            no_fault(client.get(answer.url), text)
        elif field != "rows":
            assert "another look" in page, field
    no_fault(client.get(at("products", kitchen)), text)


@pytest.mark.parametrize("case", BAD)
def test_a_search_stands_whatever_is_typed(client, owner, kitchen, case):
    priced(kitchen)
    no_fault(client.get(at("products", kitchen, q=sent(BAD[case]))), BAD[case])
    no_fault(client.get(at("products", kitchen, page=sent(BAD[case]))), BAD[case])
    no_fault(client.get(at("product_new", kitchen, recipe=sent(BAD[case]))), BAD[case])
