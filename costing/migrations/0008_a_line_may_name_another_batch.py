"""Which own batch filled a line may be put right afterwards, and with it what the line cost.

Everything else of what went into a batch that is over stays: a price alone is never changed, since
it is that of its day; it may only follow the batch that the line names now.
"""

from importlib import import_module

from django.db import migrations

BEFORE = import_module("costing.migrations.0004_what_happened_stays")
NAME = "inputs_of_a_finished_batch_stay"
STAYS = (
    "id", "kitchen_id", "batch_id", "position", "ingredient_id", "preparation_id", "planned_g",
)  # fmt: skip


def _differs(vendor, name):
    return f"OLD.{name} {'IS NOT' if vendor == 'sqlite' else 'IS DISTINCT FROM'} NEW.{name}"


def _same(vendor, name):
    return f"NOT ({_differs(vendor, name)})"


def _condition(vendor):
    changed = " OR ".join(_differs(vendor, name) for name in STAYS)
    price_alone = f"({_differs(vendor, 'per_kg')} AND {_same(vendor, 'from_batch_id')})"
    return f"{BEFORE.ITS_BATCH_IS_OVER} AND ({changed} OR {price_alone})"


def _drop(schema_editor):
    if schema_editor.connection.vendor == "sqlite":
        schema_editor.execute(f"DROP TRIGGER IF EXISTS {NAME}", params=None)
    else:
        schema_editor.execute(f"DROP TRIGGER IF EXISTS {NAME} ON costing_batchinput", params=None)
        schema_editor.execute(f"DROP FUNCTION IF EXISTS {NAME}()", params=None)


def _put(schema_editor, condition):
    vendor = schema_editor.connection.vendor
    write = {"sqlite": BEFORE._sqlite, "postgresql": BEFORE._postgresql}[vendor]
    _drop(schema_editor)
    row = (NAME, "costing_batchinput", "UPDATE", condition, BEFORE.INPUT_CHANGED)
    for statement in write(*row):
        schema_editor.execute(statement, params=None)


def loosen(apps, schema_editor):
    """A line of a batch that is over may name another own batch."""
    _put(schema_editor, _condition(schema_editor.connection.vendor))


def tighten(apps, schema_editor):
    """As it was before this migration."""
    _table, _event, condition, _message = BEFORE.GUARDS[NAME]
    _put(schema_editor, condition)


class Migration(migrations.Migration):
    dependencies = [("costing", "0007_names_in_other_languages")]

    operations = [migrations.RunPython(loosen, tighten)]
