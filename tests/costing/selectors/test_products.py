"""Products of a kitchen."""

import pytest

from costing.selectors.products import products_of
from tests.builders import a_kitchen, a_product, a_recipe, packaging

pytestmark = pytest.mark.django_db


def test_products_come_with_their_recipe_and_packing(django_assert_num_queries):
    kitchen = a_kitchen()
    for _ in range(3):
        a_product(a_recipe(kitchen), parts=[(packaging(kitchen), 1, 0)])
    a_product(a_recipe(kitchen), is_archived=True)
    a_product()
    with django_assert_num_queries(2):
        products = list(products_of(kitchen))
        assert len({product.recipe.name for product in products}) == 3
        assert len({part.item.name for p in products for part in p.parts.all()}) == 3
    assert products_of(kitchen, with_archived=True).count() == 4
