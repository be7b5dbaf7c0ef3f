"""Quantities of ingredients: Regulation (EU) No 1169/2011, Art. 22 and Annex VIII [R].

Worked figures come from official guidance where it prints any; each says so.
"""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labels.law.eu.quid import declared, rounded_pct
from tests.labels.law.eu.builders import (
    a_label,
    by_rule,
    extras,
    faults,
    listed_names,
    statement,
    text_of,
    used,
)


def shares(facts):
    return {each.name: each.shown for each in declared(facts)}


def exact(facts):
    return {each.name: round(each.exact_pct, 1) for each in declared(facts)}


def named(name, *ingredients, **changed):
    return a_label(*ingredients, name_of_food=name, **changed)


def test_annex_viii_4a_sultanas_are_related_to_the_baked_cake():
    # 200 / 800 = 25 %: English local-authority guidance [N]
    cake = used("sultanas", 200), used("flour, egg and butter mix", 800)
    assert shares(named("Sultana cake", *cake, finished_g=800)) == {"sultanas": "25 %"}


BISCUIT = (used("flour", 100), used("sugar", 40), used("butter", 50), used("egg", 10))


@pytest.mark.parametrize(("rounding", "shown"), [("one decimal", "29.4 %"), ("whole", "29 %")])
def test_annex_viii_4a_butter_of_the_butter_biscuit(rounding, shown):
    # 50 / 170 = 29.4 %: Commission Notice 2017/C 393/05, section 4, point 27 [2]
    facts = named("Butter biscuits", *BISCUIT, finished_g=170, quid_rounding=rounding)
    assert shares(facts) == {"butter": shown}
    assert exact(facts) == {"butter": Decimal("29.4")}


def test_oil_taken_up_counts_among_what_went_in():
    # 70 / 112 = 62.5 %: United Kingdom guidance, restated by a trainer [2]
    fingers = used("fish", 70), used("batter", 20), used("crumb", 20), used("frying oil", 7)
    facts = named("Fish fingers", *fingers, finished_g=112, quid_rounding="one decimal")
    assert shares(facts) == {"fish": "62.5 %"}


def test_annex_viii_3a_without_loss_the_share_is_of_the_mix():
    # 35 / 130 = 26.9 %
    sandwich = used("bread", 80), used("spread", 15), used("cheese", 35)
    assert shares(named("Cheese sandwich", *sandwich, finished_g=130)) == {"cheese": "27 %"}


@pytest.mark.parametrize(
    ("name", "ingredients", "finished_g", "shown", "sentence"),
    [
        # 160 g of pork in 100 g: an Austrian consumer body [2]
        ("Pork salami", [("pork", 160), ("salt", 4)], 100,
         "160 g per 100 g", "160 g of pork per 100 g"),
        ("Tomato ketchup", [("tomatoes", 1200), ("sugar", 100)], 1000,
         "120 g per 100 g", "120 g of tomatoes per 100 g"),
        # exactly 100 % does not exceed it
        ("Plum leather", [("plum", 1000), ("honey", 30)], 1000, "100 %", "plum 100 %"),
        ("Apple butter", [("apple", 3000), ("sugar", 200)], 2400,
         "125 g per 100 g", "125 g of apple per 100 g"),
        # 120 g in 130 g of mix, dried to 100 g: the Notice as restated [2]
        ("Goose salami", [("goose meat", 120), ("fat", 10)], 100,
         "120 g per 100 g", "120 g of goose meat per 100 g"),
        # 5 000 / 6 500 = 76.9 %
        ("Damson paste", [("damson pulp", 5000), ("sugar", 4000)], 6500,
         "77 %", "damson pulp 77 %"),
    ],
)  # fmt: skip
def test_annex_viii_4a_over_a_hundred_goes_by_weight(
    name, ingredients, finished_g, shown, sentence
):
    facts = named(name, *[used(n, g) for n, g in ingredients], finished_g=finished_g)
    (only,) = declared(facts)
    assert (only.shown, only.sentence) == (shown, sentence)
    found = by_rule("more_than_a_hundred_goes_by_weight", facts)
    assert bool(found) is only.is_by_weight
    assert all(f.citation.provision == "Annex VIII, point 4(a)" for f in found)
    assert f"({shown})" in text_of("ingredients", facts)


@pytest.mark.parametrize(
    ("plum_g", "shown"), [("1000", "100 %"), ("1000.1", "100 g per 100 g"), ("999.9", "100 %")]
)
def test_the_turn_is_taken_on_the_exact_figure_not_on_the_rounded_one(plum_g, shown):
    facts = named("Plum leather", used("plum", plum_g), used("honey", 30), finished_g=1000)
    assert shares(facts) == {"plum": shown}


def test_annex_viii_4a_a_total_over_a_hundred_turns_every_figure():
    # 76.9 + 61.5 = 138.5 %
    facts = named(
        "Damson paste",
        used("damson pulp", 5000),
        used("sugar", 4000, quid_reason="stressed"),
        finished_g=6500,
    )
    assert shares(facts) == {"damson pulp": "77 g per 100 g", "sugar": "62 g per 100 g"}
    assert text_of("ingredients", facts) == (
        "Ingredients: damson pulp (77 g per 100 g), sugar (62 g per 100 g)"
    )


@pytest.mark.parametrize(("sugar_g", "by_weight"), [("400", False), ("400.1", True)])
def test_a_total_of_exactly_a_hundred_stays_in_per_cent(sugar_g, by_weight):
    facts = named("Plum paste", used("plum", 600), used("sugar", sugar_g, quid_reason="stressed"),
                  used("lemon juice", 50), finished_g=1000)  # fmt: skip
    assert [each.is_by_weight for each in declared(facts)] == [by_weight] * 2


def test_annex_viii_4b_what_evaporates_counts_as_it_is_left():
    # 15 / 500 = 3 %
    facts = named("Rum truffle", used("chocolate", 470), used("rum", 60, remaining_g=15),
                  finished_g=500)  # fmt: skip
    assert shares(facts) == {"rum": "3 %"}


def test_annex_viii_4c_a_concentrate_may_count_as_the_juice_it_stood_for():
    # 600 / 2 000 = 30 %
    facts = named("Pear jelly sweets", used("pear juice", 100, fresh_equivalent_g=600),
                  used("sugar", 2100), finished_g=2000)  # fmt: skip
    assert shares(facts) == {"pear juice": "30 %"}


@pytest.mark.parametrize(("exemption", "is_declared"), [("flavouring", False), ("", True)])
def test_annex_viii_1_a_iii_a_little_vanilla_needs_no_figure(exemption, is_declared):
    facts = named("Vanilla caramels", used("sugar", 998),
                  used("vanilla", 2, quid_exemption=exemption), finished_g=1000)  # fmt: skip
    assert ("vanilla" in shares(facts)) is is_declared
    assert faults(facts) == []


def test_annex_viii_1c_a_mix_in_varying_proportions_needs_no_figure():
    mix = [used(n, 1000, category="fruit", varying_mix="fruit") for n in ("apple", "pear", "plum")]
    facts = named("Apple, pear and plum fruit paste", *mix, used("sugar", 2000), finished_g=4000)
    assert declared(facts) == ()


@pytest.mark.parametrize("exemption", ["", "stated by jam law"])
def test_case_51_the_statement_of_a_jam_stands_instead_of_its_figure(exemption):
    # Annex VIII, point 1(a)(ii) [R], with Directive 2001/113/EC, Art. 2(3) [R]
    strawberries = used("strawberries", 500, category="fruit", quid_exemption=exemption)
    jam = named("Strawberry jam", strawberries, used("sugar", 550), finished_g=1000)
    assert declared(jam) == ()
    assert extras(jam) == ["prepared with 50 g of fruit per 100 g"]
    assert by_rule("an_exemption_from_quantities_is_a_real_one", jam) == []


def test_what_no_jam_law_states_is_not_left_out_for_it():
    figs = used("figs", 500, category="fruit", quid_exemption="stated by jam law")
    facts = named("Fig paste", figs, used("sugar", 550), finished_g=1000)
    found = by_rule("an_exemption_from_quantities_is_a_real_one", facts)
    assert [(f.level, f.citation.provision) for f in found] == [
        ("must mend", "Annex VIII, point 1")
    ]


def test_art_22_1_b_what_is_pictured_is_declared_beside_what_is_named():
    facts = named(
        "Fig paste",
        used("figs", 600), used("sugar", 400), used("pine nuts", 60, quid_reason="pictured"),
        finished_g=900,
    )  # fmt: skip
    assert shares(facts) == {"figs": "67 %", "pine nuts": "7 %"}
    assert listed_names(facts) == ["figs (67 %)", "sugar", "pine nuts (7 %)"]


TART = (used("apple", 180, category="fruit"), used("pear", 120, category="fruit"),
        used("pastry and custard", 300))  # fmt: skip


def test_one_figure_for_the_whole_category_is_enough():
    # (180 + 120) / 600 = 50 %: the Notice as restated [2] [calc]
    facts = named("Fruit tart", *TART, finished_g=600)
    assert shares(facts) == {"fruit": "50 %"}
    found = statement("quid", facts)
    assert (found.text, found.same_field) == ("fruit 50 %", True)
    assert found.citation.provision == "Art. 22 and Annex VIII, point 3(b)"
    assert "%" not in text_of("ingredients", facts)


@pytest.mark.parametrize(
    ("name", "category", "kinds"),
    [
        ("Vegetable pie", "vegetable", ("carrot", "leek")),
        ("Bread with dried fruit", "fruit", ("raisins", "figs")),
    ],
)
def test_the_kinds_of_a_category_need_no_figures_of_their_own(name, category, kinds):
    # the Notice as restated [2]
    members = [used(kind, 100, category=category) for kind in kinds]
    facts = named(name, *members, used("dough", 200), finished_g=400)
    assert list(shares(facts).values()) == ["50 %"]


def test_kinds_that_share_a_word_of_the_makers_share_one_figure():
    # "fish croquettes": the Notice as restated [2]
    fish = [used(n, 60, quid_reason="in the name", quid_category="fish") for n in ("cod", "hake")]
    facts = named("Fish croquettes", *fish, used("potato", 180), finished_g=300)
    assert shares(facts) == {"fish": "40 %"}


EGGS = used("eggs", 20)
FILLING = used("cream filling", 200, parts=(used("sugar", 120), used("cream", 60), EGGS))


@pytest.mark.parametrize(
    ("name", "expected"),
    # 200 / 800 = 25 %, and eggs as a share of the whole food: 20 / 800 = 2.5 %
    [
        ("Biscuits with cream filling", {"cream filling": "25 %"}),
        ("Biscuits with cream filling containing eggs", {"cream filling": "25 %", "eggs": "2.5 %"}),
    ],
)
def test_a_compound_in_the_name_is_declared_and_its_part_only_if_named_too(name, expected):
    # the Notice as restated [2]
    facts = named(name, used("baked dough", 600), FILLING, finished_g=800)
    assert shares(facts) == expected


def test_art_22_1_b_what_is_stressed_in_words_is_declared():
    # "made with butter": Irish guidance [N]
    butter = used("butter", 200, quid_reason="stressed in words")
    facts = named("Shortbread", used("flour", 400), butter, finished_g=580)
    assert shares(facts) == {"butter": "34 %"}


@pytest.mark.parametrize(
    ("food", "mark", "others"),
    [("Marzipan", "ground almonds", "sugar"), ("Mayonnaise", "egg yolk", "sunflower oil")],
)
def test_art_22_1_c_what_tells_the_food_from_others_is_declared(food, mark, others):
    # marzipan: Irish guidance [N]; mayonnaise: the Notice as restated [2]
    facts = named(food, used(others, 500), used(mark, 500), finished_g=1000)
    assert shares(facts) == {mark: "50 %"}


@pytest.mark.parametrize(
    ("reason", "is_declared"),
    [
        ("the food as sold pictured", False),
        ("serving suggestion", False),
        ("All ingredients pictured alike", False),
        ("preparation pictured", False),
        ("pictured", True),  # a cow that stresses the dairy part
    ],
)
def test_not_every_picture_calls_for_a_figure(reason, is_declared):
    # the Notice as restated [2]
    facts = named("Shortbread", used("flour", 400), used("cream", 100, quid_reason=reason),
                  finished_g=480)  # fmt: skip
    assert bool(declared(facts)) is is_declared


def test_a_food_of_one_ingredient_needs_no_figure():
    # the Notice as restated [2]
    facts = named("Dried apple rings", used("dried apple", 1000), finished_g=1000)
    assert declared(facts) == ()


@pytest.mark.parametrize(
    ("name", "ingredients"),
    [
        # a constituent that juice holds by nature
        ("Drink rich in vitamin C", ["orange juice", "sugar"]),
        # a word that is no ingredient, and one that is only a taste
        ("Cream crackers", ["flour", "palm fat"]),
        ("Chicken flavour crisps", ["potatoes", "chicken flavouring"]),
    ],
)
def test_a_word_that_is_no_ingredient_sets_nothing_off(name, ingredients):
    # the Notice as restated [2]
    assert declared(named(name, *[used(n, 500) for n in ingredients], finished_g=1000)) == ()


@pytest.mark.parametrize(
    ("name", "is_true"), [("Peanut (95 %) butter", True), ("Peanut (96 %) butter", False)]
)
def test_annex_viii_3b_the_figure_may_stand_inside_the_name(name, is_true):
    # official guidance sample [N]
    peanuts = used("peanuts", 950, allergens={"peanuts": "peanuts"})
    facts = named(name, peanuts, used("salt", 50), finished_g=1000)
    assert listed_names(facts) == ["peanuts", "salt"]
    found = by_rule("a_figure_in_the_name_is_the_true_one", facts)
    assert (not found) is is_true
    assert all(f.citation.provision == "Annex VIII, point 3(b)" for f in found)


def test_art_44_loose_food_carries_no_figure_of_itself():
    assert declared(a_label(way_of_sale="loose")) == ()
    assert by_rule("declared_quantities_can_be_worked_out",
                   a_label(way_of_sale="direct", finished_g=None)) == []  # fmt: skip


def test_water_and_processing_aids_are_declared_only_if_the_maker_stresses_the_water():
    def jellies(**more):
        return named("Spring water and papain jellies", used("sugar", 800),
                     used("spring water", 300, category="water", remaining_g=150, **more),
                     used("papain", 1, is_processing_aid=True), used("apple", 50),
                     finished_g=1000)  # fmt: skip

    assert shares(jellies()) == {}
    assert shares(jellies(quid_reason="stressed")) == {"spring water": "15 %"}


# --- Not known, rounding, exemptions -------------------------------------------------------------


@pytest.mark.parametrize("finished_g", [None, "0", "-5", "NaN"])
def test_without_a_finished_mass_no_figure_is_made_up(finished_g):
    facts = a_label(finished_g=finished_g)
    assert declared(facts) == ()
    found = by_rule("declared_quantities_can_be_worked_out", facts)
    assert [f.citation.provision for f in found] == ["Annex VIII, points 3(a) and 4(a)"]
    assert "damson puree" in found[0].message
    assert found[0].stops_printing


def test_a_part_of_unknown_weight_is_asked_about():
    filling = used("filling", 200, parts=(used("eggs", 0, quid_reason="stressed"),))
    found = by_rule("declared_quantities_can_be_worked_out", a_label(filling, used("flour", 100)))
    assert "eggs" in found[0].message


@pytest.mark.parametrize(
    ("pct", "rounding", "shown"),
    # Nearest whole, under 5 the nearest half: common practice (from memory)
    [
        ("76.49", "whole", "76"), ("76.5", "whole", "77"), ("5", "whole", "5"),
        ("4.99", "whole", "5"), ("4.74", "whole", "4.5"), ("4.75", "whole", "5"),
        ("0.25", "whole", "0.5"), ("0.24", "whole", "0.2"), ("0.031", "whole", "0.03"),
        ("29.41", "one decimal", "29.4"), ("0.04", "one decimal", "0.04"), ("0", "whole", "0"),
    ],
)  # fmt: skip
def test_rounding_is_half_up_and_never_down_to_nothing(pct, rounding, shown):
    assert rounded_pct(Decimal(pct), rounding=rounding) == Decimal(shown)


@pytest.mark.parametrize(("grams", "is_looked_at"), [("20", False), ("20.1", True)])
def test_a_flavouring_over_2_per_cent_is_looked_at(grams, is_looked_at):
    facts = a_label(used("plum", 1000), used("cinnamon", grams, quid_exemption="flavouring"),
                    finished_g=1000)  # fmt: skip
    found = by_rule("an_exemption_from_quantities_is_a_real_one", facts)
    assert bool(found) is is_looked_at


def test_an_exemption_that_the_law_does_not_know_stops_the_label():
    facts = a_label(used("damson", 900, quid_exemption="too fiddly"), used("sugar", 500))
    assert "an_exemption_from_quantities_is_a_real_one" in faults(facts)


@pytest.mark.parametrize(
    ("name", "ingredient", "is_named"),
    [
        ("Damson cheese", "damson puree", True),
        ("Tomato chutney", "ripe tomatoes", True),
        ("Cherry paste", "cherries", True),
        ("Lemon curd", "apple juice", False),
        ("Apple juice jelly", "lemon juice", False),
        ("Red onion chutney", "red wine vinegar", False),
        ("Bitter orange paste", "bitter almonds", False),
    ],
)
def test_an_ingredient_is_known_in_the_name_by_what_it_is_not_by_its_form(
    name, ingredient, is_named
):
    facts = named(name, used(ingredient, 500), used("maize", 500), finished_g=1000)
    assert (ingredient in shares(facts)) is is_named


masses = st.lists(st.integers(min_value=1, max_value=10**6), min_size=2, max_size=6)


@given(masses, st.integers(min_value=1, max_value=10**7), st.data())
@settings(max_examples=80, deadline=None)
def test_a_declared_quantity_is_always_used_over_finished(grams, finished_g, data):
    finished_g = min(finished_g, sum(grams))
    flags = data.draw(st.lists(st.booleans(), min_size=len(grams), max_size=len(grams)))
    ingredients = [
        used(f"kind {chr(97 + n)}", g, quid_reason="stressed" if flag else "")
        for n, (g, flag) in enumerate(zip(grams, flags, strict=True))
    ]
    facts = named("Preserve", *ingredients, finished_g=finished_g)
    found = declared(facts)
    assert [each.ingredients[0].used_g for each in found] == [
        Decimal(g) for g, flag in zip(grams, flags, strict=True) if flag
    ]
    for each in found:
        assert each.exact_pct == each.ingredients[0].used_g * 100 / Decimal(finished_g)
    total = sum(g for g, flag in zip(grams, flags, strict=True) if flag)
    assert all(each.is_by_weight == (total > finished_g) for each in found)


@pytest.mark.parametrize(("called", "is_due"), [("Damsons", True), ("Plums", False), ("", False)])
def test_another_name_on_the_label_does_not_make_a_quantity_disappear(called, is_due):
    # Art. 22(1)(a): what the name of the food speaks of; the maker's own name tells that it is it.
    facts = a_label(used("stone fruit", 600, called=called), used("sugar", 400), finished_g=900)
    assert bool(declared(facts)) is is_due
