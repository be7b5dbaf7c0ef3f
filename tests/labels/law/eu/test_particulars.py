"""Which statements, in which order: Regulation (EU) No 1169/2011, Arts. 9, 12 and 44 [R]."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labels import law
from labels.facts import Allergen, LabelFacts, UsedIngredient
from tests.labels.law.eu.builders import (
    TODAY,
    a_label,
    as_printed,
    by_rule,
    faults,
    findings,
    statement,
    text_of,
    used,
)

RULE = "every_statement_is_printed"


def said(facts):
    return {p.kind: p.text for p in law.particulars(facts, on=TODAY)}


# --- Two whole labels ----------------------------------------------------------------------------

DAMSON = a_label(
    used("damson puree", 9000, category="fruit"),
    used("sugar", 8100, category="sugar"),
    used("lemon juice", 180),
    name_of_food="Damson paste",
    finished_g=13900,
    net_quantity_g=120,
    largest_surface_cm2=60,
    lot="DC-26324",
)


def test_a_slab_of_damson_paste_says_all_it_must():
    # 9 000 / 13 900 = 64.7 %
    assert said(DAMSON) == {
        "name": "Damson paste",
        "net_quantity": "120 g",
        "ingredients": "Ingredients: damson puree (65 %), sugar, lemon juice",
        "date": "Best before end October 2027",
        "storage": "Keep in a cool place. Once open, refrigerate and eat within 4 weeks.",
        "operator": "Sloe Bank Kitchen, 2 Mill Lane, 4990-100 Ponte",
        "lot": "L DC-26324",
    }
    assert statement("net_quantity", DAMSON).minimum_figure_height_mm == 3
    printed = as_printed(DAMSON, x_height_mm="0.9", figure_height_mm="3")
    assert faults(DAMSON, printed) == []


CHUTNEY = a_label(
    used("tomatoes", 18000, category="vegetable"),
    used("onions", 5000, category="vegetable"),
    used("cider vinegar", 4000),
    used("sugar", 3600, category="sugar"),
    used("sultanas", 2000, sulphite_mg_per_kg=500),
    used("mustard seed", 120, category="spice", allergens={"mustard": "mustard"}),
    used("salt", 200),
    used("coriander", 60, category="spice"),
    used("clove", 20, category="spice"),
    name_of_food="Tomato chutney",
    finished_g="23522.8",
    net_quantity_g=280,
    largest_surface_cm2=85,
    groups_spices=True,
)


def test_a_jar_of_chutney_shows_mustard_and_sulphites():
    # 2.0 kg x 500 mg/kg = 1 000 mg in 23.5228 kg: 42.51 mg/kg; tomatoes 18 / 23.5228 = 76.5 %
    # spices 200 g = 0.85 %, so coriander and clove may stand together, mustard may not hide
    found = statement("ingredients", CHUTNEY)
    assert found.text == (
        "Ingredients: tomatoes (77 %), onions, cider vinegar, sugar, sultanas (sulphites), salt, "
        "mustard seed, spices"
    )
    assert found.emphasised == ("sulphites", "mustard")
    note = by_rule("sulphites_are_declared_above_ten", CHUTNEY)
    assert "42.51 mg" in note[0].message
    assert statement("allergens", CHUTNEY) is None
    assert faults(CHUTNEY, as_printed(CHUTNEY, x_height_mm="1.2", figure_height_mm="4")) == []


# --- Order, places, ways of sale -----------------------------------------------------------------


def test_the_name_comes_first_and_shares_its_field_with_the_quantity():
    found = law.particulars(DAMSON, on=TODAY)
    assert [p.kind for p in found][:3] == ["name", "net_quantity", "ingredients"]
    assert [p.kind for p in found if p.same_field] == ["name", "net_quantity"]


def test_every_statement_names_its_provision_and_links_to_it():
    for particular in law.particulars(a_label(origin="Ponte", instructions="Warm."), on=TODAY):
        assert particular.citation.provision.startswith("Art")
        assert particular.citation.act.url.startswith("https://eur-lex.europa.eu/eli/")


@pytest.mark.parametrize(
    ("way_of_sale", "kinds", "levels"),
    [
        ("loose", {"name", "allergens"}, ["look at this"]),
        ("on request", {"name", "allergens"}, ["look at this"]),
        ("direct", {"name", "net_quantity", "ingredients", "date", "storage", "operator", "lot"},
         ["look at this"]),
        ("prepacked", None, []),
    ],
)  # fmt: skip
def test_art_44_what_is_not_prepacked_is_for_national_rules(way_of_sale, kinds, levels):
    milky = used("milk", 900, allergens={"milk": "milk"}), used("sugar", 400)
    facts = a_label(*milky, name_of_food="Caramels", finished_g=1000, way_of_sale=way_of_sale)
    if kinds:
        assert set(said(facts)) == kinds
    found = by_rule("national_rules_decide_what_is_not_prepacked", facts)
    assert [f.level for f in found] == levels
    assert all(f.citation.provision == "Art. 44" for f in found)


# --- What was printed ----------------------------------------------------------------------------


def test_a_statement_that_found_no_room_is_named():
    printed = replace(as_printed(DAMSON), does_not_fit=("storage",))
    found = by_rule(RULE, DAMSON, printed)
    assert [(f.where, f.stops_printing) for f in found] == [("storage", True)]
    assert found[0].citation.provision == "Art. 9(1) and Art. 12(2)"


@pytest.mark.parametrize("kind", ["name", "ingredients", "lot"])
def test_a_statement_that_was_never_set_is_named(kind):
    printed = as_printed(DAMSON)
    without = replace(printed, blocks=tuple(b for b in printed.blocks if b.kind != kind))
    assert [f.where for f in by_rule(RULE, DAMSON, without)] == [kind]


@pytest.mark.parametrize(
    ("text", "is_lawful"),
    [
        ("BEST BEFORE\nEND OCTOBER\u00a02027", True), ("Best be\u00adfore end October 2027", True),
        ("Best before end October 2028", False), ("October 2027", False), ("", False),
    ],
)  # fmt: skip
def test_a_statement_is_printed_whole_however_its_lines_break(text, is_lawful):
    printed = as_printed(DAMSON)
    blocks = tuple(replace(b, text=text) if b.kind == "date" else b for b in printed.blocks)
    found = by_rule(RULE, DAMSON, replace(printed, blocks=blocks))
    assert (not found) is is_lawful


# --- Incomplete facts, odd text ------------------------------------------------------------------


def test_nothing_known_gives_nothing_to_print_and_every_fault_at_once():
    facts = LabelFacts()
    assert law.particulars(facts, on=TODAY) == ()
    assert set(faults(facts)) == {
        "the_food_has_a_name",
        "something_is_in_the_food",
        "the_net_quantity_is_stated",
        "the_food_has_a_date",
        "the_lot_is_there_unless_the_date_shows_the_day",
        "the_operator_is_named_with_an_address",
        "nutrition_is_declared_or_exempt",
    }


texts = st.text(max_size=60) | st.sampled_from(
    ["🍑", "<script>alert(1)</script>", "{% now %}", "x, " * 1000, "\u202eevil", "é\u0301", "%"]
)
numbers = st.none() | st.decimals(allow_nan=True, allow_infinity=True)
grams = st.decimals(min_value=0, max_value="1E+12", places=3)
ingredient = st.builds(
    UsedIngredient,
    name=texts.filter(lambda text: text.strip()),
    used_g=grams,
    allergens=st.just(()) | st.just((Allergen("milk", "milk"),)),
    sulphite_mg_per_kg=st.none() | st.decimals(min_value=0, max_value=2000, places=1),
    additive_class=st.sampled_from(["", "acid", "nonsense"]),
    category=st.sampled_from(["", "water", "fruit", "spice", "sugar"]),
    varying_mix=st.sampled_from(["", "fruit"]),
    quid_reason=st.sampled_from(["", "in the name"]),
    is_processing_aid=st.booleans(),
)
facts_of_any_kind = st.builds(
    LabelFacts,
    name_of_food=texts,
    ingredients=st.lists(ingredient, max_size=5).map(tuple),
    finished_g=numbers,
    net_quantity_g=numbers,
    largest_surface_cm2=numbers,
    operator_name=texts,
    operator_address=texts,
    made_on=st.none() | st.dates(),
    best_before=st.none() | st.dates(),
    date_style=st.sampled_from(["best before", "use by", "none", "?"]),
    date_form=st.sampled_from(["shortest", "month", "full", "?"]),
    lot=texts,
    storage=texts,
    origin=texts,
    brand_name=texts,
    country_of_sale=texts,
    way_of_sale=st.sampled_from(["prepacked", "direct", "loose", "?"]),
    language=st.sampled_from(["en", "es", ""]),
    has_e_mark=st.booleans(),
    groups_spices=st.booleans(),
    groups_sugars=st.booleans(),
)


@given(facts_of_any_kind)
@settings(max_examples=150, deadline=None)
def test_no_facts_whatever_break_the_law(facts):
    particulars = law.particulars(facts, on=TODAY)
    found = findings(facts, as_printed(facts))
    assert all(p.text.strip() and "\n" not in p.text for p in particulars)
    assert all(f.citation and f.message and f.hint and f.rule for f in found)


def test_a_list_of_3000_characters_is_one_statement_of_plain_text():
    many = [used(f"ingredient <b>{n}</b> & co", 1000 - n) for n in range(120)]
    text = text_of("ingredients", a_label(*many, name_of_food="Preserve", finished_g=90000))
    assert len(text) > 3000
    assert text.count("<b>") == 120


@pytest.mark.parametrize(
    ("on", "applies"), [(date(2014, 12, 12), False), (date(2014, 12, 13), True)]
)
def test_art_55_the_regulation_applies_from_13_december_2014(on, applies):
    names = {rule.name for rule in law.rules_in_force("eu", on=on)}
    assert ("small_print_is_legible" in names) is applies
    assert ("the_lot_is_there_unless_the_date_shows_the_day" in names) is True


def test_masses_that_all_grow_alike_change_no_statement_but_the_quantity():
    tenfold = replace(
        CHUTNEY,
        ingredients=tuple(replace(i, used_g=i.used_g * 10) for i in CHUTNEY.ingredients),
        finished_g=CHUTNEY.finished_g * Decimal(10),
    )
    assert said(tenfold) == said(CHUTNEY)
