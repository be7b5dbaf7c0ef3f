"""Boxes of the recipe form that take more than a number: weights, times, what sticks to a pan."""

import re
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.forms.fields import as_typed
from costing.reckoning.book import FINAL_WEIGHT
from costing.units import MASS, PERCENT, UnitsError, read_amount, read_number

MOST_MINUTES = Decimal(10080)
"""A week. Nobody stands longer at one pan."""

_MILLIGRAM = Decimal("0.001")
_HOURS_AND_MINUTES = re.compile(
    r"^(?:(?P<hours>[^a-z:]+?)\s*(?:h|hr|hrs|hour|hours|:)\s*)?"
    r"(?:(?P<minutes>[^a-z:]+?)\s*(?:m|min|mins|minute|minutes|')?)?$",
    re.IGNORECASE,
)
_NOUGHT = re.compile(r"^\s*0+(?:[.,]0+)?\s*(?:%|g|kg)?\s*$", re.IGNORECASE)
_AFTER_A_FIGURE = re.compile(r"\s*(?:°\s*)?(?:c|k|brix|bx|degrees|°|%)$", re.IGNORECASE)


class TextBox(forms.CharField):
    """A box whose text is read by a rule of its own; empty means nothing was said."""

    def to_python(self, value: Any) -> Any:
        """What was typed, read; None for an empty box."""
        text = str(super().to_python(value) or "")
        if not text:
            return None
        try:
            return self.read(text)
        except UnitsError as problem:
            raise ValidationError(str(problem), code="not_read") from problem

    def read(self, text: str) -> Any:
        """Turn text into a figure. Raises UnitsError or ValidationError with a sentence."""
        raise NotImplementedError

    def run_validators(self, value: Any) -> None:
        """Text validators do not apply to a figure."""

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """No help from the browser's memory."""
        return {**super().widget_attrs(widget), "autocomplete": "off"}


class MassField(TextBox):
    """A weight such as 9 kg, 430 g or 2 lb; a number alone is kilos. Kept in grams."""

    def __init__(self, *, or_nought: bool = False, **options: Any) -> None:
        self.or_nought = or_nought
        super().__init__(**options)

    def read(self, text: str) -> Decimal:
        """Grams."""
        if self.or_nought and _NOUGHT.match(text):
            return Decimal(0)
        return read_mass_g(text)

    def prepare_value(self, value: Any) -> Any:
        """Grams as they would be typed."""
        return mass_as_typed(value) if isinstance(value, Decimal) else value


class MinutesField(TextBox):
    """A time such as 150, 2 h 30, 2:30 or 2,5 h. Kept in minutes."""

    def read(self, text: str) -> Decimal:
        """Minutes."""
        minutes = read_minutes(text)
        if not 0 <= minutes <= MOST_MINUTES:
            raise ValidationError(
                f"“{text[:30]}” is not a time somebody stands at a pan: at least nothing, at most a"
                " week. Type minutes, or hours and minutes such as 2 h 30.",
                code="out_of_range",
            )
        return minutes

    def prepare_value(self, value: Any) -> Any:
        """Minutes as they would be typed."""
        return minutes_as_typed(value) if isinstance(value, Decimal) else value


class ResidueField(TextBox):
    """What sticks to the pan: 3,5 % of it, 150 g whatever is in it, or both with a plus."""

    def read(self, text: str) -> tuple[Decimal, Decimal]:
        """(percent, grams)."""
        percent = grams = Decimal(0)
        for part in text.split("+"):
            if not part.strip():
                continue
            if _NOUGHT.match(part):
                continue
            amount = read_amount(part, default_unit="%")
            if amount.dimension == PERCENT:
                percent += amount.quantity
            else:
                grams += round(read_mass_g(part), 2)
        if percent >= 100:
            raise ValidationError(
                f"{percent.normalize():f} % of the pan cannot stick to it: less than 100 %.",
                code="out_of_range",
            )
        return percent, grams

    def prepare_value(self, value: Any) -> Any:
        """As it would be typed."""
        if not isinstance(value, tuple):
            return value
        percent, grams = value
        parts = [f"{as_typed(percent)} %"] if percent or not grams else []
        return " + ".join([*parts, mass_as_typed(grams)] if grams else parts)


def read_mass_g(text: str) -> Decimal:
    """Grams of a typed weight, to the milligram. Raises ValidationError, UnitsError."""
    amount = read_amount(text, default_unit="kg")
    if amount.dimension != MASS:
        raise ValidationError(
            f"“{text[:30]}” is not a weight. Type it in kilos or grams, such as 12,3 kg or 450 g.",
            code="not_a_mass",
        )
    return amount.base_quantity.quantize(_MILLIGRAM, rounding=ROUND_HALF_UP)


def mass_as_typed(grams: Decimal) -> str:
    """Grams as somebody would type them.

    >>> mass_as_typed(Decimal("9000.000")), mass_as_typed(Decimal("430.00"))
    ('9 kg', '430 g')
    """
    return f"{as_typed(grams / 1000)} kg" if grams >= 1000 else f"{as_typed(grams)} g"


def read_minutes(text: str) -> Decimal:
    """Minutes of a typed time. Raises UnitsError with a sentence.

    >>> read_minutes("2 h 30"), read_minutes("2,5 h"), read_minutes("150")
    (Decimal('150'), Decimal('150.0'), Decimal('150'))
    """
    found = _HOURS_AND_MINUTES.match(text.strip())
    if found is None or not (found["hours"] or found["minutes"]):
        raise UnitsError(
            f"“{text[:30]}” is not a time that can be read. Type minutes such as 150, or hours and"
            " minutes such as 2 h 30."
        )
    minutes = Decimal(0)
    if found["hours"]:
        minutes += 60 * read_number(found["hours"])
    if found["minutes"]:
        minutes += read_number(found["minutes"])
    return minutes


def minutes_as_typed(minutes: Decimal) -> str:
    """Minutes as somebody would type them.

    >>> minutes_as_typed(Decimal("150.00")), minutes_as_typed(Decimal("45"))
    ('2 h 30 min', '45 min')
    """
    hours, rest = divmod(minutes, 60)
    parts = [f"{as_typed(hours)} h"] if hours else []
    if rest or not hours:
        parts.append(f"{as_typed(rest)} min")
    return " ".join(parts)


def read_stop(text: str, *, form: str) -> Decimal:
    """Where to stop, in the maker's own form: a weight in grams, else the figure alone.

    Raises ValidationError, UnitsError with a sentence.
    """
    if form == FINAL_WEIGHT:
        return read_mass_g(text)
    figure = read_number(_AFTER_A_FIGURE.sub("", text.strip()))
    if figure <= 0:
        raise ValidationError(
            "The point to stop at lies above nought. Type what you read, such as 66.",
            code="out_of_range",
        )
    if figure > 1000:
        raise ValidationError(
            f"{figure.normalize():f} is more than any instrument in a kitchen shows. Check the"
            " figure.",
            code="out_of_range",
        )
    return figure.quantize(_MILLIGRAM, rounding=ROUND_HALF_UP)


def stop_as_typed(value: Decimal, *, form: str) -> str:
    """A stored stopping point as it would be typed."""
    return mass_as_typed(value) if form == FINAL_WEIGHT else as_typed(value)
