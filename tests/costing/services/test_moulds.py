"""Saving a mould: checked, audited, in its own kitchen."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, Mould
from costing.services.moulds import save_mould
from tests.builders import a_kitchen, a_mould

pytestmark = pytest.mark.django_db
INSIDE = {"length_mm": Decimal(310), "width_mm": Decimal(210), "depth_mm": Decimal(40)}


def test_a_mould_is_kept_with_how_many_there_are():
    kitchen = a_kitchen()
    kept = save_mould(kitchen, by=None, values={"name": " Tray ", **INSIDE, "owned": 4})
    assert (kept.name, kept.owned, kept.kitchen) == ("Tray", 4, kitchen)
    assert AuditEntry.objects.filter(subject="mould", subject_id=kept.pk).count() == 1


def test_how_many_there_are_may_stay_unknown():
    assert save_mould(a_kitchen(), by=None, values={"name": "Tray", **INSIDE}).owned is None


@pytest.mark.parametrize("measure", ["length_mm", "width_mm", "depth_mm"])
def test_a_mould_without_an_inside_is_refused(measure):
    with pytest.raises(ValidationError, match="deeper than nothing"):
        save_mould(a_kitchen(), by=None, values={"name": "Flat", **INSIDE, measure: Decimal(0)})
    assert not Mould.objects.exists()


def test_two_moulds_of_one_name_are_refused_however_they_are_capitalised():
    first = a_mould(name="Tray")
    with pytest.raises(ValidationError) as refused:
        save_mould(first.kitchen, by=None, values={"name": "TRAY", **INSIDE})
    assert refused.value.message_dict == {"name": ["There is already a mould of that name."]}
    assert save_mould(a_kitchen(), by=None, values={"name": "Tray", **INSIDE}).pk


def test_another_kitchens_mould_is_not_saved():
    with pytest.raises(ValidationError, match="not in this kitchen"):
        save_mould(a_kitchen(), by=None, mould=a_mould(), values={"name": "Mine now", **INSIDE})
