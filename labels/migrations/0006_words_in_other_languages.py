"""One or two languages on a label, and the maker's own words in each."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("costing", "0007_names_in_other_languages"),
        ("labels", "0005_contents_and_claims"),
    ]

    operations = [
        migrations.AddField(
            model_name="labeldesign",
            name="first_language",
            field=models.CharField(blank=True, max_length=5, null=True),
        ),
        migrations.AddField(
            model_name="labeldesign",
            name="second_language",
            field=models.CharField(blank=True, max_length=5, null=True),
        ),
        migrations.CreateModel(
            name="DesignWords",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("language", models.CharField(max_length=5)),
                ("name_of_food", models.CharField(blank=True, max_length=120)),
                ("tagline", models.CharField(blank=True, max_length=120)),
                ("storage", models.CharField(blank=True, max_length=160)),
                ("storage_after_opening", models.CharField(blank=True, max_length=160)),
                ("origin", models.CharField(blank=True, max_length=120)),
                (
                    "design",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="words",
                        to="labels.labeldesign",
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
                        fields=("design", "language"),
                        name="design_has_its_words_once_a_language",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("language", ""), _negated=True),
                        name="design_words_are_in_a_language",
                    ),
                ],
            },
        ),
    ]
