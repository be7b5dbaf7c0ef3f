"""Packs, held to plain geometry and to the limits of Regulation (EU) No 1169/2011."""

import math
from decimal import Decimal

import pytest

from labels import law
from labels.packs import SHAPES, Pack, largest_surface, limit_within_reach, shape, shown_cm2
from tests.labels.law.eu.builders import TODAY, a_label

LIMITS = [Decimal(80), Decimal(25), Decimal(10)]


def _pack(code, **sides_mm):
    return Pack(code, **{f"{name}_mm": Decimal(length) for name, length in sides_mm.items()})


@pytest.mark.parametrize("code", ["box", "slab"])
@pytest.mark.parametrize(
    ("sides", "area_cm2"),
    [
        # 10.0 cm x 8.0 cm = 80.0 cm2, and each pair of a limit and just under it
        ({"length": "100", "width": "80", "height": "20"}, "80"),
        ({"length": "99.9", "width": "80", "height": "20"}, "79.92"),
        ({"length": "50", "width": "50", "height": "12"}, "25"),
        ({"length": "50", "width": "12", "height": "49.8"}, "24.9"),
        ({"length": "20", "width": "15", "height": "50"}, "10"),
        ({"length": "15", "width": "33", "height": "30"}, "9.9"),
    ],
)
def test_the_largest_face_of_a_block_however_it_lies(code, sides, area_cm2):
    surface = largest_surface(_pack(code, **sides))
    assert surface.area_cm2 == Decimal(area_cm2)
    assert surface.mark == "common practice"


@pytest.mark.parametrize(
    ("number", "height_mm", "area_cm2", "x_height_mm"),
    # Cases 7 and 8: pi x 5.0 x 5.0 = 78.54 cm2; pi x 5.0 x 5.2 = 81.68 cm2.
    [(7, "50", "78.5", "0.9"), (8, "52", "81.7", "1.2")],
)
def test_a_jar_counts_by_its_straight_wall(number, height_mm, area_cm2, x_height_mm):
    # Art. 13(3) [R]; height times circumference: decision of the ALS, 125th meeting [2]
    surface = largest_surface(_pack("jar", diameter="50", height=height_mm))
    assert float(surface.area_cm2) == pytest.approx(math.pi * 5 * float(height_mm) / 10, rel=1e-12)
    assert shown_cm2(surface.area_cm2, limits=LIMITS) == Decimal(area_cm2)
    assert surface.mark == "second-hand"
    facts = a_label(largest_surface_cm2=surface.area_cm2)
    assert law.minimum_x_height_mm(facts, on=TODAY) == Decimal(x_height_mm), number


@pytest.mark.parametrize(("height_mm", "is_doubted"), [("21.2", True), ("21.3", False)])
def test_a_shallow_tin_whose_lid_is_larger_than_its_wall_is_doubted(height_mm, is_doubted):
    # Lid pi d2/4 against wall pi d h: the lid is larger where h is under d/4 = 85/4 = 21.25 mm.
    surface = largest_surface(_pack("jar", diameter="85", height=height_mm))
    assert bool(surface.doubt) is is_doubted


@pytest.mark.parametrize("each", SHAPES, ids=lambda each: each.code)
def test_a_side_nobody_measured_is_named_and_gives_no_surface(each):
    whole = {side: Decimal(30) for side, _ in each.sides}
    assert largest_surface(Pack(each.code, **whole)) is not None
    for side, name in each.sides:
        pack = Pack(each.code, **{**whole, side: None})
        assert pack.missing == (name,)
        assert largest_surface(pack) is None
        assert limit_within_reach(pack, limits=LIMITS) is None


def test_only_a_round_pack_has_a_circumference():
    # A jar of 63 mm is pi x 63 = 197.9 mm around.
    assert float(_pack("jar", diameter="63").circumference_mm) == pytest.approx(197.92, abs=0.005)
    assert _pack("box", length="63").circumference_mm is None
    assert Pack("jar").circumference_mm is None


def test_an_unknown_shape_is_answered_with_the_known_ones():
    with pytest.raises(ValueError, match="box, slab, jar"):
        shape("pouch")


@pytest.mark.parametrize(
    ("area", "shown"),
    [("79.96", "79.9"), ("80.04", "80.0"), ("9.99", "9.9"), ("24.95", "24.9"), ("79.94", "79.9"),
     ("78.54", "78.5"), ("81.68", "81.7")],
)  # fmt: skip
def test_no_surface_is_shown_at_a_limit_that_it_is_under(area, shown):
    assert shown_cm2(Decimal(area), limits=LIMITS) == Decimal(shown)


@pytest.mark.parametrize(
    ("sides", "limit"),
    [
        # 99.5 x 79.5 = 79.1 cm2, half a millimetre more on each: 100 x 80 = 80.0
        ({"length": "99.5", "width": "79.5", "height": "20"}, Decimal(80)),
        ({"length": "99.4", "width": "79.5", "height": "20"}, None),
        ({"length": "100", "width": "80", "height": "20"}, None),
    ],
)
def test_a_pack_that_a_slip_of_the_ruler_puts_over_a_limit_is_told(sides, limit):
    assert limit_within_reach(_pack("box", **sides), limits=LIMITS) == limit


@pytest.mark.parametrize("market", law.markets())
def test_every_law_says_what_it_spares_small_packs(market):
    # Art. 13(3), 13(6), 16(2), Annex V point 18 [R]: 80, 25, 10 cm2, the largest first
    spared = law.reliefs(market)
    provisions = [each.citation.provision for each in spared]
    assert [each.under_cm2 for each in spared] == [80, 25, 10, 10]
    for provision, words in zip(
        provisions, ["13(3)", "Annex V, point 18", "16(2)", "13(6)"], strict=True
    ):
        assert words in provision
