"""Products: what one costs and what to ask, from stored figures to worked examples."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, Product
from costing.services.products import (
    PackingInput,
    price_draft,
    price_product,
    price_products,
    save_product,
)
from tests.builders import (
    TODAY,
    a_damson_paste,
    a_kitchen,
    a_price,
    a_product,
    a_recipe,
    an_ingredient,
    an_owner,
    packaging,
)

pytestmark = pytest.mark.django_db


def a_piece_of_paste(**overrides):
    """100 g of damson paste, really 103.5 g, wrapped, on a tray, with one of 21 labels a sheet."""
    paste = a_damson_paste()
    wrap, sheet, ink, tray = (packaging(paste.kitchen) for _ in range(4))
    for item, each in ((wrap, "0.038"), (sheet, "0.28"), (ink, "0.01"), (tray, "0.02")):
        a_price(item, per_each=each)
    values = {
        "form": "piece",
        "net_quantity_g": 100,
        "fill_g": "103.5",
        "packing_minutes": "0.6",
        "stall_price": "3.00",
        "wholesale_price": "1.90",
        "parts": [(wrap, 1, 3), (sheet, "0.04761905", 5), (ink, 1, 5), (tray, 1, 0)],
    } | overrides
    return a_product(paste, **values)


def test_a_piece_costs_its_paste_its_packing_and_the_time_to_pack_it():
    # Constructed: 0.1035 kg x 9.1271 = 0.9447; 0.038 / 0.97 + (0.28 / 21 + 0.01) / 0.95 + 0.02
    # = 0.083737; 0.6 min x (15 + 8) / 60 = 0.23; in all 1.2584.
    piece = price_product(a_piece_of_paste(), on=TODAY).piece
    assert round(piece.content, 4) == Decimal("0.9447")
    assert round(piece.packaging, 6) == Decimal("0.083737")
    assert piece.packing_labour + piece.packing_overhead == Decimal("0.23")
    assert round(piece.total, 4) == Decimal("1.2584")
    assert sum(piece.breakdown.values()) == piece.total


def test_prices_decided_show_what_they_leave_with_tax_taken_out_first():
    # 3.00 with 10 % tax is 2.7273 without; 1 - 1.2584 / 2.7273 = 53.86 %. A shop that keeps 35 %
    # of 1.90 / 0.65 asks 2.9231, with tax 3.2154.
    sums = price_product(a_piece_of_paste(), on=TODAY)
    assert sums.tax_pct == 10
    assert round(sums.stall.margin_pct, 2) == Decimal("53.86")
    assert round(sums.stall.per_kg, 2) == Decimal("30.00")
    assert round(sums.shelf.shelf_inc_tax, 2) == Decimal("3.22")
    assert sums.questions == ()


def test_the_asked_price_reaches_the_aim_and_the_rounded_one_is_not_below_it():
    # 1.2584 / 0.6 x 1.1 = 2.3071, up to the step 2.40.
    sums = price_product(a_piece_of_paste(), on=TODAY)
    assert round(sums.asked.inc_tax, 4) == Decimal("2.3071")
    assert round(sums.asked.margin_pct, 9) == 40
    assert sums.rounded.inc_tax == Decimal("2.40")
    assert sums.rounded.margin_pct > 40


def test_margin_and_markup_of_the_same_figure_are_not_the_same_price():
    # Markup: 1.258394 x 1.4 x 1.1 = 1.9379.
    sums = price_product(a_piece_of_paste(aim="markup"), on=TODAY)
    assert round(sums.asked.inc_tax, 4) == Decimal("1.9379")
    assert round(sums.asked.markup_pct, 9) == 40


def test_packing_without_a_price_is_asked_for_and_named():
    paste = a_damson_paste()
    jar = packaging(paste.kitchen, name="Jar 282 ml")
    sums = price_product(a_product(paste, parts=[(jar, 1, 2)]), on=TODAY)
    assert [q.name for q in sums.questions if q.about == "price"] == ["Jar 282 ml"]
    assert not sums.is_complete
    assert sums.asked is not None  # a lower bound is still worth seeing


def test_without_the_mass_there_is_no_price_at_all():
    recipe = a_recipe(lines=[(an_ingredient(), 1, "l")])  # a litre of unknown density
    sums = price_product(a_product(recipe), on=TODAY)
    assert sums.piece.total is sums.asked is sums.rounded is sums.stall is None
    assert "density" in {question.about for question in sums.questions}


@pytest.mark.parametrize(
    ("registered", "of_kitchen", "of_product", "tax_pct"),
    [
        (False, 10, 20, 0),  # not registered: no tax is in the price, whatever is set
        (True, 10, None, 10),
        (True, 10, 20, 20),
        (True, None, 0, 0),
        (True, None, None, None),
    ],
)
def test_which_sales_tax_is_in_the_price(registered, of_kitchen, of_product, tax_pct):
    kitchen = a_kitchen(is_tax_registered=registered, food_tax_pct=of_kitchen)
    product = a_product(a_recipe(kitchen, lines=[(priced(kitchen), 1)]), sales_tax_pct=of_product)
    sums = price_product(product, on=TODAY)
    assert sums.tax_pct == tax_pct
    assert ("sales tax" in {q.about for q in sums.questions}) is (tax_pct is None)
    assert (sums.asked is None) is (tax_pct is None)


def priced(kitchen, per_kg=4):
    ingredient = an_ingredient(kitchen)
    a_price(ingredient, per_kg=per_kg)
    return ingredient


def test_food_that_costs_nothing_has_no_margin_and_breaks_no_page():
    kitchen = a_kitchen()
    own_fruit = a_recipe(kitchen, lines=[(priced(kitchen, per_kg="0"), 1)])
    sums = price_product(a_product(own_fruit, packing_minutes=0), on=TODAY)
    assert (sums.piece.total, sums.asked) == (0, None)


def test_many_products_are_priced_in_a_constant_number_of_queries(django_assert_num_queries):
    kitchen = a_kitchen()
    paste = a_damson_paste(kitchen)
    jar = packaging(kitchen)
    a_price(jar, per_each="0.4")
    products = [a_product(paste, parts=[(jar, 1, 2)])]
    with django_assert_num_queries(6):
        price_products(kitchen, products, on=TODAY)
    products += [a_product(paste, parts=[(jar, 1, 2)]) for _ in range(24)]
    with django_assert_num_queries(6):
        sums = price_products(kitchen, products, on=TODAY)
    assert len({round(s.piece.total, 9) for s in sums.values()}) == 1


def values_of(recipe, **overrides):
    return {
        "recipe": recipe,
        "name": "Damson cheese 100 g",
        "form": "piece",
        "net_quantity_g": Decimal(100),
        "fill_g": Decimal("103.5"),
    } | overrides


def test_a_product_is_saved_with_its_packing_and_changes_are_written_down():
    kitchen = a_kitchen()
    by = an_owner(kitchen)
    recipe, wrap = a_recipe(kitchen), packaging(kitchen, name="Wrap")
    product = save_product(
        kitchen, by=by, values=values_of(recipe), parts=[PackingInput(wrap.pk, loss_pct=Decimal(3))]
    )
    save_product(kitchen, by=by, product=product, values={"stall_price": Decimal("3.20")})
    save_product(kitchen, by=by, product=product, values={}, parts=[])

    told = AuditEntry.objects.filter(subject="product", subject_id=product.pk).order_by("pk")
    assert list(told.values_list("field", "old", "new")) == [
        ("created", "", "Damson cheese 100 g"),
        ("parts", "", "Wrap x 1, 3 % spoilt"),
        ("stall_price", "", "3.2"),
        ("parts", "Wrap x 1, 3 % spoilt", ""),
    ]


@pytest.mark.parametrize(
    ("overrides", "field"),
    [
        ({"name": " "}, "name"),
        ({"net_quantity_g": Decimal(0)}, "net_quantity_g"),
        ({"fill_g": Decimal(99)}, "fill_g"),  # less than the 100 g it is sold as
        ({"aim_pct": Decimal(100)}, "aim_pct"),
        ({"rounding_value": Decimal(0)}, "rounding_value"),
        ({"stall_price": Decimal(-1)}, "stall_price"),
        ({"sales_tax_pct": Decimal(101)}, "sales_tax_pct"),
        ({"form": "barrel"}, "form"),
        ({"net_quantity_g": Decimal("1e12"), "fill_g": Decimal("1e12")}, "net_quantity_g"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(overrides, field):
    kitchen = a_kitchen()
    with pytest.raises(ValidationError) as refused:
        save_product(kitchen, by=None, values=values_of(a_recipe(kitchen), **overrides))
    assert field in refused.value.message_dict
    assert not Product.objects.exists()


def test_a_product_of_another_kitchens_recipe_is_refused():
    with pytest.raises(ValidationError) as refused:
        save_product(a_kitchen(), by=None, values=values_of(a_recipe()))
    assert "not in this kitchen" in refused.value.message_dict["recipe"][0]


@pytest.mark.parametrize("which", ["theirs", "food", "twice", "nothing", "never whole"])
def test_packing_that_cannot_be_is_refused(which):
    kitchen = a_kitchen()
    jar = packaging(kitchen)
    parts = {
        "theirs": [PackingInput(packaging().pk)],
        "food": [PackingInput(an_ingredient(kitchen).pk)],
        "twice": [PackingInput(jar.pk), PackingInput(jar.pk)],
        "nothing": [PackingInput(jar.pk, quantity=Decimal(0))],
        "never whole": [PackingInput(jar.pk, loss_pct=Decimal(100))],
    }[which]
    with pytest.raises(ValidationError) as refused:
        save_product(kitchen, by=None, values=values_of(a_recipe(kitchen)), parts=parts)
    assert list(refused.value.message_dict) == ["parts"]
    assert not Product.objects.exists()


def test_what_is_typed_is_priced_like_what_is_saved():
    product = a_piece_of_paste()
    parts = [PackingInput(p.item_id, p.quantity, p.loss_pct) for p in product.parts.all()]
    saved = price_product(product, on=TODAY)
    product.pk = None
    typed = price_draft(product.recipe.kitchen, product, parts=parts, on=TODAY)
    assert (typed.piece, typed.rounded, typed.shelf) == (saved.piece, saved.rounded, saved.shelf)


def test_a_draft_does_not_wait_for_a_name():
    product = a_piece_of_paste()
    product.pk, product.name = None, ""
    assert price_draft(product.kitchen, product, parts=[], on=TODAY).asked is not None


def test_a_price_that_rises_tomorrow_leaves_today_alone():
    product = a_piece_of_paste()
    before = price_product(product, on=TODAY).piece.total
    item = product.parts.first().item
    a_price(
        item, per_each="1", supplier=item.prices.get().supplier, valid_from=TODAY + timedelta(1)
    )
    assert price_product(product, on=TODAY).piece.total == before
    assert price_product(product, on=TODAY + timedelta(1)).piece.total > before


@pytest.mark.parametrize(("currency", "grain"), [("EUR", "0.01"), ("JPY", "1"), ("KWD", "0.001")])
def test_a_price_to_the_smallest_coin_knows_the_coins_of_the_currency(currency, grain):
    # ISO 4217: two decimals for EUR, none for JPY, three for KWD.
    kitchen = a_kitchen(
        currency=currency, labour_rate_per_h=Decimal(1000), energy_price_per_kwh=Decimal(30)
    )
    recipe = a_recipe(kitchen, lines=[(priced(kitchen), 1)])
    rounded = price_product(a_product(recipe, rounding="none"), on=TODAY).rounded
    assert rounded.inc_tax.as_tuple().exponent == Decimal(grain).as_tuple().exponent
