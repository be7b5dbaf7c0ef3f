"""What is sold: a recipe in a slab, a piece or a jar of a net quantity, and its price."""

from decimal import Decimal

from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from costing.models.ingredients import Ingredient
from costing.models.kitchens import KitchenOwned
from costing.models.recipes import Recipe


class Product(KitchenOwned):
    """A recipe as it is sold. Prices are those decided, in the kitchen's currency."""

    class Form(models.TextChoices):
        SLAB = "slab", "Slab"
        PIECE = "piece", "Piece"
        JAR = "jar", "Jar"

    class Aim(models.TextChoices):
        MARGIN = "margin", "Margin: share of the price I keep"
        MARKUP = "markup", "Markup: added on top of the cost"

    class Rounding(models.TextChoices):
        STEP = "step", "Up to a step"
        ENDING = "ending", "Up to an ending"
        NONE = "none", "To the cent"

    recipe = models.ForeignKey(Recipe, on_delete=models.RESTRICT, related_name="products")
    name = models.CharField(max_length=80)
    form = models.CharField(max_length=5, choices=Form)
    net_quantity_g = models.DecimalField(max_digits=10, decimal_places=2)
    fill_g = models.DecimalField(max_digits=10, decimal_places=2)
    packing_minutes = models.DecimalField(max_digits=6, decimal_places=2, null=True, blank=True)
    sales_tax_pct = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    aim = models.CharField(max_length=6, choices=Aim, default=Aim.MARGIN)
    aim_pct = models.DecimalField(max_digits=7, decimal_places=3, default=Decimal(40))
    rounding = models.CharField(max_length=6, choices=Rounding, default=Rounding.STEP)
    rounding_value = models.DecimalField(max_digits=6, decimal_places=2, default=Decimal("0.10"))
    stall_price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    wholesale_price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    shop_margin_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(35))
    is_archived = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("name"),
                name="product_name_is_unique_in_its_kitchen",
                violation_error_message="There is already a product of that name.",
            ),
            models.CheckConstraint(
                condition=Q(net_quantity_g__gt=0),
                name="product_net_quantity_is_positive",
                violation_error_message="The net quantity must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(fill_g__gte=models.F("net_quantity_g")),
                name="product_fill_is_not_short",
                violation_error_message="The fill must not be less than the net quantity.",
            ),
            models.CheckConstraint(
                condition=Q(sales_tax_pct__isnull=True)
                | (Q(sales_tax_pct__gte=0) & Q(sales_tax_pct__lte=100)),
                name="product_tax_is_a_rate",
                violation_error_message="Sales tax lies between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(aim_pct__gte=0) & (Q(aim="markup") | Q(aim_pct__lt=100)),
                name="product_margin_is_below_a_hundred",
                violation_error_message="A margin is a share of the price: below 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(rounding_value__gte=0)
                & (~Q(rounding="step") | Q(rounding_value__gt=0)),
                name="product_rounding_goes_somewhere",
                violation_error_message="The step must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=(Q(stall_price__isnull=True) | Q(stall_price__gte=0))
                & (Q(wholesale_price__isnull=True) | Q(wholesale_price__gte=0))
                & (Q(packing_minutes__isnull=True) | Q(packing_minutes__gte=0)),
                name="product_prices_are_not_negative",
                violation_error_message="Prices and minutes cannot be less than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(shop_margin_pct__gte=0) & Q(shop_margin_pct__lt=100),
                name="product_shop_margin_is_below_a_hundred",
                violation_error_message="A shop's margin is a share of the price: below 100 %%.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class ProductPart(KitchenOwned):
    """One part of the packing: how many of it a piece takes, and the share that is spoilt."""

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="parts")
    item = models.ForeignKey(Ingredient, on_delete=models.RESTRICT, related_name="packs")
    quantity = models.DecimalField(max_digits=13, decimal_places=8, default=Decimal(1))
    loss_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "id")
        constraints = (
            models.UniqueConstraint(fields=("product", "item"), name="packing_part_is_listed_once"),
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="packing_part_is_something",
                violation_error_message="Say how many of it a piece takes: more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(loss_pct__gte=0) & Q(loss_pct__lt=100),
                name="packing_loss_is_a_share",
                violation_error_message="What is spoilt is at least 0 %% and below 100 %%.",
            ),
        )
