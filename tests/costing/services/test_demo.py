"""The demo kitchen: whole, sourced, dated before the day it is loaded, and true to its sums."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.contrib.auth import get_user_model
from django.db import transaction

from costing.models import (
    AllergenAnswer,
    AuditEntry,
    Ingredient,
    Kitchen,
    Member,
    Mould,
    Product,
    ProductPart,
    Recipe,
    RecipeLine,
    RecipeVersion,
    Supplier,
    SupplierPrice,
)
from costing.services import rookfold
from costing.services.demo import load_demo_kitchen
from costing.services.products import price_products
from costing.services.recipes import cost_recipe

ON = date(2026, 9, 20)
D = Decimal


@pytest.fixture(scope="module")
def _loaded(django_db_setup, django_db_blocker):
    """Loaded once for the whole module, and taken back at its end."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield load_demo_kitchen(on=ON)
        transaction.set_rollback(True)


@pytest.fixture
def kitchen(_loaded, db):
    return Kitchen.objects.get(pk=_loaded.pk)


def near(figure, expected, *, within="0.0005"):
    return abs(figure - D(expected)) <= D(within)


def sheet(kitchen, name, *, on=ON):
    return cost_recipe(Recipe.objects.get(kitchen=kitchen, name=name), on=on)


# --- What is in it -------------------------------------------------------------------------------


def test_loading_twice_changes_nothing(kitchen):
    tables = (Kitchen, Member, Supplier, Ingredient, AllergenAnswer, SupplierPrice, Recipe,
              RecipeVersion, RecipeLine, Product, ProductPart, AuditEntry)  # fmt: skip
    before = {table: list(table.objects.order_by("pk").values()) for table in tables}
    users = get_user_model().objects.count()
    assert load_demo_kitchen(on=ON + timedelta(days=400)) == kitchen
    assert {table: list(table.objects.order_by("pk").values()) for table in tables} == before
    assert get_user_model().objects.count() == users


def test_a_second_start_asks_the_database_once(kitchen, django_assert_num_queries):
    with django_assert_num_queries(3):  # the question, between a savepoint and its release
        load_demo_kitchen(on=ON)


def test_it_is_marked_as_the_demo_and_lies_where_the_law_of_the_eu_applies(kitchen):
    assert kitchen.is_demo
    assert (kitchen.country, kitchen.currency) == ("IE", "EUR")


def test_a_mould_of_the_demo_takes_what_its_damson_cheese_was_poured_as(kitchen):
    # 11.90 kg gave 96 pieces and 1.11 kg over: four trays of 24, each (11.90 - 1.11) / 4 = 2.70 kg;
    # 31 x 21 x 3 cm of 1.38 g/ml are 2.695 kg.
    tray = Mould.objects.get(kitchen=kitchen, name="Steel tray")
    assert near(tray.length_mm * tray.width_mm * 30 * D("1.38") / 1000, "2697.5", within="5")
    assert tray.depth_mm > 30
    assert tray.owned >= 5


def test_every_role_has_its_person_and_no_password(kitchen):
    people = {member.role: member.user for member in Member.objects.select_related("user")}
    assert {role: user.first_name for role, user in people.items()} == {
        "owner": "Maud",
        "cook": "Idris",
        "stall_hand": "Pim",
        "accountant": "Greta",
    }
    assert not any(user.has_usable_password() for user in people.values())


def test_every_figure_of_every_food_says_where_it_comes_from(kitchen):
    figures = (
        *("density_kg_per_l", "each_g", "brix", "insoluble_pct", "sucrose_share", "hexose_share"),
        *("acid_share", "ph_low", "ph_high", "sulphite_mg_per_kg", "fat_g", "saturates_g"),
        *("carbohydrate_g", "sugars_g", "fibre_g", "protein_g", "salt_g"),
    )
    for food in Ingredient.objects.filter(kitchen=kitchen, kind="food"):
        known = {name for name in figures if getattr(food, name) is not None} | {"usable_pct"}
        assert known <= set(food.figure_sources), food.name


def test_only_the_spice_of_one_paste_is_left_to_ask_about(kitchen):
    """Something to do first, that keeps neither the cheese, the chutney nor the marmalade."""
    groups = len(AllergenAnswer.Group.values)
    answered = {
        food.name: food.allergen_answers.count()
        for food in Ingredient.objects.filter(kitchen=kitchen, kind="food")
    }
    assert {name for name, count in answered.items() if count < groups} == {"Star anise"}
    unknown = Ingredient.objects.filter(kind="food", sulphite_mg_per_kg=None)
    assert [food.name for food in unknown] == ["Star anise"]
    lines = RecipeLine.objects.filter(ingredient__name="Star anise")
    assert list(lines.values_list("version__recipe__name", flat=True)) == ["Spice mix"]


def test_allergens_are_those_of_the_specifications(kitchen):
    contains = AllergenAnswer.objects.filter(answer="contains").select_related("ingredient")
    assert {(row.ingredient.name, row.group, row.named_as) for row in contains} == {
        ("Golden sultanas", "sulphites", "sulphur dioxide"),
        ("Mustard seed", "mustard", "mustard"),
    }
    assert Ingredient.objects.get(name="Golden sultanas").sulphite_mg_per_kg == 500


# --- What it costs -------------------------------------------------------------------------------
# The worked example of the season: every figure below is a sum anybody can redo by hand.


def test_prices_per_kilo_and_per_piece(kitchen):
    prices = {
        (row.ingredient.name, row.pack_price): row
        for row in SupplierPrice.objects.select_related("ingredient")
    }
    assert prices["Damsons", D("22")].per_kg == D("2.2")  # 22.00 / 10 kg
    assert prices["White sugar", D("29.75")].per_kg == D("1.19")  # 29.75 / 25 kg
    assert prices["Lemon juice, pressed", D("12")].per_kg == D("7.5")  # 0.30 / 0.040 kg
    assert prices["Lemons, whole", D("12")].per_kg == D("2.5")  # 0.30 / 0.120 kg
    assert near(prices["Cider vinegar", D("9.25")].per_kg, "1.831683")  # 1.85 / 1.01
    label = prices[rookfold.LABEL, D("28")]
    assert near(label.per_each, "0.013333", within="0.000001")  # 28.00 / 2 100


def test_the_damson_puree_costs_what_its_sum_says(kitchen):
    """24 kg x 2.20 = 52.80; 1.5 h x (15 + 8) = 34.50; 5.5612 kWh x 0.28 = 1.5571; over 18 kg.

    kWh: (26.4 kg x 3.7 x 85 K + 1.2 kg x 2257) kJ / 3600 / 0.55.
    """
    puree = sheet(kitchen, "Damson puree")
    assert near(puree.energy_kwh, "5.5612")
    assert near(puree.cost_total, "88.8571")
    assert near(puree.cost_per_kg_finished, "4.936508", within="0.00001")


def test_the_apple_and_pear_purees_and_the_spice_mix_cost_what_their_sums_say(kitchen):
    assert near(sheet(kitchen, "Apple puree").cost_per_kg_finished, "3.469841", within="0.00001")
    assert near(sheet(kitchen, "Pear puree").cost_per_kg_finished, "3.680218", within="0.00001")
    # 0.5 x 16.80 + 0.3 x 12.80 + 0.1 x 36 + 0.1 x 25 = 18.34; 0.25 h x 23 = 5.75
    assert near(sheet(kitchen, "Spice mix").cost_per_kg_finished, "24.09")


def test_the_chutney_costs_what_its_sum_says(kitchen):
    """37.94 kg in, 38 % boiled off, 2.5 % left on the pan: 22.9347 kg for 172.7001."""
    chutney = sheet(kitchen, "Tomato chutney")
    assert chutney.ingoing_g == 37940
    assert near(chutney.balance.finished_g, "22934.73", within="0.01")
    assert near(chutney.cost_total, "172.7001")
    assert near(chutney.cost_per_kg_finished, "7.5301")
    # 110 days earlier sugar cost 0.95 (171.6201); 130 days earlier nobody sold tomatoes yet.
    assert near(
        sheet(kitchen, "Tomato chutney", on=ON - timedelta(days=110)).cost_total, "171.6201"
    )
    early = sheet(kitchen, "Tomato chutney", on=ON - timedelta(days=130))
    assert any("Plum tomatoes" in question for question in early.unpriced)


def test_dearer_damsons_and_sugar_move_the_damson_cheese_and_nothing_is_unknown(kitchen):
    """9 kg of puree bring 44.4286 (26.40 of it damsons), 8.1 kg of sugar 9.639, 0.18 kg of lemon
    juice 1.35; 2.5 h x 23 = 57.50. Materials 37.389, labour 48.75, overhead 26.00.
    """
    cheese = sheet(kitchen, "Damson cheese")
    assert cheese.is_complete
    assert near(cheese.breakdown["materials"], "37.3890")
    assert near(cheese.breakdown["labour"], "48.7500")
    assert near(cheese.breakdown["overhead"], "26.0000")
    assert cheese.balance.finishing_brix == 67


def test_a_softer_endpoint_makes_more_kilos_of_the_same_pan(kitchen):
    """To 67 Brix by the solids balance, by hand.

    Puree 9 kg of 12.5 Brix with 1.6875 % fibre: 151.9 g fibre, 1106.0 g soluble. Sugar 8100 g,
    lemon juice 180 g of 9 Brix: 16.2 g. A quarter of the sucrose inverts and binds 0.0526 g of
    water a gram: about 108 g. M = 9330 / 0.67 + 152 = 14 078 g; to 75 Brix it would be 12 593 g.
    """
    cheese = sheet(kitchen, "Damson cheese")
    assert near(cheese.balance.pot_g, "14078", within="10")
    assert near(cheese.balance.finished_g, "13585", within="10")  # less 3.5 % on the pan
    # 17.28 kg in; steam 3.202 kg; kWh of the cook: (17.28 x 3.7 x 85 + 3.202 x 2257) / 1980 = 6.395
    assert near(cheese.energy_kwh, "6.395", within="0.01")
    assert near(cheese.cost_per_kg_finished, "8.444", within="0.01")


def test_pear_paste_and_marmalade_stop_at_66_brix(kitchen):
    """By the same balance: (S + inversion gain) / 0.66 + fibre, S in grams.

    Marmalade: oranges 10 kg with 4.3 % fibre and 9 Brix, lemons 0.96 kg of 3 Brix, sugar 20 kg:
    S = 861.3 + 27.9 + 20 000 = 20 889; a quarter of 20 129 g of sucrose gains 264.7;
    M = 21 154 / 0.66 + 458 = 32 510. Materials 16 + 23.80 + 2.40 = 42.20, labour 75, overhead 40.
    """
    marmalade = sheet(kitchen, "Seville-style marmalade")
    assert near(marmalade.balance.pot_g, "32510", within="10")
    assert near(marmalade.breakdown["materials"], "42.2000")
    assert near(marmalade.cost_per_kg_finished, "5.2435", within="0.005")
    paste = sheet(kitchen, "Spiced pear and apple paste")
    assert paste.balance.finishing_brix == 66
    assert near(paste.breakdown["materials"], "28.2218")
    assert near(paste.breakdown["labour"], "53.8388")
    assert near(paste.balance.finished_g, "13127", within="15")
    assert paste.is_complete


@pytest.mark.parametrize(("name", "per_piece"), [
    ("Damson cheese, 100 g piece", "0.083737"),  # 0.038/0.97 + 0.023333/0.95 + 0.02
    ("Tomato chutney, 230 g jar", "0.487745"),  # (0.36 + 0.09)/0.98 + 0.023333/0.95 + 0.004
    ("Seville-style marmalade, 340 g jar", "0.548970"),  # (0.42 + 0.09)/0.98 + ...
])  # fmt: skip
def test_packaging_of_a_piece_costs_what_its_sum_says(kitchen, name, per_piece):
    prices = {
        row.ingredient_id: row.per_each for row in SupplierPrice.objects.exclude(per_each=None)
    }
    parts = ProductPart.objects.filter(product__name=name)
    total = sum(prices[p.item_id] * p.quantity * 100 / (100 - p.loss_pct) for p in parts)
    assert near(total, per_piece, within="0.000002")


def test_a_jar_of_chutney_costs_and_a_shop_asks_what_the_season_worked_out(kitchen):
    """0.232 kg x 7.5301 + 0.4877 packaging + 0.75 min x 23/60 = 2.5222.

    A shop that keeps 35 % of a wholesale price w sells at w / 0.65 x 1.10 with tax.
    """
    products = Product.objects.filter(kitchen=kitchen)
    sums = {each.product.name: each for each in price_products(kitchen, products, on=ON).values()}
    assert all(each.is_complete for each in sums.values())
    assert near(sums["Tomato chutney, 230 g jar"].piece.total, "2.5222")
    shelves = {name.split(",")[0]: each.shelf.shelf_inc_tax for name, each in sums.items()}
    assert near(shelves["Damson cheese"], "3.22", within="0.005")
    assert near(shelves["Spiced pear and apple paste"], "3.38", within="0.005")
    assert near(shelves["Tomato chutney"], "5.42", within="0.005")
    assert near(shelves["Seville-style marmalade"], "5.75", within="0.005")


def test_prices_decided_cover_their_cost_at_the_stall_and_in_the_shop(kitchen):
    for each in price_products(kitchen, Product.objects.filter(kitchen=kitchen), on=ON).values():
        assert each.stall.margin_pct > each.wholesale.margin_pct > 0
