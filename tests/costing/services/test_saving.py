"""Saving a row: all faults by field, texts kept, somebody else faster."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from costing.models import AuditEntry, Ingredient, Member, Supplier
from costing.services.ingredients import save_ingredient
from costing.services.products import save_product
from costing.services.purchases import save_supplier
from costing.services.recipes import save_recipe
from costing.services.saving import as_error, check, prefixed, save_checked
from tests.builders import (
    a_kitchen,
    a_member,
    a_product,
    a_recipe,
    a_supplier,
    an_ingredient,
    an_owner,
)

pytestmark = pytest.mark.django_db


def test_faults_come_all_together_and_each_at_its_field():
    with pytest.raises(ValidationError) as refused:
        save_checked(
            Ingredient(kitchen=a_kitchen()),
            by=None,
            values={
                "name": "x" * 81,
                "usable_pct": Decimal(0),
                "brix": Decimal("NaN"),
                "each_g": Decimal("1e12"),
                "density_kg_per_l": Decimal("1.00001"),
                "kind": "plastic",
            },
        )
    assert refused.value.message_dict == {
        "name": ["This is too long: it has 81 characters of 80 at most."],
        "usable_pct": ["What is usable is more than 0 % and at most 100 %."],
        "brix": ["This is not a number."],
        "each_g": ["This is more than any kitchen has. Check the zeros and the unit."],
        "density_kg_per_l": ["This has more decimals than are kept: 4 at most."],
        "kind": ["Choose one of the answers offered."],
    }


def test_a_name_that_is_taken_is_told_at_the_name():
    taken = a_supplier(name="Hollowmere Orchard")
    with pytest.raises(ValidationError) as refused:
        save_checked(
            Supplier(kitchen=taken.kitchen), by=None, values={"name": "hollowmere orchard "}
        )
    assert refused.value.message_dict == {"name": ["There is already a supplier of that name."]}


def test_the_kitchen_of_a_row_is_not_a_figure_to_change():
    supplier = a_supplier()
    theirs = a_kitchen()
    save_checked(supplier, by=None, values={"kitchen": theirs, "kitchen_id": theirs.pk, "pk": 99})
    supplier.refresh_from_db()
    assert supplier.kitchen != theirs


def test_only_what_changed_is_written_down():
    kitchen = a_kitchen()
    by = an_owner(kitchen)
    supplier = a_supplier(kitchen, name="Orchard", minimum_order="30.00")
    values = {"name": "Orchard", "minimum_order": Decimal("30.0"), "is_archived": True}
    save_checked(supplier, by=by, values=values)
    (entry,) = AuditEntry.objects.all()
    assert (entry.kitchen, entry.by, entry.subject, entry.subject_id) == (
        kitchen,
        by,
        "supplier",
        supplier.pk,
    )
    assert (entry.field, entry.old, entry.new) == ("is_archived", "no", "yes")


def test_somebody_who_was_faster_is_told_in_words(monkeypatch):
    # Between our check and our row another one may come; only the database sees it then.
    supplier = a_supplier()

    def too_late(*args, **options):
        raise IntegrityError("duplicate key")

    monkeypatch.setattr(Supplier, "save_base", too_late)
    with pytest.raises(ValidationError, match="Somebody else saved"):
        save_checked(supplier, by=None, values={"name": "Other"})


def test_links_the_caller_looked_up_are_not_looked_up_again(django_assert_num_queries):
    ingredient = an_ingredient()
    # The kitchen exists; all figures hold (asked within a savepoint); the name is free.
    with django_assert_num_queries(1 + 3 + 1):
        check(ingredient)
    with django_assert_num_queries(3):
        check(ingredient, skip=("kitchen",))


def test_a_member_is_told_at_the_person():
    member = a_member()
    again = Member(kitchen=member.kitchen, user=member.user, role="cook")
    with pytest.raises(ValidationError) as refused:
        check(again)
    assert refused.value.message_dict == {"user": ["This person is in the kitchen already."]}


def test_sentences_with_percent_signs_survive():
    error = prefixed(
        as_error("share", "100 % is too much, %(limit)s"), where="Line 2", field="lines"
    )
    assert error.message_dict == {"lines": ["Line 2: 100 % is too much, %(limit)s"]}


SAVE = {
    "ingredient": lambda k, row: save_ingredient(k, by=None, ingredient=row, values={"note": "x"}),
    "supplier": lambda k, row: save_supplier(k, by=None, supplier=row, values={"contact": "x"}),
    "product": lambda k, row: save_product(k, by=None, product=row, values={"name": "x"}),
    "recipe": lambda k, row: save_recipe(
        k, by=None, recipe=row, values={"name": "x"}, version_values={}, lines=[]
    ),
}
THEIRS = {
    "ingredient": an_ingredient,
    "supplier": a_supplier,
    "product": a_product,
    "recipe": a_recipe,
}


@pytest.mark.parametrize("what", SAVE)
def test_no_service_saves_a_row_of_another_kitchen(what):
    with pytest.raises(ValidationError, match=f"That {what} is not in this kitchen"):
        SAVE[what](a_kitchen(), THEIRS[what]())
