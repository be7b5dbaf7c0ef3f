"""The same recipe for another pan."""

from dataclasses import replace
from decimal import Decimal

import pytest

from costing.reckoning.book import BOIL_DOWN, FINAL_WEIGHT, CookRecord
from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.recipes import cost_recipe
from costing.reckoning.scaling import (
    factor_for_net,
    offcuts_credit,
    scale,
    scale_to_base,
    scale_to_net,
    scaling_caution,
)
from tests.costing.reckoning.builders import QD, R1, R3, boil_to, recipe_of, rookfold

D = Decimal


def test_percents_follow_their_base_and_units_follow_the_factor():
    bigger = scale(recipe_of(R1), factor=D(2))
    assert bigger.base_g == 18000
    assert [line.amount for line in bigger.lines] == [100, 90, 2]
    assert bigger.attended_minutes == 300
    chutney = scale(recipe_of(R3), factor=D("0.5"), keep_minutes=True)
    assert chutney.lines[0].amount == 9
    assert chutney.attended_minutes == 270


def test_what_was_weighed_scales_too():
    puree = scale(recipe_of(QD), factor=D("0.5"))
    assert (puree.cook.finished_g, puree.cook.evaporated_g) == (9000, 600)
    by_weight = CookRecord(kind=BOIL_DOWN, stop_form=FINAL_WEIGHT, stop_value=D(12000))
    scaled = scale(replace(recipe_of(R1), cook=by_weight), factor=D(3))
    assert scaled.cook.stop_value == 36000


def test_use_up_all_the_puree_there_is():
    sheet = cost_recipe(rookfold(), R1)
    recipe = scale_to_base(sheet, base_g=D(4500))
    assert recipe.base_g == 4500
    assert cost_recipe(rookfold(r105=recipe), R1).ingoing_g == 8640


def test_the_film_on_the_pan_stays_when_the_batch_grows():
    # 30 g stick whatever the size: 2 x finished needs less than twice the pan.
    recipe = replace(recipe_of(R1), cook=boil_to(75, pan_residue_g=D(30)))
    sheet = cost_recipe(rookfold(r105=recipe), R1)
    twice = scale_to_net(sheet, net_g=sheet.finished_g * 2)
    assert factor_for_net(sheet, net_g=sheet.finished_g * 2) < 2
    made = cost_recipe(rookfold(r105=twice), R1)
    assert round(made.finished_g, 6) == round(sheet.finished_g * 2, 6)
    assert made.balance.pan_residue_g == 30


# Pairs: from 0.5 to 2 times nothing is said.
@pytest.mark.parametrize(
    ("factor", "is_said"), [("0.49", True), ("0.5", False), ("2", False), ("2.01", True)]
)
def test_large_changes_of_size_are_to_be_reviewed(factor, is_said):
    assert bool(scaling_caution(D(factor))) is is_said


def test_sizes_that_cannot_be_are_refused():
    sheet = cost_recipe(rookfold(), R1)
    for factor in ("0", "-1", "NaN"):
        with pytest.raises(ReckoningError):
            scale(recipe_of(R1), factor=D(factor))
    for call in (
        lambda: scale_to_net(sheet, net_g=D(0)),
        lambda: scale_to_base(sheet, base_g=D(0)),
        lambda: scale_to_base(cost_recipe(rookfold(), R3), base_g=D(1)),
        lambda: offcuts_credit(cost_total=D(1), net_g=D(10), offcuts_g=D(10), value_per_kg=D(1)),
    ):
        with pytest.raises(ReckoningError):
            call()
    with pytest.raises(MassUnknown):
        scale_to_net(replace(sheet, balance=None), net_g=D(1))
