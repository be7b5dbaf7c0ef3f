"""Blocks of label text and how much room they take, reckoned from the widths of the letters.

The reckoning only decides what is worth drawing; whether it fits is measured on the drawing.
"""

import math
import re
from dataclasses import dataclass, replace
from functools import lru_cache

from labels.rendering.fonts import Face, text_width_em

__all__ = ["Block", "Part", "Span", "lines_of", "on_grid", "without_widow_mm"]

_UNITS = r"(?:g|kg|mg|µg|ml|cl|l|oz|lb|kJ|kcal|mm|cm|%|°C|℮)"
_FIGURE_AND_UNIT = re.compile(rf"(?<=\d) (?={_UNITS}(?![^\W\d_]))")
GLUE = "\u00a0"
# Kerning draws the letters of our type together by about one part in ninety.
_KERNED = 0.989
_WIDOW = 0.22  # a last line shorter than this share of the column looks like a slip


def on_grid(length_mm: float, *, step_mm: float) -> float:
    """The next multiple of the grid at or above a length."""
    return math.ceil(length_mm / step_mm - 1e-9) * step_mm


@dataclass(frozen=True)
class Span:
    """Text in one cut of the type. `tag` is what it is in HTML: "b" for an allergen, "span"."""

    text: str
    weight: int = 400
    is_italic: bool = False
    is_heading: bool = False

    @property
    def glued(self) -> str:
        """The text with each figure tied to its unit, so that no line ends between them."""
        return _FIGURE_AND_UNIT.sub(GLUE, self.text)

    @property
    def pieces(self) -> tuple[tuple[str, bool], ...]:
        """The text in stretches, each with whether it must stay on one line."""
        found, plain_from = [], 0
        for tied in re.finditer(rf"\S*\d{GLUE}\S+", self.glued):
            found.append((self.glued[plain_from : tied.start()], False))
            found.append((tied.group().replace(GLUE, " "), True))
            plain_from = tied.end()
        found.append((self.glued[plain_from:], False))
        return tuple((text, is_tied) for text, is_tied in found if text)


@dataclass(frozen=True)
class Part:
    """One statement inside a block: its kind and its spans."""

    kind: str
    spans: tuple[Span, ...]

    @property
    def text(self) -> str:
        return "".join(span.text for span in self.spans)

    @property
    def emphasised(self) -> tuple[str, ...]:
        return tuple(span.text for span in self.spans if span.weight == 700)


@dataclass(frozen=True)
class Block:
    """A paragraph on the label: one statement, or a few short ones that share a line.

    role: what it looks like ("brand", "name", "tagline", "rule", "fact", "quantity").
    line_mm: distance from baseline to baseline; before_mm: extra space above.
    """

    role: str
    parts: tuple[Part, ...]
    size_mm: float
    line_mm: float
    before_mm: float = 0
    family: str = ""
    tracking_em: float = 0
    is_tabular: bool = False
    has_whole_parts: bool = False

    @property
    def kinds(self) -> tuple[str, ...]:
        return tuple(part.kind for part in self.parts)

    def without_space(self) -> "Block":
        """The same block as the first of its column."""
        return replace(self, before_mm=0)

    def height_mm(self, *, width_mm: float) -> float:
        """Room the block takes in a column of that width, by reckoning."""
        return self.before_mm + self.line_mm * lines_of(self, width_mm=width_mm)

    def part_mm(self, part: Part) -> float:
        """Width of one of the block's statements on a single line."""
        return _fill(replace(self, parts=(part,)), width_mm=1e6)[1] * self.size_mm

    def is_shared(self, *, width_mm: float) -> bool:
        """Whether its statements share lines; if one is too long for that, each begins its own."""
        return all(self.part_mm(part) <= width_mm for part in self.parts)

    def longest_word_mm(self) -> float:
        """Width of the widest stretch that should not be broken."""
        return max(_word_widths(self), default=0) * self.size_mm


@lru_cache(maxsize=2048)
def _word_widths_em(
    parts: tuple[Part, ...], family: str, tracking_em: float, is_tabular: bool
) -> tuple[float, ...]:
    widths = [0.0]
    for position, part in enumerate(parts):
        if position:
            widths.append(0.0)
        for span in part.spans:
            face = Face(family, span.weight, span.is_italic)
            for index, word in enumerate(span.glued.split(" ")):
                if index:
                    widths.append(0.0)
                width = text_width_em(word, face=face, tracking_em=tracking_em, tabular=is_tabular)
                widths[-1] += width * _KERNED
    return tuple(width for width in widths if width)


def _word_widths(block: Block) -> tuple[float, ...]:
    """Widths of the stretches of a block that should not be broken, in order [em]."""
    return _word_widths_em(block.parts, block.family, block.tracking_em, block.is_tabular)


def _fill(block: Block, *, width_mm: float) -> tuple[int, float]:
    """Lines a block takes and how far the last one reaches [em].

    Words fill each line in turn; a word wider than the line is broken.
    """
    room = width_mm / block.size_mm
    space = text_width_em(" ", face=Face(block.family)) + block.tracking_em
    lines, used = 1, 0.0
    for width in _word_widths(block):
        if used and used + space + width <= room:
            used += space + width
            continue
        over = math.ceil(width / room) - 1
        lines += over + (1 if used else 0)
        used = width - over * room
    return lines, used


def lines_of(block: Block, *, width_mm: float) -> int:
    """Lines a block takes, by reckoning."""
    if block.role == "rule":
        return 1
    if block.has_whole_parts and not block.is_shared(width_mm=width_mm):
        alone = (replace(block, parts=(part,)) for part in block.parts)
        return sum(_fill(each, width_mm=width_mm)[0] for each in alone)
    return _fill(block, width_mm=width_mm)[0]


def without_widow_mm(block: Block, *, width_mm: float) -> float:
    """How much narrower to set a block so that no word is left alone on its last line [mm].

    The lines stay as many; they only share the words more evenly.
    """
    if block.role == "rule" or len(block.parts) != 1:
        return 0
    lines, last = _fill(block, width_mm=width_mm)
    if lines == 1 or last * block.size_mm > _WIDOW * width_mm:
        return 0
    taken = 0.0
    while taken < 0.4 * width_mm:
        taken += 0.02 * width_mm
        # A little narrower still, in case letters run wider than reckoned.
        if _fill(block, width_mm=(width_mm - taken) * 0.99)[0] > lines:
            return 0
        if _fill(block, width_mm=width_mm - taken)[1] * block.size_mm > _WIDOW * width_mm:
            return taken
    return 0
