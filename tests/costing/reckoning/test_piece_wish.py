"""Size, depth, weight: any two give the third, rounded so that no piece comes out short."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.reckoning.cutting import Piece
from costing.reckoning.errors import ReckoningError
from costing.reckoning.moulds import slab_mass_g
from costing.reckoning.piece_wish import settle_piece

D = Decimal

PASTE = D("1.38")


def wish(length=None, width=None, depth=None, weight=None):
    typed = [None if one is None else D(str(one)) for one in (length, width, depth, weight)]
    return settle_piece(
        length_mm=typed[0], width_mm=typed[1], depth_mm=typed[2], piece_g=typed[3],
        density_g_per_ml=PASTE,
    )  # fmt: skip


def test_the_weight_follows_from_size_and_depth():
    made = wish(50, 50, 30)
    assert (made.piece, made.depth_mm, made.follows) == (Piece(D(50), D(50)), 30, "weight")


@pytest.mark.parametrize(
    # Constructed: 100 / (5 x 5 x 1.38) = 2.8986 cm; 102 / 34.5 = 2.9565 cm; both up to a tenth.
    ("weight", "depth"),
    [(100, "29.0"), (102, "29.6")],
)
def test_the_depth_follows_from_size_and_weight(weight, depth):
    made = wish(50, 50, weight=weight)
    assert (made.depth_mm, made.follows) == (D(depth), "depth")


def test_a_square_follows_from_depth_and_weight():
    # 100 / (3 x 1.38) = 24.155 cm2, the root of it 4.9147 cm: up to 49.2 mm
    made = wish(depth=30, weight=100)
    assert (made.piece, made.follows) == (Piece(D("49.2"), D("49.2")), "size")


@given(
    depth=st.decimals(5, 80, places=1), weight=st.decimals(20, 900, places=1), square=st.booleans()
)
def test_what_follows_is_never_short_in_weight(depth, weight, square):
    made = wish(depth=depth, weight=weight) if square else wish(60, 40, weight=weight)
    weighs = slab_mass_g(
        length_mm=made.piece.length_mm, width_mm=made.piece.width_mm, depth_mm=made.depth_mm,
        density_g_per_ml=PASTE,
    )  # fmt: skip
    assert weighs >= weight


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"length": 50, "depth": 30}, "piece_width_mm"),
        ({"width": 50, "depth": 30}, "piece_length_mm"),
        ({"length": 50, "width": 50}, "depth_mm"),
        ({"length": 50, "width": 50, "depth": 30, "weight": 100}, "piece_g"),
        ({"depth": 30}, "piece_length_mm"),
        ({}, "piece_length_mm"),
        ({"depth": 0, "weight": 100}, "depth_mm"),
        ({"depth": 30, "weight": 0}, "piece_g"),
    ],
)
def test_too_little_and_too_much_are_said_at_their_box(typed, field):
    with pytest.raises(ReckoningError) as refused:
        wish(**typed)
    assert refused.value.field == field
