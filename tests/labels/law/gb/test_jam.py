"""Reserved names, fruit that counts, minima of mixtures: Jam and Similar Products (England)
Regulations 2003, SI 2003/3120, Sch. 1 [R]; Wales WSI 2018/274 and Scotland SSI 2004/133, the same
figures [R].
"""

from decimal import Decimal

import pytest

from labels.law.gb import jam
from tests.labels.law.gb.builders import a_label, used


@pytest.mark.parametrize(
    ("name", "reserved"),
    [
        ("Strawberry jam", "jam"), ("Strawberry extra jam", "extra jam"),
        ("Extra Jam", "extra jam"),
        ("Redcurrant jelly", "jelly"), ("Redcurrant extra jelly", "extra jelly"),
        ("Seville orange marmalade", "marmalade"), ("Lime jelly marmalade", "jelly marmalade"),
        ("Sweetened chestnut purée", "sweetened chestnut puree"), ("Lemon curd", "curd"),
        ("Lemon flavour curd", "flavour curd"), ("Mincemeat", "mincemeat"),
        ("Reduced sugar strawberry jam (60 % fruit)", "jam"), ("Jams", "jam"),
        # case 72: reserved; case 73: "damson cheese" is not (Sch. 1 [R])
        ("Lemon cheese", "lemon cheese"), ("Damson cheese", ""),
        ("Jam tart", ""), ("Jelly beans", ""), ("Bean curd", ""), ("Damson paste", ""), ("", ""),
        ("Jamaica pepper paste", ""), ("\U0001f353", ""),
    ],
)  # fmt: skip
def test_the_last_word_says_whether_a_name_is_reserved(name, reserved):
    assert jam.reserved_name(name) == reserved


@pytest.mark.parametrize(
    ("kind", "least_jam", "least_extra"),
    [
        ("strawberries", 350, 450), ("redcurrants", 250, 350), ("rowanberries", 250, 350),
        ("sea buckthorn", 250, 350), ("blackcurrants", 250, 350), ("rosehips", 250, 350),
        ("quince", 250, 350), ("ginger", 150, 250), ("cashew apple", 160, 230),
        ("passion fruit pulp", 60, 80), ("gooseberries", 350, 450), ("apple", 350, 450),
    ],
)  # fmt: skip
def test_schedule_1_has_a_minimum_for_each_fruit(kind, least_jam, least_extra):
    fruit = (used(kind, 100, category="fruit"),)
    assert jam.minimum_g_per_kg(fruit, jam.JAM_MINIMA_G) == least_jam
    assert jam.minimum_g_per_kg(fruit, jam.EXTRA_MINIMA_G) == least_extra


def test_case_58_the_minimum_of_a_mixture_is_weighted_by_share():
    # 60 % x 350 + 40 % x 250 = 310 (Jam-Eng Sch. 1, note 1 [R])
    mix = used("strawberries", 600, category="fruit"), used("blackcurrants", 400, category="fruit")
    assert jam.minimum_g_per_kg(mix, jam.JAM_MINIMA_G) == 310


def test_case_62_the_water_of_extraction_is_no_fruit():
    # 2 600 - 900 = 1 700 g in 4 000 g: 425 g/kg (Directive 2001/113/EC, Annex I.I, jelly [R])
    extract = used(
        "damson extract", 2600, category="fruit", extraction_water_g=Decimal(900)
    )  # fmt: skip
    facts = a_label(extract, used("sugar", 2500), name_of_food="Damson jelly", finished_g=4000)
    assert jam.fruit_g_per_kg(facts, name="jelly") == 425


def test_a_preparation_is_opened_and_gives_its_fruit_its_form():
    pulp = used("plums", 480, category="fruit"), used("water", 20, category="water")
    facts = a_label(used("plum puree", 500, parts=pulp), used("sugar", 600), finished_g=1000)
    (found,) = jam.fruits(facts, name="jam")
    assert (found.name, found.fruit_form, jam.counted_g(found)) == ("plums", "puree", 480)


def test_water_in_a_puree_is_no_fruit():
    puree = used("plum puree", 500, category="fruit", fruit_from_g=Decimal(450))
    assert jam.counted_g(puree) == 450


def test_juice_counts_for_jelly_and_pulp_for_jam():
    parts = (
        used("strawberries", 500, category="fruit"),
        used("lemon juice", 30, category="fruit"),
        used("sugar", 600, category="sugar"),
    )
    facts = a_label(*parts, finished_g=1000)
    assert [i.name for i in jam.fruits(facts, name="jam")] == ["strawberries"]
    assert [i.name for i in jam.fruits(facts, name="jelly")] == ["lemon juice"]
    assert [i.name for i in jam.fruits(facts, name="marmalade")] == ["lemon juice"]


@pytest.mark.parametrize("name", ["rhubarb", "carrots", "tomatoes", "pumpkin", "ginger root"])
def test_reg_2_counts_some_roots_stalks_and_vegetables_as_fruit(name):
    assert jam.counts_as_fruit(used(name, 1))
    assert not jam.counts_as_fruit(used("ground ginger", 1, category="spice"))


def test_without_a_finished_mass_the_fruit_is_not_known():
    facts = a_label(used("plum", 1, category="fruit"), finished_g=None)
    assert jam.fruit_g_per_kg(facts, name="jam") is None


@pytest.mark.parametrize(
    ("declared", "reading", "passes"),
    [
        # cases 64 and 65: declared 63 (SI 2003/3120, reg. 5(2)(c) [R])
        ("63", "66.0", True), ("63", "66.2", False), ("63", "60.0", True), ("63", "59.9", False),
    ],
)  # fmt: skip
def test_cases_64_65_a_reading_lies_within_three_degrees(declared, reading, passes):
    found = jam.within_sugar_tolerance(declared_g=Decimal(declared), reading=Decimal(reading))
    assert found is passes


def test_a_relish_may_go_by_its_customary_name():
    # Food Standards Agency guidance notes on the regulations, section 2.2 [2]
    assert jam.is_savoury_custom("Chilli jam")
    assert jam.is_savoury_custom("Mint jelly")
    assert not jam.is_savoury_custom("Strawberry jam")
    assert not jam.is_savoury_custom("Chilli paste")
