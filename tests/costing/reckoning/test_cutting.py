"""Cutting a slab: the tray is covered exactly once, and the better way round is found."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.reckoning.cutting import (
    KERF,
    MOST_PIECES,
    OFFCUT,
    PIECE,
    TRIM,
    Piece,
    Tray,
    best_cutting,
    both_cuttings,
    cut_to_count,
    cuts,
    rectangles,
    usable_mm,
)
from costing.reckoning.errors import ReckoningError

D = Decimal


def mm(low, high):
    return st.decimals(D(low), D(high), places=1, allow_nan=False)


TRAYS = st.builds(Tray, mm(60, 400), mm(60, 300), trim_mm=mm(0, 10))
PIECES = st.builds(Piece, mm(15, 40), mm(15, 40))


def area_of_kind(cutting, kind):
    return sum((r.mm2 for r in rectangles(cutting) if r.kind == kind), D(0))


def test_the_piece_is_turned_when_more_fit():
    # Constructed: 300 x 200, piece 60 x 45. As given 5 x 4 = 20; turned 300/45 = 6, 200/60 = 3: 18.
    as_given, turned = both_cuttings(Tray(D(300), D(200)), piece=Piece(D(60), D(45)))
    assert (as_given.pieces, turned.pieces) == (20, 18)
    # 300/80 = 3 by 200/50 = 4 is 12; turned 300/50 = 6 by 200/80 = 2 is 12 too: as given.
    assert not best_cutting(Tray(D(300), D(200)), piece=Piece(D(80), D(50))).is_turned
    # 300/60 = 5 by 200/70 = 2 is 10; turned 300/70 = 4 by 200/60 = 3 is 12.
    best = best_cutting(Tray(D(300), D(200)), piece=Piece(D(60), D(70)))
    assert (best.pieces, best.is_turned, best.piece) == (12, True, Piece(D(70), D(60)))


def test_a_kerf_costs_a_piece_when_there_is_no_room_for_it():
    # 6 x 50 = 300 fits without a kerf; with 1 mm, 6 need 305 and 5 need 254.
    tray = Tray(D(300), D(200))
    assert best_cutting(tray, piece=Piece(D(50), D(50))).along == 6
    with_kerf = best_cutting(tray, piece=Piece(D(50), D(50)), kerf_mm=D(1))
    assert (with_kerf.along, with_kerf.across) == (5, 3)
    # Strips: 300 - 254 - 1 = 45 by 200, and 200 - 152 - 1 = 47 by 254.
    assert with_kerf.offcuts_mm2 == 45 * 200 + 47 * 254
    # 305 is exactly enough for six, 304.9 is not.
    for length_mm, along in (("305", 6), ("304.9", 5)):
        wide = Tray(D(length_mm), D(200))
        assert best_cutting(wide, piece=Piece(D(50), D(50)), kerf_mm=D(1)).along == along


def test_a_picture_of_the_tray():
    # Constructed: 120 x 70, 5 trimmed: 110 x 60 inside; 50 x 50: 2 x 1, a strip of 10 each way.
    cutting = best_cutting(Tray(D(120), D(70), trim_mm=D(5)), piece=Piece(D(50), D(50)))
    drawn = [(r.kind, r.x_mm, r.y_mm, r.length_mm, r.width_mm) for r in rectangles(cutting)]
    assert drawn == [
        (TRIM, 0, 0, 5, 70),
        (TRIM, 115, 0, 5, 70),
        (TRIM, 5, 0, 110, 5),
        (TRIM, 5, 65, 110, 5),
        (PIECE, 5, 5, 50, 50),
        (PIECE, 55, 5, 50, 50),
        (OFFCUT, 105, 5, 10, 60),
        (OFFCUT, 5, 55, 100, 10),
    ]
    made = [(c.x1_mm, c.y1_mm, c.x2_mm, c.y2_mm) for c in cuts(cutting)]
    assert made == [
        (5, 0, 5, 70),
        (115, 0, 115, 70),
        (5, 5, 115, 5),
        (5, 65, 115, 65),
        (105, 5, 105, 65),
        (5, 55, 105, 55),
        (55, 5, 55, 55),
    ]


def test_a_kerf_beside_a_strip_thinner_than_itself_takes_all_of_it():
    # 100.5 long, two of 50 with 1 mm kerf need 101: one fits; then 50.5 - 1 = 49.5 left.
    thin = best_cutting(Tray(D("100.5"), D(50)), piece=Piece(D(50), D(50)), kerf_mm=D(1))
    assert (thin.pieces, area_of_kind(thin, OFFCUT)) == (1, D("49.5") * 50)
    # 101.4: two fit, 0.4 is less than the blade: no strip, only crumbs.
    crumbs = best_cutting(Tray(D("101.4"), D(50)), piece=Piece(D(50), D(50)), kerf_mm=D(1))
    assert (crumbs.pieces, crumbs.offcuts_mm2, crumbs.kerf_mm2) == (2, 0, D("1.4") * 50)


@settings(max_examples=60, deadline=None)
@given(TRAYS, PIECES, mm(0, 3))
def test_rectangles_cover_the_tray_exactly_once(tray, piece, kerf_mm):
    for cutting in both_cuttings(tray, piece=piece, kerf_mm=kerf_mm):
        drawn = rectangles(cutting)
        assert sum(r.mm2 for r in drawn) == tray.length_mm * tray.width_mm
        assert area_of_kind(cutting, KERF) == cutting.kerf_mm2
        assert area_of_kind(cutting, TRIM) == cutting.trim_mm2
        assert area_of_kind(cutting, PIECE) == cutting.pieces_mm2
        for r in drawn:
            assert 0 <= r.x_mm <= r.x_mm + r.length_mm <= tray.length_mm
            assert 0 <= r.y_mm <= r.y_mm + r.width_mm <= tray.width_mm
        # The areas add up, so one shared point would mean another is bare: none may overlap.
        for n, a in enumerate(drawn[:40]):
            for b in drawn[n + 1 : 40]:
                apart_x = a.x_mm + a.length_mm <= b.x_mm or b.x_mm + b.length_mm <= a.x_mm
                apart_y = a.y_mm + a.width_mm <= b.y_mm or b.y_mm + b.width_mm <= a.y_mm
                assert apart_x or apart_y


@settings(max_examples=60, deadline=None)
@given(TRAYS, PIECES, mm(0, 3))
def test_the_best_way_round_is_as_good_as_either_and_does_not_care_how_it_was_typed(
    tray, piece, kerf_mm
):
    as_given, turned = both_cuttings(tray, piece=piece, kerf_mm=kerf_mm)
    if not as_given.pieces and not turned.pieces:
        return
    best = best_cutting(tray, piece=piece, kerf_mm=kerf_mm)
    other = Piece(piece.width_mm, piece.length_mm)
    assert best.pieces == max(as_given.pieces, turned.pieces)
    assert best_cutting(tray, piece=other, kerf_mm=kerf_mm).pieces == best.pieces
    on_its_side = Tray(tray.width_mm, tray.length_mm, trim_mm=tray.trim_mm)
    assert best_cutting(on_its_side, piece=piece, kerf_mm=kerf_mm).pieces == best.pieces


@settings(max_examples=40, deadline=None)
@given(TRAYS, st.integers(1, 8), st.integers(1, 6), mm(0, 2))
def test_a_frame_covers_the_tray_too(tray, along, across, kerf_mm):
    frame = cut_to_count(tray, along=along, across=across, kerf_mm=kerf_mm)
    assert sum(r.mm2 for r in rectangles(frame)) == tray.length_mm * tray.width_mm
    # What cannot be shared out evenly is thinner than a thousandth of a millimetre.
    length_mm, _ = usable_mm(tray)
    assert 0 <= length_mm - along * frame.piece.length_mm - (along - 1) * kerf_mm < D("0.001")


def test_thousands_of_pieces_are_a_mistyped_unit():
    # 50 x 40 = 2000 pieces of 5 mm will do; 51 x 40 will not.
    assert best_cutting(Tray(D(250), D(200)), piece=Piece(D(5), D(5))).pieces == MOST_PIECES
    with pytest.raises(ReckoningError, match="5 cm are 50"):
        best_cutting(Tray(D(255), D(200)), piece=Piece(D(5), D(5)))
    with pytest.raises(ReckoningError, match="5 cm are 50"):
        best_cutting(Tray(D("999999999"), D(200)), piece=Piece(D("0.000000001"), D(5)))


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"along": 0, "across": 1}, "along"),
        ({"along": 1, "across": 0}, "across"),
        ({"along": 31, "across": 1, "kerf_mm": D(10)}, "kerf_mm"),
        ({"along": 1, "across": 1, "kerf_mm": D("Infinity")}, "kerf_mm"),
    ],
)
def test_frames_that_cannot_be_are_refused(asked, field):
    with pytest.raises(ReckoningError) as refused:
        cut_to_count(Tray(D(300), D(200)), **asked)
    assert refused.value.field == field


def test_no_trimmed_tray_is_refused_when_nothing_is_left():
    assert usable_mm(Tray(D(300), D(200), trim_mm=D("99.9"))) == (D("100.2"), D("0.2"))
    with pytest.raises(ReckoningError, match="leaves nothing"):
        usable_mm(Tray(D(300), D(200), trim_mm=D(100)))
