"""A cook as typed: how large, what was read at the stove, and the pans."""

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import AmountField, Line, form_layout, side_by_side
from costing.models import BatchReading, Pan

MOST_KG = 999
MOST_G = 999_999
MOST_BRIX = 95
HIGHEST_C = 130
"""Above this nothing here is jam or paste any more: a slip of the finger, or Fahrenheit [C]."""

READINGS = (
    (BatchReading.Kind.TEMPERATURE, "Thermometer", "°C"),
    (BatchReading.Kind.WEIGHT, "Scale", "kg"),
    (BatchReading.Kind.BRIX, "Refractometer", "Brix"),
    (BatchReading.Kind.WATER, "Water added", "g"),
    (BatchReading.Kind.SUGAR, "Sugar added", "g"),
)
"""What is read or done at the stove, its word on the page and the unit it is typed in."""

_G_PER_KG = Decimal(1000)
_FAHRENHEIT = (Decimal(190), Decimal(266))
"""Kept all the same: the stove asks whether it was one, and one tap answers."""


class ReadingForm(forms.Form):
    """One reading, or one addition, typed at the stove."""

    kind = forms.ChoiceField(
        choices=[(kind, word) for kind, word, _unit in READINGS],
        error_messages={
            "required": "Say what you read it from.",
            "invalid_choice": "Say what you read it from.",
        },
    )
    value = AmountField(error_messages={"required": "Type what you read, then press the button."})
    sample_c = AmountField(
        label="Temperature of the drop", required=False, least=-5, most=110, places=2
    )
    key = forms.RegexField(regex=r"^[0-9a-f-]{16,40}$")
    read_at = forms.DateTimeField(required=False, input_formats=["%Y-%m-%dT%H:%M:%S.%f%z"])

    def clean(self) -> dict[str, Any]:
        """Refuse what cannot be a reading at all; everything doubtful is kept, and asked about."""
        data = super().clean() or {}
        kind, value = data.get("kind"), data.get("value")
        if kind is None or value is None:
            return data
        sentence = _impossible(kind, value)
        if sentence:
            raise ValidationError({"value": sentence})
        data["value"] = _grams(value) if kind == BatchReading.Kind.WEIGHT else value
        return data


def _impossible(kind: str, value: Decimal) -> str:
    """Why a figure cannot be a reading of this kind; empty when it can."""
    shown = f"{value.normalize():f}"
    if kind == BatchReading.Kind.TEMPERATURE:
        return _impossible_c(value, shown)
    if value <= 0:
        return f"{shown} is nothing. Type what the scale or the glass shows."
    most, sentence = {
        BatchReading.Kind.WEIGHT.value: (
            MOST_KG,
            f"{shown} kg is more than any pan here. Did you type grams? This box takes kilos.",
        ),
        BatchReading.Kind.BRIX.value: (
            MOST_BRIX,
            f"{shown} Brix cannot be read from a refractometer: at most {MOST_BRIX}.",
        ),
    }.get(kind, (MOST_G, f"{shown} g is too much. This box takes grams."))
    return sentence if value > most else ""


def _impossible_c(value: Decimal, shown: str) -> str:
    if _FAHRENHEIT[0] <= value <= _FAHRENHEIT[1]:
        return ""
    if value > HIGHEST_C:
        return f"{shown} °C is beyond any jam or paste: at most {HIGHEST_C}. Read it once more."
    if value < 0:
        return f"{shown} °C is below freezing. Read it once more."
    return ""


class PanForm(forms.Form):
    """A pan: its weight, its width, what stays on it, how fast it loses water."""

    name = forms.CharField(
        label="Name", max_length=60, error_messages={"required": "Give it a name."}
    )
    tare_kg = AmountField(
        label="Empty, with its spoon", required=False, above=0, most=99, places=4,
        help_text="As it stands on the scale while you cook. Then the scale alone tells how far"
        " the cook is.",
    )  # fmt: skip
    diameter_cm = AmountField(
        label="Across, inside", required=False, least=5, most=200, places=1,
        help_text="Water leaves by the surface: the wider the pan, the shorter the cook.",
    )  # fmt: skip
    capacity_l = AmountField(
        label="Holds to the brim", required=False, above=0, most=999, places=2,
        help_text="Never cook it more than half full: fruit and sugar rise.",
    )  # fmt: skip
    residue_g = AmountField(
        label="Stays on it after scraping", required=False, least=0, most=9999, places=1,
        help_text="Weigh the scraped pan and take off its empty weight.",
    )  # fmt: skip
    before_kg = AmountField(
        label="On the scale, boiling", required=False, above=0, most=MOST_KG, places=4
    )
    after_kg = AmountField(
        label="On the scale, later", required=False, above=0, most=MOST_KG, places=4
    )
    minutes = AmountField(
        label="Minutes between", required=False, above=0, most=600, places=2,
    )  # fmt: skip
    evaporation_g_per_min = AmountField(
        label="Water boiled off", required=False, above=0, most=9999, places=2,
        help_text="Known already? Type it here and leave the test above empty.",
    )  # fmt: skip
    is_archived = forms.BooleanField(label="No longer used", required=False)

    def __init__(self, data: Any = None, *, pan: Pan | None = None) -> None:
        subject = pan or Pan()
        initial = {
            name: getattr(subject, name)
            for name in (
                "name", "diameter_cm", "capacity_l", "residue_g", "evaporation_g_per_min",
                "is_archived",
            )
        }  # fmt: skip
        initial["tare_kg"] = None if subject.tare_g is None else subject.tare_g / _G_PER_KG
        super().__init__(data, initial=initial)
        if pan is None:
            del self.fields["is_archived"]
        self.helper = form_layout(
            Line("name"),
            side_by_side(Line("tare_kg", unit="kg"), Line("diameter_cm", unit="cm")),
            side_by_side(Line("capacity_l", unit="litres"), Line("residue_g", unit="g")),
        )
        self.test = form_layout(
            side_by_side(
                Line("before_kg", unit="kg", silent=True),
                Line("after_kg", unit="kg", silent=True),
                Line("minutes", unit="min", silent=True),
            ),
            Line("evaporation_g_per_min", unit="g a minute"),
        )
        self.last = form_layout(*([] if pan is None else [Line("is_archived")]))

    def clean(self) -> dict[str, Any]:
        """A test needs all three figures, and weight that went."""
        data = super().clean() or {}
        names = ("before_kg", "after_kg", "minutes")
        given = [name for name in names if data.get(name) is not None]
        if given and len(given) < len(names) and not any(name in self.errors for name in names):
            missing = next(name for name in names if name not in given)
            self.add_error(missing, "The test needs two weights and the minutes between them.")
        before, after = data.get("before_kg"), data.get("after_kg")
        if before is not None and after is not None and after >= before:
            self.add_error("after_kg", "A boiling pan gets lighter. Were the two weights swapped?")
        return data

    def values(self) -> dict[str, Any]:
        """The fields of a pan in grams; a test that was done gives the rate."""
        data = self.cleaned_data
        values = {
            name: data[name]
            for name in ("name", "diameter_cm", "capacity_l", "residue_g", "evaporation_g_per_min")
        }
        values["tare_g"] = None if data["tare_kg"] is None else _grams(data["tare_kg"])
        if "is_archived" in data:
            values["is_archived"] = data["is_archived"]
        if data.get("minutes"):
            boiled_off_g = (data["before_kg"] - data["after_kg"]) * _G_PER_KG
            values["evaporation_g_per_min"] = round(boiled_off_g / data["minutes"], 2)
        return values


def _grams(kilos: Decimal) -> Decimal:
    """Kilos as typed in the grams that are kept, to a tenth of one."""
    return round(kilos * _G_PER_KG, 1)


def unit_of(kind: str) -> str:
    """The unit a kind of reading is typed in."""
    return next((unit for code, _word, unit in READINGS if code == kind), "")
