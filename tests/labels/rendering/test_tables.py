"""Tables on labels, read back from the PDF by pdfplumber, which is not ours."""

import io
from dataclasses import replace
from decimal import Decimal

import pdfplumber
import pytest

from labels.facts import Act, Citation, LabelBox, LabelFace, Particular, Table, TextRun
from labels.rendering.blocks import Setting, fact_blocks
from labels.rendering.fonts import pango_is_missing
from labels.rendering.layout import fit_label
from labels.rendering.series import fit_series, render_pdf_pages
from labels.rendering.tables import column_widths_em

CITED = Citation(Act("An act", "https://example.org"), "Art. 1")
ROWS = (
    ("Energy", "1258 kJ/296 kcal"), ("Fat", "<0.5 g"), ("of which saturates", "<0.1 g"),
    ("Carbohydrate", "72 g"), ("of which sugars", "65 g"), ("Salt", "0.08 g"),
)  # fmt: skip
TABLE = Table(("Nutrition", "per 100 g"), ROWS, indented=(2, 4))

drawn = pytest.mark.skipif(bool(pango_is_missing()), reason="Pango is not installed")


def nutrition(table=TABLE):
    line = ", ".join(f"{name} {amount}" for name, amount in table.rows)
    return Particular("nutrition", (TextRun(f"{line}."),), CITED, heading="Nutrition:", table=table)


def a_face(*, table=TABLE, layout="quiet"):
    name = Particular("name", (TextRun("Damson paste"),), CITED, same_field=True)
    net = Particular("net_quantity", (TextRun("200 g"),), CITED, same_field=True,
                     minimum_figure_height_mm=Decimal(3))  # fmt: skip
    return LabelFace(particulars=(name, net, nutrition(table)), layout=layout)


def box(width, height):
    return LabelBox(Decimal(str(width)), Decimal(str(height)))


def words_of(pdf):
    with pdfplumber.open(io.BytesIO(pdf)) as book:
        return book.pages[0].extract_words(use_text_flow=False)


@drawn
@pytest.mark.parametrize("layout", ["quiet", "two-panel", "long"])
def test_figures_end_below_each_other_and_names_begin_below_each_other(layout):
    label = fit_label(a_face(layout=layout), box=box(150, 60))
    words = {word["text"]: word for word in words_of(label.pdf)}
    last = [word for word in words_of(label.pdf) if word["text"] == "g"][:6]
    names = [words[name]["x0"] for name in ("Energy", "Fat", "Carbohydrate", "Salt")]
    assert max(names) - min(names) < 0.3
    # "per 100 g" and five amounts end with a g, at one edge (72 points to the inch)
    edges = [word["x1"] for word in last if word["top"] < words["Salt"]["bottom"]]
    assert len(edges) >= 5
    assert max(edges) - min(edges) < 0.5
    of = [word for word in words_of(label.pdf) if word["text"] == "of"]
    assert all(word["x0"] > names[0] + 1 for word in of)


@drawn
def test_rows_stand_as_far_apart_as_was_reckoned():
    # as in a column of type: else what is reckoned to fit would not be what is drawn
    label = fit_label(a_face(), box=box(100, 70))
    block = next(b for c in label.arrangement.columns for b in c.blocks if b.rows)
    tops = [word["top"] for word in words_of(label.pdf) if word["text"] in {"Fat", "Salt"}]
    assert (tops[1] - tops[0]) * 25.4 / 72 == pytest.approx(4 * block.line_mm, abs=0.03)
    assert block.height_mm(width_mm=50) == block.before_mm + 7 * block.line_mm


@drawn
@pytest.mark.parametrize(("height_mm", "is_table"), [(60, True), (27, False)])
def test_art_34_2_where_there_is_no_room_for_a_table_it_stands_in_a_line(height_mm, is_table):
    # Regulation (EU) No 1169/2011, Art. 34(2) [R]
    label = fit_label(a_face(), box=box(70, height_mm))
    assert label.fits
    assert label.arrangement.setting.has_tables is is_table
    text = label.printed.block("nutrition").text
    assert text.startswith("Nutrition per 100 g Energy" if is_table else "Nutrition: Energy")
    assert label.printed.block("nutrition").x_height_mm >= Decimal("1.2")


@drawn
def test_a_table_wider_than_its_column_stands_in_a_line():
    wide = Table(("Nutrition", "per 100 g"), (("energy " * 9, "1 kJ"),))
    label = fit_label(a_face(table=wide), box=box(40, 90))
    assert not label.arrangement.setting.has_tables
    assert label.fits


@drawn
def test_a_series_whose_tables_differ_is_drawn_whole():
    other = Table(TABLE.head, (*ROWS[:-1], ("Salt", "0.09 g")), indented=TABLE.indented)
    faces = [a_face(), a_face(table=other), a_face()]
    labels = fit_series(faces, box=box(100, 70))
    with pdfplumber.open(io.BytesIO(render_pdf_pages(labels))) as book:
        texts = [page.extract_text() for page in book.pages]
    assert ["0.09 g" in text for text in texts] == [False, True, False]


def test_the_notes_of_a_table_stand_right_below_it_and_are_of_its_kind():
    noted = replace(TABLE, notes=("*Reference intake.", "Holds 10."))
    found = fact_blocks([nutrition(noted)], setting=Setting(1.25))
    assert [(b.role, b.kinds) for b in found] == [
        ("table", ("nutrition",)), ("fact", ("nutrition",)),
    ]  # fmt: skip
    assert found[1].parts[0].text == "*Reference intake. Holds 10."
    assert found[1].before_mm == 0


def test_a_column_is_as_wide_as_its_widest_cell_and_a_gap():
    narrow = column_widths_em((("A", "1"),), family="Label Sans")
    wide = column_widths_em((("A", "1"), ("A", "11")), family="Label Sans")
    assert narrow[0] == wide[0]
    assert wide[1] > narrow[1]
