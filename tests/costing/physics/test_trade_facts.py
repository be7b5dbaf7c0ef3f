"""What people who cook fruit into pastes go by, held against the end point that is computed.

Every figure of the trade here is common practice, no source: it says where a model must come out,
not what is true to a tenth.
"""

import pytest

from costing.physics import (
    FRUIT,
    PRESERVE,
    Composition,
    boiling_temperature_c,
    brix_from_pot_mass,
    brix_from_temperature,
    composition_after_inversion,
    cook_down_curve,
    pot_mass_g,
    saturation_ratio,
    soluble_solids_g,
    standard_pressure_pa,
    total_solids_pct,
    water_activity,
    water_bound_g,
)

SEA_LEVEL_PA = 101_325.0
PUREE_G, PUREE_BRIX, FIBRE_G = 2000.0, 12.5, 36.0


def paste(sugar_share, *, inverted=0.25, times=1.0):
    """Soluble solids, fibre and composition of a paste with so much sugar for its puree."""
    fruit_g = soluble_solids_g(
        fruit_g=PUREE_G * times, brix=PUREE_BRIX, insoluble_solids_g=FIBRE_G * times
    )
    sugar_g = PUREE_G * times * sugar_share
    sucrose_g = sugar_g + FRUIT.sucrose * fruit_g
    before = Composition.from_masses(
        sucrose_g=sucrose_g, hexose_g=FRUIT.hexose * fruit_g, acid_g=FRUIT.acid * fruit_g
    )
    bound_g = water_bound_g(sucrose_g=sucrose_g, inverted_share=inverted)
    after = composition_after_inversion(composition=before, inverted_share=inverted)
    return fruit_g + sugar_g + bound_g, FIBRE_G * times, after


def brix_at(temperature_c, composition, *, pressure_pa=SEA_LEVEL_PA):
    return brix_from_temperature(
        temperature_c=temperature_c, pressure_pa=pressure_pa, composition=composition
    )


# Sugar 50 to 100 % of the puree; sets well at 104.5 to 105 C (common practice, no source).
# Brix at both ends, with what 0.1 of hexose moves it by: about 1 (see the test of composition).
@pytest.mark.parametrize("sugar_share", [0.5, 0.7, 1.0])
def test_a_paste_that_sets_well_at_104_5_to_105_c_holds_two_thirds_of_solids(sugar_share):
    soluble_g, fibre_g, composition = paste(sugar_share)
    for temperature_c, low, high in ((104.5, 63.5, 65.5), (105.0, 65.5, 67.5)):
        brix = brix_at(temperature_c, composition)
        assert low < brix < high, (temperature_c, brix)
        pot_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g, brix=brix)
        solids_pct = total_solids_pct(
            pot_mass_g=pot_g, soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g
        )
        assert brix < solids_pct < brix + 1.5  # the fibre, dry, beside its liquid
        # It comes out heavier than its sugar and puree solids, lighter than what went in.
        assert soluble_g + fibre_g < pot_g < PUREE_G * (1 + sugar_share)


@pytest.mark.parametrize("sugar_share", [0.5, 0.7, 1.0])
def test_at_106_to_107_c_it_is_too_firm_and_grains_where_little_was_inverted(sugar_share):
    # Too firm at 106 to 107 C (common practice, no source): 69 to 74 Brix, aw about 0.80 to 0.76.
    _, _, composition = paste(sugar_share)
    for temperature_c, low, high in ((106.0, 69.0, 71.0), (107.0, 71.5, 74.0)):
        brix = brix_at(temperature_c, composition)
        assert low < brix < high, (temperature_c, brix)
        activity = water_activity(brix=brix, temperature_c=20.0, composition=composition)
        assert 0.755 < activity < 0.805
    # The same reading with hardly any sugar inverted: past saturation.
    _, _, plain = paste(sugar_share, inverted=0.02)
    ratio = saturation_ratio(
        brix=brix_at(107.0, plain), sucrose_share=plain.sucrose, temperature_c=20.0
    )
    assert ratio > 1.0


@pytest.mark.parametrize("sugar_share", [0.5, 0.7, 1.0])
def test_below_104_c_it_is_like_jam(sugar_share):
    # Jam-like below 104 C (common practice, no source): under 63 Brix, aw above 0.85.
    _, _, composition = paste(sugar_share)
    brix = brix_at(103.9, composition)
    assert brix < 63
    assert water_activity(brix=brix, temperature_c=20.0, composition=composition) > 0.85


def test_one_percent_of_flavouring_moves_the_end_point_by_less_than_a_thermometer_can_read():
    # Flavouring at 1 % of the puree (common practice, no source): 20 g of plain water at worst,
    # stirred in at the end. 2569 -> 2589 g; 65.84 -> 65.32 Brix; 0.13 K of boiling point.
    soluble_g, fibre_g, composition = paste(0.7)
    brix = brix_at(104.8, composition)
    pot_g = pot_mass_g(soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g, brix=brix)
    thinned = brix_from_pot_mass(
        pot_mass_g=pot_g + PUREE_G / 100, soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g
    )
    assert brix - thinned == pytest.approx(0.52, abs=0.03)
    cooler_c = boiling_temperature_c(
        brix=thinned, pressure_pa=SEA_LEVEL_PA, composition=composition
    )
    assert 104.8 - cooler_c < 0.25  # what is left of a thermometer's error after its check


# --- What must hold whatever the figures ----------------------------------------------------------


@pytest.mark.parametrize("times", [0.1, 0.5, 2.0, 37.0])
def test_a_recipe_so_many_times_larger_ends_at_the_same_brix_and_so_many_times_heavier(times):
    (soluble_g, fibre_g, composition), (more_g, more_fibre_g, same) = (
        paste(0.7),
        paste(0.7, times=times),
    )
    brix, again = brix_at(104.8, composition), brix_at(104.8, same)
    assert again == pytest.approx(brix, rel=1e-9)
    one, many = (
        pot_mass_g(soluble_solids_g=solids_g, insoluble_solids_g=dead_g, brix=brix)
        for solids_g, dead_g in ((soluble_g, fibre_g), (more_g, more_fibre_g))
    )
    assert many == pytest.approx(times * one, rel=1e-9)


@pytest.mark.parametrize("share", [0.05, 1 / 3, 0.5])
def test_a_batch_split_in_two_pans_weighs_together_what_it_weighed(share):
    soluble_g, fibre_g, composition = paste(0.7)
    brix = brix_at(104.8, composition)
    whole, one, other = (
        pot_mass_g(soluble_solids_g=soluble_g * part, insoluble_solids_g=fibre_g * part, brix=brix)
        for part in (1.0, share, 1 - share)
    )
    assert one + other == pytest.approx(whole, rel=1e-9)


def test_nothing_but_water_leaves_along_the_whole_cook():
    soluble_g, fibre_g, composition = paste(0.7)
    curve = cook_down_curve(
        ingoing_g=3440.0, soluble_solids_g=soluble_g, insoluble_solids_g=fibre_g,
        finishing_brix=66.0, pressure_pa=SEA_LEVEL_PA, composition=composition,
    )  # fmt: skip
    solids_g = curve.brix / 100 * (curve.pot_mass_g - fibre_g)
    assert solids_g == pytest.approx(soluble_g, rel=1e-9)
    assert curve.pot_mass_g + curve.water_boiled_off_g == pytest.approx(3440.0, rel=1e-9)


def test_one_reading_is_a_firmer_paste_the_higher_the_kitchen_and_the_less_is_inverted():
    _, _, composition = paste(0.7)
    up = [
        brix_at(104.5, composition, pressure_pa=standard_pressure_pa(altitude_m=altitude_m))
        for altitude_m in (-100.0, 0.0, 250.0, 500.0, 1000.0, 2000.0)
    ]
    assert up == sorted(set(up))
    by_inversion = [brix_at(104.5, paste(0.7, inverted=part)[2]) for part in (0.0, 0.2, 0.5, 0.9)]
    assert by_inversion == sorted(set(by_inversion), reverse=True)
    assert brix_at(104.5, PRESERVE) == pytest.approx(64.1, abs=0.1)  # what is assumed of no recipe
