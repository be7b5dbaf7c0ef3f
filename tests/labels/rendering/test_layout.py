"""Fitting a label: what is legal is set, and what has no room is named."""

import threading
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labels.facts import LabelBox, LabelFace
from labels.rendering.fonts import NARROW
from labels.rendering.layout import LAYOUTS, fit_label
from labels.rendering.typesetting import line_widths_mm
from tests.labels.rendering.by_hand import (
    CHUTNEY_ALLERGENS,
    JAR,
    LARGE,
    SLAB,
    STRIP,
    WIDE,
    a_damson_cheese,
    a_tomato_chutney,
    particular,
)
from tests.labels.rendering.reading import (
    FILES,
    bare,
    bold_text,
    characters,
    figure_heights_mm,
    fonts,
    ink_box_mm,
    page_sizes_mm,
    text_by_pdfium,
    text_by_pdfplumber,
    x_heights_mm,
)

REAL_LABELS = [
    pytest.param(a_damson_cheese(layout="quiet"), SLAB, id="damson-quiet-slab"),
    pytest.param(
        a_damson_cheese(layout="quiet"), LabelBox(Decimal(70), Decimal(37)), id="damson-quiet-70x37"
    ),
    pytest.param(a_damson_cheese(layout="two-panel"), WIDE, id="damson-two-panel-wide"),
    pytest.param(a_damson_cheese(layout="long"), STRIP, id="damson-long-strip"),
    pytest.param(a_tomato_chutney(layout="quiet"), SLAB, id="chutney-quiet-slab"),
    pytest.param(a_tomato_chutney(layout="quiet"), LARGE, id="chutney-quiet-large"),
    pytest.param(a_tomato_chutney(layout="two-panel"), WIDE, id="chutney-two-panel-wide"),
    pytest.param(a_tomato_chutney(layout="two-panel"), JAR, id="chutney-two-panel-jar"),
    pytest.param(a_tomato_chutney(layout="long"), STRIP, id="chutney-long-strip"),
]
every_real_label = pytest.mark.parametrize(("face", "box"), REAL_LABELS)


@every_real_label
def test_every_statement_is_read_back_whole(face, box):
    fitted = fit_label(face, box=box)
    assert fitted.fits
    assert len(page_sizes_mm(fitted.pdf)) == 1
    for read in (text_by_pdfplumber(fitted.pdf), text_by_pdfium(fitted.pdf)):
        for each in face.particulars:
            assert bare(each.text) in read
        assert bare(face.brand_name.upper()) in read


@every_real_label
def test_only_our_own_type_is_in_the_file(face, box):
    used = fonts(fit_label(face, box=box).pdf)
    assert used <= set(FILES)
    assert used & {"Label-Sans", "Label-Sans-Narrow-Condensed"}


@every_real_label
def test_bold_is_on_the_allergens_and_on_nothing_else(face, box):
    expected = "".join(word for each in face.particulars for word in each.emphasised)
    assert bold_text(fit_label(face, box=box).pdf) == bare(expected)


@every_real_label
def test_every_size_has_its_legal_x_height_in_a_raster_of_the_page(face, box):
    # Regulation (EU) No 1169/2011, Art. 13(2): 1.2 mm. One pixel at 2400 dpi is 0.0106 mm.
    fitted = fit_label(face, box=box)
    heights = x_heights_mm(fitted.pdf)
    assert len(heights) >= 4  # brand, name, small print, quantity at the least
    assert min(heights.values()) >= 1.2
    smallest = float(fitted.printed.x_height_mm)
    assert min(heights.values()) == pytest.approx(smallest, abs=0.03)


@every_real_label
def test_the_net_quantity_has_its_legal_figures_in_a_raster_of_the_page(face, box):
    quantity = next(each for each in face.particulars if each.kind == "net_quantity")
    fitted = fit_label(face, box=box)
    block = fitted.printed.block("net_quantity")
    figures = [
        character for character in characters(fitted.pdf)
        if abs(character["size"] * 25.4 / 72 - _size_of(fitted, "net_quantity")) < 0.01
        and character["text"].isdecimal()
    ]  # fmt: skip
    assert "".join(each["text"] for each in figures) == quantity.text.split()[0]
    measured = figure_heights_mm(fitted.pdf, quantity.text.split()[0])
    assert min(measured) >= float(quantity.minimum_figure_height_mm)
    assert float(block.figure_height_mm) <= min(measured) + 0.03


def _size_of(fitted, kind):
    return next(
        block.size_mm
        for column in fitted.arrangement.columns
        for block in column.blocks
        if kind in block.kinds
    )


@every_real_label
def test_no_ink_lies_outside_the_inset(face, box):
    pdf = fit_label(face, box=box).pdf
    width, height = page_sizes_mm(pdf)[0]
    assert width == pytest.approx(float(box.width_mm), abs=0.01)
    assert height == pytest.approx(float(box.height_mm), abs=0.01)
    left, top, right, bottom = ink_box_mm(pdf)
    inset = float(box.inset_mm) - 0.06  # one pixel and the soft edge of a letter
    assert left >= inset
    assert top >= inset
    assert right <= float(box.width_mm) - inset
    assert bottom <= float(box.height_mm) - inset


@every_real_label
def test_the_same_label_gives_the_same_bytes(face, box):
    assert fit_label(face, box=box).pdf == fit_label(face, box=box).pdf


@pytest.mark.parametrize("layout", LAYOUTS)
def test_name_and_net_quantity_share_the_front(layout):
    printed = fit_label(a_tomato_chutney(layout=layout), box=LARGE).printed
    assert printed.block("name").panel == printed.block("net_quantity").panel == "front"
    elsewhere = {block.panel for block in printed.blocks if block.kind == "ingredients"}
    assert elsewhere == ({"front"} if layout == "quiet" else {"back"})


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_statement_of_the_same_field_stands_on_the_front(layout):
    face = a_damson_cheese(layout=layout)
    strength = particular("extra", "Alcohol 3 % vol", same_field=True)
    printed = fit_label(replace(face, particulars=(*face.particulars, strength)), box=LARGE).printed
    assert printed.block("extra").panel == "front"


def test_printed_text_tells_law_what_was_set():
    fitted = fit_label(a_tomato_chutney(), box=LARGE)
    block = fitted.printed.block("ingredients")
    assert block.text.startswith("Ingredients: tomatoes (48 %), onions")
    assert block.emphasised == CHUTNEY_ALLERGENS
    assert fitted.printed.block("net_quantity").text == "230 g"
    assert {block.kind for block in fitted.printed.blocks} == {
        each.kind for each in fitted.face.particulars
    }


def test_larger_paper_gets_larger_type_and_small_paper_the_narrow_cut_only_when_needed():
    slab, large = (fit_label(a_tomato_chutney(), box=box) for box in (SLAB, LARGE))
    assert large.printed.x_height_mm > slab.printed.x_height_mm
    assert slab.is_condensed
    assert not large.is_condensed
    assert not fit_label(a_damson_cheese(), box=SLAB).is_condensed


@pytest.mark.parametrize("minimum_mm", ["0.9", "1.2", "2.0"])
def test_each_statement_keeps_its_own_minimum(minimum_mm):
    # A statement that must stand higher (as an origin beside the name may) is raised alone.
    face = a_damson_cheese()
    origin = particular("origin", "Grown in Fennelford", minimum_x_height_mm=Decimal(minimum_mm))
    fitted = fit_label(replace(face, particulars=(*face.particulars, origin)), box=LARGE)
    assert fitted.printed.block("origin").x_height_mm >= Decimal(minimum_mm)
    assert fitted.printed.x_height_mm >= Decimal("1.2")


def test_a_small_pack_may_go_down_to_its_own_floor_and_no_further():
    # Art. 13(3): 0.9 mm where the largest surface is under 80 cm2.
    face = a_tomato_chutney()
    small = replace(
        face,
        particulars=tuple(
            replace(each, minimum_x_height_mm=Decimal("0.9")) for each in face.particulars
        ),
    )
    box = LabelBox(Decimal(50), Decimal(30))
    fitted = fit_label(small, box=box)
    assert fitted.fits
    assert Decimal("0.9") <= fitted.printed.x_height_mm < Decimal("1.2")
    assert min(x_heights_mm(fitted.pdf).values()) >= 0.9
    assert fit_label(face, box=box).printed.does_not_fit


@pytest.mark.parametrize("layout", ["quiet", "two-panel"])
@pytest.mark.parametrize("make", [a_damson_cheese, a_tomato_chutney])
def test_letters_stay_above_1_2_mm_where_they_fit_though_law_would_allow_less(make, layout):
    # Art. 13(2) asks for 1.2 mm, Art. 13(3) lets the smallest packs go down to 0.9 mm.
    face = make(layout=layout)
    small = replace(
        face,
        particulars=tuple(
            replace(each, minimum_x_height_mm=Decimal("0.9")) for each in face.particulars
        ),
    )
    as_if_large, fitted = fit_label(face, box=WIDE), fit_label(small, box=WIDE)
    assert as_if_large.fits  # so there is room at 1.2 mm
    assert min(x_heights_mm(fitted.pdf).values()) >= 1.2


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("box", [SLAB, WIDE, LARGE, STRIP], ids=str)
def test_lines_are_drawn_where_they_were_reckoned(layout, box):
    fitted = fit_label(a_tomato_chutney(layout=layout), box=box)
    for column in fitted.arrangement.columns:
        for block in column.blocks:
            if block.role == "rule" or block is column.quantity:
                continue
            beside = block in column.foot
            width_mm = column.foot_width_mm if beside else column.width_mm
            left_pt = (float(box.inset_mm) + column.x_mm) * 72 / 25.4
            baselines = {
                round(each["matrix"][5], 1) for each in characters(fitted.pdf, page=column.leaf)
                if abs(each["size"] - block.size_mm * 72 / 25.4) < 0.01
                and left_pt - 1 < each["x0"] < left_pt + column.width_mm * 72 / 25.4
            }  # fmt: skip
            assert len(baselines) >= len(line_widths_mm(block, width_mm=width_mm))
    right_mm = max(each["x1"] for each in characters(fitted.pdf)) * 25.4 / 72
    assert right_mm <= float(box.width_mm - box.inset_mm) + 0.05


def test_an_ingredient_list_of_3000_characters_is_named_as_what_does_not_fit():
    face = a_damson_cheese()
    endless = particular("ingredients", "damsons, sugar, " * 188, heading="Ingredients:")
    assert len(endless.text) > 3000
    face = replace(
        face,
        particulars=tuple(
            endless if each.kind == "ingredients" else each for each in face.particulars
        ),
    )
    fitted = fit_label(face, box=LabelBox(Decimal(40), Decimal(40)))
    assert "ingredients" in fitted.printed.does_not_fit
    assert fitted.printed.block("ingredients") is None
    assert fitted.printed.block("net_quantity") is not None
    assert min(x_heights_mm(fitted.pdf).values()) >= 1.2
    slab = fit_label(face, box=SLAB)
    assert slab.printed.does_not_fit == ("ingredients",)
    assert "damsons" not in text_by_pdfplumber(slab.pdf)


@pytest.mark.parametrize("width_mm", ["58.6", "62.8"])
@pytest.mark.parametrize("words", range(64, 92, 4))
def test_where_letters_run_wider_than_reckoned_the_drawing_itself_decides(words, width_mm):
    # H and H are not kerned, so lines of them are wider than the reckoning thinks, by 1 in 90.
    face = a_damson_cheese(name="Damson")
    face = replace(
        face,
        particulars=tuple(
            particular("ingredients", "HHHHHH " * words) if each.kind == "ingredients" else each
            for each in face.particulars
        ),
    )
    box = LabelBox(Decimal(width_mm), Decimal(60))
    pdf = fit_label(face, box=box).pdf
    lines = {}
    for each in characters(pdf):
        lines.setdefault(round(each["matrix"][5], 1), []).append(each)
    baselines = sorted(lines)
    for below, above in pairwise(baselines):
        # No two lines closer than the tightest leading of the lower one: 1.1 of its size.
        smaller = min(each["size"] for each in (*lines[below], *lines[above]))
        assert above - below >= 1.05 * smaller
    assert ink_box_mm(pdf, dpi=300)[3] <= 60 - 1.9


@pytest.mark.parametrize("kind", ["name", "net_quantity", "lot", "operator", "date", "storage"])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_any_statement_without_room_is_named_and_the_others_stay(kind, layout):
    face = a_damson_cheese(layout=layout)
    box = STRIP if layout == "long" else WIDE
    face = replace(
        face,
        particulars=tuple(
            replace(each, runs=particular(kind, "9" * 900).runs) if each.kind == kind else each
            for each in face.particulars
        ),
    )
    printed = fit_label(face, box=box).printed
    assert printed.does_not_fit == (kind,)
    assert {block.kind for block in printed.blocks} == {each.kind for each in face.particulars} - {
        kind
    }


def test_a_tagline_without_room_is_said_and_costs_no_statement():
    face = a_damson_cheese(tagline="slowly and in small pans " * 30)
    printed = fit_label(face, box=SLAB).printed
    assert printed.does_not_fit == ("tagline",)
    assert len(printed.blocks) == len(face.particulars)


def test_a_label_with_room_for_nothing_is_still_an_answer():
    tiny = LabelBox(Decimal(10), Decimal(6), inset_mm=Decimal(1))
    printed = fit_label(a_damson_cheese(), box=tiny).printed
    assert {"ingredients", "name", "operator", "net_quantity"} <= set(printed.does_not_fit)


def test_a_label_without_any_statement_is_blank_and_not_an_error():
    printed = fit_label(LabelFace(particulars=()), box=SLAB).printed
    assert printed.blocks == ()
    assert printed.does_not_fit == ()


@pytest.mark.parametrize("text", ["Jam 😀", "ריבה", "مربى", "果酱"])
def test_a_letter_without_a_drawing_is_reported_and_no_other_font_is_drawn_on(text):
    fitted = fit_label(a_damson_cheese(name=text), box=SLAB)
    assert fitted.printed.missing_glyphs
    assert set(fitted.printed.missing_glyphs) <= set(text)
    assert fonts(fitted.pdf) <= set(FILES)
    assert "▯" in text_by_pdfplumber(fitted.pdf)


@pytest.mark.parametrize(
    "text",
    [
        "<b>Jam</b> & <script>alert(1)</script>",
        "{{ settings.SECRET_KEY }}",
        "{% now 'Y' %} {# gone #}",
        '"><img src="https://example.org/x.png">',
        "&lt;&amp;&#65;",
        "url(x); color: red }",
    ],
)
def test_markup_in_any_text_is_printed_as_it_was_typed(text):
    face = LabelFace(
        particulars=tuple(
            replace(each, runs=particular("x", text).runs, heading=each.heading and text)
            for each in a_damson_cheese().particulars
        ),
        brand_name=text,
        tagline=text,
        notes=(text,),
        language='en"><script>',
    )
    fitted = fit_label(face, box=LabelBox(Decimal(190), Decimal(120)))
    read = text_by_pdfplumber(fitted.pdf)
    assert fitted.fits
    # Six statements and, where there is a heading, twice; the line of the maker and the note.
    headings = sum(1 for each in face.particulars if each.heading)
    assert read.count(bare(text)) >= len(face.particulars) + headings + 2


def test_an_unknown_layout_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="choose quiet, two-panel, long"):
        fit_label(a_damson_cheese(layout="round"), box=SLAB)


@pytest.mark.parametrize("colour", ["#ffff00", "nonsense", "#6b1f3a"])
def test_any_colour_gives_a_label_dark_enough_for_a_black_and_white_printer(colour):
    for each in characters(fit_label(a_damson_cheese(colour=colour), box=SLAB).pdf):
        red, green, blue = (round(part * 255) for part in each["non_stroking_color"])
        # Luminance of WCAG's 4.5:1 on white is 0.183; sRGB 118 grey.
        assert 0.2126 * red + 0.7152 * green + 0.0722 * blue <= 130


def test_the_estimated_sign_is_at_least_three_millimetres_high():
    # Directive 71/316/EEC as taken over by 76/211/EEC, Annex I, point 3.3: 3 mm (from memory).
    face = a_damson_cheese()
    face = replace(
        face,
        particulars=tuple(
            particular("net_quantity", "40 g ℮", minimum_figure_height_mm=Decimal(2))
            if each.kind == "net_quantity"
            else each
            for each in face.particulars
        ),
    )
    assert min(figure_heights_mm(fit_label(face, box=SLAB).pdf, "℮")) >= 3.0


def test_threads_set_the_same_label_alike():
    expected, found = fit_label(a_tomato_chutney(), box=JAR).pdf, []

    def work():
        found.extend(fit_label(a_tomato_chutney(), box=JAR).pdf for _ in range(3))

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [expected] * 12


def test_the_narrow_cut_is_named_in_the_file_when_it_was_used():
    fitted = fit_label(a_tomato_chutney(), box=SLAB)
    assert fitted.arrangement.setting.family == NARROW
    assert "Label-Sans-Narrow-Condensed" in fonts(fitted.pdf)


@settings(
    max_examples=20,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)
@given(text=st.text(min_size=1, max_size=80), layout=st.sampled_from(LAYOUTS))
def test_whatever_is_typed_is_printed_or_reported(text, layout):
    face = a_damson_cheese(layout=layout, name=text, lot=text)
    fitted = fit_label(face, box=STRIP if layout == "long" else WIDE)
    assert fonts(fitted.pdf) <= set(FILES)
    kinds = {block.kind for block in fitted.printed.blocks} | set(fitted.printed.does_not_fit)
    assert kinds >= {each.kind for each in face.particulars}
