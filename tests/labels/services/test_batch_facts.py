"""The food on a batch's label: Regulation (EU) No 1169/2011, Art. 22 and Annex VIII.

The act prints no figures; worked ones come from the Commission Notice 2017/C 393/05 on Annex VIII
and from official guidance, and are marked as in tests of the law itself.
"""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from costing.models import AllergenAnswer, Ingredient
from costing.services.batches import InputGiven, finish_batch, note_event
from labels.law.eu.quid import declared
from labels.models import LabelDesign, QuantifiedIngredient
from labels.services.batch_facts import (
    food_of_batch,
    planned_food,
    read_batch,
    why_no_label,
)
from labels.services.facts import label_facts
from tests.builders import (
    NOON,
    TODAY,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_fruit,
    a_kitchen,
    a_product,
    a_recipe,
    an_ingredient,
    no_allergens,
    sugar,
    water,
)

pytestmark = pytest.mark.django_db


def a_label_of(recipe, *, name, quantified=()):
    """A design of a product of the recipe, with these ingredients or preparations declared."""
    product = a_product(recipe)
    design = LabelDesign.objects.create(
        kitchen=recipe.kitchen, product=product, name_of_food=name, shelf_life_months=9
    )
    for what in quantified:
        link = {"ingredient" if isinstance(what, Ingredient) else "preparation": what}
        QuantifiedIngredient.objects.create(kitchen=recipe.kitchen, design=design, **link)
    return design


def facts_of(batch, *, name, quantified=(), rounding="one decimal"):
    design = a_label_of(batch.recipe, name=name, quantified=quantified)
    food = food_of_batch(read_batch(batch), quantified=design.quantified.all())
    facts, _ = label_facts(
        design, on=TODAY, lot=batch.lot, made_on=batch.made_on, best_before=None, food=food
    )
    return replace(facts, quid_rounding=rounding)


def shares(facts):
    return {each.name: each.shown for each in declared(facts)}


def weighed(*grams):
    return [InputGiven(i, Decimal(str(g))) for i, g in enumerate(grams)]


def finished(batch, *, pot_g):
    values = {"pot_g": Decimal(pot_g), "net_g": Decimal(pot_g - 10)}
    return finish_batch(batch, by=None, finished_at=NOON + timedelta(hours=1), values=values)


def biscuits():
    kitchen = a_kitchen()
    named = [an_ingredient(kitchen, name=n) for n in ("Flour", "Sugar", "Butter", "Egg")]
    lines = [(one, "0.1") for one in named]
    return a_recipe(kitchen, name="Biscuits", lines=lines, cook_kind="cook loss", cook_loss_pct=30)


def test_annex_viii_4a_butter_of_the_biscuit_is_what_went_in_over_what_came_out():
    # 50 / 170 = 29.4 %: Commission Notice 2017/C 393/05, section 4, point 27 (second-hand). The
    # recipe planned 100 g of each and a loss of 30 %, 100 / 280 = 35.7 %; the batch is as weighed.
    batch = a_finished_batch(biscuits(), inputs=weighed(100, 40, 50, 10), pot_g=170, net_g=165)
    assert shares(facts_of(batch, name="Butter biscuits")) == {"butter": "29.4 %"}
    made = read_batch(batch)
    plan = planned_food(made, quantified=())
    assert round(plan.ingredients[2].used_g * 100 / plan.finished_g, 1) == Decimal("35.7")


def test_annex_viii_4a_sultanas_are_related_to_the_cake_as_baked():
    # 200 / 800 = 25 %: English local-authority guidance (second-hand).
    kitchen = a_kitchen()
    lines = [(an_ingredient(kitchen, name="Sultanas"), "0.2"),
             (an_ingredient(kitchen, name="Flour, egg and butter mix"), "0.8")]  # fmt: skip
    cake = a_recipe(kitchen, lines=lines, cook_kind="cook loss", cook_loss_pct=10)
    batch = a_finished_batch(cake, inputs=weighed(200, 800), pot_g=800, net_g=800)
    assert shares(facts_of(batch, name="Sultana cake", rounding="whole")) == {"sultanas": "25 %"}


def test_annex_viii_4a_more_fruit_than_food_goes_by_weight():
    # Annex VIII, point 4(a): above 100 % the weight used for 100 g of finished product stands in
    # place of the percentage. 1200 g boiled down with 100 g to 1000 g: 120 g per 100 g.
    kitchen = a_kitchen()
    lines = [(a_fruit(kitchen, name="Tomatoes"), "1"), (sugar(kitchen), "0.1")]
    ketchup = a_recipe(kitchen, lines=lines, cook_kind="cook loss", cook_loss_pct=10)
    batch = a_finished_batch(ketchup, inputs=weighed(1200, 100), pot_g=1000, net_g=980)
    facts = facts_of(batch, name="Tomato ketchup")
    assert shares(facts) == {"tomatoes": "120 g per 100 g"}


def test_the_mass_before_anything_sticks_to_the_pan_divides():
    # 9000 / 14500 = 62.07 %, not 9000 / 14000 = 64.29 %: what stays in the pan is fruit as well.
    recipe = a_damson_paste()
    batch = a_finished_batch(recipe, inputs=weighed(9000, 8100, 180), pot_g=14500, net_g=14000)
    puree = recipe.versions.get().lines.get(preparation__isnull=False).preparation
    facts = facts_of(batch, name="Damson cheese", quantified=[puree])
    assert facts.finished_g == 14500
    assert shares(facts) == {"damsons": "62.1 %"}


def test_a_puree_of_a_named_batch_is_opened_by_its_own_weights():
    # That batch took 30 kg of damsons (75 % usable, 22.5 kg) and gave 20 kg: of 9 kg of it
    # 10.125 kg are damsons. By the recipe of the day it is 18 / 18 kg: 9 kg.
    recipe = a_damson_paste()
    puree = recipe.versions.get().lines.get(preparation__isnull=False).preparation
    source = a_finished_batch(puree, inputs=weighed(30000, 2400), net_g=20000)
    named = [InputGiven(0, Decimal(9000), from_batch=source), *weighed(0, 8100, 180)[1:]]
    by_name = read_batch(a_finished_batch(recipe, inputs=named, pot_g=14500, net_g=14000))
    of_puree = by_name.used.parts[0]
    assert round(of_puree.parts[0].used_g, 3) == Decimal("10125.000")
    assert not any("From which batch" in note.message for note in by_name.notes)

    unnamed = a_finished_batch(recipe, inputs=weighed(9000, 8100, 180), pot_g=14500, net_g=14000)
    by_plan = read_batch(unnamed)
    assert round(by_plan.used.parts[0].parts[0].used_g, 3) == Decimal("9000.000")
    assert any("From which batch of Damson puree" in note.message for note in by_plan.notes)


def test_what_went_in_instead_is_listed_with_its_allergens_and_what_was_left_out_is_not():
    kitchen = a_kitchen()
    plums, white = (no_allergens(one) for one in (a_fruit(kitchen, name="Plums"), sugar(kitchen)))
    recipe = a_recipe(
        kitchen, lines=[(plums, 1), (white, 1)], cook_kind="cook loss", cook_loss_pct=30
    )
    dried = no_allergens(a_fruit(kitchen, name="Sultanas"))
    AllergenAnswer.objects.filter(ingredient=dried, group="sulphites").update(
        answer="contains", named_as="sulphites"
    )
    inputs = [InputGiven(0, Decimal(900), ingredient=dried), InputGiven(1, Decimal(1000))]
    batch = a_finished_batch(recipe, inputs=inputs, pot_g=1500, net_g=1450)
    listed = {i.name: i for i in facts_of(batch, name="Paste").ingredients}
    assert set(listed) == {"sultanas", "white sugar"}
    assert [a.named_as for a in listed["sultanas"].allergens] == ["sulphites"]
    assert any("Sultanas was not in the plan" in note.message for note in read_batch(batch).notes)


def test_an_answer_given_today_counts_for_a_batch_of_yesterday():
    kitchen = a_kitchen()
    plums = no_allergens(a_fruit(kitchen, name="Plums"))
    recipe = a_recipe(kitchen, lines=[(plums, 1)], cook_kind="cook loss", cook_loss_pct=30)
    batch = a_finished_batch(recipe, inputs=weighed(1000), pot_g=700, net_g=690)
    AllergenAnswer.objects.filter(ingredient=plums, group="nuts").update(answer="unknown")
    (listed,) = food_of_batch(read_batch(batch), quantified=()).ingredients
    assert listed.allergens_not_known == ("nuts",)


def test_a_weight_nobody_knows_is_asked_for_and_part_of_a_list_is_no_list():
    kitchen = a_kitchen()
    lemon = an_ingredient(kitchen, name="Lemons")  # in pieces, and one of them was never weighed
    recipe = a_recipe(
        kitchen, lines=[(a_fruit(kitchen, name="Plums"), 1), (lemon, 2, "each")],
        cook_kind="cook loss", cook_loss_pct=30,
    )  # fmt: skip
    batch = a_batch(recipe)
    food = food_of_batch(read_batch(batch), quantified=())
    assert food.ingredients == ()
    assert any("Lemons" in question.sentence for question in food.questions)


def test_what_counts_as_planned_and_what_was_not_weighed_is_said():
    batch = a_finished_batch(a_damson_paste(), net_g=14000)
    told = " ".join(note.message for note in read_batch(batch).notes)
    assert (
        "nobody put down the weight of Damson puree, White sugar and Lemon juice, so they count as"
        " planned" in told
    )
    assert "The pan was not weighed when it was done." in told
    whole = a_finished_batch(biscuits(), inputs=weighed(100, 40, 50, 10), pot_g=170, net_g=165)
    assert read_batch(whole).notes == ()


def test_water_and_sugar_added_at_the_stove_are_listed():
    kitchen = a_kitchen()
    lines = [(a_fruit(kitchen, name="Plums"), 1), (sugar(kitchen), 1)]
    lines.append((no_allergens(water(kitchen)), "0.1"))
    recipe = a_recipe(kitchen, lines=lines, cook_kind="cook loss", cook_loss_pct=30)
    batch = a_batch(recipe, inputs=weighed(1000, 1000, 100))
    for kind, grams in (("water", 200), ("sugar", 50)):
        note_event(batch, by=None, kind=kind, value=Decimal(grams), key=kind, read_at=NOON)
    finished(batch, pot_g=1700)
    listed = {i.name: i.used_g for i in food_of_batch(read_batch(batch), quantified=()).ingredients}
    # 100 + 200 g of water and 1000 + 50 g of sugar, each under one name.
    assert {n: round(g) for n, g in listed.items()} == {
        "plums": 1000, "white sugar": 1050, "water": 300,
    }  # fmt: skip


def test_sugar_added_to_a_pan_that_holds_none_is_asked_for():
    kitchen = a_kitchen()
    recipe = a_recipe(
        kitchen, lines=[(a_fruit(kitchen, name="Plums"), 1)],
        cook_kind="cook loss", cook_loss_pct=30,
    )  # fmt: skip
    batch = a_batch(recipe, inputs=weighed(1000))
    note_event(batch, by=None, kind="sugar", value=Decimal(50), key="s", read_at=NOON)
    finished(batch, pot_g=700)
    food = food_of_batch(read_batch(batch), quantified=())
    assert food.ingredients == ()
    assert any("Which sugar was added" in question.sentence for question in food.questions)


@pytest.mark.parametrize(
    ("status", "words"), [("on the fire", "still on the fire"), ("given up", "was given up")]
)
def test_only_a_finished_batch_of_its_own_recipe_gets_a_label(status, words):
    product = a_product(biscuits())
    batch = a_finished_batch(product.recipe, inputs=weighed(100, 40, 50, 10), net_g=165)
    assert why_no_label(batch, product) == ""
    assert "not made of that" in why_no_label(batch, a_product(a_recipe(product.kitchen)))
    batch.status = status
    assert words in why_no_label(batch, product)
