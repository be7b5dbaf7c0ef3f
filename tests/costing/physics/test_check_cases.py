"""Numbered check cases of the physics, each with the test that holds it.

Water and air 1-7, water activity 8-14, boiling 15-24 with 16a, mass balance 25-32, density,
refractometer and solubility 33-39, energy 40-43. Sources and marks stand beside each test.
"""

import re
from pathlib import Path

import pytest

CASES = {
    "1": ("air_pressure", "saturation_pressure_is_that_of_if97_table_35"),
    "2": ("air_pressure", "saturation_temperature_is_that_of_if97_table_36"),
    "3": ("air_pressure", "water_boils_just_below_100_c_at_standard_pressure"),
    "4": ("air_pressure", "the_standard_atmosphere_and_where_water_boils_in_it"),
    "5": ("air_pressure", "the_standard_atmosphere_and_where_water_boils_in_it"),
    "6": ("air_pressure", "one_hectopascal_of_weather_moves_the_boiling_point_by_0_0276_k"),
    "7": ("heat", "latent_heat_is_that_of_iapws_95"),
    "8": ("water_activity", "sucrose_agrees_with_robinson_and_stokes"),
    "9": ("water_activity", "the_equation_gives_its_frozen_values_at_25_c"),
    "10": ("water_activity", "the_model_lies_below_raoults_law"),
    "11": ("water_activity", "the_equation_gives_its_frozen_values_at_25_c"),
    "12": ("water_activity", "the_norrish_equation_for_one_solute"),
    "12, Ross": ("water_activity", "ross_is_the_product_of_each_solute_alone_in_all_the_water"),
    "13": ("water_activity", "saturated_sucrose_keeps_at_0_85"),
    "14": ("water_activity", "activity_falls_strictly_from_one_as_brix_rises"),
    "15": ("boiling_point", "the_model_gives_its_frozen_boiling_points"),
    "16": ("boiling_point", "the_model_gives_its_frozen_boiling_points"),
    "16a": ("boiling_point", "maple_syrup_finishes_where_its_makers_say"),
    "17": ("boiling_point", "sucrose_syrup_agrees_with_the_sugar_handbook"),
    "18": ("boiling_point", "sucrose_agrees_with_crapiste_and_lozano_at_700_mbar"),
    "19": ("boiling_point", "brix_at_a_temperature_depends_on_composition"),
    "20": ("boiling_point", "brix_to_temperature_and_back_returns_the_brix"),
    "20, no rise": (
        "boiling_point",
        "at_or_below_boiling_water_the_answer_is_0_brix_and_not_an_error",
    ),
    "21": ("boiling_point", "near_105_c_one_kelvin_is_almost_four_brix"),
    "22": ("boiling_point", "the_same_reading_means_more_sugar_higher_up"),
    "23": ("boiling_point", "the_rise_hardly_depends_on_altitude"),
    "24": ("boiling_point", "strawberry_jam_sets_between_104_and_105_c"),
    "25": ("mass_balance", "fruit_brings_its_brix_of_all_but_its_fibre"),
    "26": ("mass_balance", "pot_mass_is_solids_over_brix_plus_fibre"),
    "27": ("mass_balance", "damson_paste_from_fruit_to_slab"),
    "28": ("mass_balance", "brix_from_weighing_the_pot"),
    "28, sugar": ("mass_balance", "sugar_to_hit_a_mass_and_a_brix"),
    "29": ("mass_balance", "water_out_and_what_is_left_make_what_went_in"),
    "30": ("mass_balance", "water_to_thin_an_overcooked_pot"),
    "31": ("inversion", "a_quarter_of_100_g_of_sucrose"),
    "32": ("drawn_cook", "the_damson_paste_comes_out_as_in_a_second_implementation"),
    "33": ("density", "the_polynomial_gives_its_frozen_values_at_20_c"),
    "34": ("density", "syrup_density_agrees_with_the_crc_handbook"),
    "34, gravity": ("density", "specific_gravity_agrees_with_the_beet_sugar_handbook"),
    "35": ("density", "hot_syrup_is_lighter"),
    "35, paste": ("density", "a_paste_with_fibre"),
    "36": ("density", "a_slab_is_filled_higher_than_it_sets"),
    "37": ("refractometer", "the_correction_is_that_of_the_official_tables"),
    "37, at 20 C": ("refractometer", "at_20_c_nothing_is_corrected"),
    "38": ("solubility", "solubility_is_that_of_charles"),
    "38, ratio": ("solubility", "saturation_ratio_of_pastes_and_syrups"),
    "39": ("inversion", "vukovs_rate_at_ph_3_2"),
    "40": ("cook_heat", "damson_paste_on_induction_with_and_without_the_cut"),
    "41": ("heat", "a_net_kilowatt_boils_off_26_6_grams_a_minute"),
    "41, heat capacity": ("heat", "syrup_heat_capacity_is_that_of_bubnik"),
    "42": ("cook_heat", "half_the_efficiency_doubles_energy_and_every_time"),
    "42, mass": ("cook_heat", "half_the_water_takes_roughly_half_the_boil"),
    "43": ("cook_heat", "without_loss_the_energy_does_not_depend_on_power"),
}


def test_every_numbered_case_has_a_test():
    numbers = {case.split(",")[0] for case in CASES}
    assert numbers == {str(number) for number in range(1, 44)} | {"16a"}
    assert len(numbers) == 44


@pytest.mark.parametrize("case", CASES)
def test_the_test_of_each_case_exists(case):
    module, name = CASES[case]
    source = (Path(__file__).parent / f"test_{module}.py").read_text(encoding="utf-8")
    assert re.search(rf"^def test_{name}\(", source, re.MULTILINE)
