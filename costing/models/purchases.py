"""Suppliers and what they charge. A price is a dated row: superseded or voided, never edited."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from costing.models.ingredients import Ingredient
from costing.models.kitchens import KitchenOwned


class Supplier(KitchenOwned):
    """Who sells to the kitchen."""

    name = models.CharField(max_length=80)
    contact = models.TextField(max_length=300, blank=True)
    minimum_order = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    delivery_charge = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    is_archived = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("name"),
                name="supplier_name_is_unique_in_its_kitchen",
                violation_error_message="There is already a supplier of that name.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class SupplierPrice(KitchenOwned):
    """What one supplier asks for one pack of one ingredient, from a day on.

    The database refuses any change but voiding (see the migration), so the past cannot move.
    pack_text is what was typed; pack_quantity with pack_unit ("g", "ml", "each") what it means.
    per_kg is the cost of a kilo as purchased, with tax that cannot be recovered and delivery.
    It is kept because a later change of density must not move an old cost; for packaging, which
    is bought by the piece, per_each is kept instead.
    """

    supplier = models.ForeignKey(Supplier, on_delete=models.RESTRICT, related_name="prices")
    ingredient = models.ForeignKey(Ingredient, on_delete=models.RESTRICT, related_name="prices")
    pack_text = models.CharField(max_length=60)
    pack_quantity = models.DecimalField(max_digits=14, decimal_places=5)
    pack_unit = models.CharField(max_length=4)
    pack_price = models.DecimalField(max_digits=12, decimal_places=4)
    price_includes_tax = models.BooleanField(default=False)
    tax_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))
    tax_recoverable_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))
    delivery_per_pack = models.DecimalField(max_digits=12, decimal_places=4, default=Decimal(0))
    per_kg = models.DecimalField(max_digits=18, decimal_places=8, null=True, blank=True)
    per_each = models.DecimalField(max_digits=18, decimal_places=8, null=True, blank=True)
    valid_from = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    voided_at = models.DateTimeField(null=True, blank=True)
    void_reason = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("-valid_from", "-id")
        indexes = (
            models.Index(fields=("ingredient", "supplier", "-valid_from"), name="price_in_force"),
            models.Index(fields=("kitchen", "-valid_from"), name="price_of_the_day"),
        )
        constraints = (
            models.CheckConstraint(
                condition=Q(pack_quantity__gt=0),
                name="price_pack_holds_something",
                violation_error_message="A pack holds more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(pack_price__gte=0),
                name="price_is_not_negative",
                violation_error_message="A price cannot be negative.",
            ),
            models.CheckConstraint(
                condition=Q(pack_unit__in=["g", "ml", "each"]), name="price_unit_is_a_base_unit"
            ),
            models.CheckConstraint(
                condition=Q(tax_pct__gte=0) & Q(tax_pct__lte=100),
                name="price_tax_is_a_rate",
                violation_error_message="Tax lies between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(tax_recoverable_pct__gte=0) & Q(tax_recoverable_pct__lte=100),
                name="price_recoverable_is_a_share",
                violation_error_message="The share of tax recovered lies between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(delivery_per_pack__gte=0),
                name="price_delivery_is_not_negative",
                violation_error_message="Delivery cannot cost less than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(per_kg__isnull=False) | Q(per_each__isnull=False),
                name="price_knows_a_kilo_or_a_piece",
            ),
            models.CheckConstraint(
                condition=Q(voided_at__isnull=True) | ~Q(void_reason=""),
                name="price_voided_with_a_reason",
            ),
        )
