"""Faults of an ingredient list: Regulation (EU) No 1169/2011, Art. 18 and Annex VII [R]."""

from dataclasses import replace

import pytest

from tests.labels.law.gb.builders import a_label, as_printed, by_rule, faults, used


def test_a_label_without_ingredients_stops_but_the_rest_can_still_be_seen():
    facts = replace(a_label(), ingredients=())
    found = by_rule("something_is_in_the_food", facts)
    assert [f.citation.provision for f in found] == ["Art. 9(1)(b) and Art. 18(1)"]


def test_an_ingredient_of_no_weight_is_named():
    found = by_rule("every_ingredient_has_a_weight", a_label(used("pear", 9), used("sugar", 0)))
    assert [f.message.split()[0] for f in found] == ["sugar"]
    assert found[0].stops_printing


@pytest.mark.parametrize(
    ("finished_g", "stops"),
    [("1000", False), ("1001", False), ("1001.1", True), (None, False), ("5000", True)],
)
def test_no_more_comes_out_than_went_in(finished_g, stops):
    # one in a thousand is left for rounding
    facts = a_label(used("pear", 600), used("sugar", 400), finished_g=finished_g)
    found = by_rule("no_more_comes_out_than_went_in", facts)
    assert bool(found) is stops
    assert all(f.citation.provision == "Annex VII, Part A, point 1" for f in found)


@pytest.mark.parametrize(
    ("category", "finished_g", "level"),
    [
        ("water", None, "must mend"), ("water", 800, "for information"),
        ("water", 1000, None), ("", None, None),
    ],
)  # fmt: skip
def test_water_with_an_unknown_finished_mass_stops_the_label(category, finished_g, level):
    facts = a_label(used("sugar", 800), used("water", 200, category=category),
                    finished_g=finished_g)  # fmt: skip
    found = by_rule("added_water_can_be_worked_out", facts)
    assert [f.level for f in found] == ([level] if level else [])


@pytest.mark.parametrize(
    ("kind", "number", "stops"),
    [
        ("gelling agent", "E 440", False), ("Gelling Agent", "", False), ("", "", False),
        ("acid, acidity regulator", "E 330", True), ("setting powder", "", True),
        ("", "E 440", True),
    ],
)  # fmt: skip
def test_annex_vii_c_an_additive_has_one_class_of_the_list(kind, number, stops):
    pectin = used("pectin", 5, additive_class=kind, additive_number=number)
    found = by_rule("an_additive_is_named_with_one_class", a_label(used("pear", 900), pectin))
    assert bool(found) is stops
    assert all(f.citation.provision == "Annex VII, Part C" and f.stops_printing for f in found)


def mix(*grams, category="fruit"):
    names = ("apple", "pear", "plum")
    return [
        used(name, g, category=category, varying_mix="fruit")
        for name, g in zip(names, grams, strict=False)
    ]


@pytest.mark.parametrize(
    ("members", "levels"),
    [
        (mix(400, 300, 300), []),
        # our own line: a fifth over an even share, so 1/3 + 1/5 = 53.3 % of three, 70 % of two
        (mix(533, 300, 167), []),
        (mix(534, 300, 166), ["look at this"]),
        (mix(700, 300), []),
        (mix(701, 299), ["look at this"]),
        (mix(400, 300, 300, category=""), ["must mend"]),
        ([*mix(500), used("mace", 500, category="spice", varying_mix="fruit")], ["must mend"]),
    ],
)
def test_annex_vii_a4_a_mix_is_of_one_kind_and_none_predominates(members, levels):
    found = by_rule("a_varying_mix_is_one", a_label(*members, used("sugar", 800)))
    assert [f.level for f in found] == levels
    assert all(f.citation.provision == "Annex VII, Part A, points 4 and 5" for f in found)


@pytest.mark.parametrize(("inside_g", "is_asked"), [("98", False), ("97.9", True), ("140", False)])
def test_the_parts_of_a_compound_make_it_up(inside_g, is_asked):
    sauce = used("sauce", 100, parts=(used("tomato", inside_g),))
    found = by_rule("the_parts_of_a_compound_make_it_up", a_label(sauce, used("sugar", 50)))
    assert bool(found) is is_asked
    assert all(f.level == "look at this" for f in found)


RULE = "allergens_are_set_apart_in_print"


@pytest.mark.parametrize(
    ("emphasised", "is_lawful"),
    [
        (("mustard",), True), (("MUSTARD",), True), ((), False), (("mustard seed",), False),
        (("mustard", "sugar"), False), (("mustard", "mustard"), False),
    ],
)  # fmt: skip
def test_art_21_1_b_in_print_exactly_the_allergens_are_set_apart(emphasised, is_lawful):
    seed = used("mustard seed", 9, allergens={"mustard": "mustard"})
    facts = a_label(used("damson puree", 900), seed)
    printed = as_printed(facts)
    blocks = tuple(
        replace(b, emphasised=emphasised) if b.kind == "ingredients" else b for b in printed.blocks
    )
    found = by_rule(RULE, facts, replace(printed, blocks=blocks))
    assert (not found) is is_lawful
    assert all(f.citation.provision == "Art. 21(1)(b)" and f.stops_printing for f in found)


def test_a_sound_list_has_no_fault():
    assert faults(a_label()) == []


@pytest.mark.parametrize(
    ("grams", "by_law", "level"),
    [(100, False, "must mend"), (100, True, "must mend"), (10, True, "look at this"),
     (10, False, "must mend")],
)  # fmt: skip
def test_a_compound_whose_parts_nobody_entered_is_not_printed(grams, by_law, level):
    # Annex VII, Part E, point 1, and 2(a): 10 g of 1000 g are below 2 %, 100 g are not.
    chocolate = used("chocolate", grams, lacks_its_list=True, composition_fixed_by_law=by_law)
    facts = a_label(used("pear", 1100), chocolate, finished_g=1000)
    found = by_rule("a_compound_comes_with_its_list", facts)
    assert [f.level for f in found] == [level]
