"""The numbered check cases of the general rules, as they stand in the Union.

They rest on Regulation (EU) No 1169/2011 (FIC) [R]; cases 37 to 39, 41, 135 to 138, 141 to 143 and
145 to 147 on guidance as restated [N] or [2]. Cases of jam, weights, prices, lots, nutrition and
claims stand with their own modules.
"""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.eu.allergens import declares_sulphites
from labels.law.eu.durability import stated_date
from labels.law.eu.ingredient_list import entries, may_follow_in_any_order
from labels.law.eu.legibility import minimum_x_height_mm
from labels.law.eu.quid import declared
from labels.mechanics.sizes import points_for_x_height, straight_wall_surface_cm2
from tests.labels.law.eu.builders import (
    TODAY,
    a_label,
    as_printed,
    by_rule,
    faults,
    listed_names,
    text_of,
    used,
)


def food(name, *ingredients, finished_g=None, **changed):
    return a_label(*ingredients, name_of_food=name, finished_g=finished_g, **changed)


def shares(facts):
    return {each.name: each.shown for each in declared(facts)}


# --- 1 to 10: size of print, small packs, field of vision ----------------------------------------


@pytest.mark.parametrize(
    ("case", "surface", "mm"),
    [(1, "80.0", "1.2"), (2, "79.9", "0.9")],
)
def test_cases_1_2_x_height(case, surface, mm):
    # FIC Art. 13(2) and (3)
    assert minimum_x_height_mm(a_label(largest_surface_cm2=surface), on=TODAY) == Decimal(mm)


@pytest.mark.parametrize(("case", "surface", "is_on_pack"), [(5, "9.9", False), (6, "10.0", True)])
def test_cases_5_6_under_ten_square_centimetres(case, surface, is_on_pack):
    # FIC Art. 16(2) and Art. 13(6)
    facts = a_label(largest_surface_cm2=surface)
    assert bool(text_of("ingredients", facts)) is is_on_pack
    apart = as_printed(facts, net_quantity="back")
    seen_together = "name_and_net_quantity_are_seen_together" not in faults(facts, apart)
    assert seen_together is not is_on_pack


@pytest.mark.parametrize(("case", "height", "mm"), [(7, "5.0", "0.9"), (8, "5.2", "1.2")])
def test_cases_7_8_a_jar_by_its_straight_wall(case, height, mm):
    # FIC Art. 13(3) [R]; the straight wall as the largest surface: ALS decision [2]
    wall = straight_wall_surface_cm2(diameter_cm=Decimal(5), height_cm=Decimal(height))
    assert minimum_x_height_mm(a_label(largest_surface_cm2=wall), on=TODAY) == Decimal(mm)


def test_case_9_points_for_1_2_mm():
    # FIC Annex IV
    assert points_for_x_height(Decimal("1.2"), x_height_em=Decimal("0.519")) == Decimal("6.6")


def test_case_10_weight_on_the_back_is_refused():
    # FIC Art. 13(5)
    facts = a_label()
    assert "name_and_net_quantity_are_seen_together" in faults(
        facts, as_printed(facts, net_quantity="back")
    )


# --- 11 to 28: the list --------------------------------------------------------------------------

DAMSON = (used("damson pulp", 6000), used("sugar", 4800), used("lemon juice", 120))


def test_cases_11_12_13_order_by_weight_as_used_and_the_two_per_cent():
    # FIC Art. 18(1) and Annex VII, A.6: 120/7600 = 1.58 %, 60/7600 = 0.79 %
    facts = food("Paste", *DAMSON, used("pectin", 60), finished_g=7600)
    assert listed_names(facts) == ["damson pulp", "sugar", "lemon juice", "pectin"]
    assert may_follow_in_any_order(facts) == ("lemon juice", "pectin")
    at_two = food("Paste", *DAMSON, used("pectin", 152), finished_g=7600)
    assert "pectin" not in may_follow_in_any_order(at_two)


def test_case_14_chutney_boils_its_water_away():
    # FIC Annex VII, A.1
    parts = {"apple": 2000, "vinegar": 900, "sugar": 800, "onion": 500, "raisins": 300, "spice": 40}
    water = used("water", 400, category="water")
    facts = food("Chutney", *(used(n, g) for n, g in parts.items()), water, finished_g=3600)
    assert "water" not in listed_names(facts)


@pytest.mark.parametrize(
    ("case", "sugar", "finished", "is_listed"),
    [
        # 770 - 710 = 60 g, 7.8 %; 745 - 710 = 35 g, 4.7 %; 750 - 712.5 = 37.5 g, exactly 5 %
        (15, 400, 770, True), (16, 400, 745, False), (17, "402.5", 750, False),
    ],
)  # fmt: skip
def test_cases_15_16_17_water_is_listed_above_five_per_cent(case, sugar, finished, is_listed):
    # FIC Annex VII, A.1
    parts = {"sugar": sugar, "glucose syrup": 200, "lemon juice": 70, "gelatine": 40}
    water = used("water", 200, category="water")
    facts = food("Jellies", *(used(n, g) for n, g in parts.items()), water, finished_g=finished)
    names = ["sugar", "glucose syrup", "lemon juice", *["water"] * is_listed, "gelatine"]
    assert listed_names(facts) == names


def test_case_18_soaked_fruit_stands_by_its_fresh_weight_and_the_soaking_water_nowhere():
    # FIC Annex VII, A.2 and Art. 20(e)(i)
    figs = used("figs", 500, fresh_equivalent_g=1000)
    soak = used("water", 500, category="water", is_processing_aid=True)
    facts = food("Paste", used("sugar", 700), figs, soak, finished_g=1500)
    assert listed_names(facts)[0].startswith("figs")
    assert not any("water" in name for name in listed_names(facts))


def test_cases_19_50_fruit_in_varying_proportions():
    # FIC Annex VII, A.4 and Annex VIII, 1(c)
    mix = [used(n, 500, category="fruit", varying_mix="fruit") for n in ("apple", "pear", "plum")]
    facts = food("Apple, pear and plum paste", *mix, used("sugar", 900), finished_g=2000)
    assert listed_names(facts)[0] == "fruit in varying proportions (apple, pear, plum)"
    assert declared(facts) == ()


@pytest.mark.parametrize(("case", "grams", "is_grouped"), [(20, 16, True), (21, 24, False)])
def test_cases_20_21_spices_up_to_two_per_cent(case, grams, is_grouped):
    # FIC Annex VII, B.7
    spices = [
        used(n, Decimal(grams) / 3, category="spice") for n in ("allspice", "clove", "ginger")
    ]
    facts = food("Paste", used("pear", 900), *spices, finished_g=1000, groups_spices=True)
    assert ("spices" in listed_names(facts)) is is_grouped


def test_case_22_sugar_covers_both():
    # FIC Annex VII, B.11
    sugars = used("caster sugar", 300, category="sugar"), used("demerara", 100, category="sugar")
    facts = food("Paste", used("pear", 900), *sugars, finished_g=1000, groups_sugars=True)
    assert listed_names(facts) == ["pear", "sugar"]


@pytest.mark.parametrize(
    ("case", "kind", "name", "number", "by_number", "text"),
    [
        (23, "gelling agent", "pectin", "E 440", False, "gelling agent: pectin"),
        (23, "gelling agent", "pectin", "E 440", True, "gelling agent: E 440"),
        (24, "acid", "citric acid", "E 330", False, "acid: citric acid"),
        (24, "acidity regulator", "citric acid", "E 330", True, "acidity regulator: E 330"),
    ],
)
def test_cases_23_24_an_additive_by_class_and_name_or_number(
    case, kind, name, number, by_number, text
):
    # FIC Annex VII, C [R]; numbers in SI 1999/1136, Sch. 3 [N]
    added = used(name, 10, additive_class=kind, additive_number=number)
    facts = food("Paste", used("pear", 900), added, finished_g=800, additives_by_number=by_number)
    assert listed_names(facts)[1] == text


@pytest.mark.parametrize(("case", "is_fixed", "is_inside"), [(25, True, False), (26, False, True)])
def test_cases_25_26_a_compound_below_two_per_cent(case, is_fixed, is_inside):
    # FIC Annex VII, E.1 and E.2(a); Art. 21: the milk is shown either way
    inside = used("cocoa", 10), used("milk powder", 8, allergens={"milk": "milk"})
    coat = used("dark coat", 18, parts=inside, composition_fixed_by_law=is_fixed)
    facts = food("Paste", used("pear", 982), coat, finished_g=1000)
    text = text_of("ingredients", facts)
    assert ("cocoa" in text) is is_inside
    assert "milk" in text


def test_case_27_an_enzyme_that_only_helps_is_no_ingredient():
    # FIC Art. 20(b)(ii)
    enzyme = used("pectinase", 1, is_processing_aid=True)
    facts = food("Paste", used("pear", 900), used("sugar", 500), enzyme, finished_g=900)
    assert listed_names(facts) == ["pear", "sugar"]


def test_cases_28_144_one_ingredient_that_the_name_tells():
    # FIC Art. 19(1)(e); no quantity either
    facts = food("Dried apple", used("dried apple", 500), finished_g=500)
    assert text_of("ingredients", facts) == ""
    assert declared(facts) == ()


# --- 29 to 36: allergens -------------------------------------------------------------------------


def test_case_29_walnuts_are_named_and_not_nuts():
    # FIC Art. 21(1)(b) and Annex II, 8
    good = used("walnuts", 100, allergens={"nuts": "walnuts"})
    vague = used("pieces", 100, allergens={"nuts": "nuts"})
    facts = food("Paste", used("pear", 900), good, finished_g=900)
    (emphasis,) = [r.text for e in entries(facts) for r in e.runs if r.is_emphasised]
    assert emphasis == "walnuts"
    assert "cereals_and_nuts_are_named_by_kind" in faults(
        food("Paste", used("pear", 900), vague, finished_g=900)
    )


@pytest.mark.parametrize(
    ("case", "name", "text"), [(30, "Soft sweets", "Contains: milk"), (31, "Milk caramels", "")]
)
def test_cases_30_31_without_a_list(case, name, text):
    # FIC Art. 21(1), second and last subparagraphs: no list, since it is sold loose
    milky = used("milk", 900, allergens={"milk": "milk"})
    facts = food(name, milky, used("sugar", 300), finished_g=900, way_of_sale="loose")
    assert text_of("allergens", facts) == text


@pytest.mark.parametrize(
    ("case", "grams", "is_declared"),
    [(32, 200, True), (33, 6, False), (34, "6.6666666666666666666", False)],
)
def test_cases_32_33_34_sulphites_above_ten(case, grams, is_declared):
    # FIC Annex II, 12: 1 500 mg/kg in 1 000 g of paste
    apricots = used("dried apricots", grams, sulphite_mg_per_kg=1500)
    facts = food("Paste", used("pear", 900), apricots, finished_g=1000)
    assert declares_sulphites(facts) is is_declared
    assert ("sulphites" in text_of("ingredients", facts)) is is_declared


@pytest.mark.parametrize(
    ("case", "name"),
    [(35, "glucose syrup from wheat"), (36, "chestnut puree"), (36, "coconut"), (36, "pine nuts")],
)
def test_cases_35_36_what_is_not_in_annex_ii_is_not_refused(case, name):
    # FIC Annex II, 1(a) and 8; the nut list is closed: Commission notice [2]
    facts = food("Paste", used("pear", 900), used(name, 50), finished_g=900)
    found = by_rule("an_ingredient_that_names_an_allergen_is_marked", facts)
    assert not any(f.stops_printing for f in found)


# --- 37 to 52, 135 to 147: quantities ------------------------------------------------------------


@pytest.mark.parametrize(
    ("case", "name", "parts", "finished", "expected"),
    [
        (37, "Sultana cake", {"sultanas": 200, "flour": 800}, 800, {"sultanas": "25 %"}),
        (38, "Butter biscuits", {"flour": 100, "sugar": 40, "butter": 50, "eggs": 10}, 170,
         {"butter": "29 %"}),
        (40, "Cheese sandwich", {"bread": 80, "spread": 15, "cheese": 35}, 130, {"cheese": "27 %"}),
        (42, "Tomato ketchup", {"tomatoes": 1200, "sugar": 200}, 1000,
         {"tomatoes": "120 g per 100 g"}),
        (43, "Plum leather", {"plums": 1000, "sugar": 50}, 1000, {"plums": "100 %"}),
        (44, "Damson paste", {"damson pulp": 5000, "sugar": 4000}, 6500, {"damson pulp": "77 %"}),
        (46, "Apple butter", {"apple": 3000, "sugar": 300}, 2400, {"apple": "125 g per 100 g"}),
        (135, "Goose salami", {"goose meat": 120, "salt": 10}, 100,
         {"goose meat": "120 g per 100 g"}),
    ],
)  # fmt: skip
def test_cases_of_quantities_by_weight(case, name, parts, finished, expected):
    # FIC Annex VIII, 3(a) and 4(a); 37 [N], 38 and 135 [2]
    facts = food(name, *(used(n, g) for n, g in parts.items()), finished_g=finished)
    assert shares(facts) == expected


def test_case_38_with_one_decimal():
    parts = {"flour": 100, "sugar": 40, "butter": 50, "eggs": 10}
    facts = food("Butter biscuits", *(used(n, g) for n, g in parts.items()), finished_g=170,
                 quid_rounding="one decimal")  # fmt: skip
    assert shares(facts) == {"butter": "29.4 %"}


def test_case_39_fish_fingers():
    # 70 / 112 = 62.5 %: UK guidance as restated [2]
    parts = {"fish": 70, "batter": 20, "crumb": 20, "oil": 7}
    facts = food("Fish fingers", *(used(n, g) for n, g in parts.items()), finished_g=112,
                 quid_rounding="one decimal")  # fmt: skip
    assert shares(facts) == {"fish": "62.5 %"}


def test_case_41_salami_by_weight():
    # 160 g of pork: example of an Austrian consumer body [2]
    facts = food("Pork salami", used("pork", 160), used("salt", 5), finished_g=100)
    assert declared(facts)[0].sentence == "160 g of pork per 100 g"


def test_case_45_both_go_by_weight_when_together_they_pass_a_hundred():
    # FIC Annex VIII, 4(a): 76.9 + 61.5 = 138.5 %
    parts = used("damson pulp", 5000), used("sugar", 4000, quid_reason="stressed")
    facts = food("Damson paste", *parts, finished_g=6500)
    assert shares(facts) == {"damson pulp": "77 g per 100 g", "sugar": "62 g per 100 g"}


def test_cases_47_48_volatile_and_concentrated():
    # FIC Annex VIII, 4(b) and 4(c)
    rum = used("rum", 60, remaining_g=15)
    assert shares(food("Rum truffle", used("cocoa", 500), rum, finished_g=500)) == {"rum": "3 %"}
    juice = used("pear juice", 100, fresh_equivalent_g=600)
    facts = food("Pear paste", juice, used("sugar", 1900), finished_g=2000)
    assert shares(facts) == {"pear juice": "30 %"}


def test_case_49_vanilla_for_flavour_needs_none():
    # FIC Annex VIII, 1(a)(iii)
    vanilla = used("vanilla", 2, quid_exemption="flavouring")
    facts = food(
        "Vanilla pear paste", used("pear", 900), used("sugar", 300), vanilla, finished_g=1000
    )
    assert shares(facts) == {"pear": "90 %"}


def test_cases_52_139_pictured_and_stressed():
    # FIC Art. 22(1)(b)
    nuts = used("pine nuts", 60, quid_reason="pictured")
    facts = food("Fig paste", used("figs", 600), used("sugar", 400), nuts, finished_g=900)
    assert set(shares(facts)) == {"figs", "pine nuts"}
    butter = used("butter", 300, quid_reason="made with butter, on the front")
    assert set(shares(food("Shortbread", used("flour", 700), butter, finished_g=950))) == {"butter"}


def test_cases_136_137_one_figure_for_the_category():
    # 300 / 600 = 50 %, not 30 and 20 apart [2]
    kinds = used("apple", 180, category="fruit"), used("pear", 120, category="fruit")
    facts = food("Fruit tart", *kinds, used("pastry and custard", 300), finished_g=600)
    assert shares(facts) == {"fruit": "50 %"}


@pytest.mark.parametrize(
    ("case", "name", "declared_too"),
    [(138, "Biscuits with cream filling", False),
     (138, "Biscuits with cream filling containing eggs", True)],
)  # fmt: skip
def test_case_138_a_filling_and_what_of_it_is_named(case, name, declared_too):
    filling = used("cream filling", 300, parts=(used("sugar", 200), used("eggs", 100)))
    facts = food(name, used("flour", 700), filling, finished_g=900)
    assert "cream filling" in shares(facts)
    assert ("eggs" in shares(facts)) is declared_too


@pytest.mark.parametrize(
    ("case", "name", "ingredient"), [(140, "Marzipan", "almonds"), (141, "Mayonnaise", "egg yolk")]
)
def test_cases_140_141_what_marks_a_food_out(case, name, ingredient):
    # FIC Art. 22(1)(c); 140 [N], 141 [2]
    facts = food(name, used(ingredient, 400), used("other things", 600), finished_g=1000)
    assert ingredient in shares(facts)


@pytest.mark.parametrize(
    ("case", "reason", "is_declared"),
    [
        (142, "the food as sold pictured", False), (142, "serving suggestion", False),
        (142, "all ingredients pictured alike", False), (142, "preparation pictured", False),
        (143, "a cow pictured to stress the milk", True),
    ],
)  # fmt: skip
def test_cases_142_143_pictures(case, reason, is_declared):
    # Commission notice as restated [2]
    milk = used("milk", 300, quid_reason=reason)
    facts = food("Caramels", milk, used("sugar", 700), finished_g=900)
    assert ("milk" in shares(facts)) is is_declared


def test_cases_145_146_a_constituent_and_a_word_that_is_no_ingredient():
    # "rich in vitamin C"; "cream crackers" holds no cream [2]
    juice = food("Orange drink, rich in vitamin C", used("orange juice", 900), used("sugar", 100),
                 finished_g=1000)  # fmt: skip
    assert set(shares(juice)) == {"orange juice"}
    crackers = food("Cream crackers", used("flour", 900), used("oil", 100), finished_g=900)
    assert shares(crackers) == {}


@pytest.mark.parametrize(("case", "stated", "is_true"), [(147, "95", True), (147, "94", False)])
def test_case_147_the_figure_may_stand_inside_the_name(case, stated, is_true):
    # FIC Annex VIII, 3(b) [R]; official sample [N]
    nuts = used("peanuts", 950, allergens={"peanuts": "peanuts"})
    facts = food(f"Peanut ({stated} %) butter", nuts, used("oil", 50), finished_g=1000)
    assert ("a_figure_in_the_name_is_the_true_one" not in faults(facts)) is is_true


# --- 77 to 85: dates -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("case", "made", "until", "text"),
    [
        (77, date(2026, 3, 1), date(2026, 4, 30), "Best before 30 April"),
        (78, date(2026, 3, 10), date(2026, 12, 10), "Best before end November 2026"),
        (79, date(2026, 1, 15), date(2028, 1, 15), "Best before end 2027"),
        (80, date(2026, 3, 1), date(2026, 6, 1), "Best before 1 June"),
        (81, date(2026, 1, 15), date(2027, 7, 15), "Best before end June 2027"),
    ],
)
def test_cases_77_to_81_the_shortest_form_of_the_date(case, made, until, text):
    # FIC Annex X, 1(c)
    stated = stated_date(a_label(made_on=made, best_before=until))
    assert f"{stated.heading} {stated.text}" == text


def test_case_78_in_full():
    facts = a_label(made_on=date(2026, 3, 10), best_before=date(2026, 12, 10), date_form="full")
    assert text_of("date", facts) == "Best before 10 December 2026"


@pytest.mark.parametrize(
    ("case", "ingredients", "is_refused"),
    [
        (84, (used("sugar", 900, category="sugar"), used("mint flavouring", 2)), False),
        (85, (used("damson puree", 900), used("sugar", 900, category="sugar")), True),
    ],
)
def test_cases_84_85_only_sweets_of_sugar_need_no_date(case, ingredients, is_refused):
    # FIC Annex X, 1(d)
    facts = food(
        "Sweets", *ingredients, finished_g=880, best_before=None, date_style="none",
        no_date_reason="confectionery of flavoured or coloured sugar",
    )  # fmt: skip
    assert ("a_label_without_a_date_has_a_lawful_reason" in faults(facts)) is is_refused
