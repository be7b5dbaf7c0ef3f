"""Quantities gathered from a recipe; words and reasons are the test's own, as a law would give."""

from decimal import Decimal

from labels.facts import UsedIngredient
from labels.mechanics.quantities import (
    Declared,
    categories_named,
    figure_beside,
    telling_words,
    what_is_due,
)


def used(name, **more):
    return UsedIngredient(name, Decimal(100), **more)


def telling(text):
    return telling_words(text, of_form={"paste", "dried"})


def why(ingredient, named):
    return "named" if telling(ingredient.name) & named else ""


def gathered(*real, name):
    return what_is_due(
        real, named=telling(name), why=why, telling=telling, why_grouped="one category"
    )


def test_words_of_form_and_very_short_ones_tell_nothing():
    assert telling("dried og paste") == frozenset()
    assert "fig" in telling("Fig paste")


def test_a_figure_stands_behind_its_own_word_with_point_or_comma():
    said = "Apple 20 % and quince (62,5 %) paste"
    assert figure_beside(said, names={"quince"}) == Decimal("62.5")
    assert figure_beside(said, names={"apple"}) == 20
    assert figure_beside(said, names={"paste"}) is None


def test_what_is_due_keeps_the_order_of_the_recipe_and_ends_with_the_categories():
    plum = used("plum", quid_category="stone fruit")
    due = gathered(plum, used("sugar"), used("quince"), name="Plum and quince")
    assert [(d.category or d.ingredients[0].name, d.why) for d in due] == [
        ("quince", "named"),
        ("stone fruit", "one category"),
    ]


def test_a_part_is_not_asked_for_the_word_that_its_compound_answered():
    inside = (used("fig"), used("quince"))
    due = gathered(used("fig mix", parts=inside), name="Fig and quince")
    assert [(d.ingredients[0].name, d.is_part) for d in due] == [
        ("fig mix", False),
        ("quince", True),
    ]
    # In a compound that answers for nothing, the part counts for itself.
    due = gathered(used("mix", parts=inside), name="Fig")
    assert [(d.ingredients[0].name, d.is_part) for d in due] == [("fig", False)]


def in_name(*real, due=(), said="Fruit spread"):
    words = {"fruit": {"fruit", "fruits"}}
    return categories_named(real, due=due, said=said, words=words, label=str.upper, why="named")


def test_a_category_in_the_name_gets_one_figure_unless_a_kind_of_it_stands_alone():
    plum, fig = used("plum", category="fruit"), used("fig", category="fruit")
    (one,) = in_name(plum, fig)
    assert (one.ingredients, one.category) == ((plum, fig), "FRUIT")
    assert in_name(plum, fig, due=gathered(plum, name="Plum")) == []
    assert in_name(plum, used("fig", category="fruit", quid_exemption="fixed")) == []
    assert in_name(plum, fig, said="Spread") == []


def test_a_weight_reads_as_a_sentence_with_and_without_a_word_between():
    def said(of, **more):
        return Declared((used("tomatoes"),), Decimal(120), "120 g per 100 g", "", of, **more)

    assert said("of", is_by_weight=True).sentence == "120 g of tomatoes per 100 g"
    assert said("", is_by_weight=True).sentence == "120 g tomatoes per 100 g"
    assert said("of", category="fruit").sentence == "fruit 120 g per 100 g"
