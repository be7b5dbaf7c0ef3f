"""What a label is made of: who sees the name sees the net quantity, or law is told that not."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labels.facts import LabelBox
from labels.rendering.arrangement import arrange
from labels.rendering.blocks import Setting
from labels.rendering.columns import statements_of
from labels.rendering.layout import as_printed
from tests.labels.rendering.by_hand import STRIP, a_damson_cheese, particular

SETTING = Setting(1.25, 0.9, 1.2)


@pytest.mark.parametrize(("seen_mm", "panel"), [(None, "front"), ("136", "front"), ("60", "back")])
def test_a_quantity_at_the_far_end_of_a_wrapped_label_is_on_another_face(seen_mm, panel):
    # Regulation (EU) No 1169/2011, Art. 2(2)(k): a field of vision is read from one viewing point.
    # The quiet layout on 140 mm: the name at the left, the quantity 136 mm on at the right.
    box = LabelBox(Decimal(140), Decimal(40), seen_mm=seen_mm and Decimal(seen_mm))
    face = a_damson_cheese(layout="quiet")
    printed = as_printed(arrange(face, box=box, setting=SETTING), wanted=face)
    assert printed.block("name").panel == "front"
    assert printed.block("net_quantity").panel == panel


@pytest.mark.parametrize(("layout", "leaves"), [("quiet", 1), ("wrap", 1), ("pair", 2)])
def test_only_a_pair_takes_two_papers(layout, leaves):
    assert arrange(a_damson_cheese(layout=layout), box=STRIP, setting=SETTING).leaves == leaves


def test_every_statement_of_a_face_has_one_place():
    face = a_damson_cheese()
    strength = particular("extra", "Alcohol 3 % vol", same_field=True)
    face = replace(face, particulars=(*face.particulars, strength))
    sort = statements_of(face)
    placed = (*sort.name, sort.quantity, *sort.beside_name, *sort.body, *sort.prices, *sort.foot)
    assert sorted(each.kind for each in placed) == sorted(each.kind for each in face.particulars)
    assert [each.kind for each in sort.beside_name] == ["extra"]


def _in_two_languages(layout):
    face = a_damson_cheese(layout=layout)
    second = (
        particular("name", "Dulce de ciruelas", same_field=True, language="es"),
        particular(
            "ingredients", "ciruelas, azúcar, zumo de limón", heading="Ingredientes:",
            language="es",
        ),
        particular("storage", "Conservar en lugar fresco y seco.", language="es"),
    )  # fmt: skip
    return replace(face, particulars=(*face.particulars, *second))


@pytest.mark.parametrize("layout", ["quiet", "two-panel", "long", "columns", "wrap"])
def test_the_name_in_the_second_language_is_smaller_and_no_rule_begins_or_ends_a_column(layout):
    box = LabelBox(Decimal(200), Decimal(60))
    arrangement = arrange(_in_two_languages(layout), box=box, setting=SETTING)
    names = [b for c in arrangement.columns for b in c.blocks if b.role == "name"]
    assert [b.parts[0].text for b in names] == ["Damson cheese", "Dulce de ciruelas"]
    assert names[1].size_mm < names[0].size_mm
    for column in arrangement.columns:
        roles = [block.role for block in column.flow]
        assert not roles or {roles[0], roles[-1]}.isdisjoint({"rule"})
