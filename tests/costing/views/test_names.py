"""Names on labels in other languages: the pages, what they keep, and who may open them."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import AuditEntry, IngredientName
from tests.builders import a_cook, a_fruit, a_kitchen, a_recipe, a_stall_hand

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen(label_language="en")


@pytest.fixture
def cook(client, kitchen):
    client.force_login(a_cook(kitchen))
    return client


def _at(name, subject):
    return reverse(name, args=[subject.kitchen_id, subject.pk])


def test_a_name_is_kept_in_each_language_and_written_down(cook, kitchen):
    damson = a_fruit(kitchen, name="Damson")
    page = cook.get(_at("ingredient_names", damson)).content.decode()
    assert "labels say “damson”" in page
    assert 'name="en"' not in page  # the kitchen's own stands on the ingredient itself
    typed = {"es": " ciruela  damascena ", "de": "Zwetschge"}
    answer = cook.post(_at("ingredient_names", damson), typed)
    assert answer.url == _at("ingredient", damson)
    kept = dict(IngredientName.objects.values_list("language", "name"))
    assert kept == {"es": "ciruela damascena", "de": "Zwetschge"}
    assert AuditEntry.objects.filter(subject="ingredient", field="name in de").exists()


def test_an_emptied_box_takes_the_name_away_and_a_changed_one_changes_it(cook, kitchen):
    damson = a_fruit(kitchen, name="Damson")
    cook.post(_at("ingredient_names", damson), {"es": "ciruela", "de": "Zwetschge"})
    cook.post(_at("ingredient_names", damson), {"es": "ciruela damascena", "de": ""})
    assert [row.name for row in damson.names.all()] == ["ciruela damascena"]


def test_a_preparation_has_names_too_and_the_way_back_is_kept(cook, kitchen):
    puree = a_recipe(kitchen, name="Damson pulp")
    back = reverse("recipes", args=[kitchen.pk])
    answer = cook.post(_at("recipe_names", puree) + f"?back={back}", {"fr": "pulpe de damas"})
    assert answer.url == back
    assert puree.names.get().name == "pulpe de damas"
    elsewhere = cook.post(_at("recipe_names", puree) + "?back=https://example.org/", {})
    assert elsewhere.url == _at("recipe", puree)


@pytest.mark.parametrize("wrong", ["x" * 121, "a\x00b"])
def test_what_cannot_be_kept_is_said_and_stays(cook, kitchen, wrong):
    damson = a_fruit(kitchen, name="Damson")
    answer = cook.post(_at("ingredient_names", damson), {"es": wrong, "de": "Zwetschge"})
    assert answer.status_code == 200
    text = answer.content.decode()
    assert "One thing needs another look" in text
    assert 'value="Zwetschge"' in text
    assert not IngredientName.objects.exists()


def test_hebrew_and_emoji_are_kept_as_typed(cook, kitchen):
    damson = a_fruit(kitchen, name="Damson")
    cook.post(_at("ingredient_names", damson), {"es": "שזיף 🍑"})
    assert damson.names.get().name == "שזיף 🍑"


def test_each_kitchen_sees_its_own_and_each_role_what_is_its(client, kitchen):
    damson = a_fruit(a_kitchen(), name="Damson")
    client.force_login(a_cook(kitchen))
    theirs = reverse("ingredient_names", args=[kitchen.pk, damson.pk])
    assert client.get(theirs).status_code == 404
    client.force_login(a_stall_hand(kitchen))
    assert client.get(_at("ingredient_names", a_fruit(kitchen))).status_code == 403


def test_the_page_asks_the_database_no_more_with_more_names(cook, kitchen):
    damson = a_fruit(kitchen, name="Damson")
    cook.get(_at("ingredient_names", damson))
    with CaptureQueriesContext(connection) as few:
        cook.get(_at("ingredient_names", damson))
    cook.post(_at("ingredient_names", damson), dict.fromkeys(("es", "fr", "it", "pt", "de"), "x"))
    cook.get(_at("ingredient_names", damson))
    with CaptureQueriesContext(connection) as many:
        cook.get(_at("ingredient_names", damson))
    assert len(few) == len(many)
