"""Live readings: three estimates of one Brix, what is left, and readings that cannot be."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.reckoning.stove import (
    DONE,
    KEEP_GOING,
    NEARLY,
    NOT_READ,
    TOO_FAR,
    now,
)
from tests.costing.reckoning.stove_pans import (
    at,
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


def test_a_jam_of_2000_grams_has_320_9_grams_of_water_to_go():
    # 1078.4/0.65 + 20 = 1679.1; 2000 - 1679.1 = 320.9. At 30 g a minute 4.0 min to 58 Brix
    # (1879.3 g), then with 40 % of the fire 200.2/12 = 16.7 min: 20.7 min.
    found = state(weighed(3500), plan=JAM)

    assert found.verdict == KEEP_GOING
    assert float(found.water_to_go_g) == pytest.approx(320.9, abs=0.5)
    assert float(found.minutes_to_go) == pytest.approx(20.7, abs=0.1)


def test_minutes_are_told_at_the_rate_measured_last():
    # 100 g in 5 min, past 58 Brix: 20 g a minute is the low fire's own; 1820 - 1679.1 = 140.9 g.
    found = state(weighed(3420), weighed(3320, minutes=5), plan=JAM, minutes=5)
    assert float(found.minutes_to_go) == pytest.approx(140.9 / 20, abs=0.1)
    assert "at your last measured rate" in found.sentence
    assert not any("turn the fire down" in note for note in found.notes)


def test_minutes_by_the_pans_own_rate_say_so_and_count_the_low_fire():
    found = state(weighed(3500), plan=JAM)
    assert "at this pan's usual rate" in found.sentence
    assert any("40 % of the rate" in note for note in found.notes)


@pytest.mark.parametrize(
    # M = 1078.4/B + 20: 62.9 just short of nearly (65 - 2), 63.1, 64.4 / 64.6, 65.9 / 66.1.
    ("brix", "verdict"),
    [
        (62.9, KEEP_GOING),
        (63.1, NEARLY),
        (64.4, NEARLY),
        (64.6, DONE),
        (65.9, DONE),
        (66.1, TOO_FAR),
    ],
)
def test_the_verdict_changes_at_its_marks(brix, verdict):
    gross = 1500 + round(107840 / brix + 20, 2)
    assert state(weighed(gross), plan=JAM).verdict == verdict


def test_weight_and_thermometer_that_agree_say_nothing():
    found = state(weighed(3179), hot("103.9"), plan=JAM)
    assert found.contradictions == ()


def test_weight_and_thermometer_that_disagree_are_said_plainly():
    # The weight says 100 x 1078.4/1580 = 68.3 Brix, the thermometer 103.0 C: about 60.
    found = state(weighed(3100), hot("103.0"), plan=JAM)

    assert "Weight and thermometer disagree by" in found.contradictions[0]
    assert "recipe, spillage or fruit Brix?" in found.contradictions[0]
    assert "disagree" in found.sentence


@pytest.mark.parametrize(("brix", "is_said"), [("64", False), ("68", True)])
def test_weight_and_brix_audit_the_recipe_from_four_percent(brix, is_said):
    # By weight 65 Brix (1679 g): 64 is 1.5 % off, 68 is 4.6 %.
    said = state(weighed(3179), lens(brix), plan=JAM).contradictions
    assert any("than the recipe brings" in one for one in said) is is_said


def test_sugar_put_in_counts_as_solids():
    # (1078.4 + 100)/0.65 + 20 = 1832.9 g is now the pot's stop.
    found = state(put_in("sugar", 100), weighed(3500, minutes=1), plan=JAM, minutes=1)
    assert float(found.target_gross_g - 1500) == pytest.approx(1832.9, abs=0.5)


@pytest.mark.parametrize(("minutes", "counts"), [(15, True), (16, False)])
def test_a_reading_counts_for_a_quarter_of_an_hour(minutes, counts):
    found = state(weighed(3500), hot("103.8", minutes=minutes), plan=JAM, minutes=minutes)
    assert ("weight" in [one.kind for one in found.estimates]) is counts
    assert bool(found.notes) is not counts


def test_water_put_in_after_a_reading_makes_it_too_old():
    found = state(weighed(3200), put_in("water", 50, minutes=1), plan=JAM, minutes=1)
    assert (found.verdict, found.brix) == (NOT_READ, None)
    assert "too old" in found.notes[0]


@pytest.mark.parametrize(("read", "is_rough"), [("108", False), ("111", True), ("128", True)])
def test_above_80_brix_the_figures_are_indicative(read, is_rough):
    # Sucrose at 80 Brix boils at 109.4 C (sugar handbooks 9.4 K, from memory), this jam at 110.
    found = state(hot(read), plan=JAM)
    assert found.verdict == TOO_FAR
    assert any("only indicative" in note for note in found.notes) is is_rough


def test_minutes_run_on_after_the_reading():
    early, late = (state(weighed(3500), plan=JAM, minutes=m).minutes_to_go for m in (0, 4))
    assert early - late == D("4.0")


def test_nothing_read_is_said_and_not_guessed():
    found = state()
    assert (found.verdict, found.brix) == (NOT_READ, None)


@given(st.integers(2650, 3499), st.integers(1, 20))
def test_a_thinner_pan_has_more_water_to_go(gross, more):
    thick, thin = state(weighed(gross), plan=JAM), state(weighed(gross + more), plan=JAM)
    assert thin.brix.value <= thick.brix.value
    assert thin.water_to_go_g > thick.water_to_go_g


@given(st.integers(2900, 3100))
def test_thinning_and_boiling_on_come_back_to_the_same_pan(gross):
    before = state(weighed(gross), plan=JAM)
    back = state(
        weighed(gross), put_in("water", 50, minutes=1), weighed(gross + 50, minutes=2),
        weighed(gross, minutes=4), plan=JAM, minutes=4,
    )  # fmt: skip
    assert back.brix == before.brix
    assert back.water_to_go_g == before.water_to_go_g
