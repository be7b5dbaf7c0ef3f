"""Figures that a sum is asked about: what is refused, at which field, in which words."""

from decimal import Decimal

import pytest

from costing.reckoning.errors import ReckoningError
from costing.reckoning.figures import more_than_nothing, nothing_or_more, say

D = Decimal


@pytest.mark.parametrize("value", ["0", "-1", "NaN", "Infinity", "-Infinity"])
def test_what_must_be_there_is_refused_at_its_field_by_name(value):
    with pytest.raises(ReckoningError, match="The depth") as refused:
        more_than_nothing(D(value), what="The depth", field="depth_mm", unit="mm")
    assert refused.value.field == "depth_mm"


@pytest.mark.parametrize("value", ["-0.1", "NaN", "Infinity"])
def test_what_may_be_nothing_may_still_not_be_less(value):
    with pytest.raises(ReckoningError, match="The kerf") as refused:
        nothing_or_more(D(value), what="The kerf", field="kerf_mm", unit="mm")
    assert refused.value.field == "kerf_mm"


def test_a_figure_that_will_do_comes_back_as_it_was():
    assert more_than_nothing(D("0.1"), what="The depth", field="depth_mm") == D("0.1")
    assert nothing_or_more(D(0), what="The kerf", field="kerf_mm") == 0


def test_a_figure_in_a_sentence_has_no_needless_noughts():
    assert say(D("30.00")) == "30"
    assert say(D("12.3456")) == "12.35"


@pytest.mark.parametrize(("value", "is_kept"), [("999999999", True), ("1000000000", False)])
def test_a_mistyped_giant_is_asked_about(value, is_kept):
    if is_kept:
        assert more_than_nothing(D(value), what="The length", field="length_mm") == D(value)
        return
    with pytest.raises(ReckoningError, match="Check the zeros"):
        more_than_nothing(D(value), what="The length", field="length_mm")
