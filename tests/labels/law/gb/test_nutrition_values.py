"""Energy, rounding, intakes, tolerances.

Factors and intakes: Regulation (EU) No 1169/2011, Annexes I, XIII and XIV as assimilated [R].
Rounding and tolerances: European Commission guidance of December 2012 [2]; the bands of salt
(from memory).
"""

from decimal import Decimal

import pytest

from labels.law.gb import nutrition_values as law


def grams(**amounts):
    return {name.replace("_", " "): Decimal(str(value)) for name, value in amounts.items()}


@pytest.mark.parametrize(
    ("per_100_g", "kj", "kcal", "text"),
    [
        # case 86
        (grams(fat="0.2", carbohydrate=72, protein="0.4", fibre="2.5"), "1258.2", "296.4",
         "1258 kJ / 296 kcal"),
        # case 87: of 60 g carbohydrate 10 are polyols
        (grams(carbohydrate=50, polyols=10), "950", "224", "950 kJ / 224 kcal"),
        # case 88: a half goes up
        (grams(fat="0.3", carbohydrate="68.4", protein="0.6", fibre="3.1", organic_acid="1.2"),
         "1224.5", "288.5", "1225 kJ / 289 kcal"),
    ],
)  # fmt: skip
def test_cases_86_to_88_energy_by_the_factors_of_annex_xiv(per_100_g, kj, kcal, text):
    assert law.energy(per_100_g) == (Decimal(kj), Decimal(kcal))
    assert law.energy_shown(per_100_g) == text


def test_what_has_no_factor_is_refused():
    with pytest.raises(KeyError):
        law.energy(grams(hope=1))


def test_case_89_salt_from_sodium():
    # 30 mg x 2.5 = 0.075 g (Annex I, point 11), shown 0.08
    assert law.salt_g(Decimal(30)) == Decimal("0.075")
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
        ("salt", "0.0125", "<0.01 g"), ("salt", "0.013", "0.01 g"), ("salt", "0.999", "1 g"),
        ("sugars", "10", "10 g"), ("fat", "0", "0 g"),
    ],
)  # fmt: skip
def test_cases_90_to_96_rounding(nutrient, amount, text):
    assert law.shown(nutrient, Decimal(amount)) == text


def test_case_97_a_portions_share_of_the_reference_intake():
    # 13 / 90 = 14.4 % (Art. 32(4) and (5), Annex XIII, Part B)
    assert law.share_of_intake_pct("sugars", Decimal(13)) == 14
    assert law.REFERENCE_SENTENCE == "Reference intake of an average adult (8 400 kJ/2 000 kcal)"


@pytest.mark.parametrize(
    ("nutrient", "label", "low", "high"),
    [
        # cases 149 to 153
        ("sugars", "55", "47", "63"), ("protein", "3.4", "1.4", "5.4"),
        ("protein", "20", "16", "24"),
        ("fat", "5.0", "3.5", "6.5"), ("saturates", "2.0", "1.2", "2.8"),
        # the bands' other sides
        ("sugars", "40", "32", "48"), ("saturates", "4", "3.2", "4.8"), ("sugars", "1", "0", "3"),
        ("salt", "1", "0.625", "1.375"), ("salt", "1.25", "1", "1.5"),
    ],
)  # fmt: skip
def test_cases_149_to_153_the_range_of_an_official_control(nutrient, label, low, high):
    found = law.control_range_g(nutrient, Decimal(label))
    assert found == (Decimal(low), Decimal(high))


@pytest.mark.parametrize(("found", "is_in"), [("47.0", True), ("63.0", True), ("63.1", False)])
def test_case_149_what_a_control_found(found, is_in):
    low, high = law.control_range_g("sugars", Decimal(55))
    assert (low <= Decimal(found) <= high) is is_in
