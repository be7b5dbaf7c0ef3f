from decimal import Decimal

import pytest

from costing.models import AllergenAnswer, CompoundPart
from labels.facts import ALLERGEN_GROUPS
from labels.models import LabelDesign, QuantifiedIngredient
from labels.services.facts import food_facts, label_facts
from tests.builders import (
    TODAY,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_price,
    a_product,
    a_recipe,
    an_ingredient,
    no_allergens,
    sugar,
    water,
)

pytestmark = pytest.mark.django_db


def a_design(recipe, **values):
    product = a_product(recipe)
    values = {"name_of_food": recipe.name, "kitchen": recipe.kitchen, "product": product} | values
    return LabelDesign.objects.create(**values)


def declare(design, *, ingredient=None, preparation=None):
    QuantifiedIngredient.objects.create(
        kitchen=design.kitchen, design=design, ingredient=ingredient, preparation=preparation
    )


def names(food):
    return [ingredient.name for ingredient in food.ingredients]


def test_the_divisor_is_what_was_in_the_pan_before_any_of_it_stuck():
    # Constructed: solids 9.0 x 12.5 % + 8.1 + 0.18 x 9 % = 9.2412 kg; / 0.75 = 12.3216 kg.
    # The residue left on the pan carries its share of fruit, so it is not taken off.
    design = a_design(a_damson_paste())
    food = food_facts(design, on=TODAY)
    assert food.finished_g == Decimal("12321.6")
    assert food.sheet.balance.finished_g < food.finished_g


def test_a_puree_of_one_fruit_can_stand_under_one_name():
    recipe = a_damson_paste()
    puree = recipe.versions.get().lines.exclude(preparation=None).get().preparation
    puree.on_label, puree.label_name = "one name", "damson puree"
    puree.save()
    design = a_design(recipe)
    declare(design, preparation=puree)
    food = food_facts(design, on=TODAY)
    assert names(food) == ["damson puree", "white sugar", "lemon juice"]
    assert food.ingredients[0].used_g == 9000
    assert food.ingredients[0].quid_reason == "in the name"


def test_a_puree_under_one_name_tells_how_much_fruit_it_was_made_of():
    # 30 kg of edible fruit and 12 kg of water give 40 kg of puree: 10 kg of it hold 7.5 kg of fruit
    kitchen = a_kitchen()
    quinces = a_fruit(kitchen, name="Quinces", category="fruit")
    puree = a_recipe(
        kitchen,
        name="Quince puree",
        on_label="one name",
        is_preparation=True,
        lines=[(quinces, 30), (no_allergens(water(kitchen)), 12)],
        cook_kind="weighed out",
        finished_g=40000,
    )
    food = food_facts(a_design(a_recipe(kitchen, lines=[(puree, 10)])), on=TODAY)
    (listed,) = food.ingredients
    assert (listed.name, listed.used_g, listed.fruit_from_g) == ("Quince puree", 10000, 7500)


def test_the_tagline_and_the_claims_are_told_to_the_law():
    design = a_design(a_damson_paste(), tagline="Nut free", claims="source of fibre\n \nlight")
    facts, _ = label_facts(design, on=TODAY, lot="", made_on=TODAY, best_before=None)
    assert (facts.tagline, facts.claims) == ("Nut free", ("source of fibre", "light"))
    assert facts.soluble_solids_pct == 75


def test_merged_a_puree_gives_the_edible_fruit_that_went_into_it():
    # 24 kg of damsons at 75 % usable give 18 kg; half of that batch is used: 9 kg, and 1.2 kg of
    # the 2.4 kg of water.
    food = food_facts(a_design(a_damson_paste()), on=TODAY)
    used = {ingredient.name: ingredient.used_g for ingredient in food.ingredients}
    assert used["damsons"] == 9000
    assert used["water"] == 1200


def test_one_name_never_hides_a_second_ingredient():
    kitchen = a_kitchen()
    spices = a_recipe(
        kitchen,
        name="Spice mix",
        on_label="one name",
        is_preparation=True,
        lines=[
            (an_ingredient(kitchen, name="Cloves"), 1),
            (an_ingredient(kitchen, name="Mace"), 1),
        ],
    )
    food = food_facts(a_design(a_recipe(kitchen, lines=[(spices, "0.5")])), on=TODAY)
    assert names(food) == ["Spice mix"]
    assert [part.name for part in food.ingredients[0].parts] == ["cloves", "mace"]
    assert [part.used_g for part in food.ingredients[0].parts] == [250, 250]


def test_an_allergen_question_without_an_answer_comes_up_through_any_depth():
    kitchen = a_kitchen()
    inner = a_recipe(kitchen, lines=[(an_ingredient(kitchen, name="Ginger"), 1)])
    middle = a_recipe(kitchen, lines=[(inner, 1)])
    food = food_facts(a_design(a_recipe(kitchen, lines=[(middle, 1)])), on=TODAY)
    assert food.ingredients[0].name == "ginger"
    assert food.ingredients[0].allergens_not_known == ALLERGEN_GROUPS


def test_no_row_and_not_known_yet_are_the_same_and_neither_is_no():
    kitchen = a_kitchen()
    seed = no_allergens(an_ingredient(kitchen, name="Mustard seed"))
    answers = AllergenAnswer.objects.filter(ingredient=seed)
    answers.filter(group="mustard").update(answer="contains", named_as="mustard")
    answers.filter(group="celery").update(answer="unknown")
    answers.filter(group="sesame").delete()
    food = food_facts(a_design(a_recipe(kitchen, lines=[(seed, 1)])), on=TODAY)
    (listed,) = food.ingredients
    assert [(a.group, a.named_as) for a in listed.allergens] == [("mustard", "mustard")]
    assert listed.allergens_not_known == ("celery", "sesame")


def test_a_bought_in_compound_brings_its_own_list():
    kitchen = a_kitchen()
    chocolate = an_ingredient(kitchen, name="Chocolate", is_compound=True)
    milk = no_allergens(an_ingredient(kitchen, name="Milk powder"))
    AllergenAnswer.objects.filter(ingredient=milk, group="milk").update(
        answer="contains", named_as="milk"
    )
    CompoundPart.objects.create(kitchen=kitchen, compound=chocolate, part=milk, share_pct=20)
    food = food_facts(a_design(a_recipe(kitchen, lines=[(chocolate, 1)])), on=TODAY)
    (part,) = food.ingredients[0].parts
    assert (part.name, part.used_g) == ("milk powder", 200)
    assert part.allergens[0].named_as == "milk"


def test_the_same_ingredient_on_two_ways_is_listed_once_with_both_masses():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    syrup = a_recipe(kitchen, lines=[(white, 1), (water(kitchen), 1)])
    food = food_facts(a_design(a_recipe(kitchen, lines=[(white, 3), (syrup, 2)])), on=TODAY)
    used = {ingredient.name: ingredient.used_g for ingredient in food.ingredients}
    assert used == {"white sugar": 4000, "water": 1000}


def test_what_cannot_be_weighed_gives_no_list_and_says_why():
    kitchen = a_kitchen()
    vinegar = an_ingredient(kitchen, name="Vinegar")
    recipe = a_recipe(kitchen, lines=[(sugar(kitchen), 1), (vinegar, 4, "l")])
    food = food_facts(a_design(recipe), on=TODAY)
    assert food.ingredients == ()
    assert "Vinegar" in food.questions[0].sentence


def test_an_unknown_sulphite_stays_unknown_through_a_preparation():
    kitchen = a_kitchen()
    fruit = an_ingredient(kitchen, name="Sultanas", sulphite_mg_per_kg=None)
    other = an_ingredient(kitchen, name="Figs", sulphite_mg_per_kg="100")
    mix = a_recipe(kitchen, on_label="with list", lines=[(fruit, 1), (other, 1)])
    food = food_facts(a_design(a_recipe(kitchen, lines=[(mix, 1)])), on=TODAY)
    assert food.ingredients[0].sulphite_mg_per_kg is None


def test_the_sulphite_of_a_preparation_is_that_of_what_is_in_it():
    # 1 kg at 500 and 3 kg at 100 mg/kg: 800 mg in 4 kg, 200 mg/kg.
    kitchen = a_kitchen()
    sultanas = an_ingredient(kitchen, name="Sultanas", sulphite_mg_per_kg="500")
    figs = an_ingredient(kitchen, name="Figs", sulphite_mg_per_kg="100")
    mix = a_recipe(kitchen, on_label="with list", lines=[(sultanas, 1), (figs, 3)])
    food = food_facts(a_design(a_recipe(kitchen, lines=[(mix, 1)])), on=TODAY)
    assert food.ingredients[0].sulphite_mg_per_kg == 200


def test_reading_the_facts_takes_the_same_queries_at_any_depth(django_assert_max_num_queries):
    kitchen = a_kitchen()
    below = a_recipe(kitchen, lines=[(a_fruit(kitchen), 1), (sugar(kitchen), 1)])
    for _ in range(5):
        below = a_recipe(kitchen, lines=[(below, 1), (an_ingredient(kitchen), 1)])
    design = LabelDesign.objects.select_related("kitchen", "product__recipe").get(
        pk=a_design(below).pk
    )
    with django_assert_max_num_queries(10):
        food_facts(design, on=TODAY)


def test_the_address_of_the_kitchen_is_one_line_on_the_label():
    kitchen = a_kitchen(address="1 Orchard Lane\nMillford")
    recipe = a_recipe(kitchen, lines=[(sugar(kitchen), 1)])
    a_price(recipe.versions.get().lines.get().ingredient)
    facts, _food = label_facts(
        a_design(recipe), on=TODAY, lot="X-1", made_on=TODAY, best_before=None
    )
    assert facts.operator_address == "1 Orchard Lane, Millford"


def test_two_ingredients_printed_under_one_name_keep_the_allergens_and_sulphites_of_both():
    # 100 mg/kg in 1 kg and 500 mg/kg in 3 kg: 1600 mg in 4 kg are 400 mg/kg.
    kitchen = a_kitchen()
    plain = no_allergens(an_ingredient(kitchen, name="A", label_name="raisins"))
    plain.sulphite_mg_per_kg = 100
    plain.save()
    other = no_allergens(an_ingredient(kitchen, name="B", label_name="raisins"))
    other.sulphite_mg_per_kg = 500
    other.save()
    AllergenAnswer.objects.filter(ingredient=other, group="milk").update(
        answer="contains", named_as="milk"
    )
    food = food_facts(a_design(a_recipe(kitchen, lines=[(plain, 1), (other, 3)])), on=TODAY)
    (listed,) = food.ingredients
    assert listed.used_g == 4000
    assert [a.group for a in listed.allergens] == ["milk"]
    assert listed.sulphite_mg_per_kg == 400


def test_two_ingredients_printed_under_one_name_keep_the_open_question_of_either():
    kitchen = a_kitchen()
    known = no_allergens(an_ingredient(kitchen, name="A", label_name="stock"))
    unknown = an_ingredient(kitchen, name="B", label_name="stock")
    food = food_facts(a_design(a_recipe(kitchen, lines=[(known, 1), (unknown, 1)])), on=TODAY)
    assert {group for i in food.ingredients for group in i.allergens_not_known} == {
        *ALLERGEN_GROUPS
    }
    assert [i.key for i in food.ingredients if i.allergens_not_known] == [str(unknown.pk)]


def test_what_is_boiled_down_keeps_all_its_sulphite_under_one_name():
    # 10 kg at 100 mg/kg hold 1000 mg; boiled down to 2 kg, that is 500 mg/kg.
    kitchen = a_kitchen()
    wine = no_allergens(an_ingredient(kitchen, name="Wine", sulphite_mg_per_kg=100))
    syrup = a_recipe(
        kitchen,
        name="Wine syrup",
        is_preparation=True,
        on_label="one name",
        cook_kind="cook loss",
        cook_loss_pct=80,
        lines=[(wine, 10)],
    )
    food = food_facts(a_design(a_recipe(kitchen, lines=[(syrup, 2)])), on=TODAY)
    (listed,) = food.ingredients
    assert (listed.used_g, listed.sulphite_mg_per_kg) == (2000, 500)


def test_a_compound_without_its_parts_says_so():
    kitchen = a_kitchen()
    chocolate = no_allergens(an_ingredient(kitchen, name="Chocolate", is_compound=True))
    food = food_facts(a_design(a_recipe(kitchen, lines=[(chocolate, 1)])), on=TODAY)
    assert food.ingredients[0].lacks_its_list
