"""Products of a kitchen."""

from django.db.models import Prefetch, QuerySet

from costing.models import Kitchen, Product, ProductPart


def products_of(kitchen: Kitchen, *, with_archived: bool = False) -> QuerySet[Product]:
    """The kitchen's products by name, recipe and packing parts loaded with them."""
    parts = Prefetch("parts", queryset=ProductPart.objects.select_related("item"))
    rows = Product.objects.filter(kitchen=kitchen).select_related("recipe", "kitchen")
    rows = rows.prefetch_related(parts)
    return rows if with_archived else rows.filter(is_archived=False)
