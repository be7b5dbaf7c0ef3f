"""Pans, cooks and what was read, added and corrected while they were on the fire.

A batch is one pan that was really cooked. What is told about it is added, never overwritten:
a reading that was wrong is corrected by another row that names it.
"""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from costing.models.ingredients import Ingredient
from costing.models.kitchens import KitchenOwned, measured
from costing.models.products import Product
from costing.models.purchases import Supplier
from costing.models.recipes import Recipe, RecipeVersion


def _person() -> models.ForeignKey:
    return models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )


class Pan(KitchenOwned):
    """A pan by its weight, its width and what sticks to it; and how fast it loses water."""

    name = models.CharField(max_length=60)
    tare_g = measured(9, 1)
    diameter_cm = measured(5, 1)
    capacity_l = measured(7, 2)
    residue_g = measured(8, 1)
    evaporation_g_per_min = measured(8, 2)
    is_archived = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("name"),
                name="pan_name_is_unique_in_its_kitchen",
                violation_error_message="There is already a pan of that name.",
            ),
            models.CheckConstraint(
                condition=Q(tare_g__isnull=True) | Q(tare_g__gt=0), name="pan_weighs_something"
            ),
            models.CheckConstraint(
                condition=Q(diameter_cm__isnull=True) | Q(diameter_cm__gt=0),
                name="pan_has_a_width",
            ),
            models.CheckConstraint(
                condition=Q(evaporation_g_per_min__isnull=True) | Q(evaporation_g_per_min__gt=0),
                name="pan_rate_is_positive",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Mould(KitchenOwned):
    """A straight-sided mould by its inside, and how many of it there are."""

    name = models.CharField(max_length=60)
    length_mm = models.DecimalField(max_digits=6, decimal_places=1)
    width_mm = models.DecimalField(max_digits=6, decimal_places=1)
    depth_mm = models.DecimalField(max_digits=5, decimal_places=1)
    owned = models.PositiveSmallIntegerField(null=True, blank=True)
    is_archived = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("name"),
                name="mould_name_is_unique_in_its_kitchen",
                violation_error_message="There is already a mould of that name.",
            ),
            models.CheckConstraint(
                condition=Q(length_mm__gt=0) & Q(width_mm__gt=0) & Q(depth_mm__gt=0),
                name="mould_has_an_inside",
                violation_error_message="A mould is longer, wider and deeper than nothing.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Batch(KitchenOwned):
    """One pan that was cooked. `plan` is the scaled recipe as it was when the fire was lit.

    plan: every figure it was planned with, prices and rates included, as plain data
        (costing.services.batches.plan_of reads the recipe back). Not for people who see no costs.
    made_on: the day it counts for.
    report_hpa: air pressure at sea level from a weather report, where it was used.
    pot_g: food in the pan when done, pan taken off; net_g: what was filled or cut, saleable.
    """

    class Status(models.TextChoices):
        ON_THE_FIRE = "on the fire", "On the fire"
        FINISHED = "finished", "Finished"
        GIVEN_UP = "given up", "Given up"

    recipe = models.ForeignKey(Recipe, on_delete=models.RESTRICT, related_name="batches")
    version = models.ForeignKey(RecipeVersion, on_delete=models.RESTRICT, related_name="batches")
    pan = models.ForeignKey(
        Pan, on_delete=models.RESTRICT, null=True, blank=True, related_name="batches"
    )
    lot = models.CharField(max_length=40)
    status = models.CharField(max_length=11, choices=Status, default=Status.ON_THE_FIRE)
    plan = models.JSONField()
    factor = models.DecimalField(max_digits=12, decimal_places=6, default=Decimal(1))
    water_reading_c = measured(5, 2)
    report_hpa = measured(6, 1)
    made_on = models.DateField()
    started_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)
    cooked_by = _person()
    started_by = _person()

    end_brix = measured(5, 2)
    end_reading_c = measured(5, 2)
    ph = measured(4, 2)
    fill_c = measured(5, 2)
    pot_g = measured(12, 1)
    net_g = measured(12, 1)
    mould = models.ForeignKey(
        Mould, on_delete=models.RESTRICT, null=True, blank=True, related_name="batches"
    )
    moulds_filled = models.PositiveSmallIntegerField(null=True, blank=True)
    attended_minutes = measured(8, 2)
    texture = models.CharField(max_length=120, blank=True)
    taste = models.CharField(max_length=200, blank=True)
    deviations = models.TextField(max_length=1000, blank=True)

    class Meta:
        ordering = ("-made_on", "-id")
        indexes = (models.Index(fields=("kitchen", "recipe", "-made_on"), name="batch_of_recipe"),)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("lot"),
                name="lot_is_unique_in_its_kitchen",
                violation_error_message="This lot is used already. A lot is never used twice.",
            ),
            models.CheckConstraint(condition=~Q(lot=""), name="batch_has_a_lot"),
            models.CheckConstraint(
                condition=Q(net_g__isnull=True) | Q(net_g__gte=0), name="batch_net_is_not_negative"
            ),
            models.CheckConstraint(
                condition=Q(pot_g__isnull=True) | Q(pot_g__gt=0), name="batch_pot_is_positive"
            ),
            models.CheckConstraint(
                condition=~Q(status="finished") | Q(net_g__isnull=False),
                name="finished_batch_knows_its_net",
            ),
            models.CheckConstraint(condition=Q(factor__gt=0), name="batch_factor_is_positive"),
        )

    def __str__(self) -> str:
        return self.lot


class BatchInput(KitchenOwned):
    """What really went in: how much, from whom, which lot; and its price of that day.

    to_weigh_g: the plan rounded as a scale can show it.
    weighed_g: the mass put in, as prepared or as purchased like the line of the plan it answers.
    per_kg: what a kilo of it cost on the day, kept so that later prices cannot move it; None =
        no price was known. from_batch: the kitchen's own batch of a preparation.
    """

    batch = models.ForeignKey(Batch, on_delete=models.CASCADE, related_name="inputs")
    position = models.PositiveSmallIntegerField(default=0)
    ingredient = models.ForeignKey(
        Ingredient, on_delete=models.RESTRICT, null=True, blank=True, related_name="+"
    )
    preparation = models.ForeignKey(
        Recipe, on_delete=models.RESTRICT, null=True, blank=True, related_name="+"
    )
    from_batch = models.ForeignKey(
        Batch, on_delete=models.RESTRICT, null=True, blank=True, related_name="used_in"
    )
    planned_g = measured(12, 3)
    to_weigh_g = measured(12, 3)
    weighed_g = measured(12, 3)
    per_kg = measured(18, 8)
    measured_brix = measured(5, 2)
    supplier = models.ForeignKey(
        Supplier, on_delete=models.RESTRICT, null=True, blank=True, related_name="+"
    )
    supplier_lot = models.CharField(max_length=60, blank=True)

    class Meta:
        ordering = ("position", "id")
        constraints = (
            models.CheckConstraint(
                condition=Q(ingredient__isnull=False, preparation__isnull=True)
                | Q(ingredient__isnull=True, preparation__isnull=False),
                name="input_is_an_ingredient_or_a_preparation",
            ),
            models.CheckConstraint(
                condition=Q(weighed_g__isnull=True) | Q(weighed_g__gte=0),
                name="input_weight_is_not_negative",
            ),
        )


class BatchReading(KitchenOwned):
    """Something read or done at the stove, as an event: it is added, and never changed.

    kind "weight": gross weight on the scale [g], pan included when tare_g says so.
    kind "temperature": on this maker's thermometer [C]. kind "brix": refractometer reading, with
    the sample's temperature. kind "water" and "sugar": grams added after the start.
    key: made by the device, so that the same event sent twice is kept once.
    read_at: by the device's clock; received_at: by ours.
    corrects: the earlier event that this one replaces, with the reason in `note`.
    """

    class Kind(models.TextChoices):
        WEIGHT = "weight", "Weight of the pan"
        TEMPERATURE = "temperature", "Temperature"
        BRIX = "brix", "Refractometer"
        WATER = "water", "Water added"
        SUGAR = "sugar", "Sugar added"
        STRUCK = "struck", "Struck out"

    batch = models.ForeignKey(Batch, on_delete=models.CASCADE, related_name="readings")
    kind = models.CharField(max_length=11, choices=Kind)
    value = models.DecimalField(max_digits=12, decimal_places=3)
    tare_g = measured(9, 1)
    sample_c = measured(5, 2)
    key = models.CharField(max_length=40)
    read_at = models.DateTimeField()
    received_at = models.DateTimeField(auto_now_add=True)
    by = _person()
    corrects = models.ForeignKey(
        "self", on_delete=models.RESTRICT, null=True, blank=True, related_name="corrected_by"
    )
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("read_at", "id")
        constraints = (
            models.UniqueConstraint(fields=("batch", "key"), name="event_is_kept_once"),
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(note=""), name="correction_says_why"
            ),
        )


class BatchYield(KitchenOwned):
    """What the batch became: how many of which product, or grams kept as they are."""

    batch = models.ForeignKey(Batch, on_delete=models.CASCADE, related_name="yields")
    product = models.ForeignKey(
        Product, on_delete=models.RESTRICT, null=True, blank=True, related_name="+"
    )
    units = models.PositiveIntegerField(null=True, blank=True)
    mass_g = models.DecimalField(max_digits=12, decimal_places=1)
    what = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ("id",)
        constraints = (
            models.CheckConstraint(condition=Q(mass_g__gte=0), name="yield_is_not_negative"),
            models.CheckConstraint(
                condition=Q(product__isnull=True) | Q(units__isnull=False),
                name="yield_of_a_product_is_counted",
            ),
        )


class Lesson(KitchenOwned):
    """What the maker decided about something learnt: pinned to a figure, or told to forget.

    subject: "usable", "brix", "residue", "evaporation" or "inversion"; about an ingredient, and
    one supplier of it, or about a pan or a recipe. With a batch it answers only whether the figure
    of that batch counts; None lets the question be asked again.
    """

    subject = models.CharField(max_length=12)
    ingredient = models.ForeignKey(
        Ingredient, on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    supplier = models.ForeignKey(
        Supplier, on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    pan = models.ForeignKey(Pan, on_delete=models.CASCADE, null=True, blank=True, related_name="+")
    recipe = models.ForeignKey(
        Recipe, on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    pinned = measured(12, 4)
    forget_before = models.DateField(null=True, blank=True)
    batch = models.ForeignKey(
        Batch, on_delete=models.CASCADE, null=True, blank=True, related_name="+"
    )
    counts = models.BooleanField(null=True, blank=True)
    decided_at = models.DateTimeField(auto_now_add=True)
    decided_by = _person()

    class Meta:
        ordering = ("-decided_at", "-id")
