"""Small packs: Regulation (EU) No 1169/2011, Art. 16 and Annex V, point 18 [R]."""

from decimal import Decimal

import pytest

from labels import law
from labels.law.gb.small_packs import is_under_cm2, keeps_list_off_the_pack
from tests.labels.law.gb.builders import TODAY, a_label, by_rule, findings, text_of, used


def _kinds(facts):
    return [p.kind for p in law.particulars(facts, on=TODAY)]


def test_art_16_2_a_pack_under_10_cm2_carries_four_statements():
    milky = used("milk", 3000, allergens={"milk": "milk"}), used("sugar", 1000)
    facts = a_label(
        *milky, name_of_food="Caramels", finished_g=2000, largest_surface_cm2="9.9", lot=""
    )
    assert _kinds(facts) == ["name", "net_quantity", "allergens", "date"]
    assert text_of("allergens", facts) == "Contains: milk"
    found = by_rule("a_tiny_pack_has_its_list_elsewhere", facts)
    assert [f.citation.provision for f in found] == ["Art. 16(2)"]


def test_art_16_2_a_pack_of_10_cm2_carries_everything():
    kinds = _kinds(a_label(largest_surface_cm2="10.0"))
    assert {"ingredients", "storage", "operator", "lot"} <= set(kinds)
    assert by_rule("a_tiny_pack_has_its_list_elsewhere", a_label(largest_surface_cm2="10.0")) == []


@pytest.mark.parametrize(
    ("surface", "limit", "is_under"),
    [("9.9", 10, True), ("10", 10, False), ("24.9", 25, True), ("25", 25, False),
     ("79.9", 80, True), ("80", 80, False), ("0", 10, False), ("-1", 10, False), (None, 80, False)],
)  # fmt: skip
def test_a_surface_that_is_not_known_is_never_small(surface, limit, is_under):
    assert is_under_cm2(a_label(largest_surface_cm2=surface), Decimal(limit)) is is_under


def test_a_surface_that_is_no_number_is_never_small():
    facts = a_label(largest_surface_cm2="NaN")
    assert not keeps_list_off_the_pack(facts)
    assert by_rule("the_largest_surface_is_known", facts)


def test_an_unknown_surface_is_asked_for_without_stopping_the_label():
    found = by_rule("the_largest_surface_is_known", a_label(largest_surface_cm2=None))
    assert [(f.level, f.citation.provision) for f in found] == [("look at this", "Art. 13(3)")]
    assert by_rule("the_largest_surface_is_known", a_label()) == []
    assert not any(f.stops_printing for f in findings(a_label(largest_surface_cm2=None)))
