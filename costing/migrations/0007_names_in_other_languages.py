"""Names of ingredients and preparations in other languages, as the maker gives them."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("costing", "0006_whether_a_batch_counts"),
    ]

    operations = [
        migrations.CreateModel(
            name="IngredientName",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("language", models.CharField(max_length=5)),
                ("name", models.CharField(max_length=120)),
                (
                    "ingredient",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="names",
                        to="costing.ingredient",
                    ),
                ),
                (
                    "kitchen",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="costing.kitchen",
                    ),
                ),
                (
                    "recipe",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="names",
                        to="costing.recipe",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("ingredient__isnull", False), ("recipe__isnull", True)),
                            models.Q(("ingredient__isnull", True), ("recipe__isnull", False)),
                            _connector="OR",
                        ),
                        name="name_is_of_an_ingredient_or_a_recipe",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("name", ""), _negated=True),
                            models.Q(("language", ""), _negated=True),
                        ),
                        name="name_in_a_language_says_something",
                    ),
                    models.UniqueConstraint(
                        fields=("ingredient", "language"),
                        name="ingredient_is_named_once_a_language",
                    ),
                    models.UniqueConstraint(
                        fields=("recipe", "language"),
                        name="recipe_is_named_once_a_language",
                    ),
                ],
            },
        ),
    ]
