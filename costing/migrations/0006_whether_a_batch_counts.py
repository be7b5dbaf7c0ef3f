"""Whether the figure of one batch counts in what is learnt: the answer to a question."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("costing", "0005_moulds_and_more_of_a_cook"),
    ]

    operations = [
        migrations.AddField(
            model_name="lesson",
            name="batch",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.CASCADE,
                related_name="+",
                to="costing.batch",
            ),
        ),
        migrations.AddField(
            model_name="lesson",
            name="counts",
            field=models.BooleanField(blank=True, null=True),
        ),
    ]
