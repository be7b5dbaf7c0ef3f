"""Where a finished pan went: sums by hand, and odd figures asked about in pairs of a threshold."""

from decimal import Decimal

import pytest

from costing.reckoning.coming_out import ComingOut, Counted, Measured, odd_figures

PIECES = Counted("Damson cheese 100 g", 112, Decimal(11592))


def out(came_out_g=11900, counted=(PIECES,), kept_g=0, thrown_away_g=0):
    came = None if came_out_g is None else Decimal(came_out_g)
    return ComingOut(came, counted, Decimal(kept_g), Decimal(thrown_away_g))


def fields(one, **read):
    return [odd.field for odd in odd_figures(one, Measured(**read))]


def test_what_came_out_is_pieces_offcuts_and_the_rest():
    # 112 x 103.5 g = 11592 g; 11900 - 11592 - 120 - 80 = 108 g; the kilo bears the 80 g.
    one = out(kept_g=120, thrown_away_g=80)
    assert one.counted_g == Decimal(112) * Decimal("103.5")
    assert one.rest_g == Decimal(108)
    assert one.finished_g == Decimal(11820)
    assert one.came_out_g == one.told_g + one.rest_g


def test_without_a_weight_nothing_is_made_up():
    one = out(None)
    assert (one.rest_g, one.finished_g) == (None, None)
    assert odd_figures(one, Measured(pot_g=Decimal(100))) == []


@pytest.mark.parametrize(("pot_g", "is_odd"), [(11900, False), (11899, True)])
def test_more_cannot_come_out_than_was_in_the_pan(pot_g, is_odd):
    found = odd_figures(out(), Measured(pot_g=Decimal(pot_g)))
    assert [one.is_impossible for one in found] == ([True] if is_odd else [])


@pytest.mark.parametrize(("came_out_g", "is_odd"), [(11592, False), (11591, True)])
def test_pieces_cannot_weigh_more_than_came_out(came_out_g, is_odd):
    found = odd_figures(out(came_out_g), Measured())
    assert bool(found) is is_odd
    if is_odd:
        assert "11.59 kg together, 0.001 kg more" in found[0].sentence


@pytest.mark.parametrize(
    ("came_out_g", "is_odd"), [(6000, False), (5999, True), (18000, False), (18001, True)]
)
def test_half_as_much_again_or_less_than_half_is_asked_about(came_out_g, is_odd):
    assert fields(out(came_out_g, ()), planned_g=Decimal(12000)) == ["net_kg"] * is_odd


@pytest.mark.parametrize(("came_out_g", "is_odd"), [(12880, False), (12881, True)])
def test_a_tenth_that_nobody_counted_is_asked_about(came_out_g, is_odd):
    # 11592 / 0.9 = 12880.
    assert fields(out(came_out_g)) == ["offcuts_kg"] * is_odd


def test_a_pan_of_which_nothing_was_counted_is_not_asked_about():
    assert fields(out(counted=())) == []


@pytest.mark.parametrize(
    ("read", "field"),
    [
        ({"end_brix": Decimal(71), "planned_brix": Decimal(66)}, None),
        ({"end_brix": Decimal("71.1"), "planned_brix": Decimal(66)}, "end_brix"),
        ({"ph": Decimal("2.2")}, None),
        ({"ph": Decimal("2.1")}, "ph"),
        ({"moulds_filled": 3, "moulds_owned": 3}, None),
        ({"moulds_filled": 4, "moulds_owned": 3}, "moulds_filled"),
    ],
)
def test_readings_that_are_seldom_so_are_asked_about(read, field):
    assert fields(out(), **read) == ([field] if field else [])
