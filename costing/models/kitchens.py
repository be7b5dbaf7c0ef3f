"""The kitchen, which owns every other row, and the people who may work in it."""

from decimal import Decimal

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q


def measured(digits: int, places: int) -> models.DecimalField:
    """A column for a measured figure; empty means not known, which is never zero."""
    return models.DecimalField(max_digits=digits, decimal_places=places, null=True, blank=True)


class Kitchen(models.Model):
    """One producer: the name and address on the labels, its money, its air and its rates."""

    class Policy(models.TextChoices):
        LATEST = "latest", "Latest price"
        AVERAGE = "average", "Average of the suppliers"
        WORST = "worst", "Dearest supplier"
        FIXED = "fixed", "Fixed on a day"

    trading_name = models.CharField(max_length=120)
    address = models.TextField(max_length=300, blank=True)
    country = models.CharField(max_length=2, help_text="ISO 3166 code, two letters")
    currency = models.CharField(max_length=3, default="EUR", help_text="ISO 4217 code")
    number_format = models.CharField(max_length=12, default="en_IE")
    label_language = models.CharField(max_length=5, default="en")
    paper_size = models.CharField(
        max_length=6, choices=[("A4", "A4"), ("Letter", "Letter")], default="A4"
    )
    is_tax_registered = models.BooleanField(default=False)
    tax_recoverable_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))
    food_tax_pct = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    altitude_m = models.DecimalField(max_digits=5, decimal_places=0, default=Decimal(0))
    water_reading_c = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    labour_rate_per_h = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    overhead_rate_per_h = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    energy_price_per_kwh = models.DecimalField(
        max_digits=8, decimal_places=4, null=True, blank=True
    )
    hob_efficiency_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(55))
    start_temperature_c = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(15))
    lot_scheme = models.CharField(max_length=40, default="{letters}-{yy}{ddd}")
    price_policy = models.CharField(max_length=8, choices=Policy, default=Policy.LATEST)
    prices_fixed_on = models.DateField(null=True, blank=True)
    is_demo = models.BooleanField(default=False)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("trading_name",)
        constraints = (
            models.CheckConstraint(
                condition=Q(altitude_m__gte=-430) & Q(altitude_m__lte=5500),
                name="kitchen_altitude_is_inhabited",
                violation_error_message="Altitude lies between -430 m and 5500 m.",
            ),
            models.CheckConstraint(
                condition=Q(tax_recoverable_pct__gte=0) & Q(tax_recoverable_pct__lte=100),
                name="kitchen_recoverable_is_a_share",
                violation_error_message="The share of tax recovered lies between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(hob_efficiency_pct__gt=0) & Q(hob_efficiency_pct__lte=100),
                name="kitchen_hob_efficiency_is_a_share",
                violation_error_message="The hob's efficiency lies between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=(Q(labour_rate_per_h__isnull=True) | Q(labour_rate_per_h__gte=0))
                & (Q(overhead_rate_per_h__isnull=True) | Q(overhead_rate_per_h__gte=0))
                & (Q(energy_price_per_kwh__isnull=True) | Q(energy_price_per_kwh__gte=0)),
                name="kitchen_rates_are_not_negative",
                violation_error_message="A rate cannot be less than nothing.",
            ),
            models.CheckConstraint(
                condition=~Q(price_policy="fixed") | Q(prices_fixed_on__isnull=False),
                name="kitchen_fixed_prices_name_their_day",
                violation_error_message="Say on which day the prices are fixed.",
            ),
        )

    def __str__(self) -> str:
        return self.trading_name


class KitchenOwned(models.Model):
    """A row that belongs to one kitchen, and may only point at rows of the same one."""

    kitchen = models.ForeignKey(Kitchen, on_delete=models.CASCADE, related_name="+")

    class Meta:
        abstract = True

    def clean(self) -> None:
        """Refuse a link into another kitchen; a foreign key alone would allow it."""
        super().clean()
        for field in self._meta.concrete_fields:
            model = field.related_model
            if not (isinstance(model, type) and issubclass(model, KitchenOwned)):
                continue
            other = getattr(self, field.name) if getattr(self, field.attname) else None
            if other is not None and other.kitchen_id != self.kitchen_id:
                raise ValidationError(
                    {field.name: f"That {field.verbose_name} is not in this kitchen."}
                )


class Member(KitchenOwned):
    """A person's place in a kitchen."""

    class Role(models.TextChoices):
        OWNER = "owner", "Owner"
        COOK = "cook", "Cook"
        STALL_HAND = "stall_hand", "Stall hand"
        ACCOUNTANT = "accountant", "Accountant"

    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships"
    )
    role = models.CharField(max_length=12, choices=Role)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("kitchen", "user"),
                name="member_is_once_in_a_kitchen",
                violation_error_message="This person is in the kitchen already.",
            ),
            models.CheckConstraint(
                condition=Q(role__in=["owner", "cook", "stall_hand", "accountant"]),
                name="member_has_a_known_role",
            ),
        )

    def __str__(self) -> str:
        return f"{self.user} ({self.get_role_display()})"
