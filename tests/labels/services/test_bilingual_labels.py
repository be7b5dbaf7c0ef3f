"""Two languages inside one label, drawn at print size, and what no label has room or type for."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from labels import law
from labels.facts import LabelBox, LabelFace
from labels.rendering.layout import fit_label
from labels.rulebook import check
from tests.labels.law.eu.builders import a_label, used
from tests.labels.law.eu.test_voices import a_bilingual_label
from tests.labels.rendering.reading import bold_text, text_by_pdfium, x_heights_mm

ON = date(2026, 11, 25)
JAR = LabelBox(Decimal(99), Decimal(57))
SMALL = LabelBox(Decimal(40), Decimal(40))


def drawn(facts, *, box=JAR, layout="quiet"):
    face = LabelFace(
        particulars=law.particulars(facts, on=ON), layout=layout, language=facts.language
    )
    return fit_label(face, box=box)


def to_mend(facts, fitted):
    found = check(law.rules_in_force("eu", on=ON), facts, fitted.printed, on=ON)
    return [finding for finding in found if finding.stops_printing]


def test_both_languages_stand_on_one_label_the_second_after_the_first():
    facts = a_bilingual_label(finished_g=Decimal(6000))
    fitted = drawn(facts)
    text = text_by_pdfium(fitted.pdf)  # read back without its spaces
    assert text.index("Ingredients:damsons") < text.index("Ingredientes:ciruelas")
    assert "antesdelfindeoctubrede2027" in text
    assert text.count("200g") == 1
    assert bold_text(fitted.pdf) == "walnutsnueces"
    # Regulation (EU) No 1169/2011, Art. 13(2): 1.2 mm in either language, measured in the file.
    assert min(x_heights_mm(fitted.pdf).values()) >= 1.2
    assert to_mend(facts, fitted) == []


def test_what_has_no_room_is_named_with_its_language():
    facts = a_bilingual_label(finished_g=Decimal(6000))
    fitted = drawn(facts, box=SMALL)
    said = [finding.message for finding in to_mend(facts, fitted)]
    assert said
    assert all("There is no room for" in message for message in said)
    assert any("in Spanish" in message for message in said)
    assert len(said) == len(set(said))


def test_a_list_of_three_thousand_characters_on_forty_millimetres_is_refused_in_words():
    many = tuple(used(f"ingredient number {n} of many", 10) for n in range(100))
    facts = a_bilingual_label(finished_g=Decimal(6000))
    long = (*facts.ingredients, *many)
    facts = replace(facts, ingredients=long, second=replace(facts.second, ingredients=long))
    assert len(law.particulars(facts, on=ON)[2].text) > 2900
    fitted = drawn(facts, box=SMALL)
    said = [finding.message for finding in to_mend(facts, fitted)]
    assert any("no room for “ingredients”" in message for message in said)


@pytest.mark.parametrize("typed", ["ממרח שזיפים", "معجون البرقوق", "Damson 🍑 paste"])
def test_letters_our_type_cannot_draw_are_named_one_by_one(typed):
    facts = a_label(name_of_food=typed)
    fitted = drawn(facts)
    (found,) = [f for f in to_mend(facts, fitted) if "no drawing" in f.message]
    missing = {sign for sign in typed if ord(sign) > 0x500}
    assert all(sign in found.message for sign in missing)
    assert all(sign in fitted.printed.missing_glyphs for sign in missing)
