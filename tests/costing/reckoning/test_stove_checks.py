"""What is asked at the stove instead of believed: tares, Fahrenheit, hot drops, weather."""

from decimal import Decimal

import pytest

from costing.reckoning.book import KitchenRecord
from costing.reckoning.stove import (
    air_pressure,
    now,
    target,
)
from tests.costing.reckoning.stove_pans import (
    at,
    changed,
    damson,
    hot,
    lens,
    put_in,
    strawberry,
    weighed,
)

D = Decimal
PLAN = damson()
JAM = strawberry()


def state(*events, plan=PLAN, minutes=0):
    return now(plan, events, at=at(minutes))


def asked(*events, plan=JAM):
    found = state(*events, plan=plan)
    assert found.asks, "nothing was asked"
    return found, found.asks[0]


def test_a_forgotten_tare_is_found_and_the_weight_offered_without_the_pan():
    # 3200 g on a scale said to be zeroed: more than the 2000 g that went in; 3200 - 1500 = 1700.
    found, ask = asked(weighed(3200, tare=None))

    assert ask.about == "tare"
    assert ask.suggestion.tare_g == D(1500)
    assert "1700 g" in ask.sentence
    assert found.brix is None
    assert state(ask.suggestion, plan=JAM).brix is not None


def test_a_pan_taken_off_twice_is_found_too():
    # 1700 - 1500 = 200 g is less than the solids; without the tare 1700 g fit.
    _, ask = asked(weighed(1700))
    assert ask.about == "tare"
    assert ask.suggestion.tare_g is None


def test_a_forgotten_tare_that_could_be_food_is_found_by_the_thermometer():
    # A light pan of 250 g: 1679 + 250 = 1929 g could be food (56.5 Brix), but 103.92 C is 65 Brix.
    plan = changed(JAM, pan_tare_g=D(250))
    found = state(weighed(1929, tare=None), hot("103.92"), plan=plan)

    assert [ask.about for ask in found.asks] == ["tare"]
    assert found.asks[0].suggestion.tare_g == D(250)
    assert [one.kind for one in found.estimates] == ["temperature"]
    assert not state(weighed(1929, tare=None), hot("102.4"), plan=plan).asks


def test_vinegar_leaves_the_thermometer_out():
    found = state(hot("103.9"), plan=changed(JAM, names=("Cider vinegar",)))
    assert found.brix is None
    assert "finish by weight" in found.notes[0]


@pytest.mark.parametrize(
    ("gross", "about"),
    # Solids 1098.4 g; went in 2000 g, a scale's hundredth allowed. 2580: without tare 2580 > 2020.
    [(2580, "below solids"), (3700, "above ingoing")],
)
def test_a_weight_below_the_solids_or_above_what_went_in_is_asked(gross, about):
    assert asked(weighed(gross))[1].about == about


@pytest.mark.parametrize(("gross", "is_asked"), [(3519, False), (3521, True)])
def test_what_went_in_may_be_overrun_by_a_hundredth(gross, is_asked):
    assert bool(state(weighed(gross), plan=JAM).asks) is is_asked


def test_before_anything_is_weighed_in_no_weight_is_called_too_much():
    empty = changed(JAM, ingoing_g=D(0), solids=None)
    assert not [ask for ask in state(weighed(3200), plan=empty).asks if ask.event is not None]


def test_a_pan_that_grows_heavier_asks_what_was_put_in():
    assert asked(weighed(3300), weighed(3400, minutes=5))[1].about == "heavier"
    noted = (weighed(3300), put_in("water", 150, minutes=2), weighed(3400, minutes=5))
    assert not state(*noted, plan=JAM).asks


def test_fahrenheit_in_a_celsius_box_is_asked_and_converted():
    # (219 - 32) / 1.8 = 103.9.
    found, ask = asked(hot(219))
    assert ask.about == "fahrenheit"
    assert ask.suggestion.value == D("103.9")
    assert found.brix is None


@pytest.mark.parametrize(
    ("read", "about"), [("99.6", "below water"), ("130.1", "too hot"), ("150", "too hot")]
)
def test_a_temperature_no_preserve_has_is_asked(read, about):
    assert asked(hot(read))[1].about == about


def test_a_pan_hardly_above_boiling_water_tells_nothing_and_is_no_fault():
    found = state(hot("99.8"), plan=JAM)
    assert not found.asks
    assert "tells little" in found.notes[0]


@pytest.mark.parametrize(("sample", "about"), [("30.1", "read hot"), ("80", "read hot")])
def test_a_hot_drop_is_not_used(sample, about):
    found, ask = asked(lens(62, sample=sample))
    assert ask.about == about
    assert found.brix is None


def test_a_drop_of_30_degrees_is_still_used():
    assert state(lens(62, sample="30"), plan=JAM).brix is not None


def test_unknown_solids_leave_the_thermometer():
    found = state(weighed(3200), hot("104.9"), plan=changed(PLAN, solids=None))
    assert found.brix is not None
    assert found.water_to_go_g is None


def test_a_weather_report_is_kept_as_what_it_is_and_lowers_the_boiling_point():
    hill = KitchenRecord(altitude_m=D(1000))
    hpa, ask = air_pressure(hill, hpa=D(1003))
    assert (hpa, ask) == (D(1003), None)
    low, standard = (
        target(damson(kitchen=hill, water_reading_c=None, report_hpa=one)).water_reads_c
        for one in (hpa, None)
    )
    # 10.25 hPa below standard, 0.887 of it up here; 0.030 K per hPa there: 0.28 K.
    assert float(standard - low) == pytest.approx(0.28, abs=0.02)


def test_a_report_entered_as_measured_in_a_high_kitchen_is_refused():
    # ISO 2533:1975: 898.75 hPa at 1000 m.
    hpa, ask = air_pressure(KitchenRecord(altitude_m=D(1000)), hpa=D(1013), is_local=True)
    assert hpa is None
    assert "reduced to sea level" in ask.sentence


def test_a_pressure_measured_in_the_kitchen_is_turned_into_its_report():
    # 898.75 hPa at 1000 m is 1013.25 at sea level.
    hpa, _ = air_pressure(KitchenRecord(altitude_m=D(1000)), hpa=D("898.75"), is_local=True)
    assert float(hpa) == pytest.approx(1013.25, abs=0.05)


@pytest.mark.parametrize(("metres", "typed"), [(1000, "899"), (0, "760"), (0, "29.92")])
def test_a_figure_that_is_no_report_is_asked_about(metres, typed):
    hpa, ask = air_pressure(KitchenRecord(altitude_m=D(metres)), hpa=D(typed))
    assert hpa is None
    assert ask.about == "pressure"
