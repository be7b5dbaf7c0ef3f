"""What another market, way of selling or day changes; figures as the acts have them.

Sources as in the tests of each law: Regulation (EU) No 1169/2011; SI 2003/3120 (jam); SI 2019/1218
(direct sale).
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from labels.services.comparison import Standpoint, what_changes
from tests.labels.law.gb.builders import a_label, used

TODAY = date(2026, 11, 25)
PARTS = (
    used("strawberries", 420, category="fruit"),
    used("sugar", 600, category="sugar"),
    used("cream", 20, allergens={"milk": "cream (milk)"}),
)
JAM = replace(
    a_label(*PARTS, name_of_food="Strawberry jam", finished_g=1000),
    soluble_solids_pct=Decimal(63),
)


def seen(market="gb-eng", way="prepacked", on=TODAY):
    return Standpoint(market, way, on)


def test_england_states_the_sugar_that_the_union_does_not_ask_for():
    # total sugar: SI 2003/3120, reg. 5(2)(c)
    found = what_changes(JAM, before=seen("eu"), after=seen("gb-eng"))
    assert "total sugar content: 63 g per 100 g" in [p.text for p in found.said_now]
    assert found.are_any


def test_the_way_back_is_the_same_change_turned_round():
    there = what_changes(JAM, before=seen("eu"), after=seen("gb-eng"))
    back = what_changes(JAM, before=seen("gb-eng"), after=seen("eu"))
    assert (there.said_now, there.found_now) == (back.said_no_more, back.found_no_more)
    assert (there.said_no_more, there.found_no_more) == (back.said_now, back.found_now)


def test_from_one_standpoint_nothing_changes():
    assert not what_changes(JAM, before=seen(), after=seen()).are_any


def test_england_and_wales_say_the_same_though_each_by_its_own_act():
    found = what_changes(JAM, before=seen("gb-eng"), after=seen("gb-wls"))
    assert not found.said_now
    assert not found.said_no_more


def test_the_day_before_the_list_came_a_stall_said_less():
    # SI 2019/1218: 1 October 2021
    eve, day = date(2021, 9, 30), date(2021, 10, 1)
    found = what_changes(JAM, before=seen(way="direct", on=eve), after=seen(way="direct", on=day))
    assert [p.kind for p in found.said_now] == ["ingredients"]
    assert [p.kind for p in found.said_no_more] == ["allergens"]


def test_a_standpoint_has_a_name_for_people():
    assert seen("gb-sct", "direct").name == (
        "Scotland, packed where it is sold, by the seller, law of 25 November 2026"
    )
