"""The maker's one colour, made dark enough to read on white and in black and white."""

import re

__all__ = ["INK", "contrast_on_white", "readable_colour"]

INK = "#1b1917"
_READABLE = 4.5  # WCAG 2.2, success criterion 1.4.3


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def contrast_on_white(colour: str) -> float:
    """Contrast ratio of "#rrggbb" against white paper, 1 to 21.

    Source: WCAG 2.2, definitions of relative luminance and contrast ratio.

    >>> round(contrast_on_white("#000000")), round(contrast_on_white("#ffffff"))
    (21, 1)
    """
    linear = []
    for channel in _channels(colour):
        share = channel / 255
        linear.append(share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4)
    luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    return 1.05 / (luminance + 0.05)


def readable_colour(colour: str) -> str:
    """The colour itself, or the first darker shade of it that reads on white; ink for nonsense."""
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", colour):
        return INK
    channels = _channels(colour)
    for step in range(50):
        red, green, blue = (round(channel * (50 - step) / 50) for channel in channels)
        shade = f"#{red:02x}{green:02x}{blue:02x}"
        if contrast_on_white(shade) >= _READABLE:
            return shade
    return INK
