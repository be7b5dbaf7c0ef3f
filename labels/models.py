"""Label designs and the labels that were printed, frozen as they were."""

from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q

from costing.models import AllergenAnswer, Batch, Ingredient, KitchenOwned, Product, RecipeVersion
from costing.models.kitchens import measured
from labels.packs import SHAPES


class LabelDesign(KitchenOwned):
    """What a product's label says beyond its recipe, and how it looks.

    ..._g_per_kg: what the law of jam, curd and mincemeat asks of the finished food, as the maker
    knows it; empty means not known. claims: nutrition and health claims, one a line.
    nutrition_exemption: also says that nutrition is declared, which is no exemption.
    portion_g: a portion told beside 100 g. alcohol_left_g: alcohol in 100 g of the finished food.
    pack_...: the pack as measured outside; its surface is then reckoned and need not be typed.
    """

    class Layout(models.TextChoices):
        QUIET = "quiet", "Quiet: the name large, a rule, the facts"
        TWO_PANEL = "two-panel", "Two panels: front and facts"
        LONG = "long", "Long: for wraps and lids"
        COLUMNS = "columns", "Columns: front, and the facts in two"
        WRAP = "wrap", "Around a jar: the front where it is seen, the facts at both sides"
        PAIR = "pair", "Front and back: two labels, the facts on the second"

    class NoNutrition(models.TextChoices):
        ASK = "", "Not decided yet"
        SMALL_MAKER = "small quantities", "Small quantities, sold by me or local shops"
        SMALL_PACK = "small pack", "Largest surface under 25 cm²"
        DECLARED = "declared", "None of these: declare it, worked out from what went in"

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
    # Not known and empty are the same here; null, so that the table need not be built anew.
    gtin = models.CharField(max_length=13, null=True, blank=True)  # noqa: DJ001
    qr_text = models.CharField(max_length=300, null=True, blank=True)  # noqa: DJ001
    price_per_kg = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)
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
    pack_shape = models.CharField(  # noqa: DJ001
        max_length=8, choices=[(each.code, each.name) for each in SHAPES], null=True, blank=True
    )
    pack_length_mm = measured(5, 1)
    pack_width_mm = measured(5, 1)
    pack_height_mm = measured(5, 1)
    pack_diameter_mm = measured(5, 1)
    portion_g = measured(6, 1)
    alcohol_left_g = measured(5, 2)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=Q(largest_surface_cm2__isnull=True) | Q(largest_surface_cm2__gt=0),
                name="design_surface_is_positive",
            ),
        )

    def __str__(self) -> str:
        return f"Label of {self.product}"

    @property
    def declares_nutrition(self) -> bool:
        """Whether the label carries a nutrition declaration."""
        return self.nutrition_exemption == self.NoNutrition.DECLARED


class NutritionDecision(KitchenOwned):
    """The maker's word that what is not known of a trace ingredient counts as nothing, and why."""

    design = models.ForeignKey(
        LabelDesign, on_delete=models.CASCADE, related_name="nutrition_decisions"
    )
    ingredient = models.ForeignKey(Ingredient, on_delete=models.CASCADE, related_name="+")
    reason = models.CharField(max_length=200)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    decided_at = models.DateTimeField(auto_now=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("design", "ingredient"), name="trace_is_decided_once_a_design"
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="trace_decision_has_a_reason"),
        )


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
    look: what the design added to the facts, as plain data; not known of older runs.
    reprint_of: the run whose label came out again; reason: why, where it was superseded by then.
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
    look = models.JSONField(null=True, blank=True)
    reprint_of = models.ForeignKey(
        "self", on_delete=models.RESTRICT, null=True, blank=True, related_name="reprints"
    )
    # Null and not empty: a column that may be null is added without rebuilding the table.
    reason = models.CharField(max_length=300, null=True, blank=True)  # noqa: DJ001

    class Meta:
        ordering = ("-printed_at", "-id")
        constraints = (
            models.CheckConstraint(condition=Q(copies__gt=0), name="printed_at_least_one"),
            models.CheckConstraint(condition=~Q(lot=""), name="printed_with_a_lot"),
        )


class CrossContact(KitchenOwned):
    """One recorded look at how an allergen that is no ingredient could still get into the food.

    product: empty for the whole kitchen. Rows are never changed: whoever looks again adds one, and
    the latest counts. named_as: the words for the label, where a risk remains.
    """

    class Outcome(models.TextChoices):
        NONE_FOUND = "none found", "No risk found"
        REMAINS = "remains", "A risk remains"

    product = models.ForeignKey(
        Product, on_delete=models.CASCADE, null=True, blank=True, related_name="cross_contacts"
    )
    group = models.CharField(max_length=12, choices=AllergenAnswer.Group)
    outcome = models.CharField(max_length=10, choices=Outcome)
    named_as = models.CharField(max_length=60, blank=True)
    looked_at = models.TextField(max_length=1000)
    assessed_by = models.CharField(max_length=80)
    assessed_on = models.DateField()
    review_by = models.DateField()
    recorded_at = models.DateTimeField(auto_now_add=True)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ("-assessed_on", "-id")
        constraints = (
            models.CheckConstraint(
                condition=Q(outcome__in=["none found", "remains"]),
                name="cross_contact_outcome_is_one_of_two",
            ),
            models.CheckConstraint(
                condition=~Q(outcome="remains") | ~Q(named_as=""),
                name="cross_contact_that_remains_has_a_name",
                violation_error_message="Say which it is: the word to print on the label.",
            ),
            models.CheckConstraint(
                condition=~Q(looked_at="") & ~Q(assessed_by=""),
                name="cross_contact_says_what_and_who",
                violation_error_message="Say what was looked at, and who looked.",
            ),
            models.CheckConstraint(
                condition=Q(review_by__gt=models.F("assessed_on")),
                name="cross_contact_is_looked_at_again_later",
                violation_error_message="The next look comes after the one that was taken.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_group_display()}: {self.get_outcome_display().lower()}"


class WeighedRun(KitchenOwned):
    """Pieces that were put on the scale, a label for each, and how far the printing has come.

    pieces: net grams and price of each, as text. order: law, market and sheet, as plain data.
    pages_pdf: one page for each piece, once all are drawn.
    """

    class Status(models.TextChoices):
        OPEN = "open", "Being drawn"
        PRINTED = "printed", "Printed"
        CANCELLED = "cancelled", "Cancelled"

    design = models.ForeignKey(LabelDesign, on_delete=models.RESTRICT, related_name="weighed_runs")
    batch = models.ForeignKey(Batch, on_delete=models.RESTRICT, related_name="weighed_runs")
    price_per_kg = models.DecimalField(max_digits=12, decimal_places=4)
    currency = models.CharField(max_length=3)
    pieces = models.JSONField()
    order = models.JSONField()
    done = models.PositiveIntegerField(default=0)
    status = models.CharField(max_length=9, choices=Status, default=Status.OPEN)
    started_at = models.DateTimeField(auto_now_add=True)
    started_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    printed = models.OneToOneField(
        PrintedLabel, on_delete=models.RESTRICT, null=True, blank=True, related_name="weighed"
    )
    pages_pdf = models.BinaryField(null=True, blank=True)

    class Meta:
        ordering = ("-started_at", "-id")
        constraints = (
            models.CheckConstraint(
                condition=Q(price_per_kg__gt=0),
                name="weighed_run_has_a_price",
                violation_error_message="The price of a kilo must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=~Q(status="printed")
                | (Q(printed__isnull=False) & Q(pages_pdf__isnull=False)),
                name="weighed_run_that_is_printed_has_its_labels",
            ),
        )

    def __str__(self) -> str:
        return f"{len(self.pieces)} weighed labels of {self.design.product}"


class WeighedPart(KitchenOwned):
    """The labels of a run that one step has drawn; thrown away when the run is put together."""

    run = models.ForeignKey(WeighedRun, on_delete=models.CASCADE, related_name="parts")
    number = models.PositiveIntegerField()
    pages_pdf = models.BinaryField()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=("run", "number"), name="weighed_part_is_drawn_once"),
        )
