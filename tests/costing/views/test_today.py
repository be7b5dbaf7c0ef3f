"""Today: plain sentences, worst first, each with its way on; one path for an empty kitchen."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from costing.views import today
from costing.views.today import Need
from tests.builders import (
    a_cook,
    a_fruit,
    a_kitchen,
    a_price,
    a_product,
    a_recipe,
    an_accountant,
    an_owner,
    no_allergens,
    sugar,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen():
    return a_kitchen()


def _page(client, kitchen):
    answer = client.get(reverse("today", args=[kitchen.pk]))
    assert answer.status_code == 200
    return answer.content.decode()


def _busy(kitchen):
    """A kitchen with one thing wrong of each sort."""
    plums, white = a_fruit(kitchen, name="Plums"), sugar(kitchen)
    a_price(white, valid_from=timezone.localdate() - timedelta(days=200))
    no_allergens(white)
    a_recipe(kitchen, lines=[(plums, 1), (white, 1)])
    return plums, white


def test_an_empty_kitchen_offers_one_path_and_says_how_long_it_takes(client, kitchen):
    client.force_login(an_owner(kitchen))
    page = _page(client, kitchen)
    assert "about ten minutes" in page
    main = page.split("<main")[1]
    assert main.count('class="action"') == 1, "one thing to do"
    assert reverse("pantry", args=[kitchen.pk]) in main


def test_the_path_moves_on_with_the_prices(client, kitchen):
    client.force_login(an_owner(kitchen))
    a_price(a_fruit(kitchen))
    a_fruit(kitchen)
    assert "2 to go" in _page(client, kitchen)


def test_the_next_price_is_one_click_away_and_never_a_dead_end(client, kitchen):
    client.force_login(an_owner(kitchen))
    a_price(a_fruit(kitchen))
    unpriced = a_fruit(kitchen)
    assert reverse("price_new", args=[kitchen.pk, unpriced.pk]) in _page(client, kitchen)
    a_price(unpriced)
    page = _page(client, kitchen)
    assert "1 to go" in page
    assert reverse("pantry", args=[kitchen.pk]) in page.split("<main")[1]


def test_rates_that_nobody_has_said_are_a_step_of_the_path_and_nought_is_an_answer(client):
    kitchen = a_kitchen(labour_rate_per_h=None, overhead_rate_per_h=0)
    client.force_login(an_owner(kitchen))
    for _ in range(3):
        a_price(a_fruit(kitchen))
    page = _page(client, kitchen)
    assert "Say what they cost" in page
    assert reverse("recipe_new", args=[kitchen.pk]) not in page
    a_recipe(kitchen, lines=[(a_fruit(kitchen), 1)])
    said = "Nobody has said what an hour of work costs, so every cost is only “at least”."
    assert said in _page(client, kitchen)
    kitchen.labour_rate_per_h = 0
    kitchen.save()
    assert "Nobody has said what" not in _page(client, kitchen)


def test_a_first_cost_leads_on_to_a_price(client, kitchen):
    client.force_login(an_owner(kitchen))
    plums, _ = _busy(kitchen)
    recipe = a_recipe(kitchen, lines=[(plums, 1)], name="A plum paste")
    page = _page(client, kitchen)
    assert "A plum paste has its cost, but no price and no label yet." in page
    assert f"{reverse('product_new', args=[kitchen.pk])}?recipe={recipe.pk}" in page
    a_product(recipe)
    assert "has its cost, but no price" not in _page(client, kitchen)


def test_what_is_missing_comes_before_what_is_old(client, kitchen):
    client.force_login(an_owner(kitchen))
    plums, white = _busy(kitchen)
    page = _page(client, kitchen)
    order = [page.index(words) for words in (
        "Plums has no price", "which allergens are in Plums", "older than 90 days",
    )]  # fmt: skip
    assert order == sorted(order)
    assert reverse("price_new", args=[kitchen.pk, plums.pk]) in page
    assert reverse("price_new", args=[kitchen.pk, white.pk]) in page


def test_a_missing_address_is_said_because_no_label_can_go_without(client):
    kitchen = a_kitchen(address="")
    client.force_login(an_owner(kitchen))
    _busy(kitchen)
    assert "address is not filled in" in _page(client, kitchen)


def test_a_product_without_a_stall_price_leads_to_itself(client, kitchen):
    client.force_login(an_owner(kitchen))
    plums, _ = _busy(kitchen)
    product = a_product(a_recipe(kitchen, lines=[(plums, 1)]), name="Slab")
    page = _page(client, kitchen)
    assert "Slab: no stall price is decided." in page
    assert reverse("product", args=[kitchen.pk, product.pk]) in page


def test_when_all_is_well_it_says_so(client, kitchen):
    client.force_login(an_owner(kitchen))
    plums = no_allergens(a_fruit(kitchen))
    a_price(plums, valid_from=timezone.localdate())
    a_recipe(kitchen, lines=[(plums, 1)], is_preparation=True)  # nothing to sell yet
    assert "Nothing needs you today" in _page(client, kitchen)


def test_a_cook_is_asked_about_allergens_and_not_about_money(client, kitchen):
    _busy(kitchen)
    client.force_login(a_cook(kitchen))
    page = _page(client, kitchen)
    assert "which allergens are in Plums" in page
    assert "price" not in page.lower()


def test_an_accountant_is_told_and_offered_no_change(client, kitchen):
    _busy(kitchen)
    client.force_login(an_accountant(kitchen))
    page = _page(client, kitchen)
    assert "Plums has no price" in page
    assert "/price/" not in page
    assert "allergens" not in page


def test_labels_may_add_a_sentence(client, kitchen, monkeypatch):
    def watcher(_kitchen, _member, _on):
        return [Need("The label of the jar has two things to mend.", "Mend them", "/somewhere/")]

    monkeypatch.setattr(today, "watchers", [watcher])
    client.force_login(an_owner(kitchen))
    _busy(kitchen)
    assert "two things to mend" in _page(client, kitchen)


def test_the_demo_kitchen_says_what_to_do_first(client):
    kitchen = a_kitchen(is_demo=True)
    _busy(kitchen)
    client.force_login(an_owner(kitchen))
    assert "See what a kilo costs" in _page(client, kitchen)
