"""The label's type against its own files, and what happens to letters it does not have."""

import subprocess
import sys

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from labels.rendering import fonts
from labels.rendering.fonts import (
    ALL_FACES,
    NARROW,
    Face,
    drawable,
    figure_ratio,
    font_face_css,
    missing_glyphs,
    pango_is_missing,
    points_for_x_height,
    text_width_em,
    x_ratio,
)

EUROPE = (
    "ĄąĆćĘęŁłŃńÓóŚśŹźŻż ČčĎďĚěŇňŘřŠšŤťŮůÝýŽž ŐőŰű ĂăÂâÎîȘșȚț Ğğİıİş ĀāĒēĢģĪīĶķĻļŅņŪū ĊċĠġĦħ "
    "ÄäÖöÜüßÅåÆæØøÐðÞþÑñÇçŒœ ΑαΆάΒβΓγΔδΩω АаБбВвҐґЄєІіЇїЉљЊњЋћЏџ ℮½°%µ€≤≥−„“×²"
)


@pytest.mark.parametrize("face", ALL_FACES, ids=lambda face: face.path.stem)
def test_the_x_ratio_is_the_outline_of_the_x_and_the_os2_table(face):
    with TTFont(face.path) as font:
        em, glyphs = font["head"].unitsPerEm, font.getGlyphSet()
        pen = BoundsPen(glyphs)
        glyphs["x"].draw(pen)
        assert x_ratio(face) == font["OS/2"].sxHeight / em
        assert x_ratio(face) == pytest.approx(pen.bounds[3] / em, abs=0.001)


@pytest.mark.parametrize("face", ALL_FACES, ids=lambda face: face.path.stem)
def test_the_figure_ratio_is_the_lowest_of_the_ten_figures(face):
    with TTFont(face.path) as font:
        glyphs, letters, heights = font.getGlyphSet(), font.getBestCmap(), []
        for figure in "0123456789":
            pen = BoundsPen(glyphs)
            glyphs[letters[ord(figure)]].draw(pen)
            heights.append(pen.bounds[3] / font["head"].unitsPerEm)
        assert figure_ratio(face) == min(heights)


def test_points_for_the_legal_x_height():
    # 1.2 mm = 3.4016 pt; 3.4016 / 0.527 = 6.4546 pt
    assert points_for_x_height(1.2) == pytest.approx(6.4546, abs=0.0005)


def test_every_european_letter_has_a_drawing_in_every_cut():
    assert missing_glyphs(EUROPE) == ""
    assert drawable(EUROPE) == EUROPE


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("Jam 😀", "😀"),
        ("ריבה", "ריבה"),
        ("مربى", "مربى"),
        ("果酱 and 果", "果酱"),
        ("ジャム", "ジャム"),
        ("plain", ""),
    ],
)
def test_letters_without_a_drawing_are_named_once_each_and_shown_as_a_box(text, missing):
    assert missing_glyphs(text) == missing
    boxed = drawable(text)
    assert boxed.count("▯") == sum(text.count(each) for each in missing)
    assert missing_glyphs(boxed) == ""


def test_invisible_characters_vanish_and_odd_spaces_become_ordinary_ones():
    # Narrow no-break space, zero-width space, right-to-left override, tab and a decomposed é.
    assert drawable("100\u202fg\u200b \u202eabc\tde\u0301") == "100\u00a0g abc d\u00e9"
    assert missing_glyphs("100\u202fg\u200b\u202e\ufe0f\u2011") == ""


def test_the_narrow_cut_is_narrower_and_as_high():
    text = "sugar, damsons, lemon juice"
    wide = text_width_em(text, face=Face())
    narrow = text_width_em(text, face=Face(NARROW))
    assert narrow < 0.92 * wide
    assert x_ratio(Face(NARROW)) == pytest.approx(x_ratio(Face()), abs=0.002)


def test_each_font_file_has_its_private_name_and_its_own_weight():
    css = font_face_css()
    assert css.count("@font-face") == len(ALL_FACES) == 10
    assert 'font-family: "Label Sans"; font-weight: 700' in css
    assert "FiraSans-Bold.ttf" in css
    assert "local(" not in css


def test_a_lost_font_file_is_said_with_the_package_to_install(monkeypatch, tmp_path):
    monkeypatch.setitem(fonts._STEMS, "Label Sans", (tmp_path, "FiraSans"))
    fonts._measures.cache_clear()
    with pytest.raises(fonts.RenderingUnavailable, match="install the Python package fontpkg-fira"):
        x_ratio(Face())
    fonts._measures.cache_clear()


def test_nothing_is_missing_on_a_machine_that_can_draw():
    assert pango_is_missing() == ()


def test_without_pango_a_label_is_refused_with_the_apt_line_before_weasyprint_is_loaded():
    # A fresh process in which no system library can be opened, as on a bare Debian.
    script = """
import ctypes, sys
def no_library(name, *args, **kwargs):
    raise OSError(f"{name}: cannot open shared object file")
ctypes.CDLL = no_library
from labels.rendering.fonts import RenderingUnavailable, pango_is_missing
from labels.rendering.layout import fit_label
from tests.labels.rendering.by_hand import SLAB, a_damson_cheese
assert pango_is_missing() == ("libpango-1.0-0", "libpangoft2-1.0-0"), pango_is_missing()
try:
    fit_label(a_damson_cheese(), box=SLAB)
except RenderingUnavailable as reason:
    print(reason)
assert "weasyprint" not in sys.modules
"""
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert "apt-get install --no-install-recommends libpango-1.0-0 libpangoft2-1.0-0" in done.stdout
