"""The picture of a pan: what is drawn adds up, and nothing that is there is drawn away."""

import re
from decimal import Decimal

import pytest

from costing.models import Kitchen
from costing.reckoning.book import MassBalance
from costing.views.pan_picture import pan_picture
from costing.views.recipe_words import Pen


def a_balance(ingoing, evaporated=0, sieved=0, residue=0, handling=0):
    gone = [Decimal(one) for one in (evaporated, sieved, residue, handling)]
    return MassBalance(
        ingoing_g=Decimal(ingoing), evaporated_g=gone[0], sieved_out_g=gone[1],
        pan_residue_g=gone[2], handling_loss_g=gone[3], finished_g=Decimal(ingoing) - sum(gone),
        pot_g=Decimal(ingoing) - gone[0],
    )  # fmt: skip


def draw(*masses, **more):
    pen = Pen(Kitchen(currency="EUR", number_format="en_IE"))
    return pan_picture(a_balance(*masses, **more), pen=pen)


def thickness(shape):
    """How thick a shape is at its right end, from its path."""
    lower = float(re.search(r"V([\d.]+)", shape)[1])
    upper = float(re.findall(r"([\d.]+)H\d+V", shape)[0])
    return lower - upper


@pytest.mark.parametrize("masses", [(10000, 3000), (10000, 3000, 1000, 400, 100), (1000,),
                                    (10**8, 9 * 10**7, 1, 1, 1)])  # fmt: skip
def test_the_parts_fill_the_bar_and_each_can_be_seen(masses):
    for _, drawing in draw(*masses).drawings:
        high = [thickness(shape) for _, shape, _ in drawing.shapes]
        assert min(high) >= 1.9
        # 130 px when wide and 120 when narrow
        assert abs(sum(high) - (130 if drawing.width == 480 else 120)) < 0.6
        assert all(0 <= mark.x <= drawing.width for mark in drawing.marks)


def test_the_thickness_is_the_share():
    (_, wide), _ = draw(10000, 4000).drawings
    # 6 of 10 kg are left: 0.6 x 130 px = 78
    assert abs(thickness(next(s for css, s, _ in wide.shapes if css == "part-1")) - 78) < 0.2


def test_the_table_has_every_part_and_the_words_say_it():
    picture = draw(10000, 3000, 0, 350)
    assert picture.rows == (
        ("Goes into the pan", "10.00\u00a0kg", "100 %"),
        ("Evaporated", "3.00\u00a0kg", "30 %"),
        ("Finished", "6.65\u00a0kg", "66 %"),
        ("Left on the pan", "0.350\u00a0kg", "4 %"),
    )
    words = " ".join(mark.text for mark in picture.drawings[0][1].marks)
    assert "3.00\u00a0kg boils off, 30 %" in words
    assert "0.350\u00a0kg stays on the pan" in words


def test_a_pan_that_loses_nothing_says_so_and_an_empty_one_is_not_drawn():
    words = [mark.text for mark in draw(500).drawings[1][1].marks]
    assert "Nothing boils off" in words
    assert draw(0) is None
