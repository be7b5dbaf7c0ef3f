"""Recipes, their versions and their lines."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from costing.models.ingredients import Ingredient
from costing.models.kitchens import KitchenOwned


class Recipe(KitchenOwned):
    """Something the kitchen makes. What is in it stands in its versions."""

    class OnLabel(models.TextChoices):
        ONE_NAME = "one name", "Under one name, as a single ingredient"
        WITH_LIST = "with list", "Under its name, with its own list"
        MERGED = "merged", "Its ingredients one by one"

    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20, default="other")
    is_preparation = models.BooleanField(default=False)
    label_name = models.CharField(max_length=120, blank=True)
    on_label = models.CharField(max_length=9, choices=OnLabel, default=OnLabel.MERGED)
    is_archived = models.BooleanField(default=False)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("name"),
                name="recipe_name_is_unique_in_its_kitchen",
                violation_error_message="There is already a recipe of that name.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class RecipeVersion(KitchenOwned):
    """One state of a recipe. Frozen once a label was printed from it; then a new one is made.

    stop_value is the stopping point as the maker states it (see stop_form); finishing_brix is the
    same point as Brix of the liquid phase, worked out when the version was saved. measured_brix and
    measured_insoluble_pct are those of the finished food where somebody measured them. revision
    counts the times a version was saved: who opened an older one must not overwrite a newer.
    """

    class CookKind(models.TextChoices):
        BOIL_DOWN = "boil down", "Boiled down to a point"
        COOK_LOSS = "cook loss", "Loses a known share, from weighed batches"
        WEIGHED_OUT = "weighed out", "Weighed at the end"
        NO_COOK = "no cook", "Mixed, nothing lost"

    class StopForm(models.TextChoices):
        READING = "reading", "A reading on my thermometer (°C)"
        RISE = "rise", "Degrees above my boiling water (K)"
        BRIX = "brix", "Brix"
        FINAL_WEIGHT = "final weight", "Weight left in the pan"
        SHARE = "share", "Share of what went in (%)"

    recipe = models.ForeignKey(Recipe, on_delete=models.CASCADE, related_name="versions")
    number = models.PositiveIntegerField()
    revision = models.PositiveIntegerField(default=1)
    is_current = models.BooleanField(default=True)
    frozen_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    base_name = models.CharField(max_length=60, blank=True)
    base_g = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    cook_kind = models.CharField(max_length=11, choices=CookKind, default=CookKind.BOIL_DOWN)
    stop_form = models.CharField(max_length=12, choices=StopForm, default=StopForm.BRIX)
    stop_value = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    water_reading_c = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    finishing_brix = models.DecimalField(max_digits=6, decimal_places=3, null=True, blank=True)
    cook_loss_pct = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    finished_g = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    evaporated_g = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    inverted_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(25))
    pan_residue_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))
    pan_residue_g = models.DecimalField(max_digits=10, decimal_places=2, default=Decimal(0))
    handling_loss_pct = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))
    measured_brix = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    measured_insoluble_pct = models.DecimalField(
        max_digits=5, decimal_places=2, null=True, blank=True
    )
    attended_minutes = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    is_heated = models.BooleanField(default=True)
    method = models.TextField(max_length=4000, blank=True)

    class Meta:
        ordering = ("-number",)
        constraints = (
            models.UniqueConstraint(
                fields=("recipe", "number"), name="version_number_is_unique_in_its_recipe"
            ),
            models.UniqueConstraint(
                fields=("recipe",), condition=Q(is_current=True), name="recipe_has_one_current"
            ),
            models.CheckConstraint(
                condition=Q(base_g__isnull=True) | Q(base_g__gt=0),
                name="version_base_is_positive",
                violation_error_message="The base must weigh more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(inverted_pct__gte=0) & Q(inverted_pct__lte=95),
                name="version_inversion_is_possible",
                violation_error_message="Sugar inverted in the pan lies between 0 and 95 %%.",
            ),
            models.CheckConstraint(
                condition=Q(pan_residue_pct__gte=0) & Q(pan_residue_pct__lt=100),
                name="version_residue_is_a_share",
                violation_error_message="What sticks to the pan is at least 0 %% and below 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(handling_loss_pct__gte=0) & Q(handling_loss_pct__lt=100),
                name="version_handling_loss_is_a_share",
                violation_error_message="The handling loss is at least 0 %% and below 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(cook_loss_pct__isnull=True)
                | (Q(cook_loss_pct__gte=0) & Q(cook_loss_pct__lt=100)),
                name="version_cook_loss_is_a_share",
                violation_error_message="The cook loss is at least 0 %% and below 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(finishing_brix__isnull=True)
                | (Q(finishing_brix__gte=0) & Q(finishing_brix__lte=100)),
                name="version_brix_is_a_percentage",
            ),
            models.CheckConstraint(
                condition=(Q(measured_brix__isnull=True) | Q(measured_brix__range=(0, 100)))
                & (
                    Q(measured_insoluble_pct__isnull=True)
                    | Q(measured_insoluble_pct__range=(0, 100))
                ),
                name="version_measured_solids_are_percentages",
                violation_error_message="Brix and fibre as measured lie between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(pan_residue_g__gte=0),
                name="version_residue_is_not_negative",
                violation_error_message="What sticks to the pan cannot weigh less than nothing.",
            ),
            models.CheckConstraint(
                condition=(Q(finished_g__isnull=True) | Q(finished_g__gt=0))
                & (Q(evaporated_g__isnull=True) | Q(evaporated_g__gte=0)),
                name="version_weighed_masses_are_masses",
                violation_error_message=(
                    "What was weighed out must be more than nothing, what boiled off not less."
                ),
            ),
            models.CheckConstraint(
                condition=Q(attended_minutes__isnull=True) | Q(attended_minutes__gte=0),
                name="version_minutes_are_not_negative",
                violation_error_message="Minutes cannot be less than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.recipe} v{self.number}"


class RecipeLine(KitchenOwned):
    """One ingredient or preparation of a version, in a unit or as percent of the base."""

    class State(models.TextChoices):
        PREPARED = "prepared", "Prepared"
        AS_PURCHASED = "as purchased", "As purchased"

    version = models.ForeignKey(RecipeVersion, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField(default=0)
    ingredient = models.ForeignKey(
        Ingredient, on_delete=models.RESTRICT, null=True, blank=True, related_name="recipe_lines"
    )
    preparation = models.ForeignKey(
        Recipe, on_delete=models.RESTRICT, null=True, blank=True, related_name="used_in"
    )
    amount = models.DecimalField(max_digits=14, decimal_places=5)
    unit = models.CharField(max_length=8, default="kg")
    state = models.CharField(max_length=12, choices=State, default=State.PREPARED)
    is_base = models.BooleanField(default=False)

    class Meta:
        ordering = ("position", "id")
        constraints = (
            models.CheckConstraint(
                condition=Q(ingredient__isnull=False, preparation__isnull=True)
                | Q(ingredient__isnull=True, preparation__isnull=False),
                name="line_is_an_ingredient_or_a_preparation",
            ),
            models.CheckConstraint(
                condition=Q(amount__gt=0),
                name="line_amount_is_positive",
                violation_error_message="An amount must be more than nothing.",
            ),
        )
