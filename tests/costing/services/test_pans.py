"""Pans: saved with their faults by field."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.services.pans import save_pan
from tests.builders import a_kitchen, a_pan

pytestmark = pytest.mark.django_db


def test_a_pan_is_saved_and_changed():
    kitchen = a_kitchen()
    pan = save_pan(kitchen, by=None, values={"name": " Copper ", "tare_g": Decimal(3000)})
    save_pan(kitchen, by=None, pan=pan, values={"residue_g": Decimal(200)})
    pan.refresh_from_db()
    assert (pan.name, pan.tare_g, pan.residue_g) == ("Copper", 3000, 200)


@pytest.mark.parametrize(
    "values", [{"name": ""}, {"name": "A", "tare_g": Decimal(0)}, {"name": "Copper"}]
)
def test_what_a_pan_cannot_be_is_told_by_field(values):
    pan = a_pan(name="copper")
    with pytest.raises(ValidationError) as refused:
        save_pan(pan.kitchen, by=None, values=values)
    assert set(refused.value.message_dict) <= {"name", "tare_g"}


def test_another_kitchens_pan_is_refused():
    with pytest.raises(ValidationError, match="not in this kitchen"):
        save_pan(a_kitchen(), by=None, pan=a_pan(), values={"name": "Mine"})
