"""Origins as typed; which ingredients matter is each law's to say."""

from decimal import Decimal

import pytest

from labels.facts import UsedIngredient
from labels.mechanics.origins import is_from_elsewhere, with_other_origins


def used(name, origin):
    return UsedIngredient(name, Decimal(1), origin=origin)


@pytest.mark.parametrize(
    ("origin", "elsewhere"),
    [("Spain", True), ("kent", False), (" England\n", False), ("", False)],
)
def test_an_origin_differs_when_it_is_known_and_not_in_the_one_given(origin, elsewhere):
    assert is_from_elsewhere(used("quince", origin), given="Kent, England") is elsewhere


def test_only_what_comes_from_elsewhere_is_named_behind_the_origin_given():
    several = (used("quince", "Spain"), used("plum", "Kent"), used("fig", "Greece"))
    said = with_other_origins("Made in Kent", ingredients=several)
    assert said == "Made in Kent. quince: Spain; fig: Greece"
    assert with_other_origins("Made in Kent", ingredients=several[1:2]) == "Made in Kent"
