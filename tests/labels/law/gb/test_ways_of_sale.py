"""Ways of sale: each nation's Food Information Regulations 2014, regs 5 to 7 [R for England].

The full list on food packed for direct sale came on 1 October 2021: SI 2019/1218 [R],
WSI 2020/295 [R], SSI 2021/70 (its explanatory note [R]).
"""

from datetime import date

import pytest

from labels import law
from tests.labels.law.gb.builders import TODAY, a_label, as_printed, by_rule, faults, used

EVE, DAY = date(2021, 9, 30), date(2021, 10, 1)


def caramels(way_of_sale, **changed):
    milky = used("milk", 900, allergens={"milk": "milk"}), used("sugar", 400, category="sugar")
    return a_label(
        *milky, **{"name_of_food": "Caramels", "finished_g": 1000, "way_of_sale": way_of_sale,
                   **changed}
    )  # fmt: skip


def due(facts, *, on=TODAY):
    """The statements that are asked for, those that are voluntary left out."""
    found = law.particulars(facts, on=on)
    return {p.kind for p in found if "not asked for here" not in p.citation.provision}


@pytest.mark.parametrize("market", ["gb-eng", "gb-wls", "gb-sct"])
@pytest.mark.parametrize(
    ("on", "kinds"),
    [
        (EVE, {"name", "net_quantity", "allergens"}),
        (DAY, {"name", "net_quantity", "ingredients"}),
    ],
)
def test_direct_sale_carries_the_whole_list_from_1_october_2021(market, on, kinds):
    facts = caramels("direct", market=market)
    assert due(facts, on=on) == kinds
    text = {p.kind: p.text for p in law.particulars(facts, on=on)}
    if on == DAY:
        assert text["ingredients"] == "Ingredients: milk, sugar"
    else:
        assert text["allergens"] == "Contains: milk"


@pytest.mark.parametrize(
    ("market", "act"),
    [("gb-eng", "SI 2019/1218"), ("gb-wls", "WSI 2020/295"), ("gb-sct", "SSI 2021/70")],
)
def test_each_nation_has_its_own_act_of_one_day(market, act):
    facts = caramels("direct", market=market)
    (found,) = by_rule("food_for_direct_sale_carries_name_and_list", facts)
    assert found.citation.act.title == act
    assert found.level == "look at this"


def test_what_was_given_beyond_the_duty_is_printed_and_said_to_be_voluntary():
    facts = caramels("direct")
    beyond = {p.kind for p in law.particulars(facts, on=TODAY)} - due(facts)
    assert beyond == {"date", "storage", "operator", "lot"}
    # a voluntary statement without room stops nothing
    printed = as_printed(facts)
    without = type(printed)(blocks=tuple(b for b in printed.blocks if b.kind not in beyond))
    assert faults(facts, without) == []


@pytest.mark.parametrize("way_of_sale", ["loose", "on request"])
def test_loose_and_packed_on_request_tell_name_and_allergens(way_of_sale):
    # regs 5 and 6
    facts = caramels(way_of_sale)
    assert due(facts) == {"name", "allergens"}
    assert faults(facts, as_printed(facts)) == []
    (found,) = by_rule("loose_food_tells_name_and_allergens", facts)
    assert "notice" in found.hint


@pytest.mark.parametrize(("surface", "has_list"), [("9.9", False), ("10", True)])
def test_cases_5_6_under_ten_square_centimetres_the_list_falls_away_and_the_name_stays(
    surface, has_list
):
    # Regulation (EU) No 1169/2011, Art. 16(2), through reg. 5A
    kinds = due(caramels("direct", largest_surface_cm2=surface))
    assert ("ingredients" in kinds) is has_list
    assert ("allergens" in kinds) is not has_list
    assert "name" in kinds


def test_a_jam_for_direct_sale_keeps_the_statements_of_the_jam_law():
    # official guidance [N]
    from decimal import Decimal

    fruit, sugar = used("plums", 500, category="fruit"), used("sugar", 600, category="sugar")
    facts = a_label(
        fruit, sugar, name_of_food="Plum jam", finished_g=1000, way_of_sale="direct",
        soluble_solids_pct=Decimal(63),
    )  # fmt: skip
    assert due(facts) == {"name", "net_quantity", "ingredients", "extra"}
    assert faults(facts, as_printed(facts)) == []


def test_a_way_that_nobody_knows_is_named():
    assert "the_way_of_selling_is_known" in faults(caramels("on the moon"))
    assert by_rule("the_way_of_selling_is_known", caramels("prepacked")) == []


def test_before_october_2021_the_allergens_could_be_told_by_word_of_mouth():
    name = "food_for_direct_sale_told_its_allergens_like_loose_food"
    assert by_rule(name, caramels("direct"), on=EVE)
    assert name not in {rule.name for rule in law.rules_in_force("gb-eng", on=DAY)}
