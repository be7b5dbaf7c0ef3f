"""Pictures as geometry: parts fill the bar, words stand beside what they name."""

from decimal import Decimal

import pytest

from costing.views.charts import (
    NARROW,
    WIDE,
    Part,
    bar_picture,
    money_picture,
    share,
    stacked_bar,
)

COST = {"materials": Decimal("6.00"), "labour": Decimal("2.50"), "energy": Decimal("0.30"),
        "packaging": Decimal(0), "overhead": Decimal("1.20")}  # fmt: skip
WRITTEN = {nature: f"€{amount:.2f}" for nature, amount in COST.items()}


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_the_parts_fill_the_bar_from_end_to_end(width):
    bar = stacked_bar(
        [Part(name, amount, "x") for name, amount in COST.items() if amount], width=width
    )
    assert bar.segments[0].x == 0
    for left, right in zip(bar.segments, bar.segments[1:], strict=False):
        assert right.x == pytest.approx(left.x + left.width, abs=0.2)
    assert bar.segments[-1].x + bar.segments[-1].width == pytest.approx(width, abs=0.2)
    # 6 of 10 is six tenths of the width.
    assert bar.segments[0].width == pytest.approx(0.6 * width, abs=0.1)


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_words_stay_on_the_paper(width):
    bar = stacked_bar([Part(n, a, f"€{a}") for n, a in COST.items() if a], width=width)
    for segment in bar.segments:
        for mark in (segment.name, segment.amount):
            long = len(mark.text) * 7.2
            start = mark.x - long if mark.anchor == "end" else mark.x
            assert start >= -1
            assert start + long <= width + 1, mark


def test_the_table_has_every_number_even_one_too_small_or_nought_to_draw():
    picture = money_picture(COST, written=WRITTEN)
    assert [row[0] for row in picture.rows] == [
        "Materials", "Labour", "Energy", "Packaging", "Overhead",
    ]  # fmt: skip
    assert ("Energy", "€0.30", "3 %") in picture.rows
    assert len(picture.drawings[0][1].segments) == 4
    assert "Energy €0.30 (3 %)" in picture.description


def test_nothing_to_show_is_no_picture():
    assert money_picture(dict.fromkeys(COST, Decimal(0)), written=WRITTEN) is None
    assert bar_picture([], key="k", title="t") is None


def test_a_small_share_is_not_nought():
    assert share(Decimal("0.0049"), of=Decimal(1)) == "under 1 %"
    assert share(Decimal("0.006"), of=Decimal(1)) == "1 %"
    assert share(Decimal(0), of=Decimal(1)) == "0 %"
