"""What labels call an ingredient or a preparation in another language than the kitchen's own."""

from django.db import models
from django.db.models import Q

from costing.models.ingredients import Ingredient
from costing.models.kitchens import KitchenOwned
from costing.models.recipes import Recipe

LABEL_LANGUAGES = (
    ("en", "English"),
    ("es", "Spanish"),
    ("fr", "French"),
    ("it", "Italian"),
    ("pt", "Portuguese"),
    ("de", "German"),
)
"""Languages in which a kitchen may keep names for its labels."""


class IngredientName(KitchenOwned):
    """The name of one ingredient, or of one preparation, in one language, as the maker gave it."""

    ingredient = models.ForeignKey(
        Ingredient, on_delete=models.CASCADE, null=True, blank=True, related_name="names"
    )
    recipe = models.ForeignKey(
        Recipe, on_delete=models.CASCADE, null=True, blank=True, related_name="names"
    )
    language = models.CharField(max_length=5)
    name = models.CharField(max_length=120)

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=Q(ingredient__isnull=False, recipe__isnull=True)
                | Q(ingredient__isnull=True, recipe__isnull=False),
                name="name_is_of_an_ingredient_or_a_recipe",
            ),
            models.CheckConstraint(
                condition=~Q(name="") & ~Q(language=""), name="name_in_a_language_says_something"
            ),
            models.UniqueConstraint(
                fields=("ingredient", "language"), name="ingredient_is_named_once_a_language"
            ),
            models.UniqueConstraint(
                fields=("recipe", "language"), name="recipe_is_named_once_a_language"
            ),
        )

    def __str__(self) -> str:
        return f"{self.name} ({self.language})"
