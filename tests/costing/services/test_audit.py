"""One row for each changed figure."""

from decimal import Decimal

import pytest

from costing.models import AuditEntry
from costing.services.audit import record_changes, snapshot
from tests.builders import a_product, a_recipe, an_ingredient

pytestmark = pytest.mark.django_db


def changes(before, after):
    record_changes(an_ingredient(), by=None, before=before, after=after)
    return list(AuditEntry.objects.order_by("pk").values_list("field", "old", "new"))


def test_a_figure_is_written_as_a_person_writes_it():
    before = {"brix": Decimal("12.50"), "each_g": None, "is_compound": False, "usable_pct": 1}
    after = {"brix": Decimal("1E+1"), "each_g": Decimal("0.000"), "is_compound": True}
    assert changes(before, after) == [
        ("brix", "12.5", "10"),
        ("each_g", "", "0"),  # not known, and nothing, are not the same
        ("is_compound", "no", "yes"),
        ("usable_pct", "1", ""),
    ]


def test_the_same_figure_written_otherwise_is_no_change():
    assert changes({"brix": Decimal("12.50")}, {"brix": Decimal("12.5")}) == []


def test_a_link_is_compared_by_number_and_costs_no_query(django_assert_num_queries):
    product = a_product(a_recipe())
    product.refresh_from_db()
    with django_assert_num_queries(0):
        assert snapshot(product, fields=("recipe", "name")) == {
            "recipe": product.recipe_id,
            "name": product.name,
        }
