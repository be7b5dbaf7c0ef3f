"""The demo as a newcomer gets it: labels that may be printed, and one that asks a question."""

from datetime import date, timedelta

import pytest
from django.db import transaction

from costing.models import Kitchen, Product
from labels.models import LabelDesign, QuantifiedIngredient
from labels.services.designs import sheet_named
from labels.services.printing import LabelOrder, prepare_label
from producer.demo import LOOKS, load_demo

ON = date(2026, 9, 20)


@pytest.fixture(scope="module")
def _loaded(django_db_setup, django_db_blocker):
    """Loaded once for the whole module, and taken back at its end."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield load_demo(on=ON)
        transaction.set_rollback(True)


@pytest.fixture
def kitchen(_loaded, db):
    return Kitchen.objects.get(pk=_loaded.pk)


def prepared(kitchen, name):
    design = LabelDesign.objects.get(product__name=name)
    sheet = sheet_named(kitchen, design.sheet_code)
    return prepare_label(
        design, order=LabelOrder(on=ON, made_on=ON - timedelta(days=9), sheet=sheet)
    )


def test_loading_twice_changes_nothing(kitchen):
    before = [list(t.objects.order_by("pk").values()) for t in (LabelDesign, QuantifiedIngredient)]
    assert load_demo(on=ON + timedelta(days=30)) == kitchen
    after = [list(t.objects.order_by("pk").values()) for t in (LabelDesign, QuantifiedIngredient)]
    assert after == before


def test_every_product_has_a_label(kitchen):
    named = set(LabelDesign.objects.values_list("product__name", flat=True))
    assert named == set(LOOKS) == set(Product.objects.values_list("name", flat=True))


@pytest.mark.parametrize(
    "name",
    ["Damson cheese, 100 g piece", "Tomato chutney, 230 g jar",
     "Seville-style marmalade, 340 g jar"],
)  # fmt: skip
def test_three_labels_can_be_printed_as_they_are(kitchen, name):
    label = prepared(kitchen, name)
    assert [f.message for f in label.findings if f.stops_printing] == []
    assert label.may_print, label.unavailable


def test_the_paste_with_the_open_question_cannot_be_printed_yet(kitchen):
    label = prepared(kitchen, "Spiced pear and apple paste, 100 g piece")
    open_questions = [f for f in label.findings if f.stops_printing]
    assert not label.may_print
    assert open_questions
    assert all(f.message.startswith("star anise:") for f in open_questions)


def test_the_chutney_sets_its_two_allergens_apart(kitchen):
    """Sultanas of 500 mg/kg bring 2.0 x 500 / 23.52 = 42.5 mg/kg of sulphites, over 10."""
    label = prepared(kitchen, "Tomato chutney, 230 g jar")
    (listed,) = (p for p in label.particulars if p.kind == "ingredients")
    assert sorted(word.lower() for word in listed.emphasised) == ["mustard", "sulphur dioxide"]


def test_the_chutney_declares_nutrition_from_usda_sr28(kitchen):
    """All that goes in has its values from SR28, so nothing has to be asked."""
    label = prepared(kitchen, "Tomato chutney, 230 g jar")
    (said,) = (p for p in label.particulars if p.kind == "nutrition")
    assert [row[0] for row in said.table.rows][-1] == "Salt"
    assert all(
        "SR28" in source or "invented" in source
        for each in label.facts.nutrition.sources
        for _, _, source in each.known
    )


def test_the_damson_cheese_says_how_much_fruit_went_in(kitchen):
    """9 kg of puree gave 14.08 kg in the pan: 64 %."""
    label = prepared(kitchen, "Damson cheese, 100 g piece")
    (listed,) = (p for p in label.particulars if p.kind == "ingredients")
    assert "damson puree (64 %)" in listed.text.replace("(64%)", "(64 %)").replace("\xa0", " ")
