"""Pans: saved with their faults by field, and measured with two weights."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.services.pans import measured_rate, save_pan
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


def rate(pan, before, after, minutes):
    return measured_rate(
        pan,
        by=None,
        gross_before_g=Decimal(before),
        gross_after_g=Decimal(after),
        minutes=Decimal(minutes),
    )


def test_two_weights_and_the_minutes_between_give_the_rate():
    # 850 g in 10 minutes.
    assert rate(a_pan(), 15000, 14150, 10).evaporation_g_per_min == 85


@pytest.mark.parametrize(
    ("after", "minutes", "words"),
    [(15000, 10, "did not get lighter"), (14000, 0, "Some minutes")],
)
def test_weights_that_tell_no_rate_are_refused(after, minutes, words):
    with pytest.raises(ValidationError, match=words):
        rate(a_pan(), 15000, after, minutes)
