"""A label in a second language, from the design to the check page; unknown names stop the print."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from costing.models import IngredientName, Member, Product
from labels.models import DesignWords
from tests.builders import a_member

pytestmark = pytest.mark.django_db


@pytest.fixture
def product(demo):
    return Product.objects.filter(kitchen=demo, recipe__name="Damson cheese").first()


@pytest.fixture
def owner(demo, client, product):
    client.force_login(a_member(demo, role=Member.Role.OWNER).user)
    product.label_design.second_language = "es"
    product.label_design.save()
    return client


def at(product, then=""):
    return f"/labels/k/{product.kitchen_id}/{product.pk}/{then}"


def give_all_names(client, product):
    """Words and names as the maker would type them, on the pages that the label leads to."""
    for each in client.get(at(product, "words/")).context["named"]:
        client.post(each.url, {"es": f"{each.own} (es)"})
    own = {f"es_{name}": "texto" for name in client.get(at(product, "words/")).context["form"].told}
    return client.post(at(product, "words/"), own | {"es_name_of_food": "Dulce de ciruelas"})


def test_the_check_names_each_missing_word_and_leads_to_where_it_is_given(owner, product):
    html = owner.get(at(product)).content.decode()
    assert "things to mend" in html
    assert "has no name in Spanish" in html
    assert f"/k/{product.kitchen_id}/ingredients/" in html
    assert "names/?back=" in html
    assert at(product, "words/") in html
    assert "The name of the food is not given in Spanish" in html
    words = owner.get(at(product, "words/"))
    # The name of the food and both sentences on keeping; the maker's own line is not due.
    assert words.context["unsaid"] == 3
    assert "Still missing: 3 of the label’s own words, 3 names" in words.content.decode()


def test_with_every_word_given_the_label_may_be_printed_in_both_languages(owner, product):
    answer = give_all_names(owner, product)
    assert answer.url == at(product)
    page = owner.get(at(product), {"sheet": "a4-2x4-99.1x67.7"})
    prepared = page.context["prepared"]
    assert prepared.facts.untranslated == ()
    assert [f.message for f in prepared.findings if f.stops_printing] == []
    html = page.content.decode()
    assert "Dulce de ciruelas" in html
    assert "Consumir preferentemente antes del" in html
    assert "Ingredients, in Spanish" in html
    assert "a native check is still due" in html
    words = owner.get(at(product, "words/")).content.decode()
    assert "Every word and every name in the list of ingredients is given." in words


def test_a_label_in_one_language_needs_no_words_and_says_where_another_is_chosen(owner, product):
    product.label_design.second_language = ""
    product.label_design.save()
    html = owner.get(at(product, "words/")).content.decode()
    assert "speaks only the language your kitchen names things in" in html
    assert at(product, "design/") in html


def test_too_long_a_word_is_refused_and_stays(owner, product):
    answer = owner.post(at(product, "words/"), {"es_name_of_food": "x" * 121})
    assert answer.status_code == 200
    assert "One thing needs another look" in answer.content.decode()
    assert "x" * 121 in answer.content.decode()
    assert not DesignWords.objects.exists()


@pytest.mark.parametrize("typed", ["ממרח", "🍑", "<script>", "x" * 120])
def test_whatever_is_typed_gives_a_page_with_a_sentence(owner, product, typed):
    owner.post(at(product, "words/"), {"es_name_of_food": typed})
    answer = owner.get(at(product))
    assert answer.status_code == 200
    assert "<script>alert" not in answer.content.decode()
    if not typed.isascii():
        assert "Our type has no drawing for" in answer.content.decode()


def test_the_same_language_twice_is_refused_on_the_design(owner, product):
    form = owner.post(
        at(product, "design/"), {"first_language": "es", "second_language": "es"}
    ).context["form"]
    assert form.errors["second_language"] == ["Choose another second language, or none."]


def test_a_label_for_england_is_printed_in_english_and_says_so(owner, product):
    give_all_names(owner, product)
    page = owner.get(at(product), {"market": "gb-eng"})
    assert "printed in English only" in page.content.decode()
    assert {each.language for each in page.context["prepared"].particulars} == {""}


def test_a_cook_is_led_to_the_names_but_not_to_the_design(client, owner, product):
    client.force_login(a_member(product.kitchen, role=Member.Role.COOK).user)
    html = client.get(at(product)).content.decode()
    assert "names/?back=" in html
    assert at(product, "words/") not in html
    assert client.get(at(product, "words/")).status_code == 403


def test_the_pages_ask_the_database_no_more_with_more_names(owner, product):
    def queries(address):
        owner.get(address)
        with CaptureQueriesContext(connection) as asked:
            owner.get(address)
        return len(asked)

    before = [queries(at(product)), queries(at(product, "words/"))]
    give_all_names(owner, product)
    assert IngredientName.objects.exists()
    assert [queries(at(product)), queries(at(product, "words/"))] == before
