"""Which label came out again and why, and how the design looked: kept as printed like the rest."""

from importlib import import_module

import django.db.models.deletion
from django.db import migrations, models

# A module whose name begins with a figure cannot be named in an import statement.
before = import_module("labels.migrations.0002_what_was_printed_stays")
the_pan = import_module("labels.migrations.0004_the_pan_of_a_label_stays")


def guard_the_versions(apps, schema_editor):
    """The same guards, over the columns that came since."""
    columns = (*before.COLUMNS, "batch_id", "look", "reprint_of_id", "reason")
    before.guard(apps, schema_editor, columns=columns)


class Migration(migrations.Migration):
    dependencies = [("labels", "0009_weighed_labels")]

    operations = [
        migrations.AddField(
            model_name="printedlabel",
            name="look",
            field=models.JSONField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="printedlabel",
            name="reason",
            field=models.CharField(blank=True, max_length=300, null=True),
        ),
        migrations.AddField(
            model_name="printedlabel",
            name="reprint_of",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.RESTRICT,
                related_name="reprints",
                to="labels.printedlabel",
            ),
        ),
        migrations.RunPython(guard_the_versions, the_pan.guard_the_pan),
    ]
