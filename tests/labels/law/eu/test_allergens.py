"""Allergens: Regulation (EU) No 1169/2011, Art. 9(1)(c), Art. 21 and Annex II [R]."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from labels.law.eu.allergens import declares_sulphites, set_apart, sulphite_mg_per_kg
from tests.labels.law.eu.builders import (
    a_label,
    by_rule,
    faults,
    listed_names,
    statement,
    text_of,
    used,
)


def test_case_29_art_21_1_b_walnuts_are_set_apart_in_the_list():
    facts = a_label(
        used("figs", 900), used("walnuts", 300, allergens={"nuts": "walnuts"}),
        name_of_food="Fig and walnut paste", finished_g=1000,
    )  # fmt: skip
    assert statement("ingredients", facts).emphasised == ("walnuts",)
    assert statement("allergens", facts) is None  # beside a list no repetition


def test_annex_ii_8_the_word_nuts_alone_is_not_enough():
    facts = a_label(used("figs", 900), used("pieces", 300, allergens={"nuts": "nuts"}))
    found = by_rule("cereals_and_nuts_are_named_by_kind", facts)
    assert [(f.stops_printing, f.citation.provision) for f in found] == [
        (True, "Art. 21(1)(a) and Annex II, points 1 and 8")
    ]


MILKY = (used("milk", 3000, allergens={"milk": "milk"}), used("sugar", 1000))


def test_case_30_art_21_1_second_subparagraph_without_a_list_the_label_says_contains():
    facts = a_label(*MILKY, name_of_food="Caramels", finished_g=2000, largest_surface_cm2="9.9")
    assert statement("ingredients", facts) is None
    found = statement("allergens", facts)
    assert (found.text, found.emphasised) == ("Contains: milk", ("milk",))
    assert found.citation.provision == "Art. 9(1)(c) and Art. 21(1)"


@pytest.mark.parametrize("name", ["Milk caramels", "Caramels with MILK"])
def test_case_31_art_21_1_last_subparagraph_the_name_may_tell(name):
    facts = a_label(*MILKY, name_of_food=name, finished_g=2000, largest_surface_cm2="9.9")
    assert statement("allergens", facts) is None


def test_where_a_list_is_given_the_name_does_not_spare_the_emphasis():
    # Commission Notice 2017/C 428/01 [2]
    facts = a_label(*MILKY, name_of_food="Milk caramels", finished_g=2000)
    assert statement("ingredients", facts).emphasised == ("milk",)


def apricot_paste(grams, mg_per_kg="1500", finished_g=1000):
    return a_label(
        used("pear", 900), used("dried apricots", grams, sulphite_mg_per_kg=mg_per_kg),
        name_of_food="Paste", finished_g=finished_g,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("grams", "mg_per_kg", "in_food", "is_declared"),
    [
        # 1 500 x 0.2 = 300; 1 500 x 0.006 = 9; 1 500 x 0.00667 = 10.005
        (200, "1500", "300", True),
        (6, "1500", "9", False),
        (100, "100", "10", False),  # exactly 10
        ("100.1", "100", "10.01", True),
    ],
)
def test_cases_32_to_34_annex_ii_12_sulphites_count_above_10(
    grams, mg_per_kg, in_food, is_declared
):
    facts = apricot_paste(grams, mg_per_kg)
    assert sulphite_mg_per_kg(facts) == Decimal(in_food)
    assert declares_sulphites(facts) is is_declared
    assert ("dried apricots (sulphites)" in listed_names(facts)) is is_declared
    assert statement("ingredients", facts).emphasised == (("sulphites",) if is_declared else ())
    found = by_rule("sulphites_are_declared_above_ten", facts)
    assert [f.citation.provision for f in found] == ["Annex II, point 12"]


def test_sulphites_add_up_over_all_ingredients_and_each_source_is_marked():
    # 6 g at 1 500 and 30 g at 200: 9 + 6 = 15 mg in 1 kg, though neither is over 10 alone
    facts = a_label(
        used("pear", 990), used("sultanas", 30, sulphite_mg_per_kg=200),
        used("apricots", 6, sulphite_mg_per_kg=1500), name_of_food="Paste", finished_g=1000,
    )  # fmt: skip
    assert listed_names(facts) == ["pear", "sultanas (sulphites)", "apricots (sulphites)"]


def test_sugar_with_its_lawful_trace_is_not_marked_beside_sulphited_fruit():
    # 200 g at 1 500 mg/kg and 800 g of sugar at 10: Annex II begins above 10 mg/kg (our reading)
    facts = a_label(
        used("sugar", 800, sulphite_mg_per_kg=10),
        used("apricots", 200, sulphite_mg_per_kg=1500), name_of_food="Paste", finished_g=900,
    )  # fmt: skip
    assert listed_names(facts) == ["sugar", "apricots (sulphites)"]


def test_traces_that_add_up_to_more_than_ten_are_each_marked():
    # 1 000 g at 10 and 500 g at 9 mg/kg boiled down to 1 000 g: 14.5 mg/kg
    facts = a_label(
        used("sugar", 1000, sulphite_mg_per_kg=10),
        used("pear", 500, sulphite_mg_per_kg=9), name_of_food="Paste", finished_g=1000,
    )  # fmt: skip
    assert listed_names(facts)[0] == "sugar (sulphites)"
    assert listed_names(facts)[1].endswith("(sulphites)")


def test_sulphites_inside_a_compound_are_counted_once():
    # 100 g at 500 mg/kg is 50 mg, whether said of the mix or of the sultanas in it
    parts = used("apple", 100), used("sultanas", 100, sulphite_mg_per_kg=500)
    mix = used("fruit mix", 200, sulphite_mg_per_kg=250, parts=parts)
    facts = a_label(mix, used("sugar", 900), name_of_food="Paste", finished_g=1000)
    assert sulphite_mg_per_kg(facts) == 50
    assert text_of("ingredients", facts).count("sulphites") == 1


def test_a_preservative_named_for_what_it_is_needs_no_bracket():
    facts = a_label(
        used("pear", 999),
        used("sulphur dioxide", "0.1", additive_class="preservative", sulphite_mg_per_kg=1000000),
        name_of_food="Paste", finished_g=900,
    )  # fmt: skip
    assert listed_names(facts)[-1] == "preservative: sulphur dioxide"
    assert statement("ingredients", facts).emphasised == ("sulphur dioxide",)


@pytest.mark.parametrize(
    ("mg", "allergens", "stops", "is_declared"),
    [
        (None, {}, True, False),
        (None, {"sulphites": "sulphites"}, False, True),
        (0, {"sulphites": "sulphites"}, False, True),
        (0, {}, False, False),
    ],
)
def test_an_unknown_amount_of_sulphites_is_asked_or_declared_never_taken_as_none(
    mg, allergens, stops, is_declared
):
    unsure = used("sultanas", 50, sulphite_mg_per_kg=mg, allergens=allergens)
    facts = a_label(used("pear", 900), unsure, name_of_food="Paste", finished_g=900)
    assert ("sulphites_of_every_ingredient_are_known" in faults(facts)) is stops
    assert declares_sulphites(facts) is is_declared


def test_without_a_finished_mass_sulphites_are_declared_to_be_safe():
    assert declares_sulphites(apricot_paste(6, finished_g=None))
    assert not declares_sulphites(apricot_paste(6, "0", finished_g=None))


@pytest.mark.parametrize("name", ["glucose syrup from wheat", "wheat maltodextrin"])
def test_case_35_annex_ii_1_a_the_exceptions_need_no_declaration(name):
    facts = a_label(used("pear", 900), used(name, 100), name_of_food="Paste", finished_g=900)
    assert statement("ingredients", facts).emphasised == ()
    found = by_rule("an_ingredient_that_names_an_allergen_is_marked", facts)
    assert [f.level for f in found] == ["look at this"]


@pytest.mark.parametrize("name", ["chestnut puree", "coconut", "pine nuts", "nutmeg", "buckwheat"])
def test_case_36_annex_ii_8_what_is_not_in_the_closed_list_is_not_asked_about(name):
    facts = a_label(used("pear", 900), used(name, 100), name_of_food="Paste", finished_g=900)
    assert by_rule("an_ingredient_that_names_an_allergen_is_marked", facts) == []
    assert faults(facts) == []


@pytest.mark.parametrize(
    ("group", "word", "is_in_list"),
    [
        ("nuts", "chestnut", False), ("nuts", "pine nuts", False), ("nuts", "almonds", True),
        ("nuts", "Brazil nuts", True), ("nuts", "pistachio nuts", True), ("gluten", "rice", False),
        ("gluten", "spelt wheat", True), ("gluten", "oats", True),
    ],
)  # fmt: skip
def test_the_lists_of_nuts_and_cereals_are_closed(group, word, is_in_list):
    # exhaustive: Commission Notice 2017/C 428/01 [2]
    facts = a_label(used("pear", 900), used("pieces", 100, allergens={group: word}))
    found = by_rule("cereals_and_nuts_are_named_by_kind", facts)
    assert (not found) is is_in_list
    # What is no nut of Annex II misleads nobody; what hides which cereal it is does.
    level = "must mend" if group == "gluten" else "look at this"
    assert all(f.level == level for f in found)


@pytest.mark.parametrize(
    ("group", "word", "level"),
    [
        ("milk", "banana", "must mend"), ("milk", "whey (milk)", None), ("milk", "milk", None),
        ("mustard", "spice", "must mend"), ("mustard", "mustard", None),
        ("celery", "celeriac", None), ("soybeans", "soya", None),
        ("sulphites", "E 220", "must mend"),
        ("sulphites", "sulphur dioxide", None), ("fish", "haddock", "look at this"),
    ],
)  # fmt: skip
def test_the_word_set_apart_refers_clearly_to_the_allergen(group, word, level):
    # Regulation (EU) No 1169/2011, Art. 21(1)(a): "with a clear reference to the name of the
    # substance or product as listed in Annex II" [R].
    facts = a_label(used("pear", 900), used("pieces", 100, allergens={group: word}))
    found = by_rule("an_allergen_is_called_by_its_name", facts)
    assert [f.level for f in found] == ([level] if level else [])


def test_a_name_changed_for_the_label_does_not_make_an_allergen_disappear():
    facts = a_label(used("pear", 900), used("crunchy pieces", 100, called="Walnut pieces"))
    found = by_rule("an_ingredient_that_names_an_allergen_is_marked", facts)
    assert [f.level for f in found] == ["must mend"]
    assert "Walnut pieces" in found[0].message


def test_water_that_brings_an_allergen_is_listed_however_little_is_left():
    # Art. 21(1) has no lower limit, and Annex VII, Part A, point 1 speaks of water.
    barley = used("barley water", 100, category="water", allergens={"gluten": "barley"})
    facts = a_label(used("pear", 900), barley, name_of_food="Paste", finished_g=800)
    assert "barley water" in listed_names(facts)


# --- Answers -------------------------------------------------------------------------------------


def test_an_unanswered_question_blocks_and_names_who_and_what():
    facts = a_label(used("pear", 900, allergens_not_known=("nuts", "milk")), used("sugar", 100))
    found = by_rule("every_allergen_question_is_answered", facts)
    assert [(f.stops_printing, f.where) for f in found] == [(True, "allergens")]
    assert found[0].message == "pear: nobody has said yet whether it contains nuts, milk."
    assert found[0].citation.provision == "Art. 9(1)(c) and Art. 21(1)"


def test_an_unanswered_question_deep_in_a_compound_blocks_once():
    deep = used("essence", 1, allergens_not_known=("celery",))
    whole = used("sauce", 50, parts=(used("base", 50, parts=(deep,)),),
                 allergens_not_known=("celery",))  # fmt: skip
    found = by_rule("every_allergen_question_is_answered", a_label(used("pear", 900), whole))
    assert [f.message.split(":")[0] for f in found] == ["essence"]


@pytest.mark.parametrize(
    ("name", "level"),
    [
        ("walnut pieces", "must mend"), ("mustard", "must mend"), ("butter", "must mend"),
        ("whole milk", "must mend"), ("apple butter", "look at this"), ("coconut milk", None),
        ("cocoa butter", None), ("goats", None), ("plums", None),
        ("malt vinegar", "must mend"), ("marzipan", "must mend"), ("crab meat", "must mend"),
        ("crab apples", None), ("egg plums", None), ("oyster mushrooms", None),
    ],
)  # fmt: skip
def test_a_name_that_speaks_of_an_allergen_is_not_let_through_unmarked(name, level):
    facts = a_label(used("pear", 900), used(name, 100))
    found = by_rule("an_ingredient_that_names_an_allergen_is_marked", facts)
    assert [f.level for f in found] == ([level] if level else [])
    assert all(f.citation.provision == "Art. 21(1)" for f in found)


@pytest.mark.parametrize(
    ("name", "group", "word", "expected"),
    [
        ("mustard seed", "mustard", "mustard", "[mustard] seed"),
        ("Walnuts", "nuts", "walnut", "[Walnuts]"),
        ("egg yolk", "eggs", "eggs", "[egg] yolk"),
        ("sultanas", "sulphites", "sulphites", "sultanas +sulphites"),
        ("goats' curd", "gluten", "oats", "goats' curd +oats"),
        ("milk powder (milk)", "milk", "milk", "[milk] powder ([milk])"),
        ("a.b", "milk", ".", "a.b +."),
        ("Weizenmehl", "gluten", "Weizen", "Weizenmehl +Weizen"),
    ],
)
def test_only_the_allergens_own_word_is_set_apart(name, group, word, expected):
    ingredient = used(name, 1, allergens={group: word})
    runs, missing = set_apart(name, ingredient.allergens)
    said = "".join(f"[{run.text}]" if run.is_emphasised else run.text for run in runs)
    assert said + "".join(f" +{a.named_as}" for a in missing) == expected
    assert "".join(run.text for run in runs) == name


def test_two_allergens_of_one_ingredient_both_stand_out():
    both = used("wheat and milk crumb", 100, allergens={"gluten": "wheat", "milk": "milk"})
    facts = a_label(used("pear", 900), both, name_of_food="Paste", finished_g=900)
    assert statement("ingredients", facts).emphasised == ("wheat", "milk")


def test_each_ingredient_from_the_allergen_is_marked():
    facts = a_label(
        used("whole milk", 900, allergens={"milk": "milk"}),
        used("butter", 100, allergens={"milk": "milk"}),
        name_of_food="Caramels", finished_g=800,
    )  # fmt: skip
    assert listed_names(facts) == ["whole milk", "butter (milk)"]
    assert statement("ingredients", facts).emphasised == ("milk", "milk")


def test_an_allergen_of_a_compound_that_its_list_already_tells_is_not_said_twice():
    parts = (used("cream", 60, allergens={"milk": "milk"}), used("sugar", 40))
    filling = used("filling", 100, parts=parts, allergens={"milk": "milk", "eggs": "egg"})
    facts = a_label(used("pear", 900), filling, name_of_food="Paste", finished_g=900)
    assert listed_names(facts)[-1] == "filling (cream (milk), sugar; egg)"


def test_a_dropped_list_keeps_every_allergen_however_deep():
    deep = used("praline", 5, parts=(used("hazelnuts", 5, allergens={"nuts": "hazelnut"}),))
    coat = used("dark chocolate", 10, composition_fixed_by_law=True, parts=(used("cocoa", 5), deep))
    facts = a_label(used("pear", 1100), coat, name_of_food="Paste", finished_g=1000)
    assert listed_names(facts)[-1] == "dark chocolate (hazelnut)"
    at_two = replace(facts, finished_g=Decimal(500))  # 10 of 500 is 2 %: the list is back
    assert "hazelnuts" in listed_names(at_two)[-1]


def test_without_a_list_each_nut_and_cereal_is_told_once_and_a_group_by_one_name():
    facts = a_label(
        used("almonds", 90, allergens={"nuts": "almonds"}),
        used("walnuts", 80, allergens={"nuts": "walnuts"}),
        used("walnut pieces", 70, allergens={"nuts": "walnut"}),
        used("milk", 60, allergens={"milk": "milk"}),
        used("whey", 50, allergens={"milk": "whey (milk)"}),
        name_of_food="Sweets", finished_g=300, largest_surface_cm2="9",
    )  # fmt: skip
    assert text_of("allergens", facts) == "Contains: almonds, walnuts, milk"


def test_two_nuts_in_a_dropped_list_are_both_told():
    parts = (
        used("almonds", 5, allergens={"nuts": "almonds"}),
        used("walnuts", 5, allergens={"nuts": "walnuts"}),
    )
    coat = used("coating", 10, composition_fixed_by_law=True, parts=parts)
    facts = a_label(used("pear", 1100), coat, name_of_food="Paste", finished_g=1000)
    assert listed_names(facts)[-1] == "coating (almonds, walnuts)"


def test_an_ingredient_with_sulphites_and_another_allergen_tells_both_in_the_words_given():
    both = used(
        "pickled mustard leaf", 100, sulphite_mg_per_kg=500,
        allergens={"mustard": "mustard", "sulphites": "sulphur dioxide"},
    )  # fmt: skip
    facts = a_label(used("pear", 900), both, name_of_food="Paste", finished_g=900)
    assert listed_names(facts)[-1] == "pickled mustard leaf (sulphur dioxide)"
    assert statement("ingredients", facts).emphasised == ("mustard", "sulphur dioxide")


@pytest.mark.parametrize(
    ("day", "number", "level"),
    [
        # Annex II, point 10 as changed by Delegated Regulation (EU) 2024/2512, from 1 April 2025
        # (second-hand): only these emulsifiers, and only from that day.
        (date(2025, 3, 31), "E 471", "must mend"),
        (date(2025, 4, 1), "E 471", "look at this"),
        (date(2025, 4, 1), "E470a", "look at this"),
        (date(2025, 4, 1), "E 472", "must mend"),
        (date(2025, 4, 1), "", "must mend"),
    ],
)
def test_annex_ii_10_the_exception_for_mustard_begins_on_its_day(day, number, level):
    made = used("emulsifier from mustard", 5, additive_class="emulsifier", additive_number=number)
    found = by_rule(
        "an_ingredient_that_names_an_allergen_is_marked", a_label(used("pear", 900), made), on=day
    )
    assert [f.level for f in found] == [level]
