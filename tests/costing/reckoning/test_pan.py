"""What is in the pan before the fire."""

from decimal import Decimal

import pytest

from costing.reckoning.errors import ReckoningError
from costing.reckoning.pan import fill_pan, inverted
from tests.costing.reckoning.builders import a_food, in_pan, raw, sugar, water

D = Decimal


def test_brix_is_read_on_the_juice_so_fibre_comes_off_first():
    # 0.125 x (2000 - 36) = 245.50; 0.08 x (1000 - 20) = 78.40 (solids balance).
    solids = in_pan(a_food(insoluble_pct=D("1.8")), 2000).solids
    assert (solids.soluble_g, solids.insoluble_g) == (D("245.5"), 36)
    assert in_pan(a_food(brix=D(8), insoluble_pct=D(2)), 1000).solids.soluble_g == D("78.4")


def test_the_usual_split_of_fruit_is_taken_when_none_is_known():
    # 0.15 / 0.75 / 0.10 of 125 g (judgement).
    line = in_pan(a_food(), 1000)
    assert (line.solids.sucrose_g, line.solids.hexose_g, line.solids.acid_g) == (
        D("18.75"), D("93.75"), D("12.5"),
    )  # fmt: skip
    assert line.assumed_split


def test_what_is_nearly_all_sugar_is_sugar():
    line = in_pan(a_food(2, "Sugar", brix=D(100), insoluble_pct=None), 1000)
    assert line.solids.sucrose_g == 1000
    assert not line.assumed_split
    assert not line.fibre_unknown


def test_shares_that_do_not_add_up_to_one_are_taken_in_proportion():
    line = in_pan(a_food(brix=D(10), sucrose_share=D("0.2"), hexose_share=D("0.6")), 1000)
    assert (line.solids.sucrose_g, line.solids.hexose_g) == (25, 75)


def test_inversion_binds_water():
    # 100 g of sucrose, a quarter split: 75.00 left, 25 x 360.31 / 342.30 = 26.316 of glucose and
    # fructose, 1.316 g of water bound (molar masses: CIAAW standard atomic weights).
    after = inverted(in_pan(sugar(), 100).solids, inverted_pct=D(25))
    assert after.sucrose_g == 75
    assert round(after.hexose_g, 3) == D("26.316")
    assert round(after.soluble_g - 100, 3) == D("1.316")


def test_unknown_fibre_is_said_and_unknown_brix_is_not_zero():
    line = in_pan(a_food(insoluble_pct=None), 1000)
    assert line.fibre_unknown
    assert any("fibre of Damson puree is not known" in said for said in fill_pan([line]).cautions)
    assert in_pan(a_food(brix=None), 1000).solids is None
    assert in_pan(a_food(brix=None, insoluble_pct=D(100)), 1000).solids.insoluble_g == 1000


def test_several_unknowns_are_named_in_one_sentence():
    lines = [in_pan(a_food(i, name, insoluble_pct=None), 100) for i, name in
             ((1, "Damsons"), (2, "Apples"), (3, "Pears"))]  # fmt: skip
    cautions = " ".join(fill_pan(lines).cautions)
    assert "fibre of Damsons, Apples and Pears is not known" in cautions


def test_water_is_known_to_hold_nothing():
    pan = fill_pan([in_pan(water(), 500), raw(500, soluble="100")])
    assert pan.ingoing_g == 1000
    assert pan.solids.soluble_g == 100
    assert pan.cautions == ()


@pytest.mark.parametrize("facts", [{"brix": D(101)}, {"brix": D(-1)}, {"insoluble_pct": D(120)}])
def test_percentages_that_are_none_are_refused(facts):
    with pytest.raises(ReckoningError, match="percentage from 0 to 100"):
        in_pan(a_food(**facts), 100)
