"""Numbered check cases of label law, each with its source and the tests that hold it.

Legibility and packs 1-10, the list 11-28, allergens 29-36, quantities 37-52 and 135-148, the jam
family 53-76, dates and lots 77-85, nutrition and claims 86-100, 132-134 and 149-153, weights
101-122, unit prices 123-131. "read": the text was read; "second-hand": as restated by others;
"from memory": neither. A module without a law before it stands in both, of the Union and of Great
Britain; otherwise the test stands with the law it is of.
"""

import re
from functools import cache
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent
MARKS = {"read", "second-hand", "from memory"}
READ, HEARD = "read", "second-hand"

FIC = "Regulation (EU) No 1169/2011, "
QUID_NOTICE = "Commission notice 2017/C 393/05 as restated"
JAM = "Directive 2001/113/EC, "
JAM_SPAIN = "Real Decreto 863/2003 as changed by 1026/2025, "
JAM_GB = "Jam and Similar Products (England) Regulations 2003, SI 2003/3120, "
GUIDE = "Commission guidance on tolerances, December 2012, "
PACKED = "Packaged Goods Regulations 2006, SI 2006/659, "
PACKED_EU = "Directive 76/211/EEC, "
PRICES = "Price Marking Order 2004, SI 2004/102, "
LOTS = "Food (Lot Marking) Regulations 1996, SI 1996/1502, "
CLAIMS = "Regulation (EC) No 1924/2006, Annex"
GENERAL = "numbered_cases"

# number: source, mark, and each test as (module, name, a piece of it or of its parameters)
Test = tuple[str, str, str]
CASES: dict[int, tuple[str, str, tuple[Test, ...]]] = {
    1: (FIC + "Art. 13(2) and (3)", READ, ((GENERAL, "cases_1_2_x_height", '(1, "80.0", "1.2")'),)),
    2: (FIC + "Art. 13(3)", READ, ((GENERAL, "cases_1_2_x_height", '(2, "79.9", "0.9")'),)),
    3: (FIC + "Annex V, point 18", READ, (
        ("gb/nutrition", "cases_3_4_a_surface_under_25_cm2_is_exempt", '("25.0", True)'),
        ("eu/nutrition", "cases_3_4_annex_v_18_a_pack_under_25_cm2_may_leave_nutrition_off",
         '("25.0", True)'))),
    4: (FIC + "Annex V, point 18", READ, (
        ("gb/nutrition", "cases_3_4_a_surface_under_25_cm2_is_exempt", '("24.9", False)'),
        ("eu/nutrition", "cases_3_4_annex_v_18_a_pack_under_25_cm2_may_leave_nutrition_off",
         '("24.9", False)'))),
    5: (FIC + "Art. 16(2) and Art. 13(6)", READ, (
        (GENERAL, "cases_5_6_under_ten_square_centimetres", '(5, "9.9", False)'),
        ("gb/small_packs", "art_16_2_a_pack_under_10_cm2_carries_four_statements", '"9.9"'),
        ("eu/small_packs", "art_16_2_a_pack_under_10_cm2_carries_four_statements", '"9.9"'))),
    6: (FIC + "Art. 16(2)", READ, (
        (GENERAL, "cases_5_6_under_ten_square_centimetres", '(6, "10.0", True)'),
        ("eu/small_packs", "art_16_2_a_pack_of_10_cm2_carries_everything", '"10.0"'))),
    7: (FIC + "Art. 13(3); ALS, 125th meeting", HEARD, (
        (GENERAL, "cases_7_8_a_jar_by_its_straight_wall", '(7, "5.0", "0.9")'),)),
    8: (FIC + "Art. 13(3); ALS, 125th meeting", HEARD, (
        (GENERAL, "cases_7_8_a_jar_by_its_straight_wall", '(8, "5.2", "1.2")'),)),
    9: (FIC + "Annex IV", READ, ((GENERAL, "case_9_points_for_1_2_mm", '"0.519"'),)),
    10: (FIC + "Art. 13(5)", READ, (
        (GENERAL, "case_10_weight_on_the_back_is_refused", 'net_quantity="back"'),)),
    11: (FIC + "Art. 18(1)", READ, (
        (GENERAL, "cases_11_12_13_order_by_weight_as_used_and_the_two_per_cent",
         '"damson pulp"'),)),
    12: (FIC + "Annex VII, A.6", READ, (
        (GENERAL, "cases_11_12_13_order_by_weight_as_used_and_the_two_per_cent",
         '("lemon juice", "pectin")'),)),
    13: (FIC + "Annex VII, A.6", READ, (
        (GENERAL, "cases_11_12_13_order_by_weight_as_used_and_the_two_per_cent",
         '"pectin" not in'),)),
    14: (FIC + "Annex VII, A.1", READ, (
        (GENERAL, "case_14_chutney_boils_its_water_away", "3600"),)),
    15: (FIC + "Annex VII, A.1", READ, (
        (GENERAL, "cases_15_16_17_water_is_listed_above_five_per_cent", "(15, 400, 770, True)"),)),
    16: (FIC + "Annex VII, A.1", READ, (
        (GENERAL, "cases_15_16_17_water_is_listed_above_five_per_cent", "(16, 400, 745, False)"),)),
    17: (FIC + "Annex VII, A.1", READ, (
        (GENERAL, "cases_15_16_17_water_is_listed_above_five_per_cent", '(17, "402.5", 750'),)),
    18: (FIC + "Annex VII, A.2 and Art. 20(e)(i)", READ, (
        (GENERAL, "case_18_soaked_fruit_stands_by_its_fresh_weight_and_the_soaking_water_nowhere",
         "fresh_equivalent_g=1000"),)),
    19: (FIC + "Annex VII, A.4", READ, (
        (GENERAL, "cases_19_50_fruit_in_varying_proportions", "fruit in varying proportions"),)),
    20: (FIC + "Annex VII, B.7", READ, (
        (GENERAL, "cases_20_21_spices_up_to_two_per_cent", "(20, 16, True)"),)),
    21: (FIC + "Annex VII, B.7", READ, (
        (GENERAL, "cases_20_21_spices_up_to_two_per_cent", "(21, 24, False)"),)),
    22: (FIC + "Annex VII, B.11", READ, ((GENERAL, "case_22_sugar_covers_both", "demerara"),)),
    23: (FIC + "Annex VII, C; the number: SI 1999/1136, Sch. 3", HEARD, (
        (GENERAL, "cases_23_24_an_additive_by_class_and_name_or_number", '"E 440", True'),)),
    24: (FIC + "Annex VII, C; the number: SI 1999/1136, Sch. 3", HEARD, (
        (GENERAL, "cases_23_24_an_additive_by_class_and_name_or_number", '"E 330", True'),)),
    25: (FIC + "Annex VII, E.2(a), and Art. 21", READ, (
        (GENERAL, "cases_25_26_a_compound_below_two_per_cent", "(25, True, False)"),)),
    26: (FIC + "Annex VII, E.1 and E.2", READ, (
        (GENERAL, "cases_25_26_a_compound_below_two_per_cent", "(26, False, True)"),)),
    27: (FIC + "Art. 20(b)(ii)", READ, (
        (GENERAL, "case_27_an_enzyme_that_only_helps_is_no_ingredient", "is_processing_aid"),)),
    28: (FIC + "Art. 19(1)(e)", READ, (
        (GENERAL, "cases_28_144_one_ingredient_that_the_name_tells", "Dried apple"),)),
    29: (FIC + "Art. 21(1)(b) and Annex II, 8", READ, (
        ("eu/allergens", "case_29_art_21_1_b_walnuts_are_set_apart_in_the_list", "walnuts"),
        (GENERAL, "case_29_walnuts_are_named_and_not_nuts", "walnuts"))),
    30: (FIC + "Art. 21(1), second subparagraph", READ, (
        (GENERAL, "cases_30_31_without_a_list", '"Contains: milk"'),)),
    31: (FIC + "Art. 21(1), last subparagraph", READ, (
        (GENERAL, "cases_30_31_without_a_list", '(31, "Milk caramels", "")'),)),
    32: (FIC + "Annex II, 12", READ, (
        (GENERAL, "cases_32_33_34_sulphites_above_ten", "(32, 200, True)"),)),
    33: (FIC + "Annex II, 12", READ, (
        (GENERAL, "cases_32_33_34_sulphites_above_ten", "(33, 6, False)"),)),
    34: (FIC + "Annex II, 12", READ, (
        (GENERAL, "cases_32_33_34_sulphites_above_ten", "(34, "),)),
    35: (FIC + "Annex II, 1(a)", READ, (
        ("eu/allergens", "case_35_annex_ii_1_a_the_exceptions_need_no_declaration", "wheat"),
        (GENERAL, "cases_35_36_what_is_not_in_annex_ii_is_not_refused", "(35, "))),
    36: (FIC + "Annex II, 8; the closed list: Commission notice on allergens", HEARD, (
        ("eu/allergens", "case_36_annex_ii_8_what_is_not_in_the_closed_list_is_not_asked_about",
         "chestnut"),
        (GENERAL, "cases_35_36_what_is_not_in_annex_ii_is_not_refused", '(36, "pine nuts")'))),
    37: (FIC + "Annex VIII, 4(a); local guidance", HEARD, (
        (GENERAL, "cases_of_quantities_by_weight", '(37, "Sultana cake"'),)),
    38: (QUID_NOTICE + ", point 27", HEARD, (
        (GENERAL, "case_38_with_one_decimal", '"29.4 %"'),)),
    39: ("United Kingdom guidance as restated", HEARD, (
        (GENERAL, "case_39_fish_fingers", '"62.5 %"'),)),
    40: (FIC + "Annex VIII, 3(a)", READ, (
        (GENERAL, "cases_of_quantities_by_weight", '(40, "Cheese sandwich"'),)),
    41: (FIC + "Annex VIII, 4(a); an Austrian example", HEARD, (
        (GENERAL, "case_41_salami_by_weight", "160 g of pork per 100 g"),)),
    42: (FIC + "Annex VIII, 4(a)", READ, (
        (GENERAL, "cases_of_quantities_by_weight", '(42, "Tomato ketchup"'),)),
    43: (FIC + "Annex VIII, 4(a)", READ, (
        (GENERAL, "cases_of_quantities_by_weight", '(43, "Plum leather"'),)),
    44: (FIC + "Annex VIII, 4(a)", READ, (
        (GENERAL, "cases_of_quantities_by_weight", '(44, "Damson paste"'),)),
    45: (FIC + "Annex VIII, 4(a)", READ, (
        (GENERAL, "case_45_both_go_by_weight_when_together_they_pass_a_hundred",
         '"62 g per 100 g"'),)),
    46: (FIC + "Annex VIII, 4(a)", READ, (
        (GENERAL, "cases_of_quantities_by_weight", '(46, "Apple butter"'),)),
    47: (FIC + "Annex VIII, 4(b)", READ, (
        (GENERAL, "cases_47_48_volatile_and_concentrated", "remaining_g=15"),)),
    48: (FIC + "Annex VIII, 4(c)", READ, (
        (GENERAL, "cases_47_48_volatile_and_concentrated", '"30 %"'),)),
    49: (FIC + "Annex VIII, 1(a)(iii)", READ, (
        (GENERAL, "case_49_vanilla_for_flavour_needs_none", '"flavouring"'),)),
    50: (FIC + "Annex VIII, 1(c)", READ, (
        (GENERAL, "cases_19_50_fruit_in_varying_proportions", "declared(facts) == ()"),)),
    51: (FIC + "Annex VIII, 1(a)(ii), with " + JAM + "Art. 2(3)", READ, (
        ("eu/quid", "case_51_the_statement_of_a_jam_stands_instead_of_its_figure", "strawberr"),
        ("gb/quid", "annex_viii_1_a_ii_the_jam_statement_stands_instead", "strawberr"))),
    52: (FIC + "Art. 22(1)(a) and (b)", READ, (
        (GENERAL, "cases_52_139_pictured_and_stressed", '"pictured"'),)),
    53: (JAM_SPAIN + "point 3.1", HEARD, (
        ("eu/jam_names", "case_53_420_g_in_july_2026_is_no_jam_in_spain", "450 g"),
        ("eu/jam_names", "case_53_the_day_before_the_same_jar_was_jam", "(EVE, True)"))),
    54: (JAM_GB + "Sch. 1, items 1 and 2", READ, (
        ("gb/jam_names", "case_54_420_g_of_strawberries_is_jam_and_not_extra_jam", "420"),)),
    55: (JAM_SPAIN + "points 3.1 and 3.2", HEARD, (
        ("eu/jam_names", "cases_55_56_57_jam_yes_extra_jam_no", '("strawberries", 460'),)),
    56: (JAM_SPAIN + "points 3.1 and 3.2", HEARD, (
        ("eu/jam_names", "cases_55_56_57_jam_yes_extra_jam_no", '("rosehips", 380'),)),
    57: (JAM_SPAIN + "points 3.1 and 3.2", HEARD, (
        ("eu/jam_names", "cases_55_56_57_jam_yes_extra_jam_no", '("ginger", 185'),)),
    58: (JAM + "Annex I.III; " + JAM_GB + "Sch. 1, note", READ, (
        ("eu/jam", "case_58_the_minimum_of_a_mixture_is_weighted_by_share", "410"),
        ("gb/jam", "case_58_the_minimum_of_a_mixture_is_weighted_by_share", "310"))),
    59: (JAM + "Annex I.I", READ, (
        ("eu/jam_names", "case_59_apple_is_not_mixed_in_extra_jam", "blackberr"),
        ("gb/jam_names", "case_59_apple_is_not_mixed_in_extra_jam", "blackberr"))),
    60: (JAM + "Annex I.I", READ, (
        ("eu/jam_names", "case_60_apple_alone_may_be_extra_jam", "extra jam"),
        ("gb/jam_names", "case_60_apple_alone_may_be_extra_jam", "extra jam"))),
    61: (JAM + "Art. 2(3)", READ, (
        ("eu/jam_rules", "case_61_the_fruit_statement_is_of_prepared_fruit", "60 g of fruit"),
        ("gb/jam_rules", "case_61_the_fruit_statement_is_of_prepared_fruit", "60 g of fruit"))),
    62: (JAM + "Annex I.I and Art. 2(3)", READ, (
        ("eu/jam", "case_62_the_water_of_extraction_is_no_fruit", "425"),
        ("eu/jam_rules", "case_62_a_jelly_counts_its_extract_without_the_water", "of fruit"),
        ("gb/jam", "case_62_the_water_of_extraction_is_no_fruit", "425"))),
    63: (JAM_GB + "reg. 5(2)(c)", READ, (
        ("gb/jam_rules", "case_63_the_total_sugar_is_the_reading", "63.4"),)),
    64: (JAM_GB + "reg. 5(2)(c)", READ, (
        ("gb/jam", "cases_64_65_a_reading_lies_within_three_degrees", '("63", "66.0", True)'),)),
    65: (JAM_GB + "reg. 5(2)(c)", READ, (
        ("gb/jam", "cases_64_65_a_reading_lies_within_three_degrees", '("63", "66.2", False)'),)),
    66: (JAM_SPAIN + "point 8.4, deleted; Irish authority's summary", HEARD, (
        ("eu/jam_rules", "case_66_the_sugar_statement_ended_on_13_june_2026", "(DAY, ["),)),
    67: (JAM_GB + "Sch. 1, notes", READ, (
        ("gb/jam_names", "cases_67_68_soluble_solids_are_sixty_or_reduced", '("58", (), False)'),
        ("gb/jam_rules", "case_67_58_degrees_is_no_jam", "58"))),
    68: (JAM_GB + "Sch. 1, notes", READ, (
        ("gb/jam_names", "cases_67_68_soluble_solids_are_sixty_or_reduced",
         '("45", ("reduced sugar",), True)'),)),
    69: (JAM_GB + "reg. 5(1)(b)", READ, (
        ("gb/jam_rules", "case_69_the_residue_is_listed_as_sulphur_dioxide",
         '("24", "sulphites", False)'),)),
    70: (JAM + "Annex I.I", READ, (
        ("eu/jam_names", "case_70_marmalade_needs_its_citrus_and_its_inner_flesh", "(70, 210"),
        ("gb/jam_names", "case_70_marmalade_needs_its_citrus_and_its_inner_flesh", "(70, 210"))),
    71: (JAM + "Art. 2(2)", READ, (
        ("eu/jam_rules", "case_71_the_name_tells_the_fruits_or_that_they_are_many", "ixed fruit"),
        ("gb/jam_rules", "case_71_the_name_tells_the_fruits_or_that_they_are_many",
         '("Three fruit jam", True)'))),
    72: (JAM_GB + "Sch. 1, items 8 and 9, and notes", READ, (
        ("gb/jam_names", "case_72_lemon_cheese_has_the_composition_of_a_curd",
         '({"fat": "30"}, False)'),
        ("gb/jam_rules", "case_72_lemon_cheese_of_thirty_grams_of_fat_is_refused", ""))),
    73: (JAM_GB + "Sch. 1", READ, (
        ("gb/jam_rules", "case_73_damson_cheese_follows_the_general_rules_only", ""),)),
    74: ("Real Decreto 670/1990 (Spain), 2.7", READ, (
        ("eu/jam_national", "cases_74_75_mermelada_is_a_product_of_spain",
         '("Mermelada extra de ciruela", 520, "45", True)'),)),
    75: ("Real Decreto 670/1990 (Spain), 2.8", READ, (
        ("eu/jam_national", "cases_74_75_mermelada_is_a_product_of_spain",
         '("Mermelada de ciruela", 520, "61", False)'),)),
    76: (JAM + "Art. 2(3)", READ, (
        ("eu/jam_rules", "case_76_there_is_no_end_at_a_hundred", "130 g"),
        ("gb/jam_rules", "case_76_there_is_no_end_at_a_hundred", "130 g"))),
    77: (FIC + "Annex X, 1(c)", READ, (
        (GENERAL, "cases_77_to_81_the_shortest_form_of_the_date", '"Best before 30 April"'),)),
    78: (FIC + "Annex X, 1(a) and (c)", READ, (
        (GENERAL, "cases_77_to_81_the_shortest_form_of_the_date", "end November 2026"),
        (GENERAL, "case_78_in_full", "10 December 2026"))),
    79: (FIC + "Annex X, 1(c)", READ, (
        (GENERAL, "cases_77_to_81_the_shortest_form_of_the_date", '"Best before end 2027"'),)),
    80: (FIC + "Annex X, 1(c)", READ, (
        (GENERAL, "cases_77_to_81_the_shortest_form_of_the_date", '"Best before 1 June"'),)),
    81: (FIC + "Annex X, 1(c)", READ, (
        (GENERAL, "cases_77_to_81_the_shortest_form_of_the_date", "end June 2027"),)),
    82: (LOTS + "reg. 4(g); Directive 2011/91/EU, Art. 5", READ, (
        ("gb/lots", "reg_4g_a_date_with_day_and_month_stands_in_for_the_lot",
         '({"best_before": date(2026, 4, 30)}, False)'),
        ("eu/lots", "art_5_a_date_with_day_and_month_stands_in_for_the_lot",
         '({"best_before": date(2026, 4, 30)}, False)'))),
    83: (LOTS + "regs 3(2)(b) and 4(g); Directive 2011/91/EU, Arts. 3 and 5", READ, (
        ("gb/lots", "reg_4g_a_date_with_day_and_month_stands_in_for_the_lot",
         '({"best_before": date(2026, 12, 10)}, True)'),
        ("eu/lots", "art_5_a_date_with_day_and_month_stands_in_for_the_lot",
         '({"best_before": date(2026, 12, 10)}, True)'),
        ("gb/lots", "reg_3_2_the_letter_l_comes_first_unless_it_is_there", "L DC-27262A"))),
    84: (FIC + "Annex X, 1(d); " + LOTS + "reg. 3", READ, (
        (GENERAL, "cases_84_85_only_sweets_of_sugar_need_no_date", "(84, "),
        ("gb/lots", "boiled_sweets_without_a_date_need_a_lot", "[RULE]"),
        ("eu/lots", "boiled_sweets_without_a_date_need_a_lot", ""))),
    85: (FIC + "Annex X, 1(d)", READ, (
        (GENERAL, "cases_84_85_only_sweets_of_sugar_need_no_date", "(85, "),)),
    86: (FIC + "Annex XIV", READ, (
        ("gb/nutrition_values", "cases_86_to_88_energy_by_the_factors_of_annex_xiv",
         "1258 kJ / 296 kcal"),
        ("eu/nutrition_table", "case_86_as_it_stands_in_the_table", ""))),
    87: (FIC + "Annex XIV", READ, (
        ("gb/nutrition_values", "cases_86_to_88_energy_by_the_factors_of_annex_xiv",
         "950 kJ / 224 kcal"),
        ("eu/nutrition_values", "cases_86_to_88_annex_xiv_energy_by_its_factors",
         "950 kJ/224 kcal"))),
    88: (FIC + "Annex XIV", READ, (
        ("gb/nutrition_values", "cases_86_to_88_energy_by_the_factors_of_annex_xiv",
         "1225 kJ / 289 kcal"),
        ("eu/nutrition_values", "cases_86_to_88_annex_xiv_energy_by_its_factors",
         "1225 kJ/289 kcal"))),
    89: (FIC + "Annex I, point 11; " + GUIDE + "section 6", HEARD, (
        ("gb/nutrition_values", "case_89_salt_from_sodium", '"0.08 g"'),
        ("eu/nutrition_values", "case_89_salt_is_sodium_times_two_and_a_half", ""))),
    **{
        number: (GUIDE + "section 6", HEARD, (
            ("eu/nutrition_values", "cases_90_to_96_rounding_by_the_guidance", piece),
            ("gb/nutrition_values", "cases_90_to_96_rounding", piece)))
        for number, piece in {
            90: '("fat", "0.5", "<0.5 g")', 91: '("fat", "0.51", "0.5 g")',
            92: '("saturates", "0.08", "<0.1 g")', 93: '("salt", "0.0124", "<0.01 g")',
            94: '("salt", "1.24", "1.2 g")', 95: '("sugars", "64.6", "65 g")',
            96: '("carbohydrate", "9.94", "9.9 g")',
        }.items()
    },
    97: (FIC + "Art. 32(4) and (5), Annex XIII, Part B", READ, (
        ("gb/nutrition_values", "case_97_a_portions_share_of_the_reference_intake", "== 14"),
        ("gb/nutrition_table", "case_97_a_portions_share_stands_with_the_sentence", ""),
        ("eu/nutrition_table",
         "case_97_a_portion_with_its_share_and_the_sentence_about_the_average_adult", ""))),
    98: ("S.I. No. 559 of 2016 (Ireland)", HEARD, (
        ("eu/nutrition", "cases_98_99_what_ireland_takes_as_small_and_local",
         '("240", None, "90", True)'),)),
    99: ("S.I. No. 559 of 2016 (Ireland)", HEARD, (
        ("eu/nutrition", "cases_98_99_what_ireland_takes_as_small_and_local",
         '("260", 600, "90", False)'),)),
    100: (FIC + "Art. 49", READ, (
        ("eu/nutrition", "case_100_a_claim_brings_the_declaration_back", "source of fibre"),
        ("gb/nutrition", "case_100_a_claim_ends_the_exemption", "source of fibre"))),
    **{
        number: (PACKED + "Sch. 3; " + PACKED_EU + "Annex I, 2.4", READ, (
            ("metrology", "cases_101_to_105_the_tolerable_negative_error", piece),))
        for number, piece in {
            101: '(40, "3.6"), (50, "4.5"), (75, "4.5"), (100, "4.5")',
            102: '(113, "5.1"), (150, "6.8"), (185, "8.4"), (200, "9.0")',
            103: '(227, "9"), (250, "9"), (300, "9")',
            104: '(340, "10.2"), (454, "13.7"), (500, "15.0")',
            105: '(720, "15"), (1000, "15"), (1500, "22.5")',
        }.items()
    },
    **{
        number: (source, READ, (("metrology", "cases_106_to_108_a_jar_of_340_g", piece),))
        for number, source, piece in (
            (106, PACKED + "Sch. 2, 3.1 and 3.2", '("329.9", False, False)'),
            (107, PACKED + "Sch. 2", '("329.7", True, False)'),
            (108, PACKED + "regs 4(1)(c) and 14(1)", '("319.5", True, True)'),
        )
    },
    **{
        number: (PACKED_EU + "Annex II, 2.2.1", READ, (
            ("metrology", "cases_109_to_112_the_double_plan", piece),))
        for number, piece in {
            109: "(1, None, True)", 110: "(2, 2, True)", 111: "(2, 3, False)",
            112: "(3, None, False)",
        }.items()
    },
    113: (PACKED + "Sch. 2, 3.5", READ, (
        ("gb/metrology", "case_113_the_single_plan", "(400, (50, 3, 4))"),)),
    114: (PACKED + "Sch. 2, 3.6 and 4.7", READ, (
        ("gb/metrology", "cases_114_115_a_small_batch_is_weighed_whole", "(60, 3, True)"),
        ("gb/metrology", "cases_116_to_118_the_test_of_the_mean", '(60, "340")'))),
    115: (PACKED + "Sch. 2, 3.6", READ, (
        ("gb/metrology", "cases_114_115_a_small_batch_is_weighed_whole", "(60, 4, False)"),)),
    **{
        number: (PACKED + source, READ, (
            ("eu/metrology", "cases_116_to_118_the_mean", piece),
            ("gb/metrology", "cases_116_to_118_the_test_of_the_mean", piece)))
        for number, source, piece in (
            (116, "Sch. 2, 4.5", '(30, "337.988"'), (117, "Sch. 2, 4.5", '(50, "338.484"'),
            (118, "Sch. 2, 4.6", '(20, "337.440"'),
        )
    },
    119: (PACKED + "reg. 8(3)(d)", READ, (
        ("gb/net_quantity", "case_119_the_height_of_the_figures",
         "(50, 2), (51, 3), (200, 3), (201, 4), (1000, 4), (1001, 6)"),
        ("eu/net_quantity", "the_figures_grow_with_the_quantity", '("50", 2), ("51", 3)'))),
    120: (PACKED + "reg. 3(6)", READ, (
        ("gb/net_quantity", "case_120_without_the_mark_the_table_does_not_bind_a_prepacked_jar",
         "is None"),)),
    121: (PACKED + "regs 2, 5(3) and 8(3)(d)", READ, (
        ("gb/net_quantity", "case_121_with_the_mark_it_binds", '("227 g ℮", True, 4)'),
        ("gb/net_quantity", "the_mark_itself_is_three_millimetres_high", "== 3"))),
    122: (PACKED + "regs 3(1) and 5(3)(b)", READ, (
        ("eu/net_quantity", "the_e_mark_is_for_5_g_to_10_kg", '("11000", False)'),
        ("gb/net_quantity", "case_122_the_mark_is_for_5_g_to_10_kg", "(4, True)"),
        ("gb/net_quantity", "case_122_the_mark_is_for_5_g_to_10_kg", "(11000, True)"))),
    123: (PRICES + "arts 1(2) and 13; SI 2024/1055", READ, (
        ("gb/unit_price", "cases_123_124_preserves_go_by_the_kilo_from_6_april_2026",
         '(DAY, "19.824", "£19.82 per kg")'),)),
    124: (PRICES + "Sch. 1 as it stood", READ, (
        ("gb/unit_price", "cases_123_124_preserves_go_by_the_kilo_from_6_april_2026",
         '(EVE, "1.982", "£1.98 per 100 g")'),)),
    125: (PRICES + "art. 13", READ, (
        ("gb/unit_price", "case_125_340_g_at_3_95", "£11.62 per kg"),)),
    126: (PRICES + "art. 12", READ, (
        ("gb/unit_price", "cases_126_127_under_a_pound_to_a_tenth_of_a_penny",
         '("0.6845", "0.685")'),)),
    127: (PRICES + "art. 12", READ, (
        ("gb/unit_price", "cases_126_127_under_a_pound_to_a_tenth_of_a_penny",
         '("0.6844", "0.684")'),)),
    128: (PRICES + "art. 5(3)(d)", READ, (
        ("gb/unit_price", "case_128_a_stall_needs_none_for_packs_of_constant_weight",
         '("stall", True)'),)),
    129: (PRICES + "arts 4(2)(a) and 5(2)", READ, (
        ("gb/unit_price",
         "case_129_a_slab_weighed_on_request_shows_its_price_per_kilo_and_no_other", "is_loose"),)),
    130: (PRICES + "art. 5(3)(b); Directive 98/6/EC, Art. 3(1)", READ, (
        ("gb/unit_price", "case_130_a_kilo_tub_need_not_say_it_twice", "(1000, True)"),
        ("eu/unit_price", "case_130_a_kilo_tub_need_not_say_it_twice", "(1000, True)"))),
    131: (PRICES + "Sch. 2, para. 2", READ, (
        ("gb/unit_price", "case_131_a_markdown_near_its_date_needs_none", "markdown"),)),
    132: (CLAIMS, READ, (
        ("eu/claims", "case_132_apple_concentrate_ends_no_added_sugar", "concentrate"),
        ("gb/claims", "case_132_apple_concentrate_ends_no_added_sugar", "concentrate"))),
    133: (CLAIMS, READ, (
        ("claims", "cases_133_134_reduced_is_thirty_per_cent_less", '(41, "31.7", True)'),)),
    134: (CLAIMS, READ, (
        ("claims", "cases_133_134_reduced_is_thirty_per_cent_less", '(43, "28.3", False)'),)),
    135: (QUID_NOTICE, HEARD, (
        (GENERAL, "cases_of_quantities_by_weight", '(135, "Goose salami"'),)),
    136: (QUID_NOTICE, HEARD, (
        ("gb/quid", "the_kinds_of_a_category_need_no_figures_of_their_own", "Vegetable pie"),
        ("eu/quid", "the_kinds_of_a_category_need_no_figures_of_their_own", "Vegetable pie"),
        (GENERAL, "cases_136_137_one_figure_for_the_category", "Fruit tart"))),
    137: (QUID_NOTICE, HEARD, (
        (GENERAL, "cases_136_137_one_figure_for_the_category", '"50 %"'),)),
    138: (QUID_NOTICE, HEARD, (
        (GENERAL, "case_138_a_filling_and_what_of_it_is_named", "containing eggs"),)),
    139: (FIC + "Art. 22(1)(b); Irish guidance", HEARD, (
        (GENERAL, "cases_52_139_pictured_and_stressed", "made with butter"),)),
    140: (FIC + "Art. 22(1)(c); Irish guidance", HEARD, (
        (GENERAL, "cases_140_141_what_marks_a_food_out", '(140, "Marzipan", "almonds")'),)),
    141: (FIC + "Art. 22(1)(c); " + QUID_NOTICE, HEARD, (
        (GENERAL, "cases_140_141_what_marks_a_food_out", '(141, "Mayonnaise", "egg yolk")'),)),
    142: (QUID_NOTICE, HEARD, (
        (GENERAL, "cases_142_143_pictures", '(142, "serving suggestion", False)'),)),
    143: (QUID_NOTICE, HEARD, ((GENERAL, "cases_142_143_pictures", "(143, "),)),
    144: (QUID_NOTICE, HEARD, (
        (GENERAL, "cases_28_144_one_ingredient_that_the_name_tells", "declared(facts) == ()"),)),
    145: (QUID_NOTICE, HEARD, (
        (GENERAL, "cases_145_146_a_constituent_and_a_word_that_is_no_ingredient", "vitamin C"),)),
    146: (QUID_NOTICE, HEARD, (
        (GENERAL, "cases_145_146_a_constituent_and_a_word_that_is_no_ingredient",
         "Cream crackers"),)),
    147: (FIC + "Annex VIII, 3(b); official sample", HEARD, (
        (GENERAL, "case_147_the_figure_may_stand_inside_the_name", '(147, "95", True)'),)),
    148: (FIC + "Art. 44; Food Information Regulations 2014, reg. 7", READ, (
        ("gb/quid",
         "case_148_no_quantity_is_asked_of_food_without_meat_that_is_not_prepacked", "loose"),)),
    149: (GUIDE + "section 5", HEARD, (
        ("eu/nutrition_values", "case_149_a_jam_labelled_55_g_of_sugars", '("63.1", False)'),
        ("gb/nutrition_values", "case_149_what_a_control_found", '("63.1", False)'))),
    **{
        number: (GUIDE + "section 5", HEARD, (
            ("eu/nutrition_values", "cases_149_to_153_what_a_control_lets_stand", piece),
            ("gb/nutrition_values", "cases_149_to_153_the_range_of_an_official_control", piece)))
        for number, piece in {
            150: '("protein", "3.4", "1.4", "5.4")', 151: '("protein", "20", "16", "24")',
            152: '("fat", "5.0", "3.5", "6.5")', 153: '("saturates", "2.0", "1.2", "2.8")',
        }.items()
    },
}  # fmt: skip


def places_of(module):
    """Where a module stands: in one law, or under the same name in both."""
    return [module] if "/" in module else [f"eu/{module}", f"gb/{module}"]


@cache
def held_by(module):
    """The tests of a module by name, each with its parameters."""
    jurisdiction, _, topic = module.partition("/")
    source = (FOLDER / jurisdiction / f"test_{topic}.py").read_text(encoding="utf-8")
    starts = r"^(?:@pytest\.mark\.[\s\S]*?\n)?def test_(\w+)\([\s\S]*?(?=^(?:@|def |\w|#)|\Z)"
    return {found[1]: found[0] for found in re.finditer(starts, source, re.MULTILINE)}


def test_a_test_is_found_with_its_parameters_and_no_others():
    found = held_by("eu/numbered_cases")["cases_1_2_x_height"]
    assert found.startswith("@pytest.mark.parametrize(")
    assert '(5, "9.9", False)' not in found


def test_every_numbered_case_has_a_test():
    assert sorted(CASES) == list(range(1, 154))


def test_every_case_says_where_it_stands_and_how_that_was_read():
    for source, mark, tests in CASES.values():
        assert source
        assert mark in MARKS
        assert tests


@pytest.mark.parametrize("case", CASES)
def test_the_tests_of_each_case_exist_and_hold_its_figures(case):
    for module, name, piece in CASES[case][2]:
        for place in places_of(module):
            assert name in held_by(place), f"{place}: test_{name}"
            assert piece in held_by(place)[name], f"{place}: test_{name}: {piece}"
