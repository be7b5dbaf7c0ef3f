"""The database itself keeps the past as it was, even from code that bypasses every form."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.core.management.color import no_style
from django.db import IntegrityError, connection, transaction

from costing.models import RecipeLine, RecipeVersion, SupplierPrice
from tests.builders import a_line, a_price, a_recipe, a_user, an_ingredient

pytestmark = pytest.mark.django_db

NOON = datetime(2026, 9, 20, 12, tzinfo=UTC)
GUARDS = {
    "price_is_not_changed",
    "price_is_not_deleted",
    "frozen_version_is_not_changed",
    "frozen_version_is_not_deleted",
    "frozen_lines_are_not_added",
    "frozen_lines_are_not_changed",
    "frozen_lines_are_not_deleted",
    "printed_label_is_not_changed",
    "printed_label_is_not_deleted",
    "reading_is_not_changed",
    "reading_is_not_deleted",
    "finished_batch_stays_what_it_is",
    "finished_batch_is_not_deleted",
    "inputs_of_a_finished_batch_stay",
    "inputs_of_a_finished_batch_are_kept",
}


def refused(words):
    """The database refuses, in these words; the transaction around it goes on."""
    return pytest.raises(IntegrityError, match=words)


def update(row, **values):
    with transaction.atomic():
        type(row).objects.filter(pk=row.pk).update(**values)


def test_every_guard_is_in_the_database():
    # A later migration that rebuilds a table on SQLite loses its triggers: this notices.
    catalogue = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal",
    }
    with connection.cursor() as cursor:
        cursor.execute(catalogue[connection.vendor])
        assert {row[0] for row in cursor.fetchall()} == GUARDS


PRICE_COLUMNS = sorted(
    field.name
    for field in SupplierPrice._meta.concrete_fields
    if field.name not in {"id", "voided_at", "void_reason"}
)
ANOTHER = {
    "kitchen": lambda price: {"kitchen": an_ingredient().kitchen},
    "supplier": lambda price: {"supplier": a_price().supplier},
    "ingredient": lambda price: {"ingredient": an_ingredient()},
    "pack_text": lambda price: {"pack_text": "2 kg"},
    "pack_unit": lambda price: {"pack_unit": "ml"},
    "note": lambda price: {"note": "cheaper after all"},
    "price_includes_tax": lambda price: {"price_includes_tax": True},
    "valid_from": lambda price: {"valid_from": NOON.date()},
    "recorded_at": lambda price: {"recorded_at": NOON},
    "recorded_by": lambda price: {"recorded_by": a_user()},
}


@pytest.mark.parametrize("column", PRICE_COLUMNS)
def test_no_figure_of_a_price_can_be_changed(column):
    price = a_price(recorded_by=a_user())
    change = ANOTHER.get(column, lambda price: {column: Decimal("3.25")})(price)
    with refused("never changed"):
        update(price, **change)


def test_a_price_can_be_voided_once():
    price = a_price()
    update(price, voided_at=NOON, void_reason="typed twice")
    price.refresh_from_db()
    assert (price.voided_at, price.void_reason) == (NOON, "typed twice")

    with refused("already void"):
        update(price, voided_at=None, void_reason="")
    with refused("already void"):
        update(price, void_reason="another reason")


def test_a_reason_alone_does_not_void_a_price():
    with refused("never changed"):
        update(a_price(), void_reason="hm")


def test_a_price_cannot_be_deleted():
    price = a_price()
    with refused("never deleted"), transaction.atomic():
        price.delete()
    assert SupplierPrice.objects.filter(pk=price.pk).exists()


def test_a_price_outlives_the_account_of_the_person_who_recorded_it():
    user = a_user()
    price = a_price(recorded_by=user)
    user.delete()
    price.refresh_from_db()
    assert price.recorded_by is None


def a_frozen_version(**values):
    recipe = a_recipe(lines=[(an_ingredient(), 1)], created_by=a_user(), **values)
    version = recipe.versions.get()
    update(version, frozen_at=NOON)
    return version


VERSION_COLUMNS = sorted(
    field.name
    for field in RecipeVersion._meta.concrete_fields
    if field.name not in {"id", "is_current", "kitchen", "recipe"}
)
CHANGED = {
    "number": 7,
    "revision": 7,
    "frozen_at": None,
    "created_at": NOON,
    "base_name": "puree",
    "cook_kind": "boil down",
    "stop_form": "rise",
    "is_heated": False,
    "method": "Stir less.",
}


@pytest.mark.parametrize("column", VERSION_COLUMNS)
def test_no_figure_of_a_frozen_version_can_be_changed(column):
    version = a_frozen_version()
    change = a_user() if column == "created_by" else CHANGED.get(column, Decimal("3.25"))
    with refused("frozen"):
        update(version, **{column: change})


def test_a_version_that_is_not_frozen_can_be_changed():
    version = a_recipe().versions.get()
    update(version, base_name="puree", method="Stir.")
    version.refresh_from_db()
    assert version.base_name == "puree"


def test_a_frozen_version_may_make_way_for_a_new_one_and_outlive_an_account():
    version = a_frozen_version()
    update(version, is_current=False)
    version.created_by.delete()
    version.refresh_from_db()
    assert (version.is_current, version.created_by, version.frozen_at) == (False, None, NOON)


def test_a_frozen_version_and_its_lines_cannot_be_deleted():
    version = a_frozen_version()
    with refused("frozen"), transaction.atomic():
        version.delete()
    with refused("frozen"), transaction.atomic():
        version.lines.all().delete()
    with refused("frozen"), transaction.atomic():
        # Straight at the table, past Django's own order of deletion.
        RecipeVersion.objects.filter(pk=version.pk)._raw_delete("default")
    assert version.lines.count() == 1


def test_lines_of_a_frozen_version_stay_as_they_are():
    version = a_frozen_version()
    line = version.lines.get()
    with refused("so are its lines"):
        update(line, amount=Decimal(2))
    with refused("so are its lines"), transaction.atomic():
        a_line(version, line.ingredient, 1)


def test_a_line_cannot_be_moved_into_a_frozen_version():
    version = a_frozen_version()
    line = a_recipe(lines=[(version.lines.get().ingredient, 1)]).versions.get().lines.get()
    with refused("so are its lines"):
        update(line, version=version)


def test_lines_of_other_versions_can_be_changed_and_deleted():
    line = a_recipe(lines=[(an_ingredient(), 1)]).versions.get().lines.get()
    update(line, amount=Decimal(2))
    line.delete()
    assert not RecipeLine.objects.exists()


@pytest.mark.django_db(transaction=True)
def test_the_sweep_between_tests_leaves_the_guards_in_place():
    # Teardown of this test empties the tables; the test after it finds the guards (see conftest).
    a_frozen_version()
    a_price()
    assert connection.ops.sql_flush(no_style(), [SupplierPrice._meta.db_table])


@pytest.mark.django_db(transaction=True)
def test_the_sweep_left_nothing_behind():
    assert not RecipeVersion.objects.exists()
    test_every_guard_is_in_the_database()
