"""Dots of batches as geometry: inside their frame, in order, hollow where they do not count."""

from datetime import date
from decimal import Decimal

import pytest

from costing.selectors.batch_lessons import Measured
from costing.services.learning import About, Learnt, Point, Told
from costing.views.dot_picture import HEIGHT, dot_picture

D = Decimal


def told(*figures, usual="75", value="74", states=()):
    learnt = Learnt(
        value=D(value), spread=D(1), batches=len(figures), sentence="", unit="%",
        default=None if usual is None else D(usual), mean=D(value),
    )  # fmt: skip
    points = tuple(
        Point(
            Measured(D(figure), f"DC-{day}", date(2026, 9, day), day),
            states[day - 1] if states else "counts",
        )
        for day, figure in enumerate(figures, start=1)
    )
    return Told("usable", About(), learnt, points)


def chart(lesson):
    return dot_picture(lesson, key="k", title="t").chart


def test_without_a_batch_there_is_no_picture():
    assert dot_picture(told(), key="k", title="t") is None


@pytest.mark.parametrize("figures", [("74",), ("75", "75"), tuple(str(70 + n) for n in range(24))])
def test_everything_lies_inside_the_frame_oldest_first(figures):
    drawn = chart(told(*figures))
    assert all(drawn.left <= dot.x <= drawn.right for dot in drawn.dots)
    assert all(0 < dot.y < HEIGHT for dot in drawn.dots)
    assert [dot.x for dot in drawn.dots] == sorted(dot.x for dot in drawn.dots)
    assert 0 < drawn.usual_y < HEIGHT
    assert drawn.right < drawn.width


def test_more_is_drawn_higher():
    low, high = chart(told("70", "80")).dots
    assert high.y < low.y


def test_what_does_not_count_is_hollow_and_said_in_words():
    lesson = told("74", "56", states=("counts", "asked"))
    assert [dot.is_in for dot in chart(lesson).dots] == [True, False]
    picture = dot_picture(lesson, key="k", title="t")
    assert [row[3] for row in picture.rows] == ["counts", "left out until you say"]
    assert picture.description == "1 of 2 batches count. Usual figure 75. Reckoned with: 74."


@pytest.mark.parametrize("usual", ["74.01", "74", "73.99"])
def test_words_of_two_lines_that_nearly_touch_stay_apart(usual):
    drawn = chart(told("70", "78", usual=usual))
    assert abs(drawn.usual.y - drawn.now.y) >= 16


def test_without_a_usual_figure_only_todays_line_is_drawn():
    drawn = chart(told("70", "78", usual=None))
    assert drawn.usual is None
    assert drawn.now.text == "now 74"
