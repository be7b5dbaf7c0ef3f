"""What was used, all the way down, for the label."""

from dataclasses import replace
from decimal import Decimal

from costing.reckoning.book import WEIGHED_OUT, CookRecord, RecipeRecord
from costing.reckoning.composition import composition
from tests.costing.reckoning.builders import (
    DAMSONS,
    QA,
    QD,
    R1,
    R2,
    R4,
    a_book,
    a_food,
    boil_to,
    kg,
    rookfold,
    sugar,
)

D = Decimal


def test_damson_cheese_opened_to_its_damsons():
    made = composition(rookfold(), R1)
    puree, sugar_used, juice = made.parts

    # 11.8903 kg in the end, of 9.0 of puree, 8.1 of sugar, 0.18 of juice.
    assert (made.recipe_id, round(made.used_g / 1000, 4)) == (R1, D("11.8903"))
    assert (puree.recipe_id, puree.used_g) == (QD, 9000)
    assert (sugar_used.used_g, juice.used_g) == (8100, 180)
    # Half of the puree's batch: 12 kg of damsons and 1.2 of water.
    assert [(part.name, part.used_g) for part in puree.parts] == [
        ("Damsons", 12000),
        ("Water", 1200),
    ]
    assert puree.parts[0].ingredient_id == DAMSONS
    assert juice.parts == ()


def test_fruit_per_hundred_grams_of_what_is_in_the_pan():
    # Constructed: 9.0 / 12.3216 = 73.04 g of puree, 10.0 / 31.7103 = 31.54 g of oranges per 100 g
    # finished, by what was used over the pan's finished mass.
    book = rookfold()
    assert round(composition(book, R1).parts[0].used_g / D("12321.6") * 100, 2) == D("73.04")
    oranges = composition(book, R4).parts[0]
    assert round(oranges.used_g / D("31710.3") * 100, 2) == D("31.54")


def test_a_preparation_used_in_two_recipes_is_scaled_for_each():
    apple = composition(rookfold(), R2).parts[1]
    assert (apple.recipe_id, apple.used_g) == (QA, 4000)
    # 4 of 15 kg of puree: 20 x 4 / 15 = 5.3333 kg of apples.
    assert round(apple.parts[0].used_g, 2) == D("5333.33")


def test_stones_that_the_sieve_keeps_back_are_not_used():
    damsons = a_food(1, "Damsons", usable_pct=D(75))
    puree = RecipeRecord(
        10, "Puree", (kg(24, 1, state="as purchased"),),
        cook=CookRecord(kind=WEIGHED_OUT, finished_g=D(17000), evaporated_g=D(1000)),
    )  # fmt: skip
    made = composition(a_book(puree, foods=(damsons,)), 10)
    assert made.parts[0].used_g == 18000


def test_what_cannot_be_told_is_none_all_the_way_down():
    fruit = a_food(1, "Medlars", brix=None)
    inner = RecipeRecord(10, "Base", (kg(1, 1),), cook=boil_to(30))
    outer = RecipeRecord(11, "Paste", (kg(1, recipe_id=10), kg(1, 2)), cook=boil_to(66))
    made = composition(a_book(inner, outer, foods=(fruit, sugar())), 11)
    assert made.used_g is None
    assert made.parts[0].used_g == 1000
    assert made.parts[0].parts[0].used_g is None
    assert made.parts[1].used_g == 1000


def test_composition_needs_no_price():
    bare = replace(rookfold(), prices={})
    assert composition(bare, R1) == composition(rookfold(), R1)
