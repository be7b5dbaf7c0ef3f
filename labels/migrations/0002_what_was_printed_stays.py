"""The database itself keeps a printed label as it was: it answers a recall years later.

Only the name of a person whose account was closed may go. SQLite loses the triggers of a table
that a later migration rebuilds: such a migration must run `guard` again. A test looks for them.
"""

from django.db import migrations

TABLE = "labels_printedlabel"
COLUMNS = (
    "id", "kitchen_id", "design_id", "product_id", "recipe_version_id", "lot", "best_before",
    "printed_at", "rule_date", "market", "facts", "sheet", "copies", "label_sha256", "pdf_sha256",
    "label_pdf",
)  # fmt: skip
CHANGED = "A printed label is kept as it was printed: print again instead."
DELETED = "A printed label is kept: it answers a recall."


def _changed(distinct, columns):
    kept = " OR ".join(f"OLD.{name} {distinct} NEW.{name}" for name in columns)
    person = f"(NEW.printed_by_id IS NOT NULL AND OLD.printed_by_id {distinct} NEW.printed_by_id)"
    return f"{kept} OR {person}"


def _sqlite(columns):
    for name, event, condition, message in (
        ("printed_label_is_not_changed", "UPDATE", _changed("IS NOT", columns), CHANGED),
        ("printed_label_is_not_deleted", "DELETE", "TRUE", DELETED),
    ):
        yield (
            f"CREATE TRIGGER {name} BEFORE {event} ON {TABLE} FOR EACH ROW BEGIN "
            f"SELECT RAISE(ABORT, '{message}') WHERE {condition}; END"
        )


def _postgresql(columns):
    changed = _changed("IS DISTINCT FROM", columns)
    for name, event, condition, message in (
        ("printed_label_is_not_changed", "UPDATE", changed, CHANGED),
        ("printed_label_is_not_deleted", "DELETE", "TRUE", DELETED),
    ):
        back = "OLD" if event == "DELETE" else "NEW"
        yield (
            f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            f"IF {condition} THEN RAISE EXCEPTION USING "
            f"ERRCODE = 'integrity_constraint_violation', MESSAGE = '{message}'; END IF; "
            f"RETURN {back}; END $$"
        )
        yield (
            f"CREATE TRIGGER {name} BEFORE {event} ON {TABLE} "
            f"FOR EACH ROW EXECUTE FUNCTION {name}()"
        )


def guard(apps, schema_editor, columns=COLUMNS):
    """Put both guards in place, over what may be left of them."""
    unguard(apps, schema_editor)
    write = {"sqlite": _sqlite, "postgresql": _postgresql}[schema_editor.connection.vendor]
    for statement in write(columns):
        schema_editor.execute(statement, params=None)


def unguard(apps, schema_editor):
    """Take the guards away, for going back to before this migration."""
    for name in ("printed_label_is_not_changed", "printed_label_is_not_deleted"):
        if schema_editor.connection.vendor == "sqlite":
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {name}", params=None)
        else:
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {name} ON {TABLE}", params=None)
            schema_editor.execute(f"DROP FUNCTION IF EXISTS {name}()", params=None)


class Migration(migrations.Migration):
    dependencies = [("labels", "0001_initial")]

    operations = [migrations.RunPython(guard, unguard)]
