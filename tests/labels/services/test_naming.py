"""Which names are lawful where: Directive 2001/113/EC [R] as changed from 14 June 2026 [N];
SI 2003/3120 (England) and its sister acts [R]; Spain, RD 670/1990 [R].
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from labels.services.naming import names_everywhere, names_in_market
from tests.labels.law.eu.builders import a_label, used

EVE, DAY = date(2026, 6, 13), date(2026, 6, 14)
JAM = replace(
    a_label(
        used("strawberries", 420, category="fruit", called="Strawberries"),
        used("sugar", 600, category="sugar"),
        name_of_food="Strawberry jam",
        finished_g=1000,
    ),
    soluble_solids_pct=Decimal(62),
)


def lawful(facts, on=DAY):
    return {here.where: [v.name for v in here.lawful] for here in names_everywhere(facts, on=on)}


def test_cases_53_54_one_jar_is_jam_in_england_and_not_in_the_union():
    assert lawful(JAM) == {
        "European Union and Northern Ireland": [],
        "England, Wales and Scotland": ["jam"],
    }


def test_the_day_before_all_five_called_it_jam():
    assert set(map(tuple, lawful(JAM, on=EVE).values())) == {("jam",)}


def test_what_is_refused_says_why_and_who_says_so():
    union = names_in_market(JAM, on=DAY)
    (jam,) = [v for v in union.refused if v.name == "jam"]
    assert jam.reasons == ("420 g of fruit per kg; it needs 450 g",)
    assert "2024/1438" in str(jam.citation)
    assert union.bears == replace(jam, shown="")


def test_the_labels_own_market_comes_first():
    first, _ = names_everywhere(replace(JAM, market="gb-wls"), on=DAY)
    assert first.codes == ("gb-wls", "gb-eng", "gb-sct")
    assert "Wales" in str(first.lawful[0].citation)


def test_spain_has_a_name_of_its_own_and_northern_ireland_has_not():
    low = replace(JAM, soluble_solids_pct=Decimal(45), country_of_sale="ES", language="es")
    found = lawful(low)
    assert found["European Union"] == ["mermelada"]
    assert found["Northern Ireland"] == []
    spain = names_in_market(replace(low, soluble_solids_pct=Decimal(62)), on=DAY)
    assert "confitura extra" in [v.shown for v in spain.verdicts]


def test_what_is_not_known_is_neither_lawful_nor_refused():
    unread = replace(JAM, soluble_solids_pct=None)
    for here in names_everywhere(unread, on=EVE):
        assert here.lawful == ()
        assert "jam" in [v.name for v in here.not_known]


def test_a_paste_goes_by_customary_names_and_none_of_them_is_reserved():
    assert names_in_market(JAM, on=DAY).customary == (
        "Strawberry paste", "Strawberry cheese", "Strawberry butter", "Strawberry spread",
    )  # fmt: skip
    # SI 2003/3120, Sch. 1, item 9: lemon cheese is reserved in Great Britain alone
    lemon = replace(
        a_label(used("lemons", 500, category="fruit"), finished_g=1000), market="gb-eng"
    )
    assert "Lemon cheese" not in names_in_market(lemon, on=DAY).customary
    assert "Lemon cheese" in names_in_market(replace(lemon, market="eu"), on=DAY).customary


def test_without_fruit_no_name_is_in_question():
    caramel = a_label(used("milk", 900), used("sugar", 400, category="sugar"))
    here = names_in_market(caramel, on=DAY)
    assert (here.verdicts, here.customary, here.bears) == ((), (), None)


def test_the_fruit_is_told_by_kind_in_a_kilo_of_the_finished_food():
    facts = a_label(
        used("plums", 600, category="fruit"), used("plums", 200, category="fruit"),
        used("lemon juice", 40, category="fruit"), used("sugar", 900, category="sugar"),
        finished_g=1600,
    )  # fmt: skip
    here = names_in_market(facts, on=DAY)
    assert here.fruit == (("plums", Decimal(500)), ("lemon juice", Decimal(25)))
    assert names_in_market(replace(facts, finished_g=None), on=DAY).fruit == ()


def test_customary_names_that_hold_everywhere_are_said_once():
    first, *others = names_everywhere(JAM, on=DAY)
    assert "Strawberry paste" in first.customary
    assert all(here.customary == () for here in others)


def test_two_fruits_are_both_named_three_are_fruit_and_a_squeeze_of_lemon_is_not():
    def called(*fruits):
        parts = [used(name, grams, category="fruit") for name, grams in fruits]
        return names_in_market(a_label(*parts, finished_g=900), on=DAY).customary[0]

    assert called(("apples", 300), ("pears", 400), ("lemon juice", 30)) == "Pear and apple paste"
    assert called(("apples", 300), ("pears", 400), ("plums", 300)) == "Fruit paste"
    assert called(("damsons", 500), ("lemon juice", 50)) == "Damson and lemon juice paste"
    assert called(("damsons", 500), ("lemon juice", 49)) == "Damson paste"
