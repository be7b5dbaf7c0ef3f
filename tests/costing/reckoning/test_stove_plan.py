"""What a pan is known to be before anything is read: its air, its water, its solids."""

from decimal import Decimal

import pytest

from costing.reckoning.book import KitchenRecord
from costing.reckoning.stove_plan import (
    fruit_off_share,
    has_vinegar,
    pressure_pa,
    say,
    solids_with,
    temperature_sd_k,
    water_boils_c,
    water_reads_c,
)
from tests.costing.reckoning.stove_pans import changed, damson, strawberry

D = Decimal


@pytest.mark.parametrize(("metres", "hpa"), [(0, 1013.25), (500, 954.61), (2000, 794.95)])
def test_the_air_is_that_of_the_altitude(metres, hpa):
    # ISO 2533:1975, standard atmosphere
    plan = changed(damson(), kitchen=KitchenRecord(altitude_m=D(metres)))
    assert pressure_pa(plan) / 100 == pytest.approx(hpa, abs=0.01)


def test_water_boils_lower_in_a_high_kitchen():
    # IAPWS-IF97: 99.974 C at 1013.25 hPa, 93.315 C at 794.95 hPa
    high = changed(damson(), kitchen=KitchenRecord(altitude_m=D(2000)))
    at_sea = changed(damson(), kitchen=KitchenRecord(altitude_m=D(0)))
    assert float(water_boils_c(at_sea)) == pytest.approx(99.974, abs=0.01)
    assert float(water_boils_c(high)) == pytest.approx(93.315, abs=0.01)


def test_a_thermometer_that_was_held_in_boiling_water_is_believed_over_the_altitude():
    assert water_reads_c(changed(damson(), water_reading_c=D("98.7"))) == D("98.7")


def test_sugar_put_in_later_adds_to_the_solids_gram_for_gram():
    plan = strawberry()
    more = solids_with(plan, sugar_g=D(100))
    assert more.soluble_g - solids_with(plan).soluble_g == 100


def test_vinegar_is_known_by_its_name():
    assert has_vinegar(changed(damson(), names=("Tomatoes", "Cider vinegar")))
    assert not has_vinegar(changed(damson(), names=("Damsons",)))


def test_measured_fruit_is_doubted_less():
    guessed = changed(damson(), fruit_brix_is_measured=False)
    measured = changed(damson(), fruit_brix_is_measured=True)
    assert fruit_off_share(measured) < fruit_off_share(guessed)


def test_figures_in_sentences_are_short():
    assert say(D("30.00")) == "30"


def test_a_checked_thermometer_is_known_to_a_quarter_degree_and_another_to_three_quarters():
    # Judgement: 0.25 K after reading boiling water in the same pan that day, else 0.5 to 1 K; an
    # unevenly hot pot 0.2 K; model and composition 0.3 K; weather 8 hPa x 0.0276 K/hPa = 0.22 K.
    checked = temperature_sd_k(changed(damson(), water_reading_c=D("99.8")))
    assert checked["thermometer"] == pytest.approx(0.3202, abs=1e-4)  # sqrt(0.25^2 + 0.2^2)
    assert (checked["model"], checked["weather"]) == (0.3, 0.0)
    unchecked = temperature_sd_k(changed(damson(), water_reading_c=None, report_hpa=None))
    assert unchecked["thermometer"] == pytest.approx(0.7762, abs=1e-4)  # sqrt(0.75^2 + 0.2^2)
    assert unchecked["weather"] == pytest.approx(8 * 0.0276, abs=0.03)
