"""What every jurisdiction offers, and how it is found by the code of a market."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from labels import law
from labels.facts import LabelFacts
from labels.mechanics.offers import Offer
from labels.rulebook import Rule

TODAY = date(2026, 11, 25)
FOLDER = Path(law.__file__).parent


def test_every_market_has_one_row_and_every_law_a_market():
    assert law.markets() == ("eu", "gb-eng", "gb-wls", "gb-sct", "gb-nir")
    packages = {path.parent.name for path in FOLDER.glob("*/__init__.py")}
    assert {market.jurisdiction for market in law.MARKETS} == packages


def test_northern_ireland_is_a_market_of_the_unions_law():
    assert law.market_named("gb-nir").jurisdiction == "eu"
    assert "European Union" in law.market_named("gb-nir").note
    assert law.rules_in_force("gb-nir", on=TODAY) == law.rules_in_force("eu", on=TODAY)


@pytest.mark.parametrize(
    ("country", "market"), [("GB", "gb-eng"), ("gb ", "gb-eng"), ("PT", "eu"), ("", "eu")]
)
def test_a_kitchen_is_at_home_in_the_first_market_that_names_its_country(country, market):
    assert law.home_market(country).code == market


@pytest.mark.parametrize("market", law.markets())
def test_every_rule_has_its_provision_its_link_and_its_first_day(market):
    rules = law.rules_in_force(market, on=TODAY)
    assert len(rules) > 20
    assert len({rule.name for rule in rules}) == len(rules)
    for rule in rules:
        assert isinstance(rule, Rule)
        assert rule.citation.provision
        assert rule.citation.act.url.startswith("https://")
        assert rule.citation.mark in {"read", "second-hand", "from memory"}
        assert rule.summary.endswith(".")
        assert rule.since <= TODAY


@pytest.mark.parametrize("market", ["eu", "gb-eng"])
def test_no_rule_is_left_out_of_its_market(market):
    folder = FOLDER / law.market_named(market).jurisdiction
    written = sum(path.read_text().count("\n@rule(") for path in folder.glob("*.py"))
    ended = sum(path.read_text().count("until=") for path in folder.glob("*.py"))
    assert len(law.rules_in_force(market, on=TODAY)) == written - ended


@pytest.mark.parametrize("market", law.markets())
def test_each_market_says_what_it_does_not_check(market):
    sentences = law.not_checked(market)
    assert len(sentences) > 3
    assert all(sentence.endswith(".") for sentence in sentences)
    assert any("local" in sentence and "authority" in sentence for sentence in sentences)


@pytest.mark.parametrize("market", ["", "xx", "gb", "eu.quid", "../eu", "EU"])
def test_a_market_without_law_is_named(market):
    with pytest.raises(law.UnknownMarket, match="No label law is known here"):
        law.rules_in_force(market, on=TODAY)
    with pytest.raises(law.UnknownMarket, match="there is eu"):
        law.particulars(LabelFacts(market=market), on=TODAY)


@pytest.mark.parametrize(
    ("market", "day", "amount", "unit"),
    [
        # SI 2024/1055 from 6 April 2026, moved by SI 2025/592; the Union has no such change
        ("gb-eng", date(2026, 4, 5), "1.98", "100 g"), ("gb-eng", date(2026, 4, 6), "19.82", "kg"),
        ("eu", date(2026, 4, 5), "19.82", "kg"), ("eu", date(2026, 4, 6), "19.82", "kg"),
        ("gb-nir", date(2026, 4, 6), "19.82", "kg"),
    ],
)  # fmt: skip
def test_one_question_gets_each_markets_unit_price(market, day, amount, unit):
    jar = Offer(price=Decimal("4.50"), net_quantity_g=Decimal(227))
    found = law.prices(market, jar, on=day).unit_price
    assert (found.amount, found.unit) == (Decimal(amount), unit)
