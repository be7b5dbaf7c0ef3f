"""Energy, rounding, intakes and tolerances in the Union.

Regulation (EU) No 1169/2011, Annexes I, XIII and XIV [R]; rounding and tolerances from guidance of
the European Commission's services, December 2012 [2]; the tolerances of salt (from memory).
"""

from decimal import Decimal

import pytest

from labels.law.eu import nutrition_values as law


def grams(**amounts):
    return {name.replace("_", " "): Decimal(str(value)) for name, value in amounts.items()}


@pytest.mark.parametrize(
    ("per_100_g", "kj", "kcal", "text"),
    [
        # case 86
        (grams(fat="0.2", carbohydrate=72, protein="0.4", fibre="2.5"), "1258.2", "296.4",
         "1258 kJ/296 kcal"),
        # case 87: carbohydrate 60 of which polyols 10: 50 x 17 + 10 x 10, 50 x 4 + 10 x 2.4
        (grams(carbohydrate=60, polyols=10), "950", "224", "950 kJ/224 kcal"),
        # case 88: a half goes up
        (grams(fat="0.3", carbohydrate="68.4", protein="0.6", fibre="3.1", organic_acids="1.2"),
         "1224.5", "288.5", "1225 kJ/289 kcal"),
        # parts of others do not count twice; alcohol 29 and 7
        (grams(carbohydrate=10, sugars=10, fat=1, saturates=1, salt=1, alcohol=1), "236", "56",
         "236 kJ/56 kcal"),
    ],
)  # fmt: skip
def test_cases_86_to_88_annex_xiv_energy_by_its_factors(per_100_g, kj, kcal, text):
    assert law.energy(per_100_g) == (Decimal(kj), Decimal(kcal))
    assert law.energy_shown(per_100_g) == text


def test_annex_xiv_kilojoules_and_kilocalories_have_factors_of_their_own():
    # 4.184 kJ to the kcal would give 16.7, 37.7, 8.4: the law's are 17, 37, 8.
    assert law.KJ_PER_G["fat"] / law.KCAL_PER_G["fat"] != Decimal("4.184")
    assert set(law.KJ_PER_G) == set(law.KCAL_PER_G)


def test_what_has_no_factor_is_refused():
    with pytest.raises(KeyError):
        law.energy(grams(hope=1))


def test_case_89_salt_is_sodium_times_two_and_a_half():
    # 30 mg x 2.5 = 0.075 g (Annex I, point 11) [R]; shown 0.08 g [2]
    assert law.salt_g(sodium_mg=Decimal(30)) == Decimal("0.075")
    assert law.shown("salt", Decimal("0.075")) == "0.08 g"


@pytest.mark.parametrize(
    ("nutrient", "amount", "text"),
    [
        # cases 90 to 96
        ("fat", "0.5", "<0.5 g"), ("fat", "0.51", "0.5 g"), ("saturates", "0.08", "<0.1 g"),
        ("salt", "0.0124", "<0.01 g"), ("salt", "1.24", "1.2 g"), ("sugars", "64.6", "65 g"),
        ("carbohydrate", "9.94", "9.9 g"),
        # the other side of each threshold
        ("saturates", "0.1", "<0.1 g"), ("saturates", "0.11", "0.1 g"),
        ("salt", "0.0125", "<0.01 g"), ("salt", "0.0126", "0.01 g"),
        ("salt", "0.99", "0.99 g"), ("salt", "1", "1 g"),
        ("carbohydrate", "9.96", "10 g"), ("sugars", "10.4", "10 g"), ("protein", "0", "0 g"),
    ],
)  # fmt: skip
def test_cases_90_to_96_rounding_by_the_guidance(nutrient, amount, text):
    assert law.shown(nutrient, Decimal(amount)) == text


def test_case_97_thirteen_grams_of_sugars_are_14_per_cent():
    # 13 / 90 = 14.4 %; 1 258 / 8 400 = 14.98 % (Annex XIII, Part B)
    assert law.share_of_intake_pct("sugars", Decimal(13)) == 14
    assert law.share_of_energy_pct(Decimal(1258)) == 15
    with pytest.raises(KeyError):
        law.share_of_intake_pct("fibre", Decimal(1))


@pytest.mark.parametrize(
    ("nutrient", "label", "low", "high"),
    [
        # cases 149 to 153
        ("sugars", "55", "47", "63"), ("protein", "3.4", "1.4", "5.4"),
        ("protein", "20", "16", "24"), ("fat", "5.0", "3.5", "6.5"),
        ("saturates", "2.0", "1.2", "2.8"),
        # where one band ends and the next begins
        ("sugars", "40", "32", "48"), ("sugars", "40.1", "32.1", "48.1"),
        ("protein", "9.9", "7.9", "11.9"), ("protein", "10", "8", "12"),
        ("saturates", "3.9", "3.1", "4.7"), ("saturates", "4", "3.2", "4.8"),
        ("salt", "1.24", "0.865", "1.615"), ("salt", "1.25", "1", "1.5"),
        ("sugars", "1", "0", "3"),
    ],
)  # fmt: skip
def test_cases_149_to_153_what_a_control_lets_stand(nutrient, label, low, high):
    assert law.control_range_g(nutrient, Decimal(label)) == (Decimal(low), Decimal(high))


@pytest.mark.parametrize(("found", "is_in"), [("47.0", True), ("63.0", True), ("63.1", False)])
def test_case_149_a_jam_labelled_55_g_of_sugars(found, is_in):
    low, high = law.control_range_g("sugars", Decimal(55))
    assert (low <= Decimal(found) <= high) is is_in
