"""How the letters of a text stand beside each other, learnt from one line that was set.

Every way of setting that occurs in a series (its look) is set once, in a line that holds each pair
of letters that the series needs. From that line any text of the series can be put together, with
the same letters at the same distances as if it had been set for itself.
"""

import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from labels.rendering.engine import TypeSetter, html_of
from labels.rendering.markup import mm

__all__ = ["Learnt", "Look", "NotLearnt", "Specimen", "learn"]

_PX_PER_MM = 96 / 25.4
_APART_MM = 20.0  # from one line of the specimen to the next: more than any type of a label
_BFCHAR = re.compile(rb"<([0-9a-fA-F]{4})> <([0-9a-fA-F]+)>")


class NotLearnt(LookupError):
    """A text cannot be put together from what was set; it must be set for itself."""


@dataclass(frozen=True)
class Look:
    """How a stretch of text is set: what the template wants of its block and of its span."""

    role: str
    tag: str
    style: str
    span_tag: str = ""
    span_looks: str = ""
    span_colour: str = ""


@dataclass(frozen=True)
class Learnt:
    """What one line of the specimen told of a look; lengths in pixels of the type setter.

    start: operators for colour and font. baseline_px: below the top of the block. glyphs: for each
    letter, or letters drawn as one, its code and its width in thousandths of the size.
    between: what is taken off between two of them.
    """

    start: bytes
    size_px: float
    baseline_px: float
    glyphs: Mapping[str, tuple[str, float]]
    between: Mapping[tuple[str, str], float]
    lead: float
    tail: float
    drawn_as_one: tuple[str, ...]

    def letters(self, text: str) -> Sequence[str]:
        """A text as what is drawn: letters, and letters drawn as one."""
        if not any(several in text for several in self.drawn_as_one):
            return text
        ways = "|".join(re.escape(several) for several in self.drawn_as_one)
        return re.findall(rf"{ways}|.", text, flags=re.DOTALL)

    def put_together(self, text: str) -> tuple[str, float]:
        """The operand that shows a text, and its width [px]. Raises NotLearnt."""
        letters = self.letters(text)
        try:
            shown = [f"{self.lead:.4g}" if self.lead else "", f"<{self.glyphs[letters[0]][0]}"]
            width = self.glyphs[letters[0]][1] - self.lead - self.tail
            for pair in pairwise(letters):
                code, advance = self.glyphs[pair[1]]
                taken = self.between[pair]
                shown.append(f">{taken:.5g}<{code}" if taken else code)
                width += advance - taken
        except KeyError as unknown:
            raise NotLearnt(f"{text!r}: {unknown}") from unknown
        return f"[{''.join(shown)}>]", width * self.size_px / 1000


@dataclass(frozen=True)
class Specimen:
    """All looks of a series, and the fonts that hold the letters they need."""

    looks: Mapping[Look, Learnt]
    pdf: bytes


def learn(texts: Mapping[Look, Iterable[str]], *, setter: TypeSetter) -> Specimen:
    """Set one line for each look, with every pair of letters of its texts. Raises NotLearnt."""
    import pikepdf

    lines = {look: _with_every_pair(several) for look, several in texts.items()}
    html = html_of("label_specimen.html", {"blocks": [
        _block(look, line, number) for number, (look, line) in enumerate(lines.items())
    ]})  # fmt: skip
    document = setter.lay_out(html, width_mm=200, height_mm=_APART_MM * (len(lines) + 1))
    anchors = document.pages[0].anchors
    tops = [anchors[f"s{number}"][1] for number in range(len(lines))]
    pdf = document.write_pdf()
    with pikepdf.open(io.BytesIO(pdf)) as book:
        drawn = _drawn(book.pages[0])
    if len(drawn) != len(lines):
        raise NotLearnt("A line of the specimen was drawn in pieces.")
    found = {
        look: _learnt(each, line=line, top_px=top)
        for (look, line), each, top in zip(lines.items(), drawn, tops, strict=True)
    }
    return Specimen(found, pdf)


def _with_every_pair(texts: Iterable[str]) -> str:
    """Some of the texts, side by side, so that each pair of letters stands there once."""
    seen: set[tuple[str, str]] = set()
    kept = []
    for text in dict.fromkeys(texts):
        pairs = set(pairwise(text)) or {(text, "")}
        if not pairs <= seen:
            seen |= pairs
            kept.append(text)
    return " ".join(kept)


def _block(look: Look, line: str, number: int) -> dict[str, Any]:
    return {
        "role": look.role,
        "tag": look.tag,
        "id": f"s{number}",
        "style": f"{look.style}; position: absolute; left: 0; white-space: pre; "
        f"top: {mm(number * _APART_MM)}",
        "parts": [{
            "begins_line": False,
            "spans": [{
                "tag": look.span_tag,
                "looks": look.span_looks,
                "colour": look.span_colour,
                "lines": [line],
            }],
        }],
    }  # fmt: skip


@dataclass(frozen=True)
class _Drawn:
    """One line as the file has it: numbers of the codes and, between them, what is taken off."""

    start: bytes
    size_px: float
    baseline_px: float
    codes: tuple[int, ...]
    taken: tuple[float, ...]
    texts: Mapping[int, str]
    widths: Mapping[int, float]


def _drawn(page: Any) -> list[_Drawn]:
    import pikepdf

    state: dict[str, Any] = {}
    found = []
    for instruction in pikepdf.parse_content_stream(page):
        operator = str(instruction.operator)
        if operator in {"rg", "Tf", "Tm"}:
            state[operator] = instruction
        elif operator == "TJ":
            font = page.Resources.Font[str(state["Tf"].operands[0])]
            codes, taken = _codes(instruction.operands[0])
            found.append(_Drawn(
                start=pikepdf.unparse_content_stream([state["rg"], state["Tf"]]),
                size_px=float(state["Tf"].operands[1]),
                baseline_px=float(state["Tm"].operands[5]),
                codes=codes,
                taken=taken,
                texts=_texts(font.ToUnicode.read_bytes()),
                widths=_widths(font.DescendantFonts[0].W),
            ))  # fmt: skip
    return found


def _codes(operand: Any) -> tuple[tuple[int, ...], tuple[float, ...]]:
    codes, taken = list[int](), [0.0]
    for each in operand:
        if isinstance(each, int | float) or not hasattr(each, "__bytes__"):
            taken[-1] += float(each)
            continue
        raw = bytes(each)
        for place in range(0, len(raw), 2):
            codes.append(int.from_bytes(raw[place : place + 2], "big"))
            taken.append(0.0)
    return tuple(codes), tuple(taken)


def _texts(cmap: bytes) -> dict[int, str]:
    return {
        int(code, 16): bytes.fromhex(text.decode()).decode("utf-16-be")
        for code, text in _BFCHAR.findall(cmap.partition(b"beginbfchar")[2])
    }


def _widths(array: Any) -> dict[int, float]:
    """The W array of a font: a code, then the widths from it on (ISO 32000-1, 9.7.4.3)."""
    entries = list(array)
    return {
        int(first) + place: float(width)
        for first, several in zip(entries[::2], entries[1::2], strict=True)
        for place, width in enumerate(several)
    }


def _learnt(drawn: _Drawn, *, line: str, top_px: float) -> Learnt:
    letters = [drawn.texts.get(code, "") for code in drawn.codes]
    if "".join(letters) != line:
        raise NotLearnt(f"{line!r} was drawn as {letters}.")
    glyphs: dict[str, tuple[str, float]] = {}
    between: dict[tuple[str, str], float] = {}
    for letter, code in zip(letters, drawn.codes, strict=True):
        if glyphs.setdefault(letter, (f"{code:04x}", drawn.widths[code]))[0] != f"{code:04x}":
            raise NotLearnt(f"{letter!r} is drawn in two ways.")
    for pair, taken in zip(pairwise(letters), drawn.taken[1:-1], strict=True):
        if abs(between.setdefault(pair, taken) - taken) > 1.5:  # the type setter rounds to one
            raise NotLearnt(f"{pair} stand at two distances.")
    return Learnt(
        start=drawn.start,
        size_px=drawn.size_px,
        baseline_px=drawn.baseline_px - top_px,
        glyphs=glyphs,
        between=between,
        lead=drawn.taken[0],
        tail=drawn.taken[-1],
        drawn_as_one=tuple(letter for letter in glyphs if len(letter) > 1),
    )
