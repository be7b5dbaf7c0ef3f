"""What every jurisdiction offers, and how it is found by its name."""

from datetime import date

import pytest

from labels import law
from labels.facts import LabelFacts
from labels.rulebook import Rule

TODAY = date(2026, 11, 25)


def test_the_european_union_is_known():
    assert "eu" in law.markets()


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


@pytest.mark.parametrize("market", law.markets())
def test_no_rule_is_left_out_of_its_market(market):
    from pathlib import Path

    folder = Path(law.__file__).parent / market
    written = sum(path.read_text().count("\n@rule(") for path in folder.glob("*.py"))
    assert len(law.rules_in_force(market, on=TODAY)) == written


@pytest.mark.parametrize("market", law.markets())
def test_each_market_says_what_it_does_not_check(market):
    sentences = law.not_checked(market)
    assert len(sentences) > 3
    assert all(sentence.endswith(".") for sentence in sentences)
    assert any("local" in sentence and "authority" in sentence for sentence in sentences)


@pytest.mark.parametrize("market", ["", "xx", "eu.quid", "../eu", "EU"])
def test_a_market_without_law_is_named(market):
    with pytest.raises(law.UnknownMarket, match="No label law is known here"):
        law.rules_in_force(market, on=TODAY)
    with pytest.raises(law.UnknownMarket, match="there is eu"):
        law.particulars(LabelFacts(market=market), on=TODAY)
