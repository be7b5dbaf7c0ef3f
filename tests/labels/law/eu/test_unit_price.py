"""Unit prices: Directive 98/6/EC, text of 1998 [R]; Germany's unit, second-hand."""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.eu import unit_price as law
from labels.law.eu.unit_price import unit_price, what_to_ask, why_no_unit_price
from labels.mechanics.offers import Offer


def jar(price, grams, **more):
    return Offer(price=Decimal(price), net_quantity_g=Decimal(grams), **more)


def test_the_price_of_a_kilo_goes_with_the_price_of_a_jar():
    # 4.50 / 0.227 = 19.824
    found = unit_price(jar("4.50", 227))
    assert (round(found.exact, 3), found.amount) == (Decimal("19.824"), Decimal("19.82"))
    assert found.citation.provision == "Art. 3(1)"
    assert why_no_unit_price(jar("4.50", 227)) == ""


@pytest.mark.parametrize(("grams", "is_waived"), [(1000, True), (999, False)])
def test_case_130_a_kilo_tub_need_not_say_it_twice(grams, is_waived):
    assert bool(why_no_unit_price(jar("9.00", grams))) is is_waived


def test_loose_goods_show_the_unit_price_only():
    slab = Offer(price_per_kg=Decimal(24), is_loose=True)
    assert unit_price(slab).amount == 24
    assert not law.shows_selling_price(slab)
    assert why_no_unit_price(slab) == ""


@pytest.mark.parametrize(
    ("place", "is_asked"), [("stall", True), ("small shop", True), ("shop", False)]
)
def test_art_6_a_country_may_waive_it_for_the_small_so_it_is_asked(place, is_asked):
    offer = jar("4.50", 227, place=place)
    assert bool(what_to_ask(offer)) is is_asked
    assert why_no_unit_price(offer) == ""


def test_art_2_another_unit_is_the_countrys_matter():
    assert law.units(country="DE") == ("kg",)
    assert law.units(country="ES") == ("kg", "100 g")
    assert unit_price(jar("4.50", 225), unit="100 g").amount == 2


def test_without_a_weight_there_is_no_unit_price():
    assert unit_price(Offer(price=Decimal(3))) is None
    with pytest.raises(ValueError, match="above nought"):
        unit_price(jar("3", 0))


def test_the_whole_answer_of_a_day():
    found = law.answer(jar("4.50", 227, place="stall"), on=date(2026, 11, 25), country="IE")
    assert (found.unit_price.amount, found.not_needed) == (Decimal("19.82"), "")
    assert "local authority" in found.ask
    assert law.answer(jar("4.50", 227), on=date(2000, 3, 17)).unit_price is None
