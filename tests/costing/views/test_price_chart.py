"""Prices over time: level until the next price, on a scale that starts at nought."""

from datetime import date
from decimal import Decimal

from costing.views.price_chart import Series, nice_ticks, step_chart, step_picture

ON = date(2026, 9, 20)
SUGAR = Series(
    "Sable & Finch",
    ((date(2026, 1, 1), Decimal("0.95")), (date(2026, 9, 1), Decimal("1.19"))),
)
OTHER = Series("Plum Cart", ((date(2026, 3, 1), Decimal("1.18")),))


def _points(line):
    return [tuple(float(n) for n in point.split(",")) for point in line.points.split()]


def test_a_price_stays_level_until_the_next_one_and_up_to_today():
    chart = step_chart([SUGAR], on=ON, width=720, height=300)
    points = _points(chart.lines[0])
    (_, y1), (x2, y2), (x3, y3), (x4, y4) = points
    assert y1 == y2, "level"
    assert x2 == x3, "then straight up"
    assert y3 < y2, "dearer is higher on the paper"
    assert y3 == y4
    assert x4 == chart.right


def test_a_rise_looks_its_size_because_the_scale_starts_at_nought():
    chart = step_chart([SUGAR], on=ON, width=720, height=300)
    points = _points(chart.lines[0])
    before, after = chart.bottom - points[0][1], chart.bottom - points[-1][1]
    # 1.19 / 0.95 = 1.2526
    assert abs(after / before - 1.19 / 0.95) < 0.01


def test_names_at_line_ends_do_not_stand_on_each_other():
    chart = step_chart([SUGAR, OTHER], on=ON, width=720, height=300)
    places = [line.label.y for line in chart.lines]
    assert abs(places[0] - places[1]) >= 18
    assert [line.label.text for line in chart.lines] == ["Sable & Finch 1.19", "Plum Cart 1.18"]


def test_one_price_of_today_is_still_a_line():
    chart = step_chart([Series("A", ((ON, Decimal(2)),))], on=ON, width=340, height=260)
    points = _points(chart.lines[0])
    assert points[-1][0] == chart.right


def test_what_starts_tomorrow_is_not_drawn_today():
    future = Series("A", ((date(2026, 12, 1), Decimal(2)),))
    assert step_picture([future], on=ON, key="k", title="t", unit="EUR") is None
    picture = step_picture([SUGAR, future], on=ON, key="k", title="t", unit="EUR")
    assert {row[0] for row in picture.rows} == {"Sable & Finch"}


def test_the_table_has_the_same_numbers_newest_first():
    picture = step_picture([SUGAR], on=ON, key="k", title="t", unit="EUR a usable kilo")
    assert [(row[1], row[2]) for row in picture.rows] == [
        (date(2026, 9, 1), "1.19"), (date(2026, 1, 1), "0.95"),
    ]  # fmt: skip


def test_the_scale_reaches_above_the_highest_price():
    for highest in ("0.004", "0.95", "1.00", "2.93", "36", "999999"):
        ticks = nice_ticks(Decimal(highest))
        assert ticks[0] == 0
        assert ticks[-1] >= Decimal(highest)
        assert len(ticks) <= 5
