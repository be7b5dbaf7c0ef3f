"""What a recipe costs, and what it says when something is not known."""

from dataclasses import replace
from decimal import Decimal

import pytest

from costing.reckoning.book import (
    AS_PURCHASED,
    COOK_LOSS,
    MATERIALS,
    NO_COOK,
    WEIGHED_OUT,
    CookRecord,
    IngredientRecord,
    KitchenRecord,
    LineRecord,
    RecipeRecord,
)
from costing.reckoning.errors import RecipeLoop, ReckoningError
from costing.reckoning.recipes import cost_all, cost_recipe
from tests.costing.reckoning.builders import (
    DAMSONS,
    ON,
    QD,
    R1,
    ROOKFOLD,
    SUGAR,
    a_book,
    a_food,
    boil_to,
    kg,
    recipe_of,
    rookfold,
    sugar,
    water,
)

D = Decimal
MIXED = CookRecord(kind=NO_COOK)


def a_mix(recipe_id, name, *lines, **more):
    return RecipeRecord(recipe_id, name, lines, **{"cook": MIXED, **more})


def test_damson_cheese_at_67_brix_with_a_quarter_of_the_sugar_inverted():
    # Solids 9 x 0.125 + 8.1 + 0.18 x 0.09 = 9.2412 kg. Sucrose 8.1 + 0.15 x 1.1412 = 8.27118;
    # a quarter splits and binds 8.27118 / 4 x 18.01528 / 342.2965 = 0.108829; S = 9.350029.
    # / 0.67 = 13.955268 kg in the pan; 17.28 - that = 3.324732 of steam; x 0.965 = 13.466834.
    # Heat (17.28 x 3.7 x 85 + 3.324732 x 2257) / 3600 / 0.55 = 6.534600 kWh x 0.28 = 1.829688,
    # with half the puree's 1.557126: 2.608251. 30.6450 + 48.75 + 2.6083 + 26 = 108.0033;
    # / 13.466834 = 8.0199 a kilo.
    recipe = replace(recipe_of(R1), cook=boil_to(67, inverted_pct=D(25), pan_residue_pct=D("3.5")))
    sheet = cost_recipe(rookfold(r105=recipe), R1)

    assert round(sheet.balance.pot_g, 1) == D("13955.3")
    assert round(sheet.balance.evaporated_g, 1) == D("3324.7")
    assert round(sheet.finished_g, 1) == D("13466.8")
    assert round(sheet.cost_total, 4) == D("108.0033")
    assert round(sheet.cost_per_kg_finished, 4) == D("8.0199")
    assert sheet.balance.reliability == "sound"
    # At 240 m water boils near 99.2 C (ISO 2533, IAPWS-IF97); a preserve of 67 Brix boils about
    # 5 K above it (trade rule 4.5 to 5.5).
    assert round(sheet.balance.water_boils_c, 1) == D("99.2")
    assert D("4.5") < sheet.balance.rise_k < D("5.5")


def test_an_ingredient_without_a_price_is_named_and_not_counted_as_free():
    book = rookfold()
    book = replace(book, prices={k: v for k, v in book.prices.items() if k != DAMSONS})
    whole, sheet = cost_recipe(rookfold(), R1), cost_recipe(book, R1)

    assert sheet.unpriced == ("Damsons",)  # found one level down, in the puree
    assert not sheet.is_complete
    # 21.60 of damsons are missing: the total is a lower bound.
    assert round(whole.cost_total - sheet.cost_total, 6) == D("21.60")
    assert sheet.finished_g == whole.finished_g
    puree = sheet.lines[0]
    assert puree.cost is None
    assert puree.natures["labour"] > 0
    (question,) = sheet.questions
    assert question.sentence == "Damsons: what does a kilo cost? No price is known on 1 Oct 2027."
    assert (question.ingredient_id, question.blocks) == (DAMSONS, "cost")


def test_a_name_is_asked_for_once_even_if_used_twice():
    foods = (a_food(1, "Plums"),)
    inner = a_mix(10, "Puree", kg(1, 1))
    outer = a_mix(11, "Paste", kg(1, recipe_id=10), kg(1, 1))
    sheet = cost_recipe(a_book(inner, outer, foods=foods), 11)
    assert sheet.unpriced == ("Plums",)
    assert len(sheet.questions) == 1


def test_water_costs_nothing_and_own_fruit_may():
    foods = (water(3), a_food(1, "Own plums"))
    recipe = a_mix(10, "Puree", kg(1, 1), kg(1, 3))
    sheet = cost_recipe(a_book(recipe, foods=foods, prices={1: "0"}), 10)
    assert sheet.is_complete
    assert sheet.cost_total == 0


def test_rates_that_are_not_known_are_questions_and_not_zeros():
    bare = KitchenRecord()
    sheet = cost_recipe(rookfold(kitchen=bare), R1)
    assert [q.about for q in sheet.questions] == ["energy price", "labour rate", "overhead rate"]
    assert sheet.energy_kwh is not None
    assert sheet.cost_per_kg_finished is not None  # a lower bound
    free = KitchenRecord(
        labour_rate_per_h=D(0), overhead_rate_per_h=D(0), energy_price_per_kwh=D(0)
    )
    sheet = cost_recipe(rookfold(kitchen=free), R1)
    assert sheet.is_complete
    assert sheet.cost_total == sheet.breakdown[MATERIALS]


def test_minutes_that_are_not_known_are_a_question():
    recipe = a_mix(10, "Puree", kg(1, 1), attended_minutes=None)
    sheet = cost_recipe(a_book(recipe, foods=(a_food(),), prices={1: "2"}), 10)
    assert [q.about for q in sheet.questions] == ["minutes"]
    with pytest.raises(ReckoningError, match="Minutes cannot be negative") as refused:
        cost_recipe(a_book(replace(recipe, attended_minutes=D(-1)), foods=(a_food(),)), 10)
    assert refused.value.recipe == "Puree"


def test_a_recipe_without_lines_asks_for_them():
    sheet = cost_recipe(a_book(RecipeRecord(10, "New paste", cook=boil_to(66))), 10)
    assert [q.about for q in sheet.questions] == ["lines"]
    assert sheet.balance is None
    assert sheet.cost_per_kg_finished is None
    assert sheet.ingoing_g is None


def test_a_question_about_mass_leaves_the_cost_per_kilo_open():
    foods = (a_food(1, "Quinces", brix=None), sugar())
    recipe = RecipeRecord(10, "Quince paste", (kg(1, 1), kg(1, 2)), cook=boil_to(66))
    sheet = cost_recipe(a_book(recipe, foods=foods, prices={1: "3", 2: "1"}), 10)
    assert sheet.breakdown[MATERIALS] == 4
    assert sheet.cost_per_kg_finished is None
    assert sheet.cost_per_kg_ingoing == 2
    assert sheet.energy_kwh is None
    assert [q.blocks for q in sheet.questions] == ["mass"]


def test_a_preparation_whose_mass_is_not_known_makes_its_user_incomplete():
    inner = RecipeRecord(10, "Quince puree", (kg(1, 1),), cook=CookRecord(kind=COOK_LOSS))
    outer = a_mix(11, "Paste", kg(1, recipe_id=10))
    sheet = cost_recipe(a_book(inner, outer, foods=(a_food(),), prices={1: "3"}), 11)
    assert sheet.lines[0].cost is None
    assert not sheet.is_complete
    assert sheet.finished_g == 1000  # the mass used is known all the same


def test_a_puree_of_unknown_brix_is_asked_about_by_its_own_name():
    fruit = a_food(1, "Medlars", brix=None)
    inner = RecipeRecord(
        10, "Medlar puree", (kg(2, 1),),
        cook=CookRecord(kind=WEIGHED_OUT, finished_g=D(1000), evaporated_g=D(0)),
    )  # fmt: skip
    outer = RecipeRecord(11, "Medlar paste", (kg(1, recipe_id=10), kg(1, 2)), cook=boil_to(66))
    book = a_book(inner, outer, foods=(fruit, sugar()), prices={1: "3", 2: "1"})
    (question,) = cost_recipe(book, 11).questions
    assert (question.about, question.recipe_id) == ("brix", 10)
    assert "Medlar puree" in question.sentence
    measured = replace(inner, cook=replace(inner.cook, measured_brix=D(14)))
    book = replace(book, recipes={**book.recipes, 10: measured})
    # 140 + 1000 = 1140 g; / 0.66 = 1727.27.
    assert round(cost_recipe(book, 11).finished_g, 2) == D("1727.27")


def test_a_loop_is_refused_and_named():
    puree = a_mix(1, "Damson puree", kg(1, recipe_id=2))
    base = a_mix(2, "Apple base", kg(1, recipe_id=1))
    user = a_mix(3, "Paste", kg(1, recipe_id=1))
    book = a_book(puree, base, user)
    with pytest.raises(RecipeLoop) as refused:
        cost_recipe(book, 1)
    assert "Damson puree -> Apple base -> Damson puree" in str(refused.value)
    with pytest.raises(RecipeLoop) as refused:
        cost_recipe(book, 3)  # the one that only uses the loop is not part of it
    assert refused.value.names == ("Damson puree", "Apple base", "Damson puree")
    with pytest.raises(RecipeLoop, match="Jam -> Jam"):
        cost_recipe(a_book(a_mix(4, "Jam", kg(1, recipe_id=4))), 4)


def test_one_faulty_recipe_does_not_hide_the_others():
    book = rookfold()
    loop = a_mix(200, "Loop", kg(1, recipe_id=200))
    answers = cost_all(replace(book, recipes={**book.recipes, 200: loop}))
    assert isinstance(answers[200], RecipeLoop)
    assert round(answers[QD].cost_per_kg_finished, 6) == D("4.403174")


def test_a_fault_below_names_the_recipe_it_is_in():
    inner = RecipeRecord(10, "Puree", (kg(1, 1),), cook=boil_to(90))
    outer = a_mix(11, "Paste", kg(1, recipe_id=10))
    with pytest.raises(ReckoningError, match="above 85 Brix") as refused:
        cost_recipe(a_book(inner, outer, foods=(a_food(),), prices={1: "3"}), 11)
    assert (refused.value.recipe, refused.value.field) == ("Puree", "stop_value")


def test_as_purchased_prepared_and_counted_lines():
    # Onions 1.00 a kg, 80 % usable: 1 kg as purchased is 0.8 used for 1.00; 1 kg prepared takes
    # 1.25 for 1.25; 5 each of 200 g are 1 kg as purchased.
    onions = a_food(1, "Onions", usable_pct=D(80), each_g=D(200))
    lines = (kg(1, 1, state=AS_PURCHASED), kg(1, 1), LineRecord(D(5), "each", 1))
    sheet = cost_recipe(a_book(a_mix(10, "Onions", *lines), foods=(onions,), prices={1: "1"}), 10)
    assert [line.used_g for line in sheet.lines] == [800, 1000, 800]
    assert [line.purchased_g for line in sheet.lines] == [1000, 1250, 1000]
    assert [line.cost for line in sheet.lines] == [1, D("1.25"), 1]
    assert [line.per_kg_used for line in sheet.lines] == [D("1.25")] * 3


def test_what_is_weighed_out_goes_in_whole():
    damsons = a_food(1, "Damsons", usable_pct=D(75))
    recipe = RecipeRecord(
        10, "Puree", (kg(24, 1, state=AS_PURCHASED),),
        cook=CookRecord(kind=WEIGHED_OUT, finished_g=D(17000), evaporated_g=D(1000),
                        inverted_pct=D(0)),
    )  # fmt: skip
    sheet = cost_recipe(a_book(recipe, foods=(damsons,), prices={1: "1.80"}), 10)
    assert (sheet.ingoing_g, sheet.balance.sieved_out_g) == (24000, 6000)
    # Of 18 kg of flesh with 2.25 kg of solids, 1 kg of steam leaves 13.24 Brix.
    assert round(sheet.balance.finishing_brix, 2) == D("13.24")


def test_usable_shares_that_cannot_be_are_refused():
    for usable in ("0", "-5", "101"):
        food = a_food(1, "Onions", usable_pct=D(usable))
        with pytest.raises(ReckoningError, match="usable must be more than 0"):
            cost_recipe(a_book(a_mix(10, "Mix", kg(1, 1)), foods=(food,)), 10)


def test_an_efficiency_that_cannot_be_is_refused():
    for share in ("0", "101"):
        with pytest.raises(ReckoningError, match="The hob passes on"):
            cost_recipe(rookfold(kitchen=replace(ROOKFOLD, hob_efficiency_pct=D(share))), R1)


def test_nothing_is_heated_when_the_recipe_says_so():
    cold = replace(recipe_of(QD), cook=replace(recipe_of(QD).cook, is_heated=False))
    assert cost_recipe(rookfold(r101=cold), QD).energy_kwh == 0


def test_the_sheet_says_the_day_and_the_policy():
    sheet = cost_recipe(replace(rookfold(), policy="worst"), R1)
    assert (sheet.on, sheet.policy, sheet.currency) == (ON, "worst", "EUR")
    assert sheet.lines[1].price.ingredient_id == SUGAR


def test_a_recipe_that_is_not_there_is_refused():
    with pytest.raises(ReckoningError, match="not known here"):
        cost_recipe(rookfold(), 999)


def forty_lines_in_three_levels():
    foods = [IngredientRecord(i, f"Food {i}", brix=D(10), insoluble_pct=D(1)) for i in range(1, 41)]
    leaves = [
        RecipeRecord(100 + n, f"Leaf {n}", tuple(kg(1, i) for i in range(9 * n + 1, 9 * n + 10)),
                     cook=boil_to(12))
        for n in range(3)
    ]  # fmt: skip
    middle = RecipeRecord(
        110, "Middle", (*(kg(1, recipe_id=r.id) for r in leaves), kg(1, 28), kg(1, 29)),
        cook=boil_to(20),
    )  # fmt: skip
    top = RecipeRecord(
        111, "Top", (kg(1, recipe_id=110), *(kg(1, i) for i in range(30, 37))), cook=boil_to(66)
    )
    recipes = (*leaves, middle, top)
    assert sum(len(r.lines) for r in recipes) == 40
    prices = dict.fromkeys(range(1, 41), "1")
    return a_book(*recipes, foods=foods, prices=prices)


def test_forty_lines_in_three_levels_are_costed_whole():
    sheet = cost_recipe(forty_lines_in_three_levels(), 111)
    assert sheet.is_complete
    assert sum(sheet.breakdown.values()) == sheet.cost_total


def test_a_preparation_is_used_whole():
    line = cost_recipe(rookfold(), R1).lines[0]
    assert (line.usable_pct, line.purchased_g, line.price) == (100, line.used_g, None)
    assert round(line.per_kg_used, 6) == D("4.403174")
    # 9.0 x 4.403174 = 39.6286, all of it in one of the five natures.
    assert round(line.cost, 4) == D("39.6286")
    assert sum(line.natures.values()) == line.cost


def test_what_goes_in_hotter_than_boiling_saves_no_energy():
    hot = replace(ROOKFOLD, start_temperature_c=D(120))
    sheet = cost_recipe(rookfold(kitchen=hot), R1)
    # Only steam: 4.9584 x 2257 / 3600 / 0.55.
    assert round(sheet.energy_kwh, 4) == D("5.6521")
