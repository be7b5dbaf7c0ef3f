"""The record of a declaration; thresholds as in the tests of its values [2]."""

from labels import law
from tests.labels.law.eu.test_nutrition import a_declared_label, declared


def record(**grams):
    found = law.nutrition_record(a_declared_label(nutrition=declared(**grams)))
    return {row.name: row for row in found}


def test_each_amount_stands_exact_as_printed_and_with_what_a_control_lets_stand():
    # case 86, and the range of 65 g: plus or minus 8 g
    found = record()
    assert found["energy"].exact == "1258.2 kJ, 296.4 kcal"
    assert found["energy"].shown == "1258 kJ/296 kcal"
    assert (found["sugars"].shown, found["sugars"].control) == ("65 g", "57 to 73 g")
    assert (found["fat"].exact, found["fat"].shown) == ("0.2 g", "<0.5 g")
    assert "0.5 g or less is nearly none" in found["fat"].rounding


def test_what_is_left_out_says_so():
    assert record(fibre="0.5")["fibre"].shown == "left out"
    assert record(fibre="0.51")["fibre"].shown == "0.5 g"
    assert "polyols" not in record()
    assert record(polyols=5)["polyols"].shown == "5 g"


def test_nothing_known_gives_no_record_and_the_sources_are_marked():
    assert law.nutrition_record(a_declared_label(nutrition=None)) == ()
    assert "second-hand" in law.nutrition_sources(a_declared_label())
