"""The database itself refuses to move the past, whichever program asks it to.

A supplier's price may be voided once and otherwise neither changed nor deleted. A frozen version
of a recipe and its lines stay as they were. What may still change: which version is the current
one, and the name of a person whose account was closed.

SQLite loses the triggers of a table that a later migration rebuilds: such a migration must run
`guard` again. A test looks for every one of them.
"""

from django.db import migrations

PRICE = (
    "id", "kitchen_id", "supplier_id", "ingredient_id", "pack_text", "pack_quantity", "pack_unit",
    "pack_price", "price_includes_tax", "tax_pct", "tax_recoverable_pct", "delivery_per_pack",
    "per_kg", "per_each", "valid_from", "note", "recorded_at",
)  # fmt: skip
VERSION = (
    "id", "kitchen_id", "recipe_id", "number", "revision", "frozen_at", "created_at", "base_name",
    "base_g", "cook_kind", "stop_form", "stop_value", "water_reading_c", "finishing_brix",
    "cook_loss_pct", "finished_g", "evaporated_g", "inverted_pct", "pan_residue_pct",
    "pan_residue_g", "handling_loss_pct", "measured_brix", "measured_insoluble_pct", "attended_minutes", "is_heated", "method",
)  # fmt: skip

PRICE_CHANGED = "A supplier price is never changed: record a new one, or void it with a reason."
PRICE_VOIDED = "This supplier price is already void."
PRICE_DELETED = "A supplier price is never deleted: void it with a reason."
VERSION_CHANGED = "This version of the recipe is frozen: save a new version instead."
VERSION_DELETED = "This version of the recipe is frozen and is kept."
LINES_CHANGED = "This version of the recipe is frozen, and so are its lines: save a new version."

FROZEN = "EXISTS (SELECT 1 FROM costing_recipeversion WHERE id = {row}.version_id AND frozen_at IS NOT NULL)"

# name: (table, event, [(condition for refusing, in terms of OLD and NEW, message)])
GUARDS = {
    "price_is_not_changed": (
        "costing_supplierprice",
        "UPDATE",
        [
            ("{differs:PRICE} OR {gone_only:recorded_by_id}", PRICE_CHANGED),
            (
                "OLD.voided_at IS NOT NULL AND {differs:VOID}",
                PRICE_VOIDED,
            ),
            (
                "OLD.voided_at IS NULL AND NEW.voided_at IS NULL AND {differs:VOID}",
                PRICE_CHANGED,
            ),
        ],
    ),
    "price_is_not_deleted": ("costing_supplierprice", "DELETE", [("TRUE", PRICE_DELETED)]),
    "frozen_version_is_not_changed": (
        "costing_recipeversion",
        "UPDATE",
        [
            (
                "OLD.frozen_at IS NOT NULL AND ({differs:VERSION} OR {gone_only:created_by_id})",
                VERSION_CHANGED,
            )
        ],
    ),
    "frozen_version_is_not_deleted": (
        "costing_recipeversion",
        "DELETE",
        [("OLD.frozen_at IS NOT NULL", VERSION_DELETED)],
    ),
    "frozen_lines_are_not_added": (
        "costing_recipeline",
        "INSERT",
        [(FROZEN.format(row="NEW"), LINES_CHANGED)],
    ),
    "frozen_lines_are_not_changed": (
        "costing_recipeline",
        "UPDATE",
        [(f"{FROZEN.format(row='OLD')} OR {FROZEN.format(row='NEW')}", LINES_CHANGED)],
    ),
    "frozen_lines_are_not_deleted": (
        "costing_recipeline",
        "DELETE",
        [(FROZEN.format(row="OLD"), LINES_CHANGED)],
    ),
}


def _conditions(vendor, condition):
    distinct = "IS NOT" if vendor == "sqlite" else "IS DISTINCT FROM"

    def differs(columns):
        return "(" + " OR ".join(f"OLD.{name} {distinct} NEW.{name}" for name in columns) + ")"

    for key, columns in (
        ("PRICE", PRICE),
        ("VERSION", VERSION),
        ("VOID", ("voided_at", "void_reason")),
    ):
        condition = condition.replace("{differs:" + key + "}", differs(columns))
    for name in ("recorded_by_id", "created_by_id"):
        changed = f"(NEW.{name} IS NOT NULL AND {differs((name,))})"
        condition = condition.replace("{gone_only:" + name + "}", changed)
    return condition


def _sqlite(name, table, event, refusals):
    cases = " ".join(
        f"SELECT RAISE(ABORT, '{message}') WHERE {_conditions('sqlite', condition)};"
        for condition, message in refusals
    )
    return [f"CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW BEGIN {cases} END"]


def _postgresql(name, table, event, refusals):
    cases = " ".join(
        f"IF {_conditions('postgresql', condition)} THEN "
        f"RAISE EXCEPTION USING ERRCODE = 'integrity_constraint_violation', "
        f"MESSAGE = '{message}'; END IF;"
        for condition, message in refusals
    )
    back = "OLD" if event == "DELETE" else "NEW"
    return [
        f"CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN {cases} RETURN {back}; END $$",
        f"CREATE TRIGGER {name} BEFORE {event} ON {table} "
        f"FOR EACH ROW EXECUTE FUNCTION {name}()",
    ]


def guard(apps, schema_editor):
    """Put every guard in place, over what may be left of it."""
    unguard(apps, schema_editor)
    write = {"sqlite": _sqlite, "postgresql": _postgresql}[schema_editor.connection.vendor]
    for name, (table, event, refusals) in GUARDS.items():
        for statement in write(name, table, event, refusals):
            schema_editor.execute(statement, params=None)


def unguard(apps, schema_editor):
    """Take the guards away, for going back to before this migration."""
    for name, (table, _event, _refusals) in GUARDS.items():
        if schema_editor.connection.vendor == "sqlite":
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {name}", params=None)
        else:
            schema_editor.execute(f"DROP TRIGGER IF EXISTS {name} ON {table}", params=None)
            schema_editor.execute(f"DROP FUNCTION IF EXISTS {name}()", params=None)


class Migration(migrations.Migration):
    dependencies = [("costing", "0001_initial")]

    operations = [migrations.RunPython(guard, unguard)]
