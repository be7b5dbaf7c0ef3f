"""Label designs and the labels that were printed, frozen as they were."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q

from costing.models import Batch, Ingredient, KitchenOwned, Product, RecipeVersion
from costing.models.kitchens import measured


class LabelDesign(KitchenOwned):
    """What a product's label says beyond its recipe, and how it looks.

    ..._g_per_kg: what the law of jam, curd and mincemeat asks of the finished food, as the maker
    knows it; empty means not known. claims: nutrition and health claims, one a line.
    """

    class Layout(models.TextChoices):
        QUIET = "quiet", "Quiet: the name large, a rule, the facts"
        TWO_PANEL = "two-panel", "Two panels: front and facts"
        LONG = "long", "Long: for wraps and lids"

    class NoNutrition(models.TextChoices):
        ASK = "", "Not decided yet"
        SMALL_MAKER = "small quantities", "Small quantities, sold by me or local shops"
        SMALL_PACK = "small pack", "Largest surface under 25 cm²"

    product = models.OneToOneField(Product, on_delete=models.CASCADE, related_name="label_design")
    name_of_food = models.CharField(max_length=120)
    brand_name = models.CharField(max_length=60, blank=True)
    tagline = models.CharField(max_length=120, blank=True)
    colour = models.CharField(max_length=7, default="#6b1f3a")
    layout = models.CharField(max_length=9, choices=Layout, default=Layout.QUIET)
    market = models.CharField(max_length=8, default="eu")
    storage = models.CharField(max_length=160, blank=True)
    storage_after_opening = models.CharField(max_length=160, blank=True)
    shelf_life_months = models.PositiveSmallIntegerField(null=True, blank=True)
    shelf_life_days = models.PositiveSmallIntegerField(null=True, blank=True)
    largest_surface_cm2 = models.DecimalField(max_digits=8, decimal_places=1, null=True, blank=True)
    has_e_mark = models.BooleanField(default=False)
    groups_spices = models.BooleanField(default=False)
    nutrition_exemption = models.CharField(
        max_length=20, choices=NoNutrition, blank=True, default=NoNutrition.ASK
    )
    origin = models.CharField(max_length=120, blank=True)
    sheet_code = models.CharField(max_length=40, blank=True)
    lot_prefix = models.CharField(max_length=6, blank=True)
    inner_flesh_g_per_kg = measured(6, 1)
    fat_g_per_kg = measured(6, 1)
    egg_yolk_solids_g_per_kg = measured(6, 1)
    vine_fruit_g_per_kg = measured(6, 1)
    peel_g_per_kg = measured(6, 1)
    suet_g_per_kg = measured(6, 1)
    # Null and not empty: a column that may be null is added without rebuilding the table.
    first_language = models.CharField(max_length=5, null=True, blank=True)  # noqa: DJ001
    second_language = models.CharField(max_length=5, null=True, blank=True)  # noqa: DJ001
    claims = models.TextField(max_length=400, null=True, blank=True)  # noqa: DJ001

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=Q(largest_surface_cm2__isnull=True) | Q(largest_surface_cm2__gt=0),
                name="design_surface_is_positive",
            ),
        )

    def __str__(self) -> str:
        return f"Label of {self.product}"


class DesignWords(KitchenOwned):
    """The maker's own words on a label in another language than the kitchen's."""

    design = models.ForeignKey(LabelDesign, on_delete=models.CASCADE, related_name="words")
    language = models.CharField(max_length=5)
    name_of_food = models.CharField(max_length=120, blank=True)
    tagline = models.CharField(max_length=120, blank=True)
    storage = models.CharField(max_length=160, blank=True)
    storage_after_opening = models.CharField(max_length=160, blank=True)
    origin = models.CharField(max_length=120, blank=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("design", "language"), name="design_has_its_words_once_a_language"
            ),
            models.CheckConstraint(
                condition=~Q(language=""), name="design_words_are_in_a_language"
            ),
        )

    def __str__(self) -> str:
        return f"{self.name_of_food} ({self.language})"


class QuantifiedIngredient(KitchenOwned):
    """An ingredient or preparation whose quantity the label declares, and why."""

    design = models.ForeignKey(LabelDesign, on_delete=models.CASCADE, related_name="quantified")
    ingredient = models.ForeignKey(
        Ingredient, on_delete=models.RESTRICT, null=True, blank=True, related_name="+"
    )
    preparation = models.ForeignKey(
        "costing.Recipe", on_delete=models.RESTRICT, null=True, blank=True, related_name="+"
    )
    reason = models.CharField(max_length=60, default="in the name")

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=Q(ingredient__isnull=False, preparation__isnull=True)
                | Q(ingredient__isnull=True, preparation__isnull=False),
                name="quantified_is_an_ingredient_or_a_preparation",
            ),
        )


class OwnSheet(KitchenOwned):
    """A sheet of labels that the kitchen described itself. Its numbers must add up to the page."""

    name = models.CharField(max_length=60)
    page_width_mm = models.DecimalField(max_digits=6, decimal_places=2)
    page_height_mm = models.DecimalField(max_digits=6, decimal_places=2)
    columns = models.PositiveSmallIntegerField()
    rows = models.PositiveSmallIntegerField()
    label_width_mm = models.DecimalField(max_digits=6, decimal_places=2)
    label_height_mm = models.DecimalField(max_digits=6, decimal_places=2)
    margin_left_mm = models.DecimalField(max_digits=6, decimal_places=2)
    margin_top_mm = models.DecimalField(max_digits=6, decimal_places=2)
    pitch_x_mm = models.DecimalField(max_digits=6, decimal_places=2)
    pitch_y_mm = models.DecimalField(max_digits=6, decimal_places=2)
    corner_radius_mm = models.DecimalField(max_digits=5, decimal_places=2, default=Decimal(0))

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=("kitchen", "name"), name="own_sheet_name_is_unique"),
            models.CheckConstraint(
                condition=Q(columns__gt=0) & Q(rows__gt=0), name="own_sheet_has_labels"
            ),
        )


class PrintedLabel(KitchenOwned):
    """A print run: the facts as they were that day, the law they were judged by, and the file.

    batch: the pan it was printed for; empty where the label was made from the recipe alone.
    """

    design = models.ForeignKey(LabelDesign, on_delete=models.RESTRICT, related_name="printed")
    product = models.ForeignKey(Product, on_delete=models.RESTRICT, related_name="printed_labels")
    recipe_version = models.ForeignKey(
        RecipeVersion, on_delete=models.RESTRICT, related_name="printed_labels"
    )
    batch = models.ForeignKey(
        Batch, on_delete=models.RESTRICT, null=True, blank=True, related_name="printed_labels"
    )
    lot = models.CharField(max_length=40)
    best_before = models.DateField(null=True, blank=True)
    printed_at = models.DateTimeField(auto_now_add=True)
    printed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    rule_date = models.DateField()
    market = models.CharField(max_length=8)
    facts = models.JSONField()
    sheet = models.JSONField()
    copies = models.PositiveIntegerField()
    label_sha256 = models.CharField(max_length=64)
    pdf_sha256 = models.CharField(max_length=64)
    label_pdf = models.BinaryField()

    class Meta:
        ordering = ("-printed_at", "-id")
        constraints = (
            models.CheckConstraint(condition=Q(copies__gt=0), name="printed_at_least_one"),
            models.CheckConstraint(condition=~Q(lot=""), name="printed_with_a_lot"),
        )
