"""Slabs: the worked examples, and what holds for every mould and pan.

Figures marked "constructed" are invented; the sum that gives them stands beside them.
"""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.physics.density import slab_height_mm
from costing.reckoning.cutting import Piece, Tray, best_cutting, cut_to_count
from costing.reckoning.errors import ReckoningError
from costing.reckoning.moulds import (
    fill_line_mm,
    piece_at_densities,
    plan_cutting,
    plan_slabs,
    share_slab,
    slab_depth_mm,
    slab_mass_g,
    spread_evenly,
    volume_ml,
)

D = Decimal
# Constructed: a mould of 310 x 210 mm, 5 mm trimmed all round, squares of 50 mm, 30 mm deep.
TRAY = Tray(D(310), D(210), trim_mm=D(5))
SQUARE = Piece(D(50), D(50))
PASTE = D("1.38")
PAN_G = D("11890.3")


def plan(net_g=PAN_G, **changed):
    asked = {
        "tray": TRAY,
        "piece": SQUARE,
        "depth_mm": D(30),
        "density_g_per_ml": PASTE,
        **changed,
    }
    return plan_slabs(D(net_g), **asked)


# --- Worked examples (constructed) ----------------------------------------------------------------


def test_what_a_mould_holds():
    # 310 x 210 x 30 / 1000 = 1953 ml; x 1.38 = 2695.14 g
    size = {"length_mm": D(310), "width_mm": D(210), "depth_mm": D(30)}
    assert volume_ml(**size) == 1953
    assert slab_mass_g(**size, density_g_per_ml=PASTE) == D("2695.14")


def test_a_trimmed_slab_cut_into_squares():
    # (310-10) x (210-10) = 300 x 200 -> 6 x 4 = 24; 5 x 5 x 3 x 1.38 = 103.50 g; 24 of it 2484.00 g
    # trim: 2695.14 - 2484.00 = 211.14 g = 7.834 %
    one = plan("2695.14")
    assert (one.cutting.along, one.cutting.across, one.pieces) == (6, 4, 24)
    assert one.piece_g == D("103.5")
    assert one.shares.pieces_g == 2484
    assert one.shares.trim_g == D("211.14")
    assert (one.shares.offcuts_g, one.shares.kerf_g, one.remainder_g) == (0, 0, 0)
    assert round(one.trim_pct, 2) == D("7.83")
    assert one.remainder_depth_mm is None
    assert one.spread is None


def test_the_number_of_moulds_follows_from_the_depth():
    # 11890.3 = 4 x 2695.14 + 1109.74; 1109.74 / (31.0 x 21.0 x 1.38) = 1.2353 cm
    made = plan()
    assert (made.moulds, made.pieces) == (4, 96)
    assert made.remainder_g == D("1109.74")
    assert round(made.remainder_depth_mm, 2) == D("12.35")
    assert "too shallow to cut to weight" in made.cautions[0]


def test_spreading_the_pan_evenly_makes_every_piece_short():
    # 11890.3 / 5 = 2378.06 g; / (65.1 x 1.38) = 26.471 mm; x 2.5 x 1.38 = 91.32 g
    even = plan(declared_g=D(100)).spread
    assert even.moulds == 5
    assert round(even.depth_mm, 3) == D("26.471")
    assert round(even.piece_g, 2) == D("91.32")
    assert even.is_short is True


@pytest.mark.parametrize(("piece_g", "deep_mm"), [("100", "28.986"), ("102", "29.565")])
def test_the_depth_for_a_wanted_weight(piece_g, deep_mm):
    # 100 / (5 x 5 x 1.38) = 2.8986 cm; 102 / 34.5 = 2.9565 cm
    found = slab_depth_mm(
        mass_g=D(piece_g), length_mm=D(50), width_mm=D(50), density_g_per_ml=PASTE
    )
    assert round(found, 3) == D(deep_mm)


def test_a_density_four_percent_wrong_makes_the_batch_short():
    # 5 x 5 x 3 = 75 ml; x 1.35 = 101.25 g; x 1.32 = 99.00 g, 4.35 % below 103.50 g
    light, lighter = piece_at_densities(
        SQUARE,
        depth_mm=D(30),
        assumed_g_per_ml=PASTE,
        densities=[D("1.35"), D("1.32")],
        declared_g=D(100),
    )
    assert (light.piece_g, light.is_short) == (D("101.25"), False)
    assert (lighter.piece_g, lighter.is_short) == (99, True)
    assert round(lighter.change_pct, 2) == D("-4.35")


def test_a_frame_with_a_kerf_shares_what_is_left():
    # (300 - 5) / 6 = 49.1667; (200 - 3) / 4 = 49.25; x 30 x 1.38 / 1000 = 100.248 g
    frame = cut_to_count(TRAY, along=6, across=4, kerf_mm=D(1))
    made = plan_cutting(D("2695.14"), cutting=frame, depth_mm=D(30), density_g_per_ml=PASTE)
    assert made.pieces == 24
    assert round(made.piece_g, 3) == D("100.248")


# --- Pairs and checks -----------------------------------------------------------------------------


@pytest.mark.parametrize(("net_g", "moulds"), [("2695.13", 0), ("2695.14", 1), ("5390.28", 2)])
def test_a_mould_counts_when_it_is_full_to_the_gram(net_g, moulds):
    assert plan(net_g).moulds == moulds


def test_too_little_for_one_mould_and_too_few_moulds_are_said():
    assert "do not fill one mould" in plan("2000").cautions[0]
    few = plan(moulds_at_hand=2)
    # 11890.3 - 2 x 2695.14 = 6500.02 g, 2.4 moulds more
    assert (few.moulds, few.remainder_g, few.remainder_depth_mm) == (2, D("6500.02"), None)
    assert "2.4 more moulds" in few.cautions[0]


@pytest.mark.parametrize(("declared_g", "is_said"), [("103.5", False), ("103.6", True)])
def test_a_plan_below_its_label_says_so(declared_g, is_said):
    said = " ".join(plan("2695.14", declared_g=D(declared_g)).cautions)
    assert ("less than the" in said) is is_said


def test_the_depth_agrees_with_the_physics():
    assert float(
        slab_depth_mm(mass_g=D(900), length_mm=D(200), width_mm=D(200), density_g_per_ml=D("1.322"))
    ) == pytest.approx(slab_height_mm(mass_g=900, tray_area_cm2=400, density_kg_per_m3=1322))


def test_hot_paste_stands_higher():
    # Constructed: 30 mm x 1.322 / 1.281 = 30.96 mm
    assert round(fill_line_mm(D(30), cold_g_per_ml=D("1.322"), hot_g_per_ml=D("1.281")), 2) == D(
        "30.96"
    )
    with pytest.raises(ReckoningError, match="denser than cold"):
        fill_line_mm(D(30), cold_g_per_ml=D("1.281"), hot_g_per_ml=D("1.322"))


# --- What holds for every one ---------------------------------------------------------------------


def mm(low, high):
    return st.decimals(D(low), D(high), places=1, allow_nan=False)


TRAYS = st.builds(Tray, mm(60, 600), mm(60, 400), trim_mm=mm(0, 10))
PIECES = st.builds(Piece, mm(15, 60), mm(15, 40))
DENSITIES = st.decimals(D("1.2"), D("1.5"), places=3)
KERFS = mm(0, 3)


def cuttable(tray, piece, kerf_mm):
    fits = min(tray.length_mm, tray.width_mm) - 2 * tray.trim_mm
    return fits >= max(piece.length_mm, piece.width_mm)


@settings(max_examples=60, deadline=None)
@given(TRAYS, PIECES, DENSITIES, KERFS, mm(5, 60), st.decimals(D(0), D(60000), places=3))
def test_no_gram_is_lost(tray, piece, density, kerf_mm, deep_mm, net_g):
    if not cuttable(tray, piece, kerf_mm):
        return
    made = plan_slabs(
        net_g,
        tray=tray,
        piece=piece,
        depth_mm=deep_mm,
        density_g_per_ml=density,
        kerf_mm=kerf_mm,
    )
    shares = made.shares
    parts = (shares.pieces_g, shares.trim_g, shares.kerf_g, shares.offcuts_g, made.remainder_g)
    assert sum(parts) == net_g
    assert min(parts) >= 0
    assert made.remainder_g < made.mould_g
    # Each part is really the mass of its own area, not what happened to be left.
    for part_g, mm2 in (
        (shares.trim_g, made.cutting.trim_mm2),
        (shares.kerf_g, made.cutting.kerf_mm2),
        (shares.offcuts_g, made.cutting.offcuts_mm2),
        (shares.pieces_g, made.pieces * piece.length_mm * piece.width_mm / (made.moulds or 1)),
    ):
        assert abs(part_g - made.moulds * mm2 * deep_mm * density / 1000) < D("1e-6")


@settings(max_examples=60, deadline=None)
@given(DENSITIES, mm(5, 60), mm(0, 10))
def test_more_depth_is_never_fewer_grams_and_never_more_moulds(density, deep_mm, more_mm):
    shallow = plan(depth_mm=deep_mm, density_g_per_ml=density)
    deep = plan(depth_mm=deep_mm + more_mm, density_g_per_ml=density)
    assert deep.piece_g >= shallow.piece_g
    assert deep.mould_g >= shallow.mould_g
    assert deep.moulds <= shallow.moulds


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 12), DENSITIES)
def test_depth_and_mass_are_each_other_undone(moulds, density):
    cutting = best_cutting(TRAY, piece=SQUARE)
    even = spread_evenly(PAN_G, cutting=cutting, moulds=moulds, density_g_per_ml=density)
    slab_g = slab_mass_g(
        length_mm=D(310), width_mm=D(210), depth_mm=even.depth_mm, density_g_per_ml=density
    )
    assert abs(slab_g * moulds - PAN_G) < D("1e-15")


@settings(max_examples=40, deadline=None)
@given(st.decimals(D(0), D(100000), places=9), st.integers(1, 7), KERFS)
def test_a_slab_is_shared_out_to_the_last_digit(slab_g, wires, kerf_mm):
    frame = cut_to_count(TRAY, along=wires, across=3, kerf_mm=kerf_mm)
    assert share_slab(frame, slab_g=slab_g).slab_g == slab_g


# --- Refused --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"depth_mm": D(0)}, "depth_mm"),
        ({"depth_mm": D("NaN")}, "depth_mm"),
        ({"density_g_per_ml": D(1380)}, "density_g_per_ml"),
        ({"density_g_per_ml": D("0.49")}, "density_g_per_ml"),
        ({"net_g": D(-1)}, "net_g"),
        ({"tray": Tray(D(310), D(210), rim_mm=D(29))}, "depth_mm"),
        ({"tray": Tray(D(310), D(210), trim_mm=D(105))}, "trim_mm"),
        ({"piece": Piece(D(400), D(50))}, "piece_length_mm"),
        ({"kerf_mm": D(-1)}, "kerf_mm"),
        ({"moulds_at_hand": -1}, "moulds"),
        ({"tray": Tray(D("1e9"), D(210))}, "length_mm"),
    ],
)
def test_what_cannot_be_poured_is_refused_at_its_field(changed, field):
    with pytest.raises(ReckoningError) as refused:
        plan(**changed)
    assert refused.value.field == field
    assert str(refused.value).endswith(".")


def test_a_rim_just_high_enough_will_do():
    assert plan(tray=Tray(D(310), D(210), trim_mm=D(5), rim_mm=D(30))).moulds == 4


def test_no_moulds_to_spread_over():
    with pytest.raises(ReckoningError, match="at least one"):
        spread_evenly(
            PAN_G,
            cutting=best_cutting(TRAY, piece=SQUARE),
            moulds=0,
            density_g_per_ml=PASTE,
        )
