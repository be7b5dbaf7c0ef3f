"""A product and its price as typed."""

from decimal import Decimal

import pytest

from costing.forms.products import PricingForm, ProductForm
from costing.models import Product
from tests.builders import a_kitchen, a_product, a_recipe

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


def pricing(kitchen, **typed):
    data = {
        "aim": "margin", "aim_pct": "40", "rounding": "step", "rounding_value": "0,10",
        "sales_tax_pct": "", "stall_price": "", "wholesale_price": "", "shop_margin_pct": "35",
        "shelf_price": "",
    }  # fmt: skip
    return PricingForm(data | typed, product=a_product(a_recipe(kitchen)), kitchen=kitchen)


def test_comma_and_point_are_the_same_price(kitchen):
    comma, point = (pricing(kitchen, stall_price=typed) for typed in ("2,5", "2.5"))
    assert comma.is_valid()
    assert point.is_valid()
    assert comma.values()["stall_price"] == point.values()["stall_price"] == Decimal("2.5")


@pytest.mark.parametrize(
    ("aim", "aim_pct", "is_fine"),
    [("margin", "99.99", True), ("margin", "100", False), ("margin", "250", False),
     ("markup", "100", True), ("markup", "250", True), ("margin", "0", True),
     ("margin", "-1", False)],
)  # fmt: skip
def test_a_margin_of_everything_is_refused_and_a_markup_of_everything_is_not(
    kitchen, aim, aim_pct, is_fine
):
    form = pricing(kitchen, aim=aim, aim_pct=aim_pct)
    assert form.is_valid() is is_fine
    assert is_fine or list(form.errors) == ["aim_pct"]


def test_the_refusal_says_what_was_probably_meant(kitchen):
    told = pricing(kitchen, aim_pct="100").errors["aim_pct"][0]
    assert "share of the price" in told
    assert "that is a markup" in told


@pytest.mark.parametrize("keeps", ["100", "120"])
def test_a_shop_that_keeps_everything_is_refused(kitchen, keeps):
    told = pricing(kitchen, shop_margin_pct=keeps).errors["shop_margin_pct"][0]
    assert "share of the price" in told


@pytest.mark.parametrize(
    ("rounding", "value", "told"),
    [
        ("step", "0", "more than nothing"),
        ("step", "", "more than nothing"),
        ("step", "0.01", None),
        ("ending", "", "part of one"),
        ("ending", "1", "part of one"),
        ("ending", "95", "part of one"),
        ("ending", "0.99", None),
        ("ending", ".95", None),
        ("ending", "0", None),
        ("none", "", None),
        ("upwards", "0.10", "upwards"),
    ],
)
def test_a_step_goes_somewhere_and_an_ending_is_part_of_one(kitchen, rounding, value, told):
    form = pricing(kitchen, rounding=rounding, rounding_value=value)
    assert form.is_valid() is (told is None)
    assert told is None or told in str(form.errors)


def test_to_the_cent_the_step_is_not_asked_for_and_stays(kitchen):
    form = pricing(kitchen, rounding="none", rounding_value="")
    assert form.is_valid()
    assert form.values()["rounding_value"] == Decimal("0.10")


@pytest.mark.parametrize("field", ["stall_price", "wholesale_price", "shelf_price"])
def test_a_price_of_nothing_is_no_price(kitchen, field):
    assert "more than 0" in pricing(kitchen, **{field: "0"}).errors[field][0]
    assert pricing(kitchen, **{field: "0.01"}).is_valid()


def test_the_rate_of_tax_is_a_matter_for_the_accountant_and_says_what_empty_means(kitchen):
    help_text = pricing(kitchen).fields["sales_tax_pct"].help_text
    assert "accountant" in help_text
    assert "kitchen's 10 %" in help_text
    kitchen.food_tax_pct = None
    assert "Left empty" not in pricing(kitchen).fields["sales_tax_pct"].help_text


def test_a_kitchen_without_tax_is_not_asked_for_a_rate():
    form = pricing(a_kitchen(is_tax_registered=False))
    assert "sales_tax_pct" not in form.fields
    assert form.is_valid()
    assert "sales_tax_pct" not in form.values()


def test_money_stands_in_its_box_as_on_a_ticket(kitchen):
    product = a_product(a_recipe(kitchen), stall_price="3", wholesale_price="1.9")
    form = PricingForm(product=product, kitchen=kitchen)
    shown = [form[name].value() for name in ("stall_price", "wholesale_price", "rounding_value")]
    assert shown == ["3.00", "1.90", "0.10"]


def product_form(kitchen, **typed):
    recipes = [a_recipe(kitchen, name="Damson cheese")]
    data = {
        "recipe": str(recipes[0].pk), "name": "Slab", "form": "slab", "net_quantity_g": "100",
        "fill_g": "103,5", "packing_minutes": "",
    }  # fmt: skip
    return ProductForm(data | typed, recipes=recipes, product=None)


@pytest.mark.parametrize(("fill", "is_fine"), [("100", True), ("99.99", False)])
def test_nobody_gets_less_than_the_label_says(kitchen, fill, is_fine):
    form = product_form(kitchen, fill_g=fill)
    assert form.is_valid() is is_fine
    assert is_fine or "every buyer would be short" in form.errors["fill_g"][0]


def test_minutes_that_nobody_timed_stay_unknown(kitchen):
    form = product_form(kitchen)
    assert form.is_valid()
    assert form.values()["packing_minutes"] is None


@pytest.mark.parametrize("recipe", ["", "0", "999999999999999999999", "x", "٣"])
def test_only_a_recipe_of_this_kitchen_can_be_sold(kitchen, recipe):
    assert "recipe" in product_form(kitchen, recipe=recipe).errors


def test_preparations_stand_apart_from_finished_food(kitchen):
    recipes = [a_recipe(kitchen, name="Puree", is_preparation=True), a_recipe(kitchen, name="Jam")]
    choices = ProductForm(recipes=recipes, product=None).fields["recipe"].choices
    assert [name for _, name in choices[1:2]] == ["Jam"]
    assert choices[2][0] == "Preparations"


def test_somebody_who_is_still_typing_is_not_judged_and_loses_nothing(kitchen):
    form = product_form(kitchen, name="", fill_g="x<y", form="jar")
    form.keep_typing()
    assert form.errors == {}
    assert form["fill_g"].value() == "x<y"
    assert form["form"].value() == Product.Form.JAR
