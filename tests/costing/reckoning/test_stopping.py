"""The five ways to say when a pan is done."""

from dataclasses import replace
from decimal import Decimal

import pytest

from costing.reckoning.book import (
    BOIL_DOWN,
    BRIX,
    FINAL_WEIGHT,
    READING,
    RISE,
    SHARE,
    CookRecord,
    KitchenRecord,
)
from costing.reckoning.cook import balance
from costing.reckoning.errors import ReckoningError
from tests.costing.reckoning.builders import a_food, boil_to, in_pan, sugar

D = Decimal
AT_SEA = KitchenRecord(altitude_m=D(0))
SYRUP = [
    in_pan(sugar(), 1000),
    in_pan(a_food(3, "Water", brix=D(0)), 1000),
]
PASTE = [in_pan(a_food(insoluble_pct=D("1.8")), 2000), in_pan(sugar(), 1400)]


def stop(form, value, **cook):
    return CookRecord(kind=BOIL_DOWN, stop_form=form, stop_value=D(value), **cook)


def test_maple_syrup_is_66_brix_at_7_1_fahrenheit_above_boiling_water():
    # A syrup of nearly pure sucrose is finished at 66 Brix, 7.1 F (3.94 K) above that day's
    # boiling water: maple producers' finishing rule, a trade rule good to about 0.15 K.
    mass = balance(SYRUP, cook=stop(RISE, "3.94", inverted_pct=D(0)), kitchen=AT_SEA)
    assert abs(mass.finishing_brix - 66) < D("0.5")


def test_jam_stops_4_5_to_5_degrees_above_water_at_any_altitude():
    # Practical Action, "Jams" brief: end point = boiling water + 4.5 to 5 C, about 65-68 %.
    for altitude in (0, 1000, 2000):
        kitchen = KitchenRecord(altitude_m=D(altitude))
        low, high = (
            balance(PASTE, cook=stop(RISE, rise), kitchen=kitchen).finishing_brix
            for rise in ("4.5", "5")
        )
        assert 63 < low < high < 68


def test_all_five_forms_describe_the_same_pan():
    mass = balance(PASTE, cook=boil_to(66, water_reading_c=D("100.5")), kitchen=AT_SEA)
    share = mass.pot_g * 100 / mass.ingoing_g
    for form, value in (
        (READING, mass.reading_c),
        (RISE, mass.rise_k),
        (BRIX, mass.finishing_brix),
        (FINAL_WEIGHT, mass.pot_g),
        (SHARE, share),
    ):
        cook = stop(form, value, inverted_pct=D(0), water_reading_c=D("100.5"))
        same = balance(PASTE, cook=cook, kitchen=AT_SEA)
        # Temperatures are kept to 0.0001 K, which is 0.0004 Brix.
        assert abs(same.finishing_brix - 66) < D("0.001")
        assert abs(same.pot_g - mass.pot_g) < D("0.05")
        assert abs(same.reading_c - mass.reading_c) < D("0.0005")


def test_the_thermometers_own_error_drops_out():
    honest = balance(PASTE, cook=stop(READING, "104.5", water_reading_c=D("99.97")), kitchen=AT_SEA)
    high = balance(PASTE, cook=stop(READING, "105.5", water_reading_c=D("100.97")), kitchen=AT_SEA)
    assert honest.pot_g == high.pot_g


def test_the_kitchens_reading_counts_when_the_recipe_has_none():
    kitchen = replace(AT_SEA, water_reading_c=D("100.5"))
    mass = balance(PASTE, cook=boil_to(66), kitchen=kitchen)
    assert mass.reading_c == D("100.5") + mass.rise_k
    assert not any("not known" in said for said in mass.cautions)


def test_without_a_reading_in_boiling_water_the_altitude_is_taken_and_said():
    kitchen = KitchenRecord(altitude_m=D(1000))
    mass = balance(PASTE, cook=stop(READING, "102"), kitchen=kitchen)
    # ISO 2533 and IAPWS-IF97: water boils at 96.65 C at 1000 m.
    assert round(mass.water_boils_c, 2) == D("96.65")
    assert any("96.6 °C at 1000 m is taken" in said for said in mass.cautions)


# Pair: 1.0 K off is accepted in silence, 1.1 K is said, more than 10 K is refused.
@pytest.mark.parametrize(
    ("reading", "is_said"), [("100.96", False), ("101.09", True), ("98.99", False), ("98.8", True)]
)
def test_a_thermometer_that_is_off_is_mentioned(reading, is_said):
    mass = balance(PASTE, cook=boil_to(66, water_reading_c=D(reading)), kitchen=AT_SEA)
    assert any("taken into account" in said for said in mass.cautions) is is_said


def test_what_cannot_be_boiling_water_is_refused():
    with pytest.raises(ReckoningError, match=r"cannot be: water boils at 100\.0 °C") as no:
        balance(PASTE, cook=boil_to(66, water_reading_c=D(212)), kitchen=AT_SEA)
    assert no.value.field == "water_reading_c"


# Pairs at the edges of the model.
@pytest.mark.parametrize(
    ("brix", "trust", "is_said"), [("80", "sound", False), ("80.1", "indicative", True)]
)
def test_above_80_brix_temperatures_are_only_indicative(brix, trust, is_said):
    mass = balance(PASTE, cook=boil_to(brix), kitchen=AT_SEA)
    assert mass.reliability == trust
    assert any("only indicative" in said for said in mass.cautions) is is_said


@pytest.mark.parametrize(("brix", "is_said"), [("60", False), ("59.9", True)])
def test_below_60_brix_sugar_alone_does_not_keep_it(brix, is_said):
    mass = balance(PASTE, cook=boil_to(brix), kitchen=AT_SEA)
    assert any("does not keep it" in said for said in mass.cautions) is is_said


def test_85_brix_is_the_last_that_is_worked_out():
    assert balance(PASTE, cook=boil_to(85), kitchen=AT_SEA).finishing_brix == 85
    with pytest.raises(ReckoningError, match=r"85\.1 Brix lies above 85 Brix"):
        balance(PASTE, cook=boil_to("85.1"), kitchen=AT_SEA)


@pytest.mark.parametrize(
    ("form", "value", "says"),
    [
        (BRIX, "0", "above zero"),
        (BRIX, "-66", "above zero"),
        (BRIX, "NaN", "above zero"),
        (BRIX, "1000000000000", "above 85 Brix"),
        (BRIX, "0.001", "already stands at"),
        (BRIX, "1E-999999", "above zero"),
        # 0.125 x 1964 + 1400 = 1645.5 of 3364 g of liquid: 48.9 Brix.
        (BRIX, "40", "already stands at 48.9 Brix; 40 Brix would need"),
        (READING, "99.9", "not above boiling water, which is 99.97 °C"),
        (READING, "66", "not above boiling water"),
        (READING, "130", "above 85 Brix"),
        (READING, "1000000", "above 85 Brix"),
        (RISE, "0", "above zero"),
        (RISE, "-5", "above zero"),
        (RISE, "104.5", "above 85 Brix"),
        (RISE, "0.5", "already stands at"),
        (FINAL_WEIGHT, "1" + "0" * 40, "more than"),
        (FINAL_WEIGHT, "3401", "more than the 3400 g that went in"),
        (FINAL_WEIGHT, "1000", "less than the 1681.5 g of solids"),
        (FINAL_WEIGHT, "1900", "above 85 Brix"),
        (SHARE, "101", "boiling only takes away"),
        (SHARE, "30", "of solids that went in"),
        ("colour", "5", "not a way to say when to stop"),
    ],
)
def test_stops_that_cannot_be_are_refused_in_a_sentence(form, value, says):
    with pytest.raises(ReckoningError) as refused:
        balance(PASTE, cook=stop(form, value, inverted_pct=D(0)), kitchen=AT_SEA)
    assert says in str(refused.value)
    assert refused.value.field in {"stop_value", "stop_form"}


def test_a_kitchen_above_the_models_reach_still_cooks_by_brix():
    high = KitchenRecord(altitude_m=D(5200))
    mass = balance(PASTE, cook=boil_to(66), kitchen=high)
    assert mass.reading_c is None
    assert any("No temperature can be told" in said for said in mass.cautions)
    with pytest.raises(ReckoningError, match="air pressure") as refused:
        balance(PASTE, cook=stop(RISE, "5"), kitchen=high)
    assert refused.value.field == "altitude_m"


def test_the_sugars_of_fruit_are_said_to_be_assumed_only_when_they_are():
    mass = balance(PASTE, cook=boil_to(66), kitchen=AT_SEA)
    assert any("sugars of Damson puree are taken" in said for said in mass.cautions)
    known = a_food(sucrose_share=D("0.2"), hexose_share=D("0.7"), acid_share=D("0.1"))
    mass = balance([in_pan(known, 2000), in_pan(sugar(), 1400)], cook=boil_to(66), kitchen=AT_SEA)
    assert not any("are taken as is usual" in said for said in mass.cautions)
