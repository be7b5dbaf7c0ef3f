"""The price book, an ingredient and the pantry, as each role sees them."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from costing.models import Ingredient
from tests.builders import (
    a_cook,
    a_fruit,
    a_kitchen,
    a_price,
    a_recipe,
    an_accountant,
    an_owner,
    no_allergens,
    packaging,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def owner(client, kitchen):
    user = an_owner(kitchen)
    client.force_login(user)
    return user


def _list(kitchen, **query):
    return reverse("ingredients", args=[kitchen.pk], query=query)


def _page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_price_book_shows_a_usable_kilo_and_which_price_counts(client, owner, kitchen):
    a_price(a_fruit(kitchen, name="Plums", usable_pct=75), per_kg="1.80")
    page = _page(client, _list(kitchen))
    assert "€2.40" in page
    assert "the latest price" in page


def test_what_has_no_price_says_so(client, owner, kitchen):
    a_fruit(kitchen, name="Plums")
    page = _page(client, _list(kitchen))
    assert "no price yet" in page
    assert "€0" not in page
    assert "Plums" in _page(client, _list(kitchen, show="unpriced"))


def test_packaging_has_its_own_list_by_the_piece(client, owner, kitchen):
    a_price(packaging(kitchen, name="Paste wrap"), per_each="0.038")
    assert "Paste wrap" not in _page(client, _list(kitchen))
    assert "€0.038 " in _page(client, _list(kitchen, show="packaging"))


@pytest.mark.parametrize("q", ["plu", "PLUMS", "🍓", "<b>", "{{ q }}", "%", "a" * 500, "\x00"])
def test_searching_for_anything_is_safe(client, owner, kitchen, q):
    a_fruit(kitchen, name="Plums")
    page = _page(client, _list(kitchen, q=q))
    assert ("Plums</a>" in page) is (q.lower() in {"plu", "plums", "\x00"})
    assert "<b>”" not in page


@pytest.mark.parametrize("page", ["0", "-1", "99", "x", "9" * 30])
def test_a_page_that_is_not_there_shows_the_nearest_one(client, owner, kitchen, page):
    a_fruit(kitchen, name="Plums")
    assert "Plums" in _page(client, _list(kitchen, page=page))


def test_a_long_list_comes_in_pages(client, owner, kitchen):
    for number in range(60):
        a_fruit(kitchen, name=f"Fruit {number:03}")
    first = _page(client, _list(kitchen))
    assert "Fruit 049" in first
    assert "Fruit 050" not in first
    assert "Fruit 050" in _page(client, _list(kitchen, page=2))


@pytest.mark.parametrize("path", ["ingredients/999999999/", "ingredients/" + "9" * 40 + "/"])
def test_a_number_that_is_nobodys_is_not_found(client, owner, kitchen, path):
    assert client.get(f"/k/{kitchen.pk}/{path}").status_code == 404


def test_the_cook_sees_what_is_known_of_it_and_no_money(client, kitchen):
    plums = a_fruit(kitchen, name="Plums", usable_pct=75)
    price = a_price(plums, per_kg="1.80")
    client.force_login(a_cook(kitchen))
    for address in (_list(kitchen), reverse("ingredient", args=[kitchen.pk, plums.pk])):
        page = _page(client, address)
        assert "75" in page
        assert "€" not in page
        assert price.supplier.name not in page
        assert "Enter" not in page


def test_the_accountant_reads_prices_and_changes_nothing(client, kitchen):
    plums = a_fruit(kitchen, name="Plums")
    a_price(plums, per_kg="1.80")
    client.force_login(an_accountant(kitchen))
    page = _page(client, reverse("ingredient", args=[kitchen.pk, plums.pk]))
    assert "€1.80" in page
    for word in ("/edit/", "/price/", "/void/"):
        assert word not in page


def test_an_unanswered_allergen_is_said_and_not_taken_for_a_no(client, owner, kitchen):
    plums = a_fruit(kitchen)
    address = reverse("ingredient", args=[kitchen.pk, plums.pk])
    assert "nobody has answered for any of the fourteen" in _page(client, address)
    no_allergens(plums)
    assert "None of the fourteen that the law names" in _page(client, address)


def test_a_figure_shows_where_it_comes_from(client, owner, kitchen):
    plums = a_fruit(kitchen, figure_sources={"brix": "my refractometer, May"})
    page = _page(client, reverse("ingredient", args=[kitchen.pk, plums.pk]))
    assert "my refractometer, May" in page


# --- Made and changed -----------------------------------------------------------------------------


def _typed(**changes):
    empty = {"parts-TOTAL_FORMS": "0", "parts-INITIAL_FORMS": "0"}
    return {"name": "Mustard seed", "kind": "food", "usable_pct": "100"} | empty | changes


def test_a_name_is_enough_and_the_rest_stays_unknown(client, owner, kitchen):
    client.post(reverse("ingredient_new", args=[kitchen.pk]), _typed())
    made = Ingredient.objects.get()
    assert made.brix is None
    assert set(made.allergen_answers.values_list("answer", flat=True)) <= {"unknown"}


def test_an_allergen_is_kept_with_the_word_to_print(client, owner, kitchen):
    typed = {"allergen-mustard": "contains", "allergen-mustard_name": "mustard"}
    client.post(reverse("ingredient_new", args=[kitchen.pk]), _typed(**typed))
    answer = Ingredient.objects.get().allergen_answers.get(group="mustard")
    assert (answer.answer, answer.named_as) == ("contains", "mustard")


def test_a_figure_that_is_changed_says_who_changed_it(client, owner, kitchen):
    plums = a_fruit(kitchen, name="Plums", brix=12, figure_sources={"brix": "a table"})
    address = reverse("ingredient_edit", args=[kitchen.pk, plums.pk])
    same = {"name": "Plums", "category": "fruit", "insoluble_pct": "0"}
    client.post(address, _typed(**same, brix="12"))
    plums.refresh_from_db()
    assert plums.figure_sources["brix"] == "a table", "untouched"
    client.post(address, _typed(**same, brix="14,5"))
    plums.refresh_from_db()
    assert plums.brix == Decimal("14.5")
    assert plums.figure_sources["brix"].startswith(f"typed by {owner.get_username()}")
    client.post(address, _typed(**same, brix="15", source="refractometer"))
    plums.refresh_from_db()
    assert plums.figure_sources["brix"] == "refractometer"


def test_a_mixture_lists_its_parts(client, owner, kitchen):
    salt = a_fruit(kitchen, name="Salt")
    typed = {
        "is_compound": "on", "parts-TOTAL_FORMS": "2", "parts-0-part": str(salt.pk),
        "parts-0-share_pct": "12,5", "parts-1-part": "", "parts-1-share_pct": "",
    }  # fmt: skip
    client.post(reverse("ingredient_new", args=[kitchen.pk]), _typed(**typed))
    part = Ingredient.objects.get(name="Mustard seed").parts.get()
    assert (part.part, part.share_pct) == (salt, Decimal("12.5"))


def test_parts_without_the_tick_are_asked_about_and_not_dropped(client, owner, kitchen):
    salt = a_fruit(kitchen, name="Salt")
    typed = {"parts-TOTAL_FORMS": "1", "parts-0-part": str(salt.pk)}
    answer = client.post(reverse("ingredient_new", args=[kitchen.pk]), _typed(**typed))
    assert "Tick it, or empty those lines" in answer.content.decode()
    assert not Ingredient.objects.filter(name="Mustard seed").exists()


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("name", "", "required"), ("name", "x" * 200, "at most 80"),
        ("name", "Salt", "already an ingredient of that name"),
        ("usable_pct", "0", "more than 0"), ("usable_pct", "101", "at most 100"),
        ("brix", "100.5", "at most 100"), ("brix", "1.250", "one and a quarter"),
        ("density_kg_per_l", "25", "less than 25"), ("each_g", "-3", "more than 0"),
        ("sucrose_share", "0.5", ""), ("salt_g", "🍓", "not a number"),
        ("kind", "{{ x }}", "not one of the available"), ("name", "a\x00b", "Null characters"),
    ],
)  # fmt: skip
def test_bad_figures_get_a_sentence_and_are_kept(client, owner, kitchen, field, typed, words):
    a_fruit(kitchen, name="Salt")
    answer = client.post(
        reverse("ingredient_new", args=[kitchen.pk]), _typed(**{field: typed, "note": "kept"})
    )
    page = answer.content.decode()
    assert answer.status_code == 200
    assert words in page
    assert "mistakes" in page
    assert "kept</textarea>" in page.replace("\n", "")
    assert Ingredient.objects.count() == 1


@pytest.mark.parametrize("total", ["9999999", "x"])
def test_a_formset_that_was_tampered_with_is_refused(client, owner, kitchen, total):
    address = reverse("ingredient_new", args=[kitchen.pk])
    answer = client.post(address, _typed(**{"parts-TOTAL_FORMS": total}))
    assert answer.status_code == 200
    assert not Ingredient.objects.exists()


def test_text_of_any_kind_is_shown_as_typed(client, owner, kitchen):
    name = "<script>x</script> {{ 7*7 }} 🍓 مربى"
    client.post(reverse("ingredient_new", args=[kitchen.pk]), _typed(name=name))
    page = _page(client, _list(kitchen))
    assert "&lt;script&gt;x&lt;/script&gt; {{ 7*7 }} 🍓 مربى" in page


# --- The pantry -----------------------------------------------------------------------------------


def test_foods_are_copied_and_the_price_is_asked_for_next(client, owner, kitchen):
    address = reverse("pantry", args=[kitchen.pk])
    page = _page(client, address)
    slug = page.split('name="food" value="')[1].split('"')[0]
    answer = client.post(address, {"food": [slug]})
    made = Ingredient.objects.get()
    assert answer.url == reverse("price_new", args=[kitchen.pk, made.pk])
    assert "you have it" in _page(client, address)


@pytest.mark.parametrize("chosen", [[], ["no-such-food"], ["<b>"]])
def test_nothing_or_nonsense_ticked_is_said(client, owner, kitchen, chosen):
    answer = client.post(reverse("pantry", args=[kitchen.pk]), {"food": chosen})
    assert answer.status_code == 200
    assert "Nothing was added" in answer.content.decode()


def test_a_cook_goes_back_to_the_list_because_prices_are_not_hers(client, kitchen):
    client.force_login(a_cook(kitchen))
    page = _page(client, reverse("pantry", args=[kitchen.pk]))
    slug = page.split('name="food" value="')[1].split('"')[0]
    answer = client.post(reverse("pantry", args=[kitchen.pk]), {"food": [slug]})
    assert answer.url == reverse("ingredients", args=[kitchen.pk])


@pytest.mark.parametrize("name", ["ingredients", "today", "pantry", "ingredient_new"])
def test_pages_ask_the_database_as_often_for_200_rows_as_for_10(client, owner, kitchen, name):
    def more(count):
        for _ in range(count):
            fruit = a_fruit(kitchen)
            a_price(fruit)
            a_recipe(kitchen, lines=[(fruit, 1), (a_fruit(kitchen), 1)])

    def queries():
        with CaptureQueriesContext(connection) as caught:
            assert client.get(reverse(name, args=[kitchen.pk])).status_code == 200
        return len(caught)

    more(10)
    client.get(reverse(name, args=[kitchen.pk]))
    few = queries()
    more(190)
    assert queries() == few
