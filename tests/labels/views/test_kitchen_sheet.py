from decimal import Decimal

import pypdfium2
import pytest

from costing.models import Member
from costing.services.batches import note_event
from tests.builders import NOON, a_batch, a_damson_paste, a_member, a_pan, a_recipe

pytestmark = pytest.mark.django_db


@pytest.fixture
def recipe():
    return a_damson_paste()


@pytest.fixture
def cook(client, recipe):
    client.force_login(a_member(recipe.kitchen, role=Member.Role.COOK).user)
    return client


def of_batch(batch):
    return f"/labels/k/{batch.kitchen_id}/batches/{batch.pk}/sheet.pdf"


def of_recipe(recipe, query=""):
    return f"/labels/k/{recipe.kitchen_id}/recipes/{recipe.pk}/sheet.pdf{query}"


def text_of(answer):
    assert answer["Content-Type"] == "application/pdf"
    (page,) = pypdfium2.PdfDocument(answer.content)
    return " ".join(page.get_textpage().get_text_bounded().split())


def test_the_sheet_of_a_pan_says_where_to_stop_what_to_weigh_and_what_was_read(cook, recipe):
    pan = a_pan(recipe.kitchen, name="Copper")
    batch = a_batch(recipe, pan=pan, water_reading_c="99.5")
    note_event(batch, by=None, kind="temperature", value=Decimal(101), key="a", read_at=NOON)
    text = text_of(cook.get(of_batch(batch)))
    assert f"Lot {batch.lot}" in text
    assert "Copper, empty 3.00 kg" in text
    # (1.125 + 8.1 + 0.0162) kg of solids at 75 Brix are 12.32 kg, and the pan weighs 3 kg.
    assert "Scale, pan and all 15.32 kg" in text
    assert "75.0 Brix" in text
    assert "this thermometer reads today 99.5 °C" in text
    assert "Damson puree 9.00 kg" in text
    assert "Cut 6 to 8 h after pouring" in text
    assert "Cool running water for 20 minutes" in text
    assert "no process authority" in text


def test_before_it_is_lit_the_sheet_is_of_the_size_asked_for(cook, recipe):
    text = text_of(cook.get(of_recipe(recipe, "?factor=0,5")))
    assert "0.5 times it" in text
    assert "Damson puree 4.50 kg" in text
    # Half of 12.32 kg, with no pan to add.
    assert "Scale, pan taken off 6.16 kg" in text
    assert "Lot Weigh out" not in text
    pan = a_pan(recipe.kitchen, tare_g=2000)
    with_pan = text_of(cook.get(of_recipe(recipe, f"?factor=0.5&pan={pan.pk}")))
    assert "Scale, pan and all 8.16 kg" in with_pan


@pytest.mark.parametrize("factor", ["x", "0", "-1", "1e9", "99999"])
def test_a_size_that_cannot_be_is_answered_with_a_sentence(cook, recipe, factor):
    answer = cook.get(of_recipe(recipe, f"?factor={factor}"))
    assert answer.status_code == 400
    assert "How many times the recipe?" in answer.content.decode()


def test_a_recipe_without_lines_asks_what_goes_in(cook, recipe):
    empty = a_recipe(recipe.kitchen, name="Nothing yet")
    assert "What goes into Nothing yet?" in text_of(cook.get(of_recipe(empty)))


def test_a_kitchen_with_letter_paper_gets_letter(cook, recipe):
    recipe.kitchen.paper_size = "Letter"
    recipe.kitchen.save()
    answer = cook.get(of_recipe(recipe))
    # 8.5 by 11 inches.
    assert pypdfium2.PdfDocument(answer.content)[0].get_size() == pytest.approx((612, 792), abs=0.5)


def test_a_pan_of_another_kitchen_is_not_there(cook, recipe):
    assert cook.get(of_recipe(recipe, f"?pan={a_pan().pk}")).status_code == 404
