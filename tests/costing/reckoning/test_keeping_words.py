"""What is said about keeping, and never promised."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.physics import PRESERVE, SUCROSE
from costing.reckoning.stove import (
    keeping,
    low_acid_names,
)
from tests.costing.reckoning.stove_pans import strawberry

D = Decimal
JAM = strawberry()


def kept(brix, *, plan=JAM, **more):
    return keeping(plan, brix=D(brix), **more)


@pytest.mark.parametrize(
    # Strawberry jam at 65 Brix without inversion 0.860, a quarter inverted 0.843, at 20 C
    # (Norrish 1966 with Starzak & Peacock 1997, worked out twice).
    ("inverted_pct", "aw"),
    [(0, 0.860), (25, 0.843)],
)
def test_water_activity_of_a_strawberry_jam(inverted_pct, aw):
    found = kept("65", plan=strawberry(inverted_pct=inverted_pct))
    assert float(found.aw) == pytest.approx(aw, abs=0.002)
    assert found.aw_off == D("0.02")


def test_decisions_rest_on_the_more_cautious_of_two_models():
    # The usual preserve at 66 Brix: 0.829 by Norrish, 0.846 by Ross 1975.
    found = kept("66", composition=PRESERVE)
    assert float(found.aw) == pytest.approx(0.829, abs=0.002)
    assert float(found.cautious_aw) == pytest.approx(0.846, abs=0.002)


@pytest.mark.parametrize(
    # Saturated sucrose at 20 C is 66.60 % (Charles 1960): ratio 1.17 at 70 Brix.
    ("brix", "word"),
    [("66", "stay dissolved"), ("67", "can grain"), ("70", "Expect it to grain")],
)
def test_a_pure_syrup_grains_above_its_saturation(brix, word):
    assert word in kept(brix, composition=SUCROSE).graining


def test_saturation_ratio_of_a_syrup_of_70():
    assert float(kept("70", composition=SUCROSE).saturation) == pytest.approx(1.17, abs=0.01)


def test_unknown_acidity_is_asked_for_and_never_taken_as_acid():
    found = kept("65")
    assert [ask.about for ask in found.asks] == ["ph"]
    acid = next(one for one in found.limits if one.sentence.startswith("pH 4.6"))
    assert acid.is_inside is None


@pytest.mark.parametrize(("ph", "is_inside"), [("4.6", True), ("4.61", False)])
def test_the_limit_of_acid_food_is_ph_4_6(ph, is_inside):
    # 21 CFR 114.3.
    limits = kept("65", ph=D(ph)).limits
    acid = next(one for one in limits if one.sentence.startswith("pH 4.6"))
    assert acid.is_inside is is_inside
    assert acid.source == "21 CFR 114.3"


@pytest.mark.parametrize(
    # Food Code, tables A and B (from memory); 0.02 of doubt on both sides. The usual preserve
    # reads 0.883 at 60 Brix by Ross 1975, 0.846 at 66.
    ("brix", "packed", "not_packed"),
    [("60", True, None), ("66", True, True)],
)
def test_packed_hot_and_not_packed_have_their_own_limits(brix, packed, not_packed):
    found = [one for one in kept(brix, composition=PRESERVE).limits if "Food Code" in one.source]
    assert [one.is_inside for one in found] == [packed, not_packed]


def test_figs_are_asked_about_by_name():
    # 21 CFR 114 covers figs acidified with lemon juice; their pH is 4.6 to 5.2 (from memory).
    found = kept("65", plan=strawberry(names=("Fresh figs", "White sugar")))
    assert "Fresh figs" in found.asks[0].sentence
    assert found.storage == ("Keep refrigerated.",)


def test_names_are_matched_as_words():
    given = ("Dried dates", "Ripe tomatoes", "Damsons", "Update", "Cherries", "Elderberries")
    assert low_acid_names(given) == ("Dried dates", "Ripe tomatoes", "Elderberries")


@pytest.mark.parametrize(("brix", "is_cold"), [("59.9", True), ("64", False)])
def test_thin_spreads_are_for_the_cold(brix, is_cold):
    found = kept(brix, composition=PRESERVE, ph=D("3.2"))
    assert ("Keep refrigerated." in found.storage) is is_cold


@given(st.integers(0, 84), st.sampled_from([None, D("3.2"), D("5.5"), D(20)]))
def test_nothing_is_ever_promised(brix, ph):
    found = keeping(JAM, brix=D(brix), ph=ph)
    said = " ".join(
        [*found.storage, *found.cautions, found.graining, *(one.sentence for one in found.limits)]
    ).lower()
    assert "no process authority" in said
    for promise in ("is safe", "will keep", "keeps for", "shelf-stable", "guarantee"):
        assert promise not in said
