"""Which pan a printed label was of is kept as printed too: a recall goes from the lot to the pan."""

from importlib import import_module

from django.db import migrations

# A module whose name begins with a figure cannot be named in an import statement.
before = import_module("labels.migrations.0002_what_was_printed_stays")


def guard_the_pan(apps, schema_editor):
    """The same guards, over the column that came since."""
    before.guard(apps, schema_editor, columns=(*before.COLUMNS, "batch_id"))


class Migration(migrations.Migration):
    dependencies = [("labels", "0003_of_which_pan")]

    operations = [migrations.RunPython(guard_the_pan, before.guard)]
