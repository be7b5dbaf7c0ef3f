"""Fruit that counts and the minima: Directive 2001/113/EC, Annex I and III [R].

The minima from 14 June 2026 (Directive (EU) 2024/1438) were read in the Spanish transposition
(RD 863/2003 as changed by RD 1026/2025) and an Irish official summary [N].
"""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.eu import jam
from tests.labels.law.eu.builders import a_label, used

EVE, DAY = date(2026, 6, 13), date(2026, 6, 14)


def fruit(name, grams, **more):
    return used(name, grams, category="fruit", **more)


@pytest.mark.parametrize(
    ("kind", "before", "since"),
    [
        # (jam, extra jam) in g/kg on 13 and 14 June 2026
        ("strawberries", (350, 450), (450, 500)), ("gooseberries", (350, 450), (450, 500)),
        ("redcurrants", (250, 350), (350, 450)), ("rowanberries", (250, 350), (350, 450)),
        ("sea buckthorn", (250, 350), (350, 450)), ("blackcurrants", (250, 350), (350, 450)),
        ("rose hips", (250, 350), (350, 450)), ("quince", (250, 350), (350, 450)),
        ("ginger", (150, 250), (180, 280)), ("cashew apple", (160, 230), (230, 290)),
        ("passion fruit pulp", (60, 80), (80, 100)), ("apple", (350, 450), (450, 500)),
        ("membrillos", (250, 350), (350, 450)), ("maracuyá", (60, 80), (80, 100)),
        ("schwarze Johannisbeeren", (250, 350), (350, 450)),
    ],
)  # fmt: skip
def test_the_minima_changed_on_14_june_2026(kind, before, since):
    parts = (fruit(kind, 100),)
    for day, (least_jam, least_extra) in ((EVE, before), (DAY, since)):
        assert jam.minimum_g_per_kg(parts, jam.JAM_MINIMA_G.on(day)) == least_jam
        assert jam.minimum_g_per_kg(parts, jam.EXTRA_MINIMA_G.on(day)) == least_extra


@pytest.mark.parametrize(("on", "least"), [(EVE, 310), (DAY, 410)])
def test_case_58_the_minimum_of_a_mixture_is_weighted_by_share(on, least):
    # 60 % x 450 + 40 % x 350 = 410; before 60 % x 350 + 40 % x 250 = 310 (Annex I.III [R])
    mix = fruit("strawberries", 600), fruit("blackcurrants", 400)
    assert jam.minimum_g_per_kg(mix, jam.JAM_MINIMA_G.on(on)) == least


def test_case_62_the_water_of_extraction_is_no_fruit():
    # 2 600 - 900 = 1 700 g in 4 000 g: 425 g/kg (Annex I.I, jelly [R])
    extract = fruit("damson extract", 2600, extraction_water_g=Decimal(900))
    facts = a_label(extract, used("sugar", 2500), finished_g=4000)
    assert jam.fruit_g_per_kg(facts, name="jelly") == 425


def test_juice_counts_for_jelly_pulp_for_jam_and_citrus_for_marmalade():
    facts = a_label(fruit("strawberries", 500), fruit("lemon juice", 30), used("sugar", 600),
                    finished_g=1000)  # fmt: skip
    names = {
        name: [i.name for i in jam.fruits(facts, name=name)]
        for name in ("jam", "jelly", "citrus marmalade")
    }
    assert names == {
        "jam": ["strawberries"], "jelly": ["lemon juice"], "citrus marmalade": ["lemon juice"],
    }  # fmt: skip


def test_a_preparation_is_opened_and_its_fruit_keeps_its_form():
    puree = used("damson puree", 900, parts=(fruit("damsons", 800), used("water", 100)))
    facts = a_label(puree, used("sugar", 600), finished_g=1000)
    (found,) = jam.fruits(facts, name="jam")
    assert (found.name, jam.form_of(found)) == ("damsons", "puree")
    assert jam.fruit_g_per_kg(facts, name="jam") == 800


def test_water_in_a_puree_under_one_name_is_no_fruit():
    facts = a_label(fruit("damson puree", 900, fruit_from_g=Decimal(800)), finished_g=1000)
    assert jam.fruit_g_per_kg(facts, name="jam") == 800


@pytest.mark.parametrize("name", ["rhubarb", "carrots", "tomatoes", "pumpkin", "ginger root"])
def test_annex_iii_counts_some_roots_stalks_and_vegetables_as_fruit(name):
    assert jam.counts_as_fruit(used(name, 1))
    assert not jam.counts_as_fruit(used("ground ginger", 1, category="spice"))
    assert not jam.counts_as_fruit(used("citric acid", 1, additive_class="acid"))


@pytest.mark.parametrize(
    ("name", "alone"),
    [("apples", "apple"), ("watermelon", "watermelon"), ("cashew apple", ""), ("damsons", ""),
     ("prickly pears", ""), ("pineapple", ""), ("manzanas", "apple"), ("uvas", "grape")],
)  # fmt: skip
def test_the_fruits_never_mixed_in_extra_jam(name, alone):
    assert jam.alone_in_extra(fruit(name, 1)) == alone


@pytest.mark.parametrize(
    ("name", "is_known"), [("summer fruit", False), ("berries", False), ("damson puree", True)]
)
def test_a_name_that_does_not_tell_the_fruit_is_seen(name, is_known):
    assert jam.is_known_fruit(fruit(name, 1)) is is_known


def test_what_the_maker_calls_it_may_tell_the_fruit():
    assert jam.minimum_kind(fruit("house puree", 1, called="Quinces")) == "quince"


def test_without_a_finished_mass_the_fruit_is_not_known():
    assert jam.fruit_g_per_kg(a_label(fruit("plum", 1), finished_g=None), name="jam") is None


@pytest.mark.parametrize(
    ("reading", "passes"), [("66.0", True), ("66.2", False), ("60.0", True), ("59.9", False)]
)
def test_cases_64_65_to_june_2026_a_reading_lay_within_three_degrees(reading, passes):
    # Directive 2001/113/EC, Art. 2(4), as it stood [R]
    found = jam.within_sugar_tolerance(declared_g=Decimal(63), reading=Decimal(reading))
    assert found is passes
