"""What is typed at a stove: commas, Fahrenheit, grams for kilos; and a pan's boiling test."""

from decimal import Decimal

import pytest

from costing.forms.cooks import PanForm, ReadingForm

KEY = "0123456789abcdef0123456789abcdef"


def _read(kind, value, **more):
    return ReadingForm({"kind": kind, "value": value, "key": KEY} | more)


def test_a_comma_is_a_decimal_comma_and_kilos_become_grams():
    form = _read("weight", "12,4")
    assert form.is_valid(), form.errors
    assert form.cleaned_data["value"] == Decimal(12400)


@pytest.mark.parametrize(
    ("kind", "value", "word"),
    [
        ("temperature", "189", "at most 130"),
        ("temperature", "267", "at most 130"),
        ("temperature", "131", "at most 130"),
        ("weight", "12400", "kilos"),
        ("brix", "96", "95"),
        ("temperature", "", "Type what you read"),
        ("temperature", "hot", "number"),
        ("water", "0", "nothing"),
    ],
)
def test_what_cannot_be_a_reading_is_said_plainly(kind, value, word):
    form = _read(kind, value)
    assert not form.is_valid()
    assert word in str(form.errors["value"])


def test_the_edges_of_what_can_be_read_are_kept():
    assert _read("temperature", "130").is_valid()
    # 190 to 266 °F are 88 to 130 °C: kept, and asked about beside the pan.
    assert _read("temperature", "190").is_valid()
    assert _read("temperature", "266").is_valid()
    assert _read("brix", "95").is_valid()
    assert _read("weight", "999").is_valid()


def test_the_devices_own_time_is_read():
    form = _read("temperature", "101", read_at="2026-09-20T10:15:30.250Z")
    assert form.is_valid(), form.errors
    assert form.cleaned_data["read_at"].isoformat() == "2026-09-20T10:15:30.250000+00:00"


def test_two_weights_and_the_minutes_between_give_the_rate():
    # (9.2 - 8.6) kg in 10 minutes = 60 g a minute
    form = PanForm({"name": "Big", "before_kg": "9,2", "after_kg": "8,6", "minutes": "10"})
    assert form.is_valid(), form.errors
    assert form.values()["evaporation_g_per_min"] == Decimal(60)


def test_a_pan_that_got_heavier_and_half_a_test_are_asked_about():
    heavier = PanForm({"name": "Big", "before_kg": "8", "after_kg": "9", "minutes": "10"})
    half = PanForm({"name": "Big", "before_kg": "8"})
    assert "swapped" in str(heavier.errors["after_kg"])
    assert "minutes between" in str(half.errors["after_kg"])
