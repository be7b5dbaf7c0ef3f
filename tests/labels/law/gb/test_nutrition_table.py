"""The declaration as printed: Regulation (EU) No 1169/2011, Arts 30 to 35, Annex XV [R]."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels.facts import Nutrition
from labels.law.gb.nutrition_table import energy_parts
from tests.labels.law.gb.builders import a_label, by_rule, statement

GRAMS = {
    "fat": "0.3", "saturates": "0.08", "carbohydrate": "68.4", "sugars": "64.6", "fibre": "3.1",
    "protein": "0.6", "salt": "0.0124", "organic acids": "1.2",
}  # fmt: skip


def facts(*, portion_g=None, net_quantity_g=200, **changed):
    amounts = tuple((name, Decimal(g)) for name, g in {**GRAMS, **changed}.items())
    portion = None if portion_g is None else Decimal(portion_g)
    return a_label(
        shows_nutrition=True, net_quantity_g=net_quantity_g,
        nutrition=Nutrition(per_100_g=amounts, portion_g=portion),
    )  # fmt: skip


def test_annex_xv_the_rows_stand_in_their_order_with_rounded_amounts():
    # case 88: 1 224.5 kJ and 288.5 kcal, a half goes up; rounding by guidance [2]
    table = statement("nutrition", facts()).table
    assert table.head == ("Nutrition", "per 100 g")
    assert table.rows == (
        ("Energy", "1225 kJ / 289 kcal"),
        ("Fat", "<0.5 g"),
        ("of which saturates", "<0.1 g"),
        ("Carbohydrate", "68 g"),
        ("of which sugars", "65 g"),
        ("Fibre", "3.1 g"),
        ("Protein", "0.6 g"),
        ("Salt", "<0.01 g"),
    )
    assert [table.rows[n][0] for n in table.indented] == ["of which saturates", "of which sugars"]


def test_art_34_2_the_line_says_the_same_as_the_columns():
    found = statement("nutrition", facts(portion_g="20"))
    assert found.text.startswith("Nutrition per 100 g: energy 1225 kJ / 289 kcal, fat <0.5 g, of ")
    for row in found.table.rows:
        assert all(cell.casefold() in found.text.casefold() for cell in row)
    assert all(note in found.text for note in found.table.notes)


def test_case_87_polyols_are_part_of_carbohydrate_and_counted_once():
    # 50 x 17 + 10 x 10 = 950 kJ; 50 x 4 + 10 x 2.4 = 224 kcal (Annex XIV)
    grams = {"carbohydrate": Decimal(60), "polyols": Decimal(10)}
    assert energy_parts(grams)["carbohydrate"] == 50
    none = dict.fromkeys(("fat", "saturates", "fibre", "protein", "salt", "organic acids"), "0")
    found = statement("nutrition", facts(**none, carbohydrate="60", sugars="0", polyols="10"))
    assert found.table.rows[0] == ("Energy", "950 kJ / 224 kcal")
    assert ("of which polyols", "10 g") in found.table.rows


@pytest.mark.parametrize(
    ("portion", "net", "told"),
    [
        ("20", 200, "This pack holds 10 portions of 20 g."),
        ("30", 200, "This pack holds about 7 portions of 30 g."),
        ("200", 200, "This pack holds 1 portion of 200 g."),
        ("201", 200, None), ("20", None, None), ("0", 200, None), (None, 200, None),
    ],
)  # fmt: skip
def test_art_33_1_portions_come_with_their_number(portion, net, told):
    label = facts(portion_g=portion, net_quantity_g=net)
    notes = statement("nutrition", label).table.notes
    assert (told in notes) if told else notes == ()
    asked = bool(by_rule("a_portion_comes_with_their_number", label))
    assert asked is (portion is not None and told is None)


def test_case_97_a_portions_share_stands_with_the_sentence():
    # 20 g: 244.9 kJ of 8 400 = 2.9 %; 64.6 x 0.2 = 12.92 g of 90 = 14.4 % (Art. 32(4) and (5))
    table = statement("nutrition", facts(portion_g="20")).table
    assert table.head == ("Nutrition", "per 100 g", "per 20 g", "%*")
    assert table.rows[0][2:] == ("245 kJ / 58 kcal", "3 %")
    assert table.rows[4][2:] == ("13 g", "14 %")
    assert table.rows[5][3] == ""  # fibre has no reference intake in Annex XIII, Part B
    assert table.notes[0] == "*Reference intake of an average adult (8 400 kJ/2 000 kcal)."


def test_what_is_not_complete_is_not_printed():
    asked = Nutrition(per_100_g=(("fat", Decimal(1)),), questions=("How much salt?",))
    assert statement("nutrition", a_label(shows_nutrition=True, nutrition=asked)) is None
    assert statement("nutrition", a_label(nutrition=facts().nutrition)) is None


def test_it_is_voluntary_for_direct_sale():
    found = statement("nutrition", replace(facts(), way_of_sale="direct"))
    assert "not asked for here" in found.citation.provision
