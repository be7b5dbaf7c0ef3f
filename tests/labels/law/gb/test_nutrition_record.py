"""The record of a declaration in Great Britain; thresholds as in the tests of its values [2]."""

from decimal import Decimal

from labels import law
from labels.facts import Nutrition
from tests.labels.law.gb.builders import a_label


def test_each_amount_stands_exact_as_printed_and_with_what_a_control_lets_stand():
    # case 86, and the range of 65 g: plus or minus 8 g
    grams = {"fat": "0.2", "saturates": "0.05", "carbohydrate": "72", "sugars": "65",
             "fibre": "2.5", "protein": "0.4", "salt": "0.01"}  # fmt: skip
    nutrition = Nutrition(per_100_g=tuple((name, Decimal(g)) for name, g in grams.items()))
    facts = a_label(shows_nutrition=True, nutrition=nutrition)
    found = {row.name: row for row in law.nutrition_record(facts)}
    assert found["energy"].exact == "1258.2 kJ, 296.4 kcal"
    assert (found["sugars"].shown, found["sugars"].control) == ("65 g", "57 to 73 g")
    assert (found["fat"].exact, found["fat"].shown) == ("0.2 g", "<0.5 g")
    assert law.nutrition_record(a_label(nutrition=None)) == ()
    assert "second-hand" in law.nutrition_sources(facts)
