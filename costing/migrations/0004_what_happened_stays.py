"""The database itself keeps what happened at the stove, whichever program asks it to change it.

What was read or added is never changed and never deleted: another row corrects it. A batch that
was called done keeps which one it is, its plan and its lot, and is never put back on the fire;
what went into it keeps what it was and what it cost. Its weights may be corrected: that is done by
correct_batch, which asks for a reason and writes the old figures down.

SQLite loses the triggers of a table that a later migration rebuilds: such a migration must run
`guard` again. A test looks for every one of them.
"""

from django.db import migrations

READING = (
    "id", "kitchen_id", "batch_id", "kind", "value", "tare_g", "sample_c", "key", "read_at",
    "received_at", "corrects_id", "note",
)  # fmt: skip
BATCH = (
    "id", "kitchen_id", "recipe_id", "version_id", "pan_id", "lot", "status", "plan", "factor",
    "made_on", "started_at",
)  # fmt: skip
INPUT = (
    "id", "kitchen_id", "batch_id", "position", "ingredient_id", "preparation_id",
    "from_batch_id", "planned_g", "per_kg",
)  # fmt: skip

READING_CHANGED = "What was read is never changed: add a correction that says why."
READING_DELETED = "What was read is never deleted: strike it out with a reason."
BATCH_CHANGED = "This batch is over: which one it is, its plan and its lot stay."
BATCH_DELETED = "A batch that is over is kept."
INPUT_CHANGED = "This batch is over: what went into it and what it cost stay."

OVER = "OLD.status <> 'on the fire'"
ITS_BATCH_IS_OVER = (
    "EXISTS (SELECT 1 FROM costing_batch WHERE id = OLD.batch_id AND status <> 'on the fire')"
)

# name: (table, event, condition for refusing, message)
GUARDS = {
    "reading_is_not_changed": (
        "costing_batchreading",
        "UPDATE",
        "{READING} OR (NEW.by_id IS NOT NULL AND {BY})",
        READING_CHANGED,
    ),
    "reading_is_not_deleted": ("costing_batchreading", "DELETE", "TRUE", READING_DELETED),
    "finished_batch_stays_what_it_is": (
        "costing_batch",
        "UPDATE",
        f"{OVER} AND ({{BATCH}} OR (NEW.started_by_id IS NOT NULL AND {{STARTED_BY}}))",
        BATCH_CHANGED,
    ),
    "finished_batch_is_not_deleted": ("costing_batch", "DELETE", OVER, BATCH_DELETED),
    "inputs_of_a_finished_batch_stay": (
        "costing_batchinput",
        "UPDATE",
        f"{ITS_BATCH_IS_OVER} AND {{INPUT}}",
        INPUT_CHANGED,
    ),
    "inputs_of_a_finished_batch_are_kept": (
        "costing_batchinput",
        "DELETE",
        ITS_BATCH_IS_OVER,
        INPUT_CHANGED,
    ),
}
COLUMNS = {
    "READING": READING,
    "BY": ("by_id",),
    "BATCH": BATCH,
    "STARTED_BY": ("started_by_id",),
    "INPUT": INPUT,
}


def _condition(vendor, condition):
    def differs(name):
        if vendor == "postgresql" and name == "plan":
            return "OLD.plan::text IS DISTINCT FROM NEW.plan::text"
        return f"OLD.{name} {'IS NOT' if vendor == 'sqlite' else 'IS DISTINCT FROM'} NEW.{name}"

    for key, columns in COLUMNS.items():
        changed = "(" + " OR ".join(differs(name) for name in columns) + ")"
        condition = condition.replace("{" + key + "}", changed)
    return condition


def _sqlite(name, table, event, condition, message):
    return [
        f"CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW BEGIN "
        f"SELECT RAISE(ABORT, '{message}') WHERE {_condition('sqlite', condition)}; END"
    ]


def _postgresql(name, table, event, condition, message):
    back = "OLD" if event == "DELETE" else "NEW"
    return [
        f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF {_condition('postgresql', condition)} THEN "
        f"RAISE EXCEPTION USING ERRCODE = 'integrity_constraint_violation', "
        f"MESSAGE = '{message}'; END IF; RETURN {back}; END $$",
        f"CREATE TRIGGER {name} BEFORE {event} ON {table} "
        f"FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]


def guard(apps, schema_editor):
    """Put every guard in place, over what may be left of it."""
    unguard(apps, schema_editor)
    write = {"sqlite": _sqlite, "postgresql": _postgresql}[schema_editor.connection.vendor]
    for name, (table, event, condition, message) in GUARDS.items():
        for statement in write(name, table, event, condition, message):
            schema_editor.execute(statement, params=None)


def unguard(apps, schema_editor):
    """Take the guards away, for going back to before this migration."""
    for name, (table, *_rest) in GUARDS.items():
        if schema_editor.connection.vendor == "sqlite":
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {name}", params=None)
        else:
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {name} ON {table}", params=None)
            schema_editor.execute(f"DROP FUNCTION IF EXISTS {name}()", params=None)


class Migration(migrations.Migration):
    dependencies = [("costing", "0003_cooks")]

    operations = [migrations.RunPython(guard, unguard)]
