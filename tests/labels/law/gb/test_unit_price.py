"""Unit prices: Price Marking Order 2004, SI 2004/102 [R]; SI 2024/1055 and SI 2025/592 [R]."""

from datetime import date
from decimal import Decimal

import pytest

from labels.law.gb import unit_price as law
from labels.law.gb.unit_price import as_text, rounded, unit_price, why_no_unit_price
from labels.mechanics.offers import Offer

NOW = date(2026, 11, 25)
EVE, DAY = date(2026, 4, 5), date(2026, 4, 6)


def jar(price, grams, **more):
    return Offer(price=Decimal(price), net_quantity_g=Decimal(grams), **more)


@pytest.mark.parametrize(
    ("on", "exact", "text"),
    [
        # cases 123 and 124: 4.50 / 0.227 = 19.824; per 100 g 1.982
        (EVE, "1.982", "£1.98 per 100 g"), (DAY, "19.824", "£19.82 per kg"),
    ],
)  # fmt: skip
def test_cases_123_124_preserves_go_by_the_kilo_from_6_april_2026(on, exact, text):
    offer = jar("4.50", 227)
    found = unit_price(offer, on=on)
    assert round(found.exact, 3) == Decimal(exact)
    assert as_text(found) == text
    assert why_no_unit_price(offer, on=on) == ""
    assert "SI 2004/102" in found.citation.act.title


def test_case_125_340_g_at_3_95():
    # 3.95 / 0.340 = 11.6176
    found = unit_price(jar("3.95", 340), on=NOW)
    assert round(found.exact, 4) == Decimal("11.6176")
    assert as_text(found) == "£11.62 per kg"


@pytest.mark.parametrize(
    ("exact", "shown"),
    [
        # cases 126 and 127: the hundredth of a penny, 5 goes up (arts 12 and 13)
        ("0.6845", "0.685"), ("0.6844", "0.684"), ("0.9994", "0.999"), ("1.005", "1.01"),
    ],
)  # fmt: skip
def test_cases_126_127_under_a_pound_to_a_tenth_of_a_penny(exact, shown):
    assert rounded(Decimal(exact)) == Decimal(shown)


def test_pence_are_written_as_pence():
    assert as_text(unit_price(jar("0.6845", 1000), on=NOW)) == "68.5p per kg"


@pytest.mark.parametrize(
    ("place", "is_waived"),
    [("stall", True), ("small shop", True), ("vending machine", True), ("shop", False)],
)
def test_case_128_a_stall_needs_none_for_packs_of_constant_weight(place, is_waived):
    # art. 5(3)(d)
    assert bool(why_no_unit_price(jar("4.50", 227, place=place), on=NOW)) is is_waived


@pytest.mark.parametrize(("floor", "place"), [("280", "small shop"), ("280.1", "shop")])
def test_a_shop_is_small_up_to_280_square_metres(floor, place):
    assert law.place_of(floor_m2=Decimal(floor)) == place


def test_case_129_a_slab_weighed_on_request_shows_its_price_per_kilo_and_no_other():
    # arts 4(2)(a) and 5(2)
    slab = Offer(price_per_kg=Decimal(24), place="stall", is_loose=True)
    assert why_no_unit_price(slab, on=NOW) == ""
    assert as_text(unit_price(slab, on=NOW)) == "£24.00 per kg"
    assert not law.shows_selling_price(slab)
    assert law.shows_selling_price(jar("4.50", 227))


@pytest.mark.parametrize(("grams", "is_repeated"), [(1000, True), (999, False), (1001, False)])
def test_case_130_a_kilo_tub_need_not_say_it_twice(grams, is_repeated):
    # art. 5(3)(b)
    reason = why_no_unit_price(jar("9.00", grams), on=NOW)
    assert ("same as the selling price" in reason) is is_repeated


def test_case_131_a_markdown_near_its_date_needs_none():
    # Sch. 2, para. 2
    assert "near their date" in why_no_unit_price(jar("1.00", 227, why_waived="markdown"), on=NOW)
    assert "assortment" in why_no_unit_price(jar("1.00", 227, why_waived="assortment"), on=NOW)


def test_what_comes_to_nought_is_not_shown():
    assert "0.0p" in why_no_unit_price(jar("0.0000004", 1001), on=NOW)


def test_no_price_or_no_weight_gives_no_unit_price():
    assert unit_price(Offer(price=Decimal(4)), on=NOW) is None
    assert unit_price(Offer(net_quantity_g=Decimal(4)), on=NOW) is None
    with pytest.raises(ValueError, match="above nought"):
        unit_price(jar("4", 0), on=NOW)


def test_the_whole_answer_of_a_day():
    found = law.answer(jar("4.50", 227, place="stall"), on=NOW)
    assert "stall" in found.not_needed
    assert as_text(found.unit_price) == "£19.82 per kg"
    assert found.shows_selling_price
    assert law.answer(jar("4.50", 227), on=date(2004, 7, 21)).unit_price is None
