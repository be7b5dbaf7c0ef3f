"""The ingredient list: Regulation (EU) No 1169/2011, Arts. 18 to 20 and Annex VII [R]."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labels.law.gb.ingredient_list import (
    added_water_g,
    entries,
    is_water_listed,
    may_follow_in_any_order,
)
from tests.labels.law.gb.builders import a_label, by_rule, listed_names, statement, text_of, used

DAMSON = (used("lemon juice", 120), used("damson pulp", 6000), used("sugar", 4800))


def plain(*ingredients, **changed):
    """A label whose name speaks of no ingredient, so that no figure stands in the list."""
    return a_label(*ingredients, **{"name_of_food": "Preserve", **changed})


def test_art_18_1_the_order_is_by_weight_as_used_not_as_finished():
    facts = plain(*DAMSON, finished_g=7600)
    assert listed_names(facts) == ["damson pulp", "sugar", "lemon juice"]
    found = statement("ingredients", facts)
    assert found.text == "Ingredients: damson pulp, sugar, lemon juice"
    assert found.citation.provision == "Art. 9(1)(b), Art. 18 and Annex VII"


def test_annex_vii_a6_those_below_2_per_cent_may_follow_in_any_order():
    # 120 / 7 600 = 1.58 %, 60 / 7 600 = 0.79 %
    facts = plain(*DAMSON, used("pectin", 60, additive_class="gelling agent"), finished_g=7600)
    assert may_follow_in_any_order(facts) == ("lemon juice", "pectin")
    assert listed_names(facts)[:2] == ["damson pulp", "sugar"]


@pytest.mark.parametrize(("grams", "is_free"), [("152", False), ("151.9", True)])
def test_annex_vii_a6_exactly_2_per_cent_keeps_its_place(grams, is_free):
    # 2 % of 7 600 is 152
    facts = plain(*DAMSON[1:], used("lemon juice", grams), finished_g=7600)
    assert ("lemon juice" in may_follow_in_any_order(facts)) is is_free


CHUTNEY = (
    used("apple", 2000), used("vinegar", 900), used("sugar", 800), used("onion", 500),
    used("water", 400, category="water"), used("raisins", 300), used("spice mix", 40),
)  # fmt: skip
JELLIES = (
    used("sugar", 400), used("glucose syrup", 200), used("lemon juice", 70), used("gelatine", 40),
    used("water", 180, category="water"),
)  # fmt: skip


def test_annex_vii_a1_water_that_boiled_away_is_not_listed():
    # 3 600 - (2 000 + 900 + 800 + 500 + 300 + 40) = -940
    facts = plain(*CHUTNEY, finished_g=3600)
    assert added_water_g(facts) == 0
    assert "water" not in listed_names(facts)
    found = by_rule("added_water_can_be_worked_out", facts)
    assert [f.citation.provision for f in found] == ["Annex VII, Part A, point 1"]


def test_annex_vii_a1_water_above_5_per_cent_stands_by_its_weight_in_the_finished_food():
    # 770 - 710 = 60, 7.8 %
    facts = plain(*JELLIES, finished_g=770)
    assert added_water_g(facts) == 60
    assert listed_names(facts) == ["sugar", "glucose syrup", "lemon juice", "water", "gelatine"]


@pytest.mark.parametrize(
    ("finished_g", "is_listed"),
    # 745 - 710 = 35, 4.7 %; 770 - 710 = 60, 7.8 %
    [("745", False), ("770", True)],
)
def test_annex_vii_a1_water_of_5_per_cent_or_less_may_be_left_out(finished_g, is_listed):
    facts = plain(*JELLIES, finished_g=finished_g)
    assert is_water_listed(facts) is is_listed
    assert ("water" in listed_names(facts)) is is_listed


@pytest.mark.parametrize(("other_g", "is_listed"), [("950", False), ("949.9", True)])
def test_annex_vii_a1_exactly_5_per_cent_may_be_left_out(other_g, is_listed):
    facts = plain(used("sugar", other_g), used("water", 100, category="water"), finished_g=1000)
    assert is_water_listed(facts) is is_listed


def test_annex_vii_a2_dried_fruit_brought_back_may_stand_by_its_fresh_weight():
    soaked = (
        used("apple", 800),
        used("dried apricots", 500, fresh_equivalent_g=1000),
        used("water", 500, category="water", is_processing_aid=True),
    )
    facts = plain(*soaked, finished_g=1700)
    assert listed_names(facts) == ["dried apricots", "apple"]
    # Art. 20(e)(i): water used only for that is not listed, though 500 of 1 700 g went in as water
    assert "water" not in text_of("ingredients", facts)


def test_annex_vii_a1_soaking_water_counts_as_the_food_it_brought_back_not_as_added():
    # 1 600 - (500 sugar + 500 dried + 500 soaking) = 100, 6.25 %; an enzyme is no ingredient
    facts = plain(
        used("sugar", 500),
        used("dried apricots", 500),
        used("soaking water", 500, category="water", is_processing_aid=True),
        used("water", 200, category="water"),
        used("pectinase", 10, is_processing_aid=True),
        finished_g=1600,
    )
    assert added_water_g(facts) == 100
    assert listed_names(facts) == ["sugar", "dried apricots", "water"]


def test_annex_vii_a4_a_mix_of_fruit_in_varying_proportions_has_one_place():
    mix = [used(n, 1000, category="fruit", varying_mix="fruit") for n in ("apple", "pear", "plum")]
    facts = plain(used("sugar", 2000), *mix, finished_g=4000)
    assert listed_names(facts) == ["fruit in varying proportions (apple, pear, plum)", "sugar"]
    assert by_rule("a_varying_mix_is_one", facts) == []


def test_annex_vii_a5_a_mix_of_spices_stands_in_variable_proportion():
    mix = [used(n, 20, category="spice", varying_mix="spices") for n in ("clove", "mace")]
    facts = plain(used("sugar", 2000), *mix, finished_g=1900)
    assert listed_names(facts) == ["sugar", "spices in variable proportion (clove, mace)"]


SPICES = ("allspice", "clove", "ginger")


@pytest.mark.parametrize(
    ("each_g", "expected"),
    # three times 8 of 1 200 is 2.0 %, three times 8.1 is 2.025 %; 6.4 each is 1.6 %, 9.6 is 2.4 %
    [
        ("6.4", ["spices"]),
        ("8", ["spices"]),
        ("8.1", ["allspice", "clove", "ginger"]),
        ("9.6", ["allspice", "clove", "ginger"]),
    ],
)
def test_annex_vii_b7_spices_up_to_2_per_cent_may_stand_together(each_g, expected):
    facts = plain(
        used("apple", 1500),
        *[used(name, each_g, category="spice") for name in SPICES],
        finished_g=1200,
        groups_spices=True,
    )
    assert listed_names(facts) == ["apple", *expected]
    found = by_rule("spices_above_two_per_cent_are_named", facts)
    assert bool(found) is (len(expected) == 3)
    assert all(f.citation.provision == "Annex VII, Part B, points 7 and 8" for f in found)


def test_spices_are_named_unless_the_maker_groups_them():
    facts = plain(used("apple", 1500), *[used(n, 1, category="spice") for n in SPICES])
    assert listed_names(facts) == ["apple", *SPICES]


def test_a_spice_that_is_an_allergen_never_hides_in_the_group():
    facts = plain(
        used("apple", 1500),
        used("mustard seed", 5, category="spice", allergens={"mustard": "mustard"}),
        used("clove", 4, category="spice"),
        used("mace", 3, category="spice"),
        finished_g=1200,
        groups_spices=True,
    )
    assert listed_names(facts) == ["apple", "spices", "mustard seed"]
    assert statement("ingredients", facts).emphasised == ("mustard",)


@pytest.mark.parametrize(
    ("groups", "expected"),
    [(True, ["sugar", "pear"]), (False, ["pear", "caster sugar", "demerara"])],
)
def test_annex_vii_b11_sugar_may_cover_all_sucrose(groups, expected):
    facts = plain(
        used("caster sugar", 300, category="sugar"),
        used("demerara", 250, category="sugar"),
        used("pear", 500),
        finished_g=800,
        groups_sugars=groups,
    )
    assert listed_names(facts) == expected


@pytest.mark.parametrize(
    ("additive", "by_number", "expected"),
    # E 440 and E 330: SI 1999/1136, Schedule 3 [N]
    [
        (("pectin", "gelling agent", "E 440"), False, "gelling agent: pectin"),
        (("pectin", "gelling agent", "E 440"), True, "gelling agent: E 440"),
        (("citric acid", "acid", "E 330"), False, "acid: citric acid"),
        (("citric acid", "acidity regulator", "E 330"), True, "acidity regulator: E 330"),
        (("pectin", "gelling agent", ""), True, "gelling agent: pectin"),
        (("acetylated distarch adipate", "modified starch", "E 1422"), False, "modified starch"),
    ],
)
def test_annex_vii_c_an_additive_stands_as_class_and_name_or_number(additive, by_number, expected):
    name, kind, number = additive
    facts = plain(
        used("apple", 900),
        used(name, 5, additive_class=kind, additive_number=number),
        additives_by_number=by_number,
    )
    assert listed_names(facts)[-1] == expected


def chocolate(grams, *, fixed=True):
    parts = (
        used("cocoa mass", Decimal(str(grams)) * Decimal("0.6")),
        used("sugar", Decimal(str(grams)) * Decimal("0.3")),
        used(
            "whole milk powder", Decimal(str(grams)) * Decimal("0.09"), allergens={"milk": "milk"}
        ),
        used(
            "lecithins",
            Decimal(str(grams)) * Decimal("0.01"),
            additive_class="emulsifier",
            allergens={"soybeans": "soya"},
        ),
    )
    return used("dark chocolate", grams, parts=parts, composition_fixed_by_law=fixed)


def test_annex_vii_e2a_chocolate_below_2_per_cent_drops_its_list_but_not_its_allergens():
    # 18 of 1 000 g is 1.8 %
    facts = plain(used("apple", 1100), chocolate(18), finished_g=1000)
    # the emulsifier still at work stays (E.2(a) with Art. 20), and so do milk and soya (Art. 21)
    assert listed_names(facts)[-1] == "dark chocolate (emulsifier: lecithins (soya); milk)"
    assert statement("ingredients", facts).emphasised == ("soya", "milk")


@pytest.mark.parametrize(("grams", "has_list"), [("19.9", False), ("20", True)])
def test_annex_vii_e2a_at_2_per_cent_the_list_is_back(grams, has_list):
    facts = plain(used("apple", 1100), chocolate(grams), finished_g=1000)
    assert ("cocoa mass" in text_of("ingredients", facts)) is has_list


def test_annex_vii_e_a_home_made_praline_below_2_per_cent_keeps_its_list():
    parts = used("sugar", 8), used("hazelnuts", 10, allergens={"nuts": "hazelnuts"})
    facts = plain(used("apple", 1100), used("praline", 18, parts=parts), finished_g=1000)
    assert listed_names(facts)[-1] == "praline (hazelnuts, sugar)"
    assert statement("ingredients", facts).emphasised == ("hazelnuts",)


def test_annex_vii_e2b_a_spice_mix_below_2_per_cent_drops_its_list():
    parts = used("clove", 5), used("celery seed", 5, allergens={"celery": "celery"})
    facts = plain(used("apple", 1100), used("pickling spice", 10, parts=parts, category="spice"),
                  finished_g=1000)  # fmt: skip
    assert listed_names(facts)[-1] == "pickling spice (celery)"


def test_annex_vii_e2c_a_food_that_needs_no_list_brings_none():
    parts = (used("milk", 400, allergens={"milk": "milk"}),)
    facts = plain(used("apple", 1100), used("cheese", 400, parts=parts, needs_no_list=True),
                  finished_g=1300)  # fmt: skip
    assert listed_names(facts) == ["apple", "cheese (milk)"]


def test_an_unknown_finished_mass_never_drops_a_list():
    facts = plain(used("apple", 1100), chocolate(18), finished_g=None)
    assert "cocoa mass" in text_of("ingredients", facts)


@pytest.mark.parametrize(
    ("allergens", "is_listed"),
    [((), False), ({"eggs": "egg"}, True)],
)
def test_art_20_b_ii_a_processing_aid_is_left_out_unless_it_is_an_allergen(allergens, is_listed):
    aid = used("lysozyme", 1, is_processing_aid=True, allergens=allergens)
    facts = plain(used("apple", 1100), used("sugar", 500), aid)
    assert ("lysozyme" in text_of("ingredients", facts)) is is_listed
    if is_listed:
        assert text_of("ingredients", facts).endswith("lysozyme (egg)")


@pytest.mark.parametrize(
    ("name", "has_list"),
    [("Dried apple", False), ("DRIED APPLE ", False), ("Orchard crisps", True)],
)
def test_art_19_1_e_a_single_ingredient_that_the_name_tells_needs_no_list(name, has_list):
    facts = a_label(used("dried apple", 1000), name_of_food=name, finished_g=1000)
    assert (statement("ingredients", facts) is not None) is has_list


# --- What holds for every recipe -----------------------------------------------------------------

grams = st.decimals(min_value="0.1", max_value="1000000", places=1)
recipes = st.lists(grams, min_size=1, max_size=12)


@given(recipes)
@settings(max_examples=80, deadline=None)
def test_the_order_is_always_by_falling_weight_as_used(masses):
    ingredients = [used(f"kind {chr(97 + n)}", mass) for n, mass in enumerate(masses)]
    facts = plain(*ingredients, finished_g=sum(masses))
    weights = [entry.ingredients[0].used_g for entry in entries(facts)]
    assert weights == sorted(masses, reverse=True)
    assert len(weights) == len(masses)


@given(recipes, st.decimals(min_value="0.001", max_value="1000", places=3))
@settings(max_examples=80, deadline=None)
def test_a_larger_batch_has_the_same_list(masses, factor):
    def batch(by):
        return plain(
            *[
                used(f"kind {chr(97 + n)}", mass * by, category=("spice", "fruit", "")[n % 3])
                for n, mass in enumerate(masses)
            ],
            used("water", 50 * by, category="water"),
            finished_g=sum(masses) * by,
            groups_spices=True,
        )

    one, many = batch(Decimal(1)), batch(factor)
    # Only where a factor would round the masses could a threshold move; these decimals are exact.
    assert text_of("ingredients", one) == text_of("ingredients", many)


words = st.sampled_from(["milk", "mustard", "celery", "egg", "fish", "lupin"])
GROUP = {"milk": "milk", "mustard": "mustard", "celery": "celery", "egg": "eggs", "fish": "fish",
         "lupin": "lupin"}  # fmt: skip


@given(st.lists(st.tuples(st.sampled_from(["{} powder", "stock", "dried {}"]), st.none() | words),
                min_size=2, max_size=8))  # fmt: skip
@settings(max_examples=80, deadline=None)
def test_what_is_set_apart_is_exactly_the_allergens(kinds):
    ingredients = [
        used(
            f"{shape.format(word or 'plum')} {chr(97 + n)}",
            100 - n,
            allergens={GROUP[word]: word} if word else (),
        )
        for n, (shape, word) in enumerate(kinds)
    ]
    found = statement("ingredients", plain(*ingredients, finished_g=100))
    assert found.emphasised == tuple(word for _, word in kinds if word)


@pytest.mark.parametrize(
    "name",
    ["🍑 peach", "<b>plum</b>", "{{ plum }}", "слива", "x" * 3000, "plum\n\tpulp\x07", "%s %d"],
)
def test_any_name_is_plain_text(name):
    facts = plain(used(name, 500), used("sugar", 400), finished_g=800)
    said = text_of("ingredients", facts)
    assert said.startswith("Ingredients: ")
    assert "\n" not in said
    assert " ".join(name.replace("\x07", "").split()) in said


def test_masses_at_the_edge_are_survived():
    huge = plain(used("plum", "1E+15"), used("sugar", "0"), finished_g="1E+14")
    assert listed_names(huge) == ["plum", "sugar"]
    assert listed_names(replace(huge, finished_g=Decimal("NaN"))) == ["plum", "sugar"]
    assert listed_names(replace(huge, finished_g=Decimal(0))) == ["plum", "sugar"]
