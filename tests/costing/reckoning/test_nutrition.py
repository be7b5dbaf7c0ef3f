"""Nutrients of the finished food, against records of USDA SR28 that are not ours."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from costing.reckoning import nutrition
from costing.reckoning.book import AS_PURCHASED, WEIGHED_OUT, CookRecord, RecipeRecord
from costing.reckoning.composition import Used, composition, kept_share
from costing.reckoning.nutrition import NutrientRecord, nutrients
from costing.reckoning.recipes import cost_recipe
from tests.costing.reckoning.builders import (
    DAMSONS,
    QD,
    a_book,
    a_food,
    boil_to,
    kg,
    rookfold,
    sugar,
    water,
)

D = Decimal
PANTRY = Path(nutrition.__file__).parent.parent / "pantry"


def sr28(ndb_number, *, ingredient_id):
    """A record of SR28 as the pantry holds it, carbohydrate without fibre, salt from sodium."""
    with (PANTRY / "sr28.csv").open(newline="", encoding="utf-8") as file:
        row = next(row for row in csv.DictReader(file) if row["ndb_number"] == ndb_number)
    return NutrientRecord(
        ingredient_id,
        row["description"],
        {
            "fat_g": D(row["fat_g"]),
            "saturates_g": D(row["saturates_g"]),
            "carbohydrate_g": D(row["carbohydrate_by_difference_g"]) - D(row["fibre_g"]),
            "sugars_g": D(row["sugars_g"]),
            "fibre_g": D(row["fibre_g"]),
            "protein_g": D(row["protein_g"]),
            "salt_g": D(row["sodium_mg"]) * D("2.5") / 1000,
        },
        {"fat_g": f"SR28 {ndb_number}"},
    )


def known(ingredient_id, name="Food", **grams):
    """An ingredient of which all is known: nought, but for what is given."""
    values = dict.fromkeys(nutrition.DUE, D(0)) | {k: D(str(v)) for k, v in grams.items()}
    return NutrientRecord(ingredient_id, name, values)


def made_of(finished_g, *parts, kept=1):
    return Used(None, 9, "Jam", D(str(finished_g)), parts, D(str(kept)))


def part(ingredient_id, grams):
    return Used(ingredient_id, None, f"No. {ingredient_id}", D(str(grams)))


def test_a_strawberry_jam_reckoned_from_its_fruit_is_the_jam_that_sr28_analysed():
    # 45 parts of fruit to 55 of sugar, the measure of 21 CFR 150.160, boiled down until it holds
    # the 30.47 % water of SR28 record 19297 "Jams and preserves":
    # solids 45 x (1 - 0.9095) + 55 x 0.9998 = 59.06; / (1 - 0.3047) = 84.95 g.
    # 19297 in 100 g: carbohydrate by difference 68.86, fibre 1.1, protein 0.37, fat 0.07, 278 kcal.
    # Its sugars (48.50) are not compared: commercial jam there holds corn syrup.
    solids_g = 45 * (1 - D("0.9095")) + 55 * D("0.9998")
    jam = made_of(solids_g / (1 - D("0.3047")), part(1, 45), part(2, 55))
    larder = {1: sr28("09316", ingredient_id=1), 2: sr28("19335", ingredient_id=2)}
    found = nutrients(jam, larder=larder)
    assert found.is_complete
    grams = found.per_100_g
    assert grams["carbohydrate_g"] + grams["fibre_g"] == pytest.approx(D("68.86"), rel=D("0.005"))
    assert grams["fibre_g"] == pytest.approx(D("1.1"), abs=D("0.05"))
    assert grams["protein_g"] == pytest.approx(D("0.37"), abs=D("0.05"))
    assert grams["fat_g"] == pytest.approx(D("0.07"), abs=D("0.1"))
    # By the general factors 4, 9, 4 and 2 of Regulation (EU) No 1169/2011, Annex XIV.
    kcal = (
        4 * grams["carbohydrate_g"] + 2 * grams["fibre_g"] + 4 * grams["protein_g"]
    ) + 9 * grams["fat_g"]
    assert kcal == pytest.approx(D(278), rel=D("0.01"))


def test_only_water_leaves():
    # 1000 g in, 500 g out: all that was in it stands in half the mass, so doubled in 100 g.
    fruit = known(1, carbohydrate_g=10, sugars_g=8, fibre_g=2)
    found = nutrients(made_of(500, part(1, 1000)), larder={1: fruit}).per_100_g
    assert (found["carbohydrate_g"], found["sugars_g"], found["fibre_g"]) == (20, 16, 4)


def test_what_sticks_to_the_pan_takes_its_share_with_it():
    # 1000 g in the pan, 50 stay on it: 950 g of the same food, so 100 g hold what they held.
    fruit = known(1, sugars_g=10)
    whole = nutrients(made_of(1000, part(1, 2000)), larder={1: fruit})
    stuck = nutrients(made_of(950, part(1, 2000), kept="0.95"), larder={1: fruit})
    assert whole.per_100_g == stuck.per_100_g
    assert stuck.per_100_g["sugars_g"] == 20


def test_a_preparation_brings_what_went_into_it_less_what_stuck():
    # A puree of 1000 g fruit boiled to 500 g in the pan, 10 g of it lost: 490 g, all used.
    # 100 g of fruit sugar x 0.98 over 980 g finished = 10 g in 100 g.
    puree = Used(None, 3, "Puree", D(490), (part(1, 1000),), D("0.98"))
    found = nutrients(made_of(980, puree, part(2, 490)), larder={1: known(1, sugars_g=10),
                                                                 2: known(2)})  # fmt: skip
    assert found.per_100_g["sugars_g"] == 10


def test_a_recipe_from_the_book_is_divided_by_what_was_in_the_pan():
    # 1 kg of fruit at 10 Brix, 1 kg of sugar, no inversion, to 65 Brix: pot 1100 / 0.65 = 1692.3 g,
    # whatever sticks. Sugar alone brings 1000 / 1692.3 = 59.09 g in 100 g.
    recipe = RecipeRecord(
        9, "Paste", (kg("1", 1), kg("1", 2)), cook=boil_to("65", inverted_pct=D(0),
                                                           pan_residue_pct=D(2)),
    )  # fmt: skip
    book = a_book(recipe, foods=(a_food(1, brix=D(10), insoluble_pct=D(0)), sugar(2)))
    sheet = cost_recipe(book, 9)
    assert kept_share(sheet) == sheet.balance.finished_g / sheet.balance.pot_g < 1
    used = composition(book, 9)
    found = nutrients(used, larder={1: known(1), 2: known(2, "Sugar", sugars_g=100)})
    assert round(found.per_100_g["sugars_g"], 2) == D("59.09")


def test_water_holds_nothing_and_is_not_asked_about():
    recipe = RecipeRecord(9, "Syrup", (kg("1", 2), kg("1", 3)), cook=CookRecord())
    book = a_book(recipe, foods=(sugar(2), water(3)))
    larder = {2: known(2, sugars_g=100), 3: NutrientRecord(3, "Water", is_water=True)}
    found = nutrients(composition(book, 9), larder=larder)
    assert found.is_complete
    assert found.per_100_g["sugars_g"] == 50


def test_what_is_missing_is_named_and_the_sum_is_not_complete():
    pectin = NutrientRecord(2, "Pectin", {"fat_g": D(0), "protein_g": D(1)})
    found = nutrients(made_of(100, part(1, 90), part(2, 10)), larder={1: known(1), 2: pectin})
    (question,) = found.questions
    assert question.ingredient_id == 2
    assert question.sentence.startswith(
        "Pectin: how much saturates, carbohydrate, sugars, fibre and salt is in 100 g?"
    )
    assert not found.is_complete


@pytest.mark.parametrize(("grams", "is_heeded"), [("0.499", True), ("0.5", False)])
def test_a_trace_counts_as_nothing_only_below_half_a_per_cent_and_with_a_reason(grams, is_heeded):
    larder = {1: known(1), 2: NutrientRecord(2, "Mace", {"salt_g": D(1)})}
    jam = made_of(100, part(1, 99), part(2, grams))
    found = nutrients(jam, larder=larder, counts_as_nothing={2: "0.5 g at most"})
    assert found.is_complete is is_heeded
    assert not nutrients(jam, larder=larder, counts_as_nothing={2: "  "}).is_complete
    # What is known of it still counts, decided or not.
    assert found.per_100_g["salt_g"] == D(grams) / 100


def test_traces_stay_below_the_limit_together():
    # 0.3 + 0.25 = 0.55 %: the smaller is let go, the larger is asked after.
    larder = {1: known(1), 2: NutrientRecord(2, "Mace"), 3: NutrientRecord(3, "Clove")}
    jam = made_of(100, part(1, 99), part(2, "0.3"), part(3, "0.25"))
    found = nutrients(jam, larder=larder, counts_as_nothing={2: "a trace", 3: "a trace"})
    assert [q.name for q in found.questions] == ["Mace"]


def test_a_spirit_is_asked_how_much_alcohol_is_left():
    rum = NutrientRecord(2, "Rum", known(2).per_100_g, holds_alcohol=True)
    jam = made_of(100, part(1, 90), part(2, 10))
    asked = nutrients(jam, larder={1: known(1), 2: rum})
    assert [q.about for q in asked.questions] == ["alcohol"]
    told = nutrients(jam, larder={1: known(1), 2: rum}, alcohol_left_g=D("1.5"))
    assert told.is_complete
    assert told.per_100_g["alcohol_g"] == D("1.5")


def test_a_sweetener_is_asked_for_its_polyols_and_others_are_not():
    xylitol = NutrientRecord(1, "Xylitol", known(1).per_100_g, is_sweetener=True)
    assert [q.name for q in nutrients(made_of(1, part(1, 1)), larder={1: xylitol}).questions] == [
        "Xylitol"
    ]
    plain = nutrients(made_of(1, part(1, 1)), larder={1: known(1)})
    assert plain.is_complete
    assert "stay inside carbohydrate" in plain.notes[0]


def test_split_sugar_is_said_to_weigh_up_to_a_twentieth_more():
    # C12H22O11 + H2O -> 2 C6H12O6: 18.015 / 342.297 = 5.263 %; of 60 g, 3.2 g.
    found = nutrients(made_of(100, part(1, 60)), larder={1: known(1, sugars_g=100)})
    assert found.per_100_g["sugars_g"] == 60
    assert "up to 3.2 g more sugars" in found.notes[-1]


def test_without_a_finished_mass_nothing_is_said_of_100_g():
    found = nutrients(Used(None, 9, "Jam", None, (part(1, 1),)), larder={1: known(1)})
    assert not found.is_complete
    assert found.per_100_g == {}
    unweighed = made_of(100, Used(1, None, "Plum", None))
    assert not nutrients(unweighed, larder={1: known(1)}).is_complete


def test_the_same_ingredient_in_two_places_is_one_row():
    found = nutrients(made_of(100, part(1, 20), part(1, 30)), larder={1: known(1, fat_g=10)})
    assert [row.share_pct for row in found.contributions] == [50]
    assert found.per_100_g["fat_g"] == 5


def test_what_a_sieve_kept_back_took_its_share_and_is_told():
    # A puree of 24 kg of damsons, stones and all, and 2.4 of water, 1.2 boiled off: 25.2 kg, of
    # which 18 pass the sieve. 100 g of sugar in a kilo of fruit: 2400 / 25.2 = 95.2 g in a kilo.
    book = rookfold()
    used = composition(book, QD)
    assert used.sieved_g == 7200
    larder = {pk: known(pk, sugars_g=10 if pk == DAMSONS else 0) for pk in book.ingredients}
    found = nutrients(used, larder=larder)
    assert round(found.per_100_g["sugars_g"], 2) == D("9.52")
    assert any("the sieve kept back 7.20 kg" in note for note in found.notes)


def test_stones_that_were_never_counted_are_not_taken_off_twice():
    # The same with a quarter of stones known: 18 kg of flesh, 18 + 2.4 - 1.2 = 19.2 before the
    # sieve, 18 passed: 1800 / 19.2 = 93.75 g of sugar in a kilo.
    whole = kg("24", 1, state=AS_PURCHASED)
    cook = CookRecord(WEIGHED_OUT, finished_g=D(18000), evaporated_g=D(1200))
    recipe = RecipeRecord(9, "Puree", (whole, kg("2.4", 3)), cook=cook)
    book = a_book(recipe, foods=(a_food(1, brix=D(12), usable_pct=D(75)), water(3)))
    used = composition(book, 9)
    assert used.sieved_g == 1200
    larder = {1: known(1, sugars_g=10), 3: known(3)}
    assert nutrients(used, larder=larder).per_100_g["sugars_g"] == D("9.375")
