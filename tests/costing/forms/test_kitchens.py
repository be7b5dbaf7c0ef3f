"""Kitchen settings as typed, and the habits of a country."""

import pytest

from costing.forms.kitchens import KitchenForm, NewKitchenForm, countries, habits_of, number_formats
from tests.builders import a_kitchen

pytestmark = pytest.mark.django_db


def typed(kitchen, **changes):
    form = KitchenForm(kitchen=kitchen)
    data = {name: form[name].value() for name in form.fields}
    return {k: "" if v is None else str(v) for k, v in data.items() if v is not False} | changes


@pytest.mark.parametrize(
    ("country", "currency", "sample"),
    # ISO 4217 codes of the countries; samples as the Unicode CLDR writes them.
    [("IE", "EUR", "€1,234.50"), ("DE", "EUR", "1.234,50\xa0€"), ("GB", "GBP", "£1,234.50"),
     ("FR", "EUR", "1\u202f234,50\xa0€"), ("CH", "CHF", "CHF\xa01’234.50")],
)  # fmt: skip
def test_a_country_brings_its_money_and_its_way_of_writing_it(country, currency, sample):
    habits = habits_of(country)
    assert habits["currency"] == currency
    formats = dict(number_formats(currency, chosen=habits["number_format"]))
    assert formats[habits["number_format"]] == sample


def test_countries_are_countries():
    codes = {code for code, _ in countries()}
    assert {"IE", "GB", "DE", "US", "NZ"} <= codes
    assert not codes & {"EU", "UN", "ZZ", "001"}


def test_three_answers_open_a_kitchen():
    form = NewKitchenForm({"trading_name": "Plum Row", "country": "AT", "altitude_m": "1100"})
    assert form.is_valid(), form.errors
    assert form.values()["currency"] == "EUR"


def test_settings_kept_untouched_change_nothing():
    kitchen = a_kitchen(altitude_m=240, number_format="en_IE")
    form = KitchenForm(typed(kitchen), kitchen=kitchen)
    assert form.is_valid(), form.errors
    for name, value in form.cleaned_data.items():
        before = getattr(kitchen, name)
        assert value == before or (value in {None, ""} and before in {None, ""}), name


def test_fixed_prices_ask_for_their_day():
    kitchen = a_kitchen()
    form = KitchenForm(typed(kitchen, price_policy="fixed"), kitchen=kitchen)
    assert not form.is_valid()
    assert form.errors["prices_fixed_on"] == ["Say on which day the prices were fixed."]
    named = typed(kitchen, price_policy="fixed", prices_fixed_on="2026-03-01")
    assert KitchenForm(named, kitchen=kitchen).is_valid()


def test_nobody_gets_tax_back_without_a_registration():
    kitchen = a_kitchen(is_tax_registered=False, tax_recoverable_pct=0)
    assert KitchenForm(typed(kitchen), kitchen=kitchen).is_valid()
    form = KitchenForm(typed(kitchen, tax_recoverable_pct="100"), kitchen=kitchen)
    assert "not registered" in form.errors["tax_recoverable_pct"][0]


@pytest.mark.parametrize(("metres", "allowed"), [("5500", True), ("5501", False), ("-430", True)])
def test_people_live_between_the_dead_sea_and_the_high_andes(metres, allowed):
    form = NewKitchenForm({"trading_name": "A", "country": "IE", "altitude_m": metres})
    assert form.is_valid() is allowed
