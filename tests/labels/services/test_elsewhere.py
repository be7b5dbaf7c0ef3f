"""One lot, two labels: what the law of another place or way of selling adds or takes away.

Sources: SI 2003/3120, reg. 5(2)(c) (total sugar, which the Union dropped on 14 June 2026); SI
2014/1855, reg. 5 and Regulation (EU) No 1169/2011, Art. 44 (food sold loose).
"""

from dataclasses import replace

from labels.services.elsewhere import labels_elsewhere
from tests.labels.services.test_comparison import JAM, seen


def texts(changes):
    return [statement.text for statement in changes.said_now]


def by_place(facts, *, usual):
    found = labels_elsewhere(facts, usual=usual)
    return {(one.after.market, one.after.way_of_sale): one for one in found}


def test_a_jar_for_the_union_needs_another_label_in_england():
    found = by_place(replace(JAM, market="eu"), usual=seen("eu"))
    assert "total sugar content: 63 g per 100 g" in texts(found["gb-eng", "prepacked"])


def test_nations_with_the_same_label_are_told_once():
    found = by_place(replace(JAM, market="eu"), usual=seen("eu"))
    same = [place for place in found if place[0].startswith("gb-") and place[1] == "prepacked"]
    assert same == [("gb-eng", "prepacked")]


def test_sold_loose_much_is_said_no_more():
    found = by_place(replace(JAM, market="gb-eng"), usual=seen("gb-eng"))
    gone = [statement.kind for statement in found["gb-eng", "loose"].said_no_more]
    assert "net_quantity" in gone


def test_the_place_of_the_label_itself_is_not_among_them():
    found = by_place(replace(JAM, market="gb-eng"), usual=seen("gb-eng"))
    assert ("gb-eng", "prepacked") not in found
    assert ("gb-sct", "prepacked") not in found  # reads alike
