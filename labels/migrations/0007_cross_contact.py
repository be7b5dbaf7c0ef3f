"""What was looked at for allergens that could get into a food, by whom and when."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("costing", "0007_names_in_other_languages"),
        ("labels", "0006_words_in_other_languages"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="CrossContact",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "group",
                    models.CharField(
                        choices=[
                            ("gluten", "Cereals containing gluten"),
                            ("crustaceans", "Crustaceans"),
                            ("eggs", "Eggs"),
                            ("fish", "Fish"),
                            ("peanuts", "Peanuts"),
                            ("soybeans", "Soybeans"),
                            ("milk", "Milk"),
                            ("nuts", "Nuts"),
                            ("celery", "Celery"),
                            ("mustard", "Mustard"),
                            ("sesame", "Sesame seeds"),
                            ("sulphites", "Sulphur dioxide and sulphites"),
                            ("lupin", "Lupin"),
                            ("molluscs", "Molluscs"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "outcome",
                    models.CharField(
                        choices=[("none found", "No risk found"), ("remains", "A risk remains")],
                        max_length=10,
                    ),
                ),
                ("named_as", models.CharField(blank=True, max_length=60)),
                ("looked_at", models.TextField(max_length=1000)),
                ("assessed_by", models.CharField(max_length=80)),
                ("assessed_on", models.DateField()),
                ("review_by", models.DateField()),
                ("recorded_at", models.DateTimeField(auto_now_add=True)),
                (
                    "kitchen",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="costing.kitchen",
                    ),
                ),
                (
                    "product",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="cross_contacts",
                        to="costing.product",
                    ),
                ),
                (
                    "recorded_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-assessed_on", "-id"),
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("outcome__in", ["none found", "remains"])),
                        name="cross_contact_outcome_is_one_of_two",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("outcome", "remains"), _negated=True),
                            models.Q(("named_as", ""), _negated=True),
                            _connector="OR",
                        ),
                        name="cross_contact_that_remains_has_a_name",
                        violation_error_message="Say which it is: the word to print on the label.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("looked_at", ""), _negated=True),
                            models.Q(("assessed_by", ""), _negated=True),
                        ),
                        name="cross_contact_says_what_and_who",
                        violation_error_message="Say what was looked at, and who looked.",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("review_by__gt", models.F("assessed_on"))),
                        name="cross_contact_is_looked_at_again_later",
                        violation_error_message="The next look comes after the one that was taken.",
                    ),
                ],
            },
        ),
    ]
