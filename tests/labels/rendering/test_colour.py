"""One colour of the maker's own, and never the only carrier of meaning."""

import pytest

from labels.rendering.colour import INK, contrast_on_white, readable_colour


@pytest.mark.parametrize(
    ("grey", "is_readable"),
    # The well-known pair on either side of 4.5:1 on white: #767676 has 4.54, #777777 has 4.48
    # (WCAG 2.2, relative luminance: 0.2126 R + 0.7152 G + 0.0722 B).
    [("#767676", True), ("#777777", False)],
)
def test_the_threshold_of_readable_small_text(grey, is_readable):
    assert (contrast_on_white(grey) >= 4.5) is is_readable
    assert (readable_colour(grey) == grey) is is_readable


@pytest.mark.parametrize("colour", ["#ffff00", "#ffffff", "#f4a6c0", "#00ff00", "#7fd4ff"])
def test_a_colour_too_pale_to_read_is_darkened_until_it_is_not(colour):
    darker = readable_colour(colour)
    assert contrast_on_white(darker) >= 4.5
    assert contrast_on_white(darker) < 6  # and no further than needed


@pytest.mark.parametrize("colour", ["", "red", "#fff", "#12345g", "url(x)", "#6b1f3a; color: red"])
def test_nonsense_is_drawn_in_ink(colour):
    assert readable_colour(colour) == INK
    assert contrast_on_white(INK) > 15
