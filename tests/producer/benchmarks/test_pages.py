"""Every page is fetched whole from kitchens that differ in their recipes only."""

import pytest
from django.contrib.auth.models import User

from costing.models import Ingredient, Kitchen, Product, Recipe, SupplierPrice
from costing.services.recipes import cost_recipes
from labels.models import LabelDesign
from producer.benchmarks.made_up_kitchen import make_kitchen
from producer.benchmarks.pages import PAGES, measured_pages
from producer.benchmarks.throwaway_database import throwaway_folder
from tests.builders import TODAY

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("count", [5, 20])
def test_a_kitchen_has_as_many_recipes_as_was_said_and_all_can_be_costed(count):
    kitchen = make_kitchen(recipes=count, on=TODAY).kitchen
    assert Recipe.objects.count() == count
    assert Recipe.objects.filter(is_preparation=True).count() == count // 5
    assert Product.objects.count() == LabelDesign.objects.count() == count - count // 5
    sheets = cost_recipes(kitchen, None, on=TODAY)
    assert len(sheets) == count
    assert all(sheet.is_complete for sheet in sheets.values())


def test_a_large_kitchen_has_no_more_ingredients_and_prices_than_a_small_one():
    counts = []
    for recipes in (5, 20):
        made = make_kitchen(recipes=recipes, on=TODAY).kitchen
        User.objects.filter(username="owner").update(username=f"owner of {recipes}")
        counts.append(
            (
                Ingredient.objects.filter(kitchen=made).count(),
                SupplierPrice.objects.filter(kitchen=made).count(),
            )
        )
    assert counts[0] == counts[1] == (61, 61 * 3 * 4)


@pytest.mark.own_database
def test_every_page_is_measured_in_all_three_kitchens_and_queries_do_not_grow():
    with throwaway_folder() as folder:
        found = measured_pages(folder, on=TODAY, is_quick=True)
    assert [page.name for page in found] == list(PAGES)
    for page in found:
        assert len(page.queries) == len(page.rows) == len(page.times_ms) == 3
        assert page.queries[0] == page.queries[-1] > 0, page.name
        assert all(time_ms > 0 for time_ms in page.times_ms)
    rows = {page.name: page.rows for page in found}
    # 5, 10 and 20 recipes: each is a line of the list, with the line of the heading.
    assert rows["labels"] == (5, 9, 17)  # 4, 8 and 16 products
    assert rows["ingredients"][0] == rows["ingredients"][2] > 50
    assert not Kitchen.objects.exists(), "the site's own database was written to"
