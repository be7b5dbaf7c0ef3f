"""Blocks of label text, and where their lines end.

We end the lines ourselves, by the widths of the letters in the font file: then what is reckoned is
what is drawn, and a line ends where a typographer would end it.
"""

import itertools
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from labels.rendering.fonts import Face, text_width_em
from labels.rendering.tables import Rows, column_widths_em

__all__ = [
    "LINE_END",
    "Block",
    "Part",
    "Span",
    "in_lines",
    "line_widths_mm",
    "on_grid",
]

_UNITS = r"(?:g|kg|mg|µg|ml|cl|l|oz|lb|kJ|kcal|mm|cm|%|°C|℮)"
_FIGURE_AND_UNIT = re.compile(rf"(?<=\d) (?={_UNITS}(?![^\W\d_]))")
_FIGURE_AND_NOUN = re.compile(r"(?<!\S)(\d{1,3}) (?=[^\W\d_])")  # "4 weeks", "3 Millrace Yard"
_THOUSANDS = re.compile(r"(?<=\d) (?=\d{3}(?!\d))")  # "2 000 kcal"
GLUE = "\u00a0"
LINE_END = "\n"
_BETWEEN_EM = 1.13  # two statements that share a line: two spaces and what .between adds

# Kerning draws the letters of our type together, by one part in two hundred at the least in lines
# of text. A line without any, such as of H alone, runs over by that, deep inside the safe inset.
_KERNED = 0.995
_WIDOW = 0.3  # a last line shorter than this share of the column looks like a slip
_NARROWEST = 0.6  # of the column: rather a short last line than a narrow paragraph
_DISPLAYED = {"brand", "name", "tagline"}


def on_grid(length_mm: float, *, step_mm: float) -> float:
    """The next multiple of the grid at or above a length."""
    return math.ceil(length_mm / step_mm - 1e-9) * step_mm


@dataclass(frozen=True)
class Span:
    """Text in one cut of the type. Bold (700) sets an allergen apart."""

    text: str
    weight: int = 400
    is_italic: bool = False
    is_heading: bool = False

    def glued(self, *, to_nouns: bool) -> str:
        """The text with each figure tied to its unit, or to whatever it counts."""
        glued = _THOUSANDS.sub(GLUE, _FIGURE_AND_UNIT.sub(GLUE, self.text))
        return _FIGURE_AND_NOUN.sub(rf"\1{GLUE}", glued) if to_nouns else glued


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

    role: what it looks like ("brand", "name", "tagline", "rule", "fact", "table", "quantity").
    line_mm: distance from baseline to baseline; before_mm: extra space above.
    has_whole_parts: no statement is broken, unless it alone is too long for a line.
    rows: of a table, the head first; its text stands in `parts` too. indented: as in `Table`.
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
    rows: Rows = ()
    indented: tuple[int, ...] = ()

    def __hash__(self) -> int:
        """Reckoned once: a block is looked up for every try at a label, and holds much text."""
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.role, self.parts, self.size_mm, self.line_mm, self.family, self.rows))

    @property
    def kinds(self) -> tuple[str, ...]:
        return tuple(part.kind for part in self.parts)

    def without_space(self) -> "Block":
        """The same block as the first of its column."""
        return replace(self, before_mm=0)

    def height_mm(self, *, width_mm: float) -> float:
        """Room the block takes in a column of that width."""
        if self.rows:
            return self.before_mm + self.line_mm * len(self.rows)
        lines = 1 if self.role == "rule" else len(line_widths_mm(self, width_mm=width_mm))
        return self.before_mm + self.line_mm * lines

    def longest_word_mm(self) -> float:
        """Width of the widest stretch that should not be broken."""
        if self.rows:
            widths = column_widths_em(self.rows, family=self.family, indented=self.indented)
            return sum(widths) * self.size_mm
        words = itertools.chain.from_iterable(_words_of(self))
        return max((word.width_em for word in words), default=0) * self.size_mm


@dataclass(frozen=True)
class _Word:
    """A stretch of text that stays on one line. at: its statement, and its place therein."""

    at: tuple[int, int]
    advances: tuple[float, ...]
    gap_em: float
    is_heading: bool = False
    ends_clause: bool = False
    begins_line: bool = False

    @property
    def width_em(self) -> float:
        return sum(self.advances)


@dataclass(frozen=True)
class _Lines:
    """Where lines begin after the first, and how wide each line is [em]."""

    begins: tuple[tuple[int, int], ...]
    widths: tuple[float, ...]


def _words_of(block: Block, *, to_nouns: bool = False) -> tuple[tuple[_Word, ...], ...]:
    return _words(block.parts, block.family, block.tracking_em, block.is_tabular, to_nouns)


@lru_cache(maxsize=2048)
def _words(
    parts: tuple[Part, ...], family: str, tracking_em: float, is_tabular: bool, to_nouns: bool
) -> tuple[tuple[_Word, ...], ...]:
    """The words of each statement."""
    gap_em = text_width_em(" ", face=Face(family)) + tracking_em
    found = []
    for number, part in enumerate(parts):
        text = "".join(span.glued(to_nouns=to_nouns) for span in part.spans)
        letters = tuple(
            text_width_em(letter, face=face, tracking_em=tracking_em, tabular=is_tabular) * _KERNED
            for span in part.spans
            for face in (Face(family, span.weight, span.is_italic),)
            for letter in span.text
        )
        heading = sum(len(span.text) for span in part.spans if span.is_heading)
        found.append(tuple(
            _Word(
                at=(number, word.start()),
                advances=letters[word.start() : word.end()],
                gap_em=gap_em,
                is_heading=word.start() < heading,
                ends_clause=word.group().endswith(","),
            )
            for word in re.finditer(r"[^ ]+", text)
        ))  # fmt: skip
    return tuple(found)


def _joined(words: Sequence[_Word], **more: bool | float) -> _Word:
    """Some words as one that is not broken."""
    advances = list(words[0].advances)
    for word in words[1:]:
        advances += [word.gap_em, *word.advances]
    return replace(words[0], advances=tuple(advances), **more)  # type: ignore[arg-type]


def _is_kept_whole(words: Iterable[_Word], room_em: float) -> bool:
    return all(word.width_em <= room_em for word in words)


def _filled(words: Iterable[_Word], *, room_em: float) -> _Lines:
    """Words fill each line in turn; a word wider than the line is broken."""
    begins, widths = list[tuple[int, int]](), [0.0]
    for word in words:
        gap = word.gap_em if widths[-1] else 0.0
        if word.begins_line or (gap and widths[-1] + gap + word.width_em > room_em):
            begins.append(word.at)
            widths.append(0.0)
            gap = 0.0
        if word.width_em <= room_em:
            widths[-1] += gap + word.width_em
            continue
        for place, advance in enumerate(word.advances):
            if widths[-1] and widths[-1] + advance > room_em:
                begins.append((word.at[0], word.at[1] + place))
                widths.append(0.0)
            widths[-1] += advance
    return _Lines(tuple(begins), tuple(widths))


def _in_whole_statements(words: Sequence[Sequence[_Word]], *, room_em: float) -> Iterator[_Word]:
    """Statements side by side; if one is too long for a line, each begins a line of its own."""
    wholes = [_joined(each) for each in words]
    is_shared = all(whole.width_em <= room_em for whole in wholes)
    for number, (each, whole) in enumerate(zip(words, wholes, strict=True)):
        if is_shared:
            yield replace(whole, gap_em=_BETWEEN_EM)
            continue
        heading = [word for word in each if word.is_heading]
        rest = [word for word in each if not word.is_heading]
        if whole.width_em > room_em and heading and rest:
            in_two = (_joined(heading), _joined(rest, begins_line=True))
            if _is_kept_whole(in_two, room_em):
                yield replace(in_two[0], begins_line=number > 0)
                yield in_two[1]
                continue
        yield replace(each[0], begins_line=number > 0)
        yield from each[1:]


def _in_clauses(words: Sequence[_Word]) -> Iterator[_Word]:
    """Words joined up to each comma."""
    clause: list[_Word] = []
    for word in words:
        clause.append(word)
        if word.ends_clause:
            yield _joined(clause)
            clause = []
    if clause:
        yield _joined(clause)


def _balanced(words: Sequence[_Word], lines: _Lines, *, room_em: float) -> _Lines:
    """As many lines, as equal in length as they can be; no word is broken for it."""
    low, high = max(word.width_em for word in words), room_em
    if len(_filled(words, room_em=low).widths) <= len(lines.widths):
        return _filled(words, room_em=low)
    for _ in range(9):
        middle = (low + high) / 2
        if len(_filled(words, room_em=middle).widths) > len(lines.widths):
            low = middle
        else:
            high = middle
    return _filled(words, room_em=high)


def _without_widow(words: Sequence[_Word], lines: _Lines, *, room_em: float) -> _Lines:
    """As many lines, shared so that no word is left alone on the last one, if that can be."""
    if lines.widths[-1] >= _WIDOW * room_em:
        return lines
    for step in range(1, round((1 - _NARROWEST) / 0.02) + 1):
        narrower = _filled(words, room_em=room_em * (1 - 0.02 * step))
        if len(narrower.widths) > len(lines.widths):
            break
        if narrower.widths[-1] >= _WIDOW * room_em:
            return narrower
    return lines


@lru_cache(maxsize=4096)
def _set(block: Block, room_em: float) -> _Lines:
    lines = _set_words(block, _words_of(block), room_em=room_em)
    if not any(_FIGURE_AND_NOUN.search(part.text) for part in block.parts):
        return lines
    tied = _set_words(block, _words_of(block, to_nouns=True), room_em=room_em)
    return tied if len(tied.widths) <= len(lines.widths) else lines


def _set_words(block: Block, found: Sequence[Sequence[_Word]], *, room_em: float) -> _Lines:
    words = tuple(each for each in found if each)
    if not words:
        return _Lines((), (0.0,))
    if block.has_whole_parts:
        return _filled(_in_whole_statements(words, room_em=room_em), room_em=room_em)
    row = list(words[0])
    for each in words[1:]:
        row += [replace(each[0], gap_em=_BETWEEN_EM), *each[1:]]
    lines = _filled(row, room_em=room_em)
    if len(lines.widths) == 1 or not _is_kept_whole(row, room_em):
        return lines
    if block.role in _DISPLAYED:
        return _balanced(row, lines, room_em=room_em)
    if block.kinds == ("operator",):
        clauses = list(_in_clauses(row))
        in_clauses = _filled(clauses, room_em=room_em)
        if len(in_clauses.widths) <= len(lines.widths) and _is_kept_whole(clauses, room_em):
            return _balanced(clauses, in_clauses, room_em=room_em)
    return _without_widow(row, lines, room_em=room_em)


def line_widths_mm(block: Block, *, width_mm: float) -> tuple[float, ...]:
    """How wide each line of a block is in a column of that width."""
    lines = _set(block, round(width_mm / block.size_mm, 4))
    return tuple(width * block.size_mm for width in lines.widths)


def in_lines(block: Block, *, width_mm: float) -> tuple[Part, ...]:
    """The statements of a block with a line end put in wherever a new line begins."""
    if block.rows:
        return block.parts
    begins = _set(block, round(width_mm / block.size_mm, 4)).begins
    return tuple(
        _cut(part, {place for statement, place in begins if statement == number})
        for number, part in enumerate(block.parts)
    )


def _cut(part: Part, places: set[int]) -> Part:
    """Line ends put into a statement; one that falls between two spans goes to the first."""
    if not places:
        return part
    spans, start = [], 0
    for number, span in enumerate(part.spans):
        end = start + len(span.text)
        cuts = sorted(
            place - start
            for place in places
            if start < place <= end or (place == 0 and number == 0)
        )
        edges = [0, *cuts, len(span.text)]
        pieces = [span.text[a:b] for a, b in itertools.pairwise(edges)]
        # A space left at the end of a line would push a centred line aside.
        text = LINE_END.join([*(piece.rstrip(" ") for piece in pieces[:-1]), pieces[-1]])
        spans.append(replace(span, text=text))
        start = end
    return replace(part, spans=tuple(spans))
