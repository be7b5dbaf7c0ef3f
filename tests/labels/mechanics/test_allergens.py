"""Allergens over a recipe; which groups go by kind, and what speaks of one, is passed in."""

from decimal import Decimal

from labels.facts import Allergen, CrossContactAnswer, LabelFacts, UsedIngredient
from labels.mechanics.allergens import (
    each_once,
    key_of,
    risks_left,
    set_apart,
    unanswered,
    unmarked,
)
from labels.mechanics.runs import whole_words

MILK, WALNUT = Allergen("milk", "milk"), Allergen("nuts", "walnut")


def used(name, *allergens, **more):
    return UsedIngredient(name, Decimal(1), allergens=allergens, **more)


def key(allergen):
    return key_of(allergen, told_by_kind={"nuts"})


def test_a_group_told_by_kind_is_the_same_only_by_name_in_one_or_in_many():
    assert key(WALNUT) == key(Allergen("nuts", "Walnuts"))
    assert key(WALNUT) != key(Allergen("nuts", "almond"))
    assert key(MILK) == key(Allergen("milk", "cream"))


def test_each_allergen_comes_once_as_first_met_however_deep():
    mix = used("mix", parts=(used("cream", Allergen("milk", "cream")), used("nut", WALNUT)))
    found = each_once([used("milk", MILK), mix], shown=lambda i: i.allergens, key=key)
    assert found == (MILK, WALNUT)


def test_a_text_names_some_and_the_others_are_told_back():
    runs, missing = set_apart(
        "Goats' milk", [MILK, WALNUT], pattern=lambda a: whole_words([a.named_as])
    )
    assert [run.text for run in runs if run.is_emphasised] == ["milk"]
    assert missing == (WALNUT,)


def test_a_question_open_in_a_part_is_not_asked_again_of_the_whole():
    part = used("praline", allergens_not_known=("nuts",))
    whole = used("mix", allergens_not_known=("nuts", "milk"), parts=(part,))
    asked = [(each.name, groups) for each, groups in unanswered([whole, used("sugar")])]
    assert asked == [("mix", ("milk",)), ("praline", ("nuts",))]


def spoken(*ingredients):
    found = unmarked(
        ingredients,
        groups=("nuts", "sulphites"),
        speaks_of=lambda group, name: {"nuts": "walnut", "sulphites": "SO2"}[group] in name,
    )
    return [(each.name, group, telling) for each, group, telling in found]


def test_a_name_that_speaks_of_what_is_not_marked_is_told_by_either_name():
    assert spoken(used("walnut")) == [("walnut", "nuts", "walnut")]
    assert spoken(used("pieces", called="walnut bits")) == [("pieces", "nuts", "walnut bits")]


def test_what_is_marked_here_or_in_a_part_or_asked_or_has_a_figure_is_not_told():
    assert spoken(used("walnut", WALNUT)) == []
    assert spoken(used("walnut mix", parts=(used("bits", WALNUT),))) == []
    assert spoken(used("walnut", allergens_not_known=("nuts",))) == []
    assert spoken(used("fig with SO2", sulphite_mg_per_kg=Decimal(1))) == []
    assert spoken(used("fig with SO2", sulphite_mg_per_kg=Decimal(0))) != []


def test_a_risk_of_what_is_inside_anyway_is_no_risk_left():
    hazel = CrossContactAnswer("nuts", remains=True, named_as="hazelnuts")
    answers = (
        CrossContactAnswer("nuts", remains=True, named_as="walnuts"),
        hazel,
        CrossContactAnswer("milk", remains=False),
    )
    facts = LabelFacts(
        ingredients=(used("mix", parts=(used("x", WALNUT),)),), cross_contact=answers
    )
    assert risks_left(facts, key=key) == (hazel,)
