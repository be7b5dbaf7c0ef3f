"""The maker's names and words in each language of a label, and what is missing of them."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.models import IngredientName, Recipe
from costing.models.names import LABEL_LANGUAGES
from labels import law
from labels.facts import LabelFacts, Untranslated
from labels.law.eu.word_tables import LANGUAGES
from labels.models import DesignWords, LabelDesign
from labels.services.facts import label_facts
from labels.services.languages import other_languages
from tests.builders import (
    TODAY,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_product,
    a_recipe,
    water,
)

pytestmark = pytest.mark.django_db

SPANISH = {
    "Damson": "ciruelas damascenas", "White sugar": "azúcar", "Lemon juice": "zumo de limón",
}  # fmt: skip


@pytest.fixture
def design():
    product = a_product(a_damson_paste(a_kitchen(label_language="en", country="ES")))
    return LabelDesign.objects.create(
        kitchen=product.kitchen, product=product, name_of_food="Damson paste",
        storage="Keep cool.", tagline="From our own trees", second_language="es",
    )  # fmt: skip


def facts_of(design):
    return label_facts(design, on=TODAY, lot="L1", made_on=TODAY, best_before=None)[0]


def name_all(design, language="es"):
    """Every ingredient and preparation gets a name in the language."""
    kitchen = design.kitchen
    for what, name in ((w, w.called) for w in facts_of(design).untranslated):
        kind, _, pk = what.what.partition("-")
        if kind in {"ingredient", "recipe"}:
            IngredientName.objects.create(
                kitchen=kitchen, language=language, name=SPANISH.get(name, f"es {name}"),
                **{f"{kind}_id": int(pk)},
            )  # fmt: skip
    DesignWords.objects.create(
        kitchen=kitchen, design=design, language=language, name_of_food="Pasta de ciruelas",
        storage="Conservar en lugar fresco.", tagline="De nuestros árboles",
    )  # fmt: skip


def test_the_languages_a_kitchen_can_name_things_in_are_those_of_the_law():
    assert dict(LABEL_LANGUAGES) == LANGUAGES


def test_a_label_in_the_kitchens_own_language_asks_for_no_names(design):
    design.second_language = None
    facts = facts_of(design)
    assert (facts.language, facts.second, facts.untranslated) == ("en", None, ())
    assert other_languages(design) == ()


def test_whatever_has_no_name_is_named_and_the_own_word_stands_in_its_place(design):
    facts = facts_of(design)
    missing = {(each.what.partition("-")[0], each.called) for each in facts.untranslated}
    assert ("name", "Damson paste") in missing
    assert ("storage", "Keep cool.") in missing
    assert any(kind == "ingredient" for kind, _ in missing)
    assert {each.language for each in facts.untranslated} == {"es"}
    assert [i.name for i in facts.second.ingredients] == [i.name for i in facts.ingredients]


def test_with_all_names_given_nothing_is_missing_and_both_languages_are_told(design):
    name_all(design)
    facts = facts_of(design)
    assert facts.untranslated == ()
    assert facts.second.name_of_food == "Pasta de ciruelas"
    assert "azúcar" in {i.name for i in facts.second.ingredients}
    assert facts.tagline == "From our own trees · De nuestros árboles"
    assert {p.language for p in law.particulars(facts, on=TODAY)} == {"", "es"}


def test_the_first_language_may_be_another_than_the_kitchens(design):
    name_all(design)
    design.first_language, design.second_language = "es", None
    facts = facts_of(design)
    assert (facts.language, facts.name_of_food) == ("es", "Pasta de ciruelas")
    design.second_language = "en"
    facts = facts_of(design)
    assert (facts.second.language, facts.second.name_of_food) == ("en", "Damson paste")
    assert facts.untranslated == ()


def test_a_preparation_under_one_name_is_named_as_the_preparation(design):
    puree = Recipe.objects.get(kitchen=design.kitchen, is_preparation=True)
    puree.on_label, puree.label_name = "one name", "damson puree"
    puree.save()
    missing = facts_of(design).untranslated
    assert [each.what for each in missing if each.what.startswith("recipe")] == [
        f"recipe-{puree.pk}"
    ]
    IngredientName.objects.create(
        kitchen=design.kitchen, recipe=puree, language="es", name="puré de ciruelas"
    )
    assert facts_of(design).second.ingredients[0].name == "puré de ciruelas"


def test_plain_water_need_not_be_named():
    # Regulation (EU) No 1169/2011, Annex VII, Part A, point 1: the table has a word for it.
    kitchen = a_kitchen(label_language="en")
    quince = a_fruit(kitchen, name="Quince")
    recipe = a_recipe(kitchen, lines=[(water(kitchen), 600, "g"), (quince, 400, "g")])
    product = a_product(recipe)
    design = LabelDesign.objects.create(
        kitchen=kitchen, product=product, name_of_food="Quince drink", second_language="es"
    )
    facts = facts_of(design)
    assert {i.name for i in facts.ingredients} == {"water", "quince"}
    assert {each.called for each in facts.untranslated} == {"Quince drink", "Quince"}


def test_the_words_of_another_kitchen_are_not_used(design):
    name_all(design)
    IngredientName.objects.update(kitchen=a_kitchen())
    assert any(each.what.startswith("ingredient") for each in facts_of(design).untranslated)


def test_names_are_read_in_two_queries_however_many_there_are(design):
    with CaptureQueriesContext(connection) as without:
        facts_of(design)
    name_all(design)
    with CaptureQueriesContext(connection) as named:
        facts_of(design)
    design.second_language = None
    with CaptureQueriesContext(connection) as single:
        facts_of(design)
    assert len(named) == len(without) == len(single) + 2


def test_in_great_britain_the_english_name_is_asked_for_and_nothing_else(design):
    design.market = "gb-eng"
    facts = facts_of(design)
    rules = {rule.name: rule for rule in law.rules_in_force("gb-eng", on=TODAY)}
    assert rules["every_name_is_given_in_english"](facts) == ()
    missing = Untranslated("ingredient-1", "membrillo", "en")
    lacking = LabelFacts(untranslated=(missing,), market="gb-eng")
    (found,) = rules["every_name_is_given_in_english"](lacking)
    assert found.stops_printing
    assert found.about == "ingredient-1"
