"""Ingredients and packaging: what cost, cook and label need to know of them."""

from decimal import Decimal

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower

from costing.models.kitchens import KitchenOwned, measured
from costing.reckoning.nutrition import OF_AN_INGREDIENT


def _per_hundred(names: tuple[str, ...]) -> Q:
    condition = Q()
    for name in names:
        condition &= Q(**{f"{name}__isnull": True}) | Q(**{f"{name}__gte": 0, f"{name}__lte": 100})
    return condition


class Ingredient(KitchenOwned):
    """Something bought. Solids and nutrition are those of its prepared, usable state."""

    class Kind(models.TextChoices):
        FOOD = "food", "Food"
        PACKAGING = "packaging", "Packaging"

    class Category(models.TextChoices):
        NONE = "", "None of these"
        FRUIT = "fruit", "Fruit"
        VEGETABLE = "vegetable", "Vegetable"
        SUGAR = "sugar", "Sugar (sucrose)"
        SPICE = "spice", "Spice"
        HERB = "herb", "Herb"
        WATER = "water", "Water"

    name = models.CharField(max_length=80)
    label_name = models.CharField(max_length=120, blank=True)
    kind = models.CharField(max_length=9, choices=Kind, default=Kind.FOOD)
    category = models.CharField(max_length=9, choices=Category, blank=True, default="")

    density_kg_per_l = measured(7, 4)
    each_g = measured(10, 3)
    usable_pct = models.DecimalField(max_digits=6, decimal_places=3, default=Decimal(100))

    brix = measured(5, 2)
    insoluble_pct = measured(5, 2)
    sucrose_share = measured(5, 4)
    hexose_share = measured(5, 4)
    acid_share = measured(5, 4)
    ph_low = measured(4, 2)
    ph_high = measured(4, 2)

    is_compound = models.BooleanField(default=False)
    composition_fixed_by_law = models.BooleanField(default=False)
    additive_class = models.CharField(max_length=40, blank=True)
    additive_number = models.CharField(max_length=12, blank=True)
    sulphite_mg_per_kg = measured(8, 2)
    origin = models.CharField(max_length=80, blank=True)

    fat_g = measured(6, 3)
    saturates_g = measured(6, 3)
    carbohydrate_g = measured(6, 3)
    sugars_g = measured(6, 3)
    polyols_g = measured(6, 3)
    organic_acids_g = measured(6, 3)
    fibre_g = measured(6, 3)
    protein_g = measured(6, 3)
    salt_g = measured(6, 3)

    figure_sources = models.JSONField(default=dict, blank=True)
    note = models.TextField(max_length=500, blank=True)
    is_archived = models.BooleanField(default=False)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                "kitchen",
                Lower("name"),
                name="ingredient_name_is_unique_in_its_kitchen",
                violation_error_message="There is already an ingredient of that name.",
            ),
            models.CheckConstraint(
                condition=Q(usable_pct__gt=0) & Q(usable_pct__lte=100),
                name="ingredient_usable_is_a_share",
                violation_error_message="What is usable is more than 0 %% and at most 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(density_kg_per_l__isnull=True)
                | (Q(density_kg_per_l__gt=0) & Q(density_kg_per_l__lt=25)),
                name="ingredient_density_is_physical",
                violation_error_message="A litre weighs more than nothing and less than 25 kg.",
            ),
            models.CheckConstraint(
                condition=Q(each_g__isnull=True) | Q(each_g__gt=0),
                name="ingredient_each_weighs_something",
                violation_error_message="The weight of one must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(brix__isnull=True) | (Q(brix__gte=0) & Q(brix__lte=100)),
                name="ingredient_brix_is_a_percentage",
                violation_error_message="Brix lies between 0 and 100.",
            ),
            models.CheckConstraint(
                condition=Q(insoluble_pct__isnull=True)
                | (Q(insoluble_pct__gte=0) & Q(insoluble_pct__lte=100)),
                name="ingredient_insolubles_are_a_percentage",
                violation_error_message="Insoluble solids lie between 0 and 100 %%.",
            ),
            models.CheckConstraint(
                condition=Q(sulphite_mg_per_kg__isnull=True) | Q(sulphite_mg_per_kg__gte=0),
                name="ingredient_sulphite_is_not_negative",
                violation_error_message="Sulphites cannot be less than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(
                    sucrose_share__isnull=True, hexose_share__isnull=True, acid_share__isnull=True
                )
                | Q(
                    # Said outright: a comparison with nothing is no refusal to a database.
                    sucrose_share__isnull=False,
                    hexose_share__isnull=False,
                    acid_share__isnull=False,
                    sucrose_share__gte=0,
                    hexose_share__gte=0,
                    acid_share__gte=0,
                ),
                name="ingredient_shares_are_known_together",
                violation_error_message=(
                    "Give all three shares of the soluble solids (sucrose, glucose with fructose,"
                    " acids), or none of them."
                ),
            ),
            models.CheckConstraint(
                condition=(Q(ph_low__isnull=True) | Q(ph_low__gte=0, ph_low__lte=14))
                & (Q(ph_high__isnull=True) | Q(ph_high__gte=0, ph_high__lte=14))
                & (Q(ph_low__isnull=True) | Q(ph_high__isnull=True) | Q(ph_low__lte=F("ph_high"))),
                name="ingredient_ph_is_a_range",
                violation_error_message="pH lies between 0 and 14, the lower figure first.",
            ),
            models.CheckConstraint(
                condition=_per_hundred(OF_AN_INGREDIENT),
                name="ingredient_nutrients_are_per_100_g",
                violation_error_message="Each nutrient lies between 0 and 100 g in 100 g.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class AllergenAnswer(KitchenOwned):
    """What is known of one allergen group in one ingredient. No row means not known yet."""

    class Answer(models.TextChoices):
        CONTAINS = "contains", "Contains"
        FREE = "free", "Does not contain"
        UNKNOWN = "unknown", "Not known yet"

    class Group(models.TextChoices):
        """The fourteen groups of Annex II to Regulation (EU) No 1169/2011, in its order."""

        GLUTEN = "gluten", "Cereals containing gluten"
        CRUSTACEANS = "crustaceans", "Crustaceans"
        EGGS = "eggs", "Eggs"
        FISH = "fish", "Fish"
        PEANUTS = "peanuts", "Peanuts"
        SOYBEANS = "soybeans", "Soybeans"
        MILK = "milk", "Milk"
        NUTS = "nuts", "Nuts"
        CELERY = "celery", "Celery"
        MUSTARD = "mustard", "Mustard"
        SESAME = "sesame", "Sesame seeds"
        SULPHITES = "sulphites", "Sulphur dioxide and sulphites"
        LUPIN = "lupin", "Lupin"
        MOLLUSCS = "molluscs", "Molluscs"

    ingredient = models.ForeignKey(
        Ingredient, on_delete=models.CASCADE, related_name="allergen_answers"
    )
    group = models.CharField(max_length=12, choices=Group)
    answer = models.CharField(max_length=8, choices=Answer)
    named_as = models.CharField(max_length=60, blank=True)

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("ingredient", "group"), name="allergen_is_answered_once"
            ),
            models.CheckConstraint(
                condition=~Q(answer="contains") | ~Q(named_as=""),
                name="allergen_present_has_a_name",
                violation_error_message="Say which one it is: the word to print on the label.",
            ),
            models.CheckConstraint(
                condition=Q(answer__in=["contains", "free", "unknown"]),
                name="allergen_answer_is_one_of_three",
            ),
        )


class CompoundPart(KitchenOwned):
    """One ingredient of a bought-in ingredient, as its supplier lists it."""

    compound = models.ForeignKey(Ingredient, on_delete=models.CASCADE, related_name="parts")
    part = models.ForeignKey(Ingredient, on_delete=models.RESTRICT, related_name="part_of")
    share_pct = measured(6, 3)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "id")
        constraints = (
            models.UniqueConstraint(fields=("compound", "part"), name="part_is_listed_once"),
            models.CheckConstraint(
                condition=~Q(compound=F("part")),
                name="compound_is_not_its_own_part",
                violation_error_message="An ingredient cannot be a part of itself.",
            ),
            models.CheckConstraint(
                condition=Q(share_pct__isnull=True) | (Q(share_pct__gt=0) & Q(share_pct__lte=100)),
                name="part_share_is_a_share",
                violation_error_message="A share is more than 0 %% and at most 100 %%.",
            ),
        )
