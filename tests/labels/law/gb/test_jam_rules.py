"""Statements and refusals of the jam regulations, nation by nation.

England SI 2003/3120 [R]; Wales WSI 2018/274, its note and schedule [R]; Scotland SSI 2004/133 as
made [R], the numbers of its regulation 5 (from memory).
"""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.gb.jam_rules import fruit_g_per_100_g
from tests.labels.law.gb.builders import a_label, as_printed, by_rule, extras, faults, text_of, used


def jam(*fruit, name="Strawberry jam", solids="63.4", finished_g=1000, **changed):
    parts = fruit or (used("strawberries", 420, category="fruit"),)
    return a_label(
        *parts,
        used("sugar", 600, category="sugar"),
        name_of_food=name,
        finished_g=finished_g,
        soluble_solids_pct=None if solids is None else Decimal(solids),
        **changed,
    )


def of(name, grams, **more):
    return used(name, grams, category="fruit", **more)


def test_case_54_a_lawful_jam_prints_both_statements_and_no_other_quantity_of_fruit():
    facts = jam()
    assert extras(facts) == [
        "prepared with 42 g of fruit per 100 g",
        "total sugar content: 63 g per 100 g",
    ]
    assert text_of("ingredients", facts) == "Ingredients: sugar, strawberries"
    assert faults(facts, as_printed(facts)) == []


def test_case_61_the_fruit_statement_is_of_prepared_fruit():
    # 5 400 g to 9 000 g: 60 g (Directive 2001/113/EC, Art. 2(3); SI 2003/3120, reg. 5(2)(b) [R])
    facts = jam(of("plums", 5400), name="Plum jam", finished_g=9000)
    assert extras(facts)[0] == "prepared with 60 g of fruit per 100 g"


def test_case_62_a_jelly_counts_its_extract_without_the_water():
    # 425 g/kg, so 42.5 g per 100 g; 42 or 43 are both fair
    extract = of("damson extract", 2600, extraction_water_g=Decimal(900))
    facts = jam(extract, name="Damson jelly", finished_g=4000)
    assert fruit_g_per_100_g(facts) == Decimal("42.5")
    assert extras(facts)[0] == "prepared with 43 g of fruit per 100 g"


def test_the_statement_goes_back_to_the_fruit_that_gave_the_puree():
    puree = of("plum puree", 500, fruit_from_g=Decimal(620))
    assert extras(jam(puree, name="Plum jam"))[0] == "prepared with 62 g of fruit per 100 g"


def test_case_76_there_is_no_end_at_a_hundred():
    facts = jam(of("damsons", 1300), name="Damson jam")
    assert extras(facts)[0] == "prepared with 130 g of fruit per 100 g"


def test_case_63_the_total_sugar_is_the_reading():
    assert extras(jam(solids="63.4"))[1] == "total sugar content: 63 g per 100 g"


def test_the_sugar_statement_falls_away_only_with_a_claim_and_a_full_table():
    # reg. 5(2)(c) [R]; our reading: the row of sugars alone is no claim
    assert len(extras(jam(shows_nutrition=True))) == 2
    assert len(extras(jam(claims=("reduced sugar",), solids="45"))) == 2
    both = jam(claims=("reduced sugar",), solids="45", shows_nutrition=True)
    assert extras(both) == ["prepared with 42 g of fruit per 100 g"]


def test_no_reading_no_label():
    facts = jam(solids=None)
    assert "the_sugar_statement_can_be_made" in faults(facts)
    assert extras(facts) == ["prepared with 42 g of fruit per 100 g"]


@pytest.mark.parametrize(
    ("market", "act", "fruit", "sugar"),
    [
        ("gb-eng", "SI 2003/3120", "reg. 5(2)(b)", "reg. 5(2)(c)"),
        ("gb-wls", "WSI 2018/274", "reg. 6", "reg. 7"),
        ("gb-sct", "SSI 2004/133", "reg. 5(2)(b)", "reg. 5(2)(c)"),
    ],
)
def test_each_nation_is_cited_by_its_own_act(market, act, fruit, sugar):
    from labels import law
    from tests.labels.law.gb.builders import TODAY

    found = [p for p in law.particulars(jam(market=market), on=TODAY) if p.kind == "extra"]
    assert [p.citation.provision for p in found] == [fruit, sugar]
    assert all(act in p.citation.act.title and p.same_field for p in found)
    assert {p.citation.mark for p in found} == {"from memory" if market == "gb-sct" else "read"}
    (refused, *_) = by_rule("a_reserved_name_is_earned", jam(market=market, solids="58"))
    assert act in refused.citation.act.title


@pytest.mark.parametrize(
    ("on", "act"),
    [(date(2018, 3, 25), "WSI 2004/553"), (date(2018, 3, 26), "WSI 2018/274")],
)
def test_wales_has_its_present_act_from_26_march_2018(on, act):
    # WSI 2018/274, reg. 1(3) and reg. 11 [R]; that the act before it read alike (from memory)
    (found, *_) = by_rule("a_reserved_name_is_earned", jam(market="gb-wls", solids="58"), on=on)
    assert act in found.citation.act.title


@pytest.mark.parametrize(("grams", "is_refused"), [("349", True), ("350", False)])
def test_sch_1_a_name_that_is_not_earned_stops_printing(grams, is_refused):
    facts = jam(of("strawberries", grams))
    assert ("a_reserved_name_is_earned" in faults(facts)) is is_refused


def test_case_67_58_degrees_is_no_jam():
    (found,) = by_rule("a_reserved_name_is_earned", jam(solids="58"))
    assert "58 % soluble solids" in found.message
    assert found.stops_printing


def test_case_72_lemon_cheese_of_thirty_grams_of_fat_is_refused():
    contents = (("fat", Decimal(30)), ("egg yolk solids", Decimal(7)))
    facts = jam(of("lemon juice", 300), name="Lemon cheese", solids="66",
                contents_g_per_kg=contents)  # fmt: skip
    (found,) = by_rule("a_reserved_name_is_earned", facts)
    assert "30 g of fat per kg; it needs 40 g" in found.message
    assert extras(facts) == []


def test_case_73_damson_cheese_follows_the_general_rules_only():
    facts = jam(of("damson puree", 700), name="Damson cheese", solids="70")
    assert faults(facts) == []
    assert extras(facts) == []
    assert "damson puree (70 %)" in text_of("ingredients", facts)


@pytest.mark.parametrize(
    ("name", "is_lawful"),
    [
        # case 71: three fruits (Directive 2001/113/EC, Art. 2(2) [R])
        ("Plum, apple and pear jam", True), ("Mixed fruit jam", True), ("Three fruit jam", True),
        ("Apple, plum and pear jam", False), ("Plum and apple jam", False), ("Jam", False),
        ("Four fruit jam", False),
    ],
)  # fmt: skip
def test_case_71_the_name_tells_the_fruits_or_that_they_are_many(name, is_lawful):
    facts = jam(of("plums", 300), of("apples", 200), of("pears", 100), name=name)
    assert (not by_rule("the_name_tells_the_fruits", facts)) is is_lawful


def test_two_fruits_are_both_named():
    facts = jam(of("plums", 300), of("apples", 200), name="Mixed fruit jam")
    assert by_rule("the_name_tells_the_fruits", facts)


@pytest.mark.parametrize(
    ("so2", "word", "is_fine"),
    [
        # case 69: 12 mg/kg (reg. 5(1)(b) [R]); 500 g x 24 mg/kg = 12 mg in 1 kg
        ("24", "sulphites", False), ("24", "sulphur dioxide", True), ("20", "sulphites", True),
        ("20.1", "sulphites", False),
    ],
)  # fmt: skip
def test_case_69_the_residue_is_listed_as_sulphur_dioxide(so2, word, is_fine):
    facts = jam(of("plums", 500, sulphite_mg_per_kg=so2, allergens={"sulphites": word}),
                name="Plum jam")  # fmt: skip
    found = by_rule("sulphur_dioxide_is_listed_by_that_name", facts)
    assert (not found) is is_fine
    listed = text_of("ingredients", facts)
    assert ("sulphur dioxide" in listed) is (word == "sulphur dioxide")


def test_a_residue_nobody_named_goes_by_the_name_the_jam_law_wants():
    assert "sulphur dioxide" in text_of(
        "ingredients", jam(of("plums", 500, sulphite_mg_per_kg=24), name="Plum jam")
    )


def test_chia_takes_a_pan_out_of_the_name():
    # Sch. 2 lists what else may go in [R]
    facts = jam(of("strawberries", 420), used("chia seed", 30), used("pectin", 5))
    (found,) = by_rule("nothing_else_is_in_the_pan", facts)
    assert "chia seed" in found.message


def test_a_spread_that_has_earned_the_name_is_told_so():
    facts = jam(of("strawberries", 420), name="Strawberry spread")
    assert [f.level for f in by_rule("what_is_jam_is_called_jam", facts)] == ["for information"]
    assert by_rule("what_is_jam_is_called_jam", jam(solids="59", name="Strawberry spread")) == []


def test_a_relish_with_a_customary_name_is_looked_at_and_not_refused():
    facts = jam(used("chillies", 100), name="Chilli jam", solids="50")
    assert "a_reserved_name_is_earned" not in faults(facts)
    assert by_rule("a_reserved_name_is_earned", facts)
    assert extras(facts) == []


def test_a_reserved_word_inside_a_name_is_looked_at():
    found = by_rule("a_reserved_word_elsewhere_is_looked_at", jam(name="Strawberry jam tart"))
    assert [f.level for f in found] == ["look at this"]


@pytest.mark.parametrize(
    ("way_of_sale", "count"), [("prepacked", 2), ("direct", 2), ("loose", 0), ("on request", 0)]
)
def test_the_statements_go_on_a_pack_and_not_on_loose_jam(way_of_sale, count):
    facts = jam(way_of_sale=way_of_sale)
    assert len(extras(facts)) == count
    assert len(by_rule("the_sugar_statement_can_be_made", facts)) == (1 if count else 0)
    assert by_rule("a_reserved_name_is_earned", jam(way_of_sale=way_of_sale, solids="58"))
