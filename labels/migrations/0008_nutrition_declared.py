"""Nutrition that is declared: a portion, alcohol left, and what counts as nothing."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("costing", "0007_names_in_other_languages"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
        ("labels", "0007_cross_contact"),
    ]

    operations = [
        migrations.AddField(
            model_name="labeldesign",
            name="alcohol_left_g",
            field=models.DecimalField(blank=True, decimal_places=2, max_digits=5, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="portion_g",
            field=models.DecimalField(blank=True, decimal_places=1, max_digits=6, null=True),
        ),
        migrations.AlterField(
            model_name="labeldesign",
            name="nutrition_exemption",
            field=models.CharField(
                blank=True,
                choices=[
                    ("", "Not decided yet"),
                    ("small quantities", "Small quantities, sold by me or local shops"),
                    ("small pack", "Largest surface under 25 cm²"),
                    ("declared", "None of these: declare it, worked out from what went in"),
                ],
                default="",
                max_length=20,
            ),
        ),
        migrations.CreateModel(
            name="NutritionDecision",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("reason", models.CharField(max_length=200)),
                ("decided_at", models.DateTimeField(auto_now=True)),
                (
                    "decided_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "design",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="nutrition_decisions",
                        to="labels.labeldesign",
                    ),
                ),
                (
                    "ingredient",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
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
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("design", "ingredient"), name="trace_is_decided_once_a_design"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("reason", ""), _negated=True),
                        name="trace_decision_has_a_reason",
                    ),
                ],
            },
        ),
    ]
