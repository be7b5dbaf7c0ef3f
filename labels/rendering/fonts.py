"""The label's own type: which files, how wide each letter is, how high its x and its figures."""

import ctypes
import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path

__all__ = [
    "FONT_DIR",
    "NARROW",
    "NARROW_FONT_DIR",
    "SANS",
    "Face",
    "RenderingUnavailable",
    "drawable",
    "figure_ratio",
    "font_face_css",
    "glyph_height_ratio",
    "missing_glyphs",
    "pango_is_missing",
    "points_for_x_height",
    "text_width_em",
    "x_ratio",
]

MM_PER_POINT = 25.4 / 72

FONT_DIR = Path(str(files("fontpkg_fira_sans") / "files"))
NARROW_FONT_DIR = Path(str(files("fontpkg_fira_sans_condensed") / "files"))

# Private names: no font that happens to be installed on the machine can answer to them.
SANS = "Label Sans"
NARROW = "Label Sans Narrow"

_STEMS = {SANS: (FONT_DIR, "FiraSans"), NARROW: (NARROW_FONT_DIR, "FiraSansCondensed")}
_CUTS = {
    (400, False): "Regular",
    (400, True): "Italic",
    (500, False): "Medium",
    (600, False): "SemiBold",
    (700, False): "Bold",
}
_STAND_IN = "▯"
_PANGO = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
}


class RenderingUnavailable(RuntimeError):
    """Labels cannot be drawn on this machine until a system library is installed."""


def pango_is_missing() -> tuple[str, ...]:
    """The apt packages that drawing labels still needs; none if all is well."""
    missing = []
    for library, package in _PANGO.items():
        try:
            ctypes.CDLL(library)
        except OSError:
            missing.append(package)
    return tuple(missing)


@dataclass(frozen=True)
class Face:
    """One cut of the label's type. Bold (700) is kept for allergens and nothing else."""

    family: str = SANS
    weight: int = 400
    is_italic: bool = False

    @property
    def path(self) -> Path:
        """The font file."""
        folder, stem = _STEMS[self.family]
        return folder / f"{stem}-{_CUTS[self.weight, self.is_italic]}.ttf"


ALL_FACES = tuple(Face(family, *cut) for family in _STEMS for cut in _CUTS)


@dataclass(frozen=True)
class _Measures:
    """What a font file says about itself, in em."""

    x_ratio: float
    advances: dict[str, float]
    tabular_figure: float
    heights: dict[str, float]

    @property
    def figure_ratio(self) -> float:
        return min(self.heights[figure] for figure in "0123456789")


@cache
def _measures(face: Face) -> _Measures:
    from fontTools.pens.boundsPen import BoundsPen  # comes with WeasyPrint; 0.1 s to import
    from fontTools.ttLib import TTFont

    if not face.path.is_file():
        raise RenderingUnavailable(
            f"The label's font file {face.path.name} is missing; install the Python package "
            f"fontpkg-fira-sans{'-condensed' if face.family == NARROW else ''} again."
        )
    with TTFont(face.path, lazy=True) as font:
        em = font["head"].unitsPerEm
        glyphs, letters = font.getGlyphSet(), font.getBestCmap()
        widths = font["hmtx"]
        heights = {}
        for character in "0123456789℮":
            pen = BoundsPen(glyphs)
            glyphs[letters[ord(character)]].draw(pen)
            # Above the baseline only: what hangs below it does not make a figure higher.
            heights[character] = pen.bounds[3] / em
        return _Measures(
            x_ratio=font["OS/2"].sxHeight / em,
            advances={chr(code): widths[name][0] / em for code, name in letters.items()},
            tabular_figure=max(widths[letters[ord(figure)]][0] for figure in "0123456789") / em,
            heights=heights,
        )


def x_ratio(face: Face = Face()) -> float:
    """Height of the lower-case x [em]."""
    return _measures(face).x_ratio


def figure_ratio(face: Face = Face()) -> float:
    """Height of the lowest of the ten figures [em]."""
    return _measures(face).figure_ratio


def glyph_height_ratio(character: str, *, face: Face) -> float:
    """Height of a figure or of the estimated sign above the baseline [em]."""
    return _measures(face).heights[character]


def points_for_x_height(mm: float, *, face: Face = Face()) -> float:
    """Type size in points whose lower-case x is that high [mm]."""
    return mm / x_ratio(face) / MM_PER_POINT


def text_width_em(text: str, *, face: Face, tracking_em: float = 0, tabular: bool = False) -> float:
    """Width of a line of text by the advance of each letter, kerning left out [em]."""
    measures = _measures(face)
    width = tracking_em * len(text)
    for character in text:
        if tabular and character.isdecimal():
            width += measures.tabular_figure
        else:
            width += measures.advances.get(character, 1.0)
    return width


@cache
def _coverage() -> frozenset[str]:
    return frozenset.intersection(*(frozenset(_measures(face).advances) for face in ALL_FACES))


def _plain(text: str) -> str:
    """Composed letters, no invisible characters, spaces and hyphens our type can draw."""
    composed = unicodedata.normalize("NFC", text)
    kept = []
    for character in composed:
        kind = unicodedata.category(character)
        if kind == "Cc":
            kept.append(" ")
        elif kind == "Zs" and character != " ":
            kept.append("\u00a0")
        elif character == "\u2011":  # a hyphen that does not break looks like any other
            kept.append("-")
        elif kind not in {"Cf", "Zl", "Zp"} and not "\ufe00" <= character <= "\ufe0f":
            kept.append(character)
    return re.sub(r" +", " ", "".join(kept))


@lru_cache(maxsize=4096)
def missing_glyphs(text: str) -> str:
    """The characters of a text that our type cannot draw, each once, in order."""
    covered = _coverage()
    return "".join(dict.fromkeys(each for each in _plain(text) if each not in covered))


@lru_cache(maxsize=4096)
def drawable(text: str) -> str:
    """The text as it can be drawn: an empty box stands for each character we have no drawing of.

    Left alone, such a character would be taken from any font of the machine, or vanish.
    """
    covered = _coverage()
    return "".join(each if each in covered else _STAND_IN for each in _plain(text))


def font_face_css() -> str:
    """The @font-face rules that give our files their private names."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; '
        f"font-style: {'italic' if face.is_italic else 'normal'}; "
        f'src: url("{face.path.as_uri()}") }}'
        for face in ALL_FACES
    )
