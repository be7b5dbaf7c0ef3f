"""Jars: the worked examples (constructed), and what holds for every jar."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.reckoning.errors import ReckoningError
from costing.reckoning.jars import (
    count_jars,
    fill_jar,
    fill_mass_g,
    give_away,
    suggested_target,
    target_fill,
)

D = Decimal


def jar(fill_g="342", brimful_ml="282", density="1.33"):
    return fill_jar(fill_g=D(fill_g), brimful_ml=D(brimful_ml), density_g_per_ml=D(density))


def test_a_jar_about_nine_tenths_full():
    # 342 / 1.33 = 257.14 ml; / 282 = 91.19 %; 282 - 257.14 = 24.86 ml
    found = jar()
    assert round(found.volume_ml, 2) == D("257.14")
    assert round(found.full_pct, 2) == D("91.19")
    assert round(found.headspace_ml, 2) == D("24.86")
    assert found.cautions == ()


def test_jars_from_a_batch():
    # 30759.0 / 342 = 89.94 -> 89; 30759.0 - 89 x 342 = 321.0 g
    found = count_jars(D("30759.0"), target_g=D(342))
    assert (found.jars, found.remainder_g) == (89, 321)


def test_what_filling_over_the_label_costs():
    # (348 - 340) x 89 = 712 g; 0.712 x 5.2281 = 3.7224
    found = give_away(declared_g=D(340), fill_g=D(348), jars=89, cost_per_kg=D("5.2281"))
    assert found.total_g == 712
    assert round(found.cost, 2) == D("3.72")


def test_an_unknown_cost_stays_unknown():
    assert give_away(declared_g=D(340), fill_g=D(348), jars=89, cost_per_kg=None).cost is None


# 282 ml x 1.33 = 375.06 g to the brim; 97 % 363.8082 g, 80 % 300.048 g.
@pytest.mark.parametrize(
    ("fill_g", "said"),
    [("363.80", ""), ("363.82", "headspace"), ("300.05", ""), ("300.04", "looks short")],
)
def test_too_full_and_too_empty_are_said(fill_g, said):
    found = " ".join(jar(fill_g).cautions)
    assert said in found
    assert bool(found) is bool(said)


def test_a_jar_takes_its_brim_and_no_more():
    assert jar("375.06").headspace_ml == 0
    with pytest.raises(ReckoningError, match="larger jar") as refused:
        jar("375.07")
    assert refused.value.field == "fill_g"


def test_a_fill_line_gives_a_mass():
    # 250 x 1.33 = 332.5
    assert fill_mass_g(volume_ml=D(250), density_g_per_ml=D("1.33")) == D("332.5")


def test_the_target_is_the_label_and_an_allowance():
    assert target_fill(D(340), allowance_g=D(2)).target_g == 342
    # Each jar weighed on a 2 g scale: one step over.
    assert suggested_target(D(340), scale_step_g=D(2)).target_g == 342
    # Spread 6 g, not each weighed: T1 329.8 + 1.95996 x 6 = 341.56 -> 341.6, and a step of 1 g.
    wide = suggested_target(D(340), scale_step_g=D(1), spread_g=D(6))
    assert wide.target_g == D("342.6")
    assert "1.6 g over the label" in wide.because
    # Spread 4 g: 329.8 + 7.84 = 337.64: the label itself is enough, and a step.
    assert suggested_target(D(340), scale_step_g=D(1), spread_g=D(4)).target_g == 341


@settings(max_examples=60, deadline=None)
@given(st.decimals(D(0), D(100000), places=3), st.decimals(D(10), D(1000), places=2))
def test_no_gram_is_lost_between_jars_and_the_rest(net_g, target_g):
    found = count_jars(net_g, target_g=target_g)
    assert found.jars * target_g == found.filled_g
    assert found.filled_g + found.remainder_g == net_g
    assert 0 <= found.remainder_g < target_g


@pytest.mark.parametrize(("net_g", "jars"), [("341.99", 0), ("342", 1), ("684", 2)])
def test_a_jar_counts_when_it_is_full(net_g, jars):
    assert count_jars(D(net_g), target_g=D(342)).jars == jars


def test_no_more_jars_than_there_are():
    found = count_jars(D(3420), target_g=D(342), jars_at_hand=4)
    assert (found.jars, found.remainder_g) == (4, 2052)


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: jar("0"), "fill_g"),
        (lambda: jar(brimful_ml="-1"), "brimful_ml"),
        (lambda: jar(density="1330"), "density_g_per_ml"),
        (lambda: target_fill(D(340), allowance_g=D(-1)), "allowance_g"),
        (lambda: suggested_target(D(0), scale_step_g=D(1)), "declared_g"),
        (lambda: suggested_target(D(340), scale_step_g=D(0)), "scale_step_g"),
        (lambda: count_jars(D(-1), target_g=D(342)), "net_g"),
        (lambda: count_jars(D(1), target_g=D("1e-12")), "target_g"),
        (lambda: count_jars(D(1), target_g=D(342), jars_at_hand=-1), "jars"),
        (
            lambda: give_away(declared_g=D(340), fill_g=D(339), jars=1, cost_per_kg=None),
            "fill_g",
        ),
        (lambda: give_away(declared_g=D(340), fill_g=D(341), jars=-1, cost_per_kg=None), "jars"),
    ],
)
def test_what_cannot_be_filled_is_refused_at_its_field(call, field):
    with pytest.raises(ReckoningError) as refused:
        call()
    assert refused.value.field == field
