"""The kitchen and its people, as typed."""

import contextlib
from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from typing import Any

from babel.core import Locale, UnknownLocaleError
from babel.languages import get_official_languages
from babel.numbers import get_territory_currencies
from crispy_forms.layout import HTML
from django import forms
from django.urls import reverse

from costing.forms.accounts import LENGTH_HELP
from costing.forms.fields import (
    AmountField,
    Chapter,
    DayField,
    Line,
    form_layout,
    side_by_side,
)
from costing.models import Kitchen, Member
from costing.models.names import LABEL_LANGUAGES
from costing.money import format_money
from costing.services.lots import USUAL

FORMATS = ("en_IE", "de_DE", "fr_FR", "de_AT", "de_CH")
"""Locales whose ways of writing a figure differ; the maker chooses by the look."""
SAMPLE = Decimal("1234.50")
FALLBACK = "en_IE"


@cache
def countries() -> list[tuple[str, str]]:
    """Country codes of ISO 3166-1 with their English names, by name."""
    names = Locale("en").territories
    # Codes that are not countries: the world's parts are digits; EU, EZ, UN and the rest groups.
    groups = {"EU", "EZ", "UN", "QO", "ZZ", "XA", "XB"}
    found = [(code, str(name)) for code, name in names.items() if len(code) == 2]
    return sorted(
        ((code, name) for code, name in found if code.isalpha() and code not in groups),
        key=lambda row: row[1],
    )


@cache
def currencies() -> list[tuple[str, str]]:
    """Currencies in use somewhere today, by their code."""
    names = Locale("en").currencies
    in_use = {code for country, _ in countries() for code in get_territory_currencies(country)}
    return [(code, f"{code}, {names.get(code, code)}") for code in sorted(in_use)]


def habits_of(country: str) -> dict[str, str]:
    """The currency and number format that people of a country expect, to begin with."""
    in_use = get_territory_currencies(country)
    found = FALLBACK
    for language in get_official_languages(country, de_facto=True):
        with contextlib.suppress(UnknownLocaleError, ValueError):
            Locale.parse(f"{language}_{country}")
            found = f"{language}_{country}"
            break
    return {"currency": in_use[0] if in_use else "EUR", "number_format": found}


def number_formats(currency: str, *, chosen: str) -> list[tuple[str, str]]:
    """Ways to write a figure, each shown by an example; the one chosen is always among them."""
    samples = {format_money(SAMPLE, currency=currency, locale=name): name for name in FORMATS}
    if chosen and chosen not in samples.values():
        with contextlib.suppress(UnknownLocaleError, ValueError):
            samples[format_money(SAMPLE, currency=currency, locale=chosen)] = chosen
    return [(name, sample) for sample, name in samples.items()]


def _text(rows: int) -> forms.Textarea:
    return forms.Textarea(attrs={"rows": rows})


class NewKitchenForm(forms.Form):
    """The three things that cannot be guessed; the rest starts at its default."""

    trading_name = forms.CharField(
        label="What is your kitchen called?",
        max_length=120,
        help_text="The name your customers know, as it will stand on the label.",
    )
    country = forms.ChoiceField(label="In which country do you sell?")
    altitude_m = AmountField(
        label="How high up is it?",
        least=-430,
        most=5500,
        places=0,
        initial=Decimal(0),
        help_text="Water boils one degree lower every 300 metres or so, "
        "and jam is done lower too. A guess to the nearest hundred will do.",
    )
    helper = form_layout(Line("trading_name"), Line("country"), Line("altitude_m", unit="metres"))

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["country"].choices = [("", "Choose"), *countries()]  # type: ignore[attr-defined]

    def values(self) -> dict[str, Any]:
        """What the kitchen starts with: what was typed, and its country's habits."""
        return {**self.cleaned_data, **habits_of(self.cleaned_data["country"])}


class KitchenForm(forms.Form):
    """Everything a kitchen reckons with; an empty rate means not known, never nought."""

    trading_name = forms.CharField(label="Name on the label", max_length=120)
    address = forms.CharField(
        label="Address on the label",
        max_length=300,
        required=False,
        widget=_text(3),
        help_text="Street, place and country, so that a letter would find you. "
        "No label can be printed without it.",
    )
    country = forms.ChoiceField(label="Country where you sell")
    currency = forms.ChoiceField(label="Money")
    number_format = forms.ChoiceField(label="How figures are written")
    label_language = forms.ChoiceField(
        label="Language you name things in",
        choices=LABEL_LANGUAGES,
        help_text="Your ingredients and designs are written in it, and labels too unless their "
        "design says otherwise. Changing it translates nothing.",
    )
    paper_size = forms.ChoiceField(label="Paper in your printer", choices=[])
    altitude_m = AmountField(label="Height above the sea", least=-430, most=5500, places=0)
    water_reading_c = AmountField(
        label="Your thermometer in boiling water",
        required=False,
        least=80,
        most=110,
        places=2,
        help_text="Bring plain water to the boil and read. "
        "Then every stopping point is given as your own thermometer shows it.",
    )
    labour_rate_per_h = AmountField(
        label="An hour of work", required=False, least=0, places=2,
        help_text="What an hour costs you, or what you want for yours.",
    )  # fmt: skip
    overhead_rate_per_h = AmountField(
        label="Rent, insurance and the like, an hour", required=False, least=0, places=2,
        help_text="A year's fixed costs divided by the hours you work at the pan in a year.",
    )  # fmt: skip
    energy_price_per_kwh = AmountField(
        label="A kilowatt-hour", required=False, least=0, places=4,
        help_text="Gas or electricity, whichever heats the pan. It is on the bill.",
    )  # fmt: skip
    hob_efficiency_pct = AmountField(
        label="Share of the heat that reaches the food", above=0, most=100, places=2,
        help_text="An open pan on a hob keeps about half; the rest warms the room.",
    )  # fmt: skip
    start_temperature_c = AmountField(
        label="Fruit goes into the pan at", least=-30, most=100, places=2
    )
    is_tax_registered = forms.BooleanField(
        label="The kitchen is registered for sales tax", required=False
    )
    tax_recoverable_pct = AmountField(
        label="Tax you get back on what you buy", least=0, most=100, places=2,
        help_text="All of it: 100. None of it: 0; the tax is then part of what things cost.",
    )  # fmt: skip
    food_tax_pct = AmountField(
        label="Tax on the food you sell", required=False, least=0, most=100, places=2,
        help_text="The rate on your sales, as your tax office told you. 0 when there is none.",
    )  # fmt: skip
    price_policy = forms.ChoiceField(
        label="When several prices are known, take",
        choices=Kitchen.Policy.choices,
        widget=forms.RadioSelect,
    )
    prices_fixed_on = DayField(
        label="Fixed on", required=False, help_text="Only for prices fixed on a day."
    )

    lot_scheme = forms.CharField(
        label="How a lot is written",
        max_length=40,
        error_messages={"required": f"Say how a lot is made up, for example {USUAL}."},
        help_text="In braces: {letters} of the recipe’s name; {yy} or {yyyy}, the year; {ddd}, "
        "the day of the year, or {mm} and {dd}; {n} counts the pans of a day, which otherwise get "
        "B, C and so on.",
    )

    def __init__(self, data: Any = None, *, kitchen: Kitchen, boils: str = "") -> None:
        initial = {name: getattr(kitchen, name) for name in self.base_fields}
        super().__init__(data, initial=initial)
        self._offer("country", countries())
        self._offer("currency", currencies(), kitchen.currency)
        formats = number_formats(kitchen.currency, chosen=kitchen.number_format)
        self._offer("number_format", formats)
        self._offer("paper_size", [("A4", "A4"), ("Letter", "US Letter")])
        self.fields["altitude_m"].help_text = boils
        self.helper = _kitchen_layout(kitchen)

    def _offer(self, name: str, choices: list[tuple[str, str]], also: str = "") -> None:
        if also and also not in dict(choices):
            choices = [(also, also), *choices]
        self.fields[name].choices = choices  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """A fixed price needs its day; a recoverable share needs a registration."""
        data = super().clean() or {}
        if data.get("price_policy") == Kitchen.Policy.FIXED and not data.get("prices_fixed_on"):
            self.add_error("prices_fixed_on", "Say on which day the prices were fixed.")
        if not data.get("is_tax_registered") and data.get("tax_recoverable_pct"):
            self.add_error(
                "tax_recoverable_pct",
                "A kitchen that is not registered gets no tax back. Type 0, or tick that it is "
                "registered.",
            )
        return data


def _kitchen_layout(kitchen: Kitchen) -> Any:
    def line(name: str, unit: str = "") -> Line:
        return Line(name, unit=unit, mark=_default_mark(kitchen, name), silent=True)

    return form_layout(
        Chapter("Name and address", line("trading_name"), line("address")),
        Chapter(
            "Air and thermometer",
            line("altitude_m", "metres"),
            line("water_reading_c", "°C"),
        ),
        _rates(kitchen.currency, line),
        _lots(kitchen),
        Chapter(
            "Which price counts",
            Line("price_policy"),
            Line("prices_fixed_on", short=True, silent=True),
            lead="Shown beside every cost.",
        ),
        Chapter(
            "Tax",
            Line("is_tax_registered"),
            side_by_side(line("tax_recoverable_pct", "%"), line("food_tax_pct", "%")),
        ),
        Chapter(
            "Country, money and paper",
            side_by_side(line("country"), line("currency")),
            side_by_side(line("number_format"), line("paper_size")),
            line("label_language"),
            lead="Changing the money converts no price; it only writes another sign before them.",
        ),
    )


def _lots(kitchen: Kitchen) -> Chapter:
    """The scheme, with what it gives for tomorrow below it, as it is typed."""
    example = HTML("{% include 'costing/kitchen_lot.html' %}")
    live: dict[str, Any] = {
        "hx_get": reverse("kitchen_lot", args=[kitchen.pk]),
        "hx_trigger": "input changed delay:250ms",
        "hx_target": "#lot-example",
        "hx_swap": "outerHTML",
    }
    return Chapter(
        "Lots",
        Line("lot_scheme", mark=_default_mark(kitchen, "lot_scheme"), **live),
        example,
        lead="A lot leads from a jar back to its pan. It is printed on the label.",
    )


def _rates(money: str, line: Callable[[str, str], Line]) -> Chapter:
    return Chapter(
        "What an hour and a flame cost",
        side_by_side(
            line("labour_rate_per_h", f"{money} an hour"),
            line("overhead_rate_per_h", f"{money} an hour"),
        ),
        line("energy_price_per_kwh", f"{money} a kWh"),
        side_by_side(line("hob_efficiency_pct", "%"), line("start_temperature_c", "°C")),
        lead="What is left empty is not counted as nothing: costs then say “at least”.",
    )


def _default_mark(kitchen: Kitchen, name: str) -> str:
    """ "default" beside a figure that nobody has chosen; "not known yet" beside an empty one."""
    field = Kitchen._meta.get_field(name)
    value = getattr(kitchen, name)
    if value in {None, ""} and name != "prices_fixed_on":
        return "not known yet"
    if getattr(field, "has_default", lambda: False)() and value == field.get_default():  # type: ignore[union-attr]
        return "default"
    return ""


class PersonForm(forms.Form):
    """One more person, with a first password to hand over."""

    username = forms.CharField(
        label="Name to sign in with",
        max_length=150,
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "none"}),
    )
    password = forms.CharField(
        label="First password",
        strip=False,
        max_length=200,
        help_text=LENGTH_HELP,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}, render_value=True),
    )
    role = forms.ChoiceField(
        label="What this person may do", choices=[], widget=forms.RadioSelect, initial="cook"
    )
    helper = form_layout(Line("username"), Line("password"), Line("role"))

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["role"].choices = [  # type: ignore[attr-defined]
            (role, f"{label}: {MAY[role]}") for role, label in Member.Role.choices
        ]


MAY: Mapping[str, str] = {
    Member.Role.OWNER.value: "everything",
    Member.Role.COOK.value: "ingredients, recipes and labels; weights but no money",
    Member.Role.STALL_HAND.value: "the products and their stall prices",
    Member.Role.ACCOUNTANT.value: "prices and suppliers, to read",
}
