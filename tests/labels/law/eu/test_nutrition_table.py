"""What a declaration says: Regulation (EU) No 1169/2011, Arts. 30 to 34, Annexes XIII, XV [R]."""

from dataclasses import replace

from labels.law.eu.nutrition_table import portions_told
from tests.labels.law.eu.builders import as_printed, by_rule, statement
from tests.labels.law.eu.test_nutrition import a_declared_label, declared


def rows(**grams):
    found = statement("nutrition", a_declared_label(nutrition=declared(**grams)))
    return [row[0] for row in found.table.rows]


def test_annex_xv_the_rows_stand_in_the_order_of_the_law():
    assert rows(polyols=5) == [
        "Energy", "Fat", "of which saturates", "Carbohydrate", "of which sugars",
        "of which polyols", "Fibre", "Protein", "Salt",
    ]  # fmt: skip


def test_art_30_2_what_is_voluntary_is_told_where_there_is_some():
    assert "Fibre" in rows(fibre="0.51")
    assert "Fibre" not in rows(fibre="0.5")
    assert "of which polyols" not in rows()


def test_case_86_as_it_stands_in_the_table():
    # 0.2 x 37 + 72 x 17 + 0.4 x 17 + 2.5 x 8 = 1258.2 kJ; 296.4 kcal (Annex XIV) [R]
    found = statement("nutrition", a_declared_label())
    assert found.table.head == ("Nutrition", "per 100 g")
    assert found.table.rows == (
        ("Energy", "1258 kJ/296 kcal"), ("Fat", "<0.5 g"), ("of which saturates", "<0.1 g"),
        ("Carbohydrate", "72 g"), ("of which sugars", "65 g"), ("Fibre", "2.5 g"),
        ("Protein", "<0.5 g"), ("Salt", "<0.01 g"),
    )  # fmt: skip
    assert found.table.indented == (2, 4)
    assert str(found.citation).endswith("Art. 9(1)(l), Arts. 30 to 34 and Annex XV")


def test_art_34_2_the_same_in_linear_form():
    assert statement("nutrition", a_declared_label()).text == (
        "Nutrition per 100 g: energy 1258 kJ/296 kcal, fat <0.5 g, of which saturates <0.1 g, "
        "carbohydrate 72 g, of which sugars 65 g, fibre 2.5 g, protein <0.5 g, salt <0.01 g."
    )


def test_case_97_a_portion_with_its_share_and_the_sentence_about_the_average_adult():
    # 20 g hold 13 g of sugars: 14 % of 90 g. Energy 251.64 kJ: 3 % of 8 400 (Annex XIII, Part B).
    found = statement("nutrition", a_declared_label(nutrition=declared(portion_g="20")))
    table = {row[0]: row[1:] for row in found.table.rows}
    assert table["of which sugars"] == ("65 g", "13 g", "14 %")
    assert table["Energy"] == ("1258 kJ/296 kcal", "252 kJ/59 kcal", "3 %")
    assert table["Fibre"][2] == ""
    assert found.table.notes == (
        "*Reference intake of an average adult (8 400 kJ/2 000 kcal).",
        "This pack holds 10 portions of 20 g.",
    )
    assert found.text.endswith(" ".join(found.table.notes))
    assert "of which sugars 13 g (14 %*)" in found.text


def test_portions_that_do_not_come_out_even_are_said_to_be_about():
    facts = a_declared_label(nutrition=declared(portion_g="30"))
    assert portions_told(facts, facts.nutrition.portion_g) == (
        "This pack holds about 7 portions of 30 g."
    )


def test_without_a_declaration_nothing_is_said():
    assert statement("nutrition", a_declared_label(shows_nutrition=False)) is None


def test_either_form_is_the_statement_and_half_of_it_is_not():
    facts = a_declared_label()
    printed = as_printed(facts)
    assert not by_rule("every_statement_is_printed", facts, printed)
    table = statement("nutrition", facts).table
    assert not by_rule("every_statement_is_printed", facts, _with(printed, table.text))
    halved = table.text[: len(table.text) // 2]
    found = by_rule("every_statement_is_printed", facts, _with(printed, halved))
    assert [f.where for f in found] == ["nutrition"]


def _with(printed, text):
    blocks = tuple(replace(b, text=text) if b.kind == "nutrition" else b for b in printed.blocks)
    return replace(printed, blocks=blocks)
