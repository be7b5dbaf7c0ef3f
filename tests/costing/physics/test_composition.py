"""Shares of the soluble solids."""

import numpy as np
import pytest

from costing.physics import (
    FRUIT,
    INVERT,
    PRESERVE,
    SUCROSE,
    Composition,
    OutsideValidRange,
    PhysicsError,
)


@pytest.mark.parametrize("composition", [FRUIT, INVERT, PRESERVE, SUCROSE])
def test_the_ready_made_compositions_add_up(composition):
    total = composition.sucrose + composition.hexose + composition.acid
    assert total == pytest.approx(1, abs=1e-12)


def test_shares_that_do_not_add_up_are_refused_with_their_sum():
    with pytest.raises(PhysicsError, match=r"add up to 0\.9;.*must add up to 1"):
        Composition(sucrose=0.5, hexose=0.3, acid=0.1)


def test_a_negative_share_is_refused_even_if_the_sum_is_right():
    with pytest.raises(OutsideValidRange, match="acid"):
        Composition(sucrose=0.6, hexose=0.5, acid=-0.1)


def test_shares_come_from_what_is_in_the_pan():
    # Damson paste: 1400 sugar; fruit 245.5 split 0.15/0.75/0.10; lemon juice 3.4 at 0.3/0.7.
    # sucrose 1436.825, hexose 185.145, acid 26.93, together 1648.90.
    composition = Composition.from_masses(
        sucrose_g=1400 + 0.15 * 245.5,
        hexose_g=0.75 * 245.5 + 0.3 * 3.4,
        acid_g=0.10 * 245.5 + 0.7 * 3.4,
    )
    assert composition.sucrose == pytest.approx(0.8714, abs=5e-5)
    assert composition.hexose == pytest.approx(0.1123, abs=5e-5)
    assert composition.acid == pytest.approx(0.0163, abs=5e-5)


def test_a_pan_without_solids_or_with_negative_ones_is_refused():
    with pytest.raises(OutsideValidRange, match="Add fruit or sugar"):
        Composition.from_masses(sucrose_g=0.0, hexose_g=0.0, acid_g=0.0)
    with pytest.raises(OutsideValidRange, match="hexose"):
        Composition.from_masses(sucrose_g=10.0, hexose_g=-1.0, acid_g=0.0)


def test_many_pans_can_be_described_at_once():
    many = Composition.from_masses(
        sucrose_g=np.array([60.0, 100.0]), hexose_g=np.array([37.0, 0.0]), acid_g=np.array([3, 0])
    )
    assert many.sucrose.tolist() == pytest.approx([0.60, 1.0])
    with pytest.raises(PhysicsError):
        Composition(sucrose=np.array([0.6, 0.5]), hexose=0.4, acid=0.0)
