"""Net quantity: Regulation (EU) No 1169/2011, Art. 23 as assimilated [R]; SI 2006/659 [R]."""

from decimal import Decimal

import pytest

from labels.law.gb.net_quantity import minimum_figure_height_mm, quantity_text
from tests.labels.law.gb.builders import a_label, as_printed, by_rule, faults, statement, text_of

HEIGHTS = "the_figures_of_the_quantity_are_high_enough"


@pytest.mark.parametrize(
    ("grams", "mm"), [(50, 2), (51, 3), (200, 3), (201, 4), (1000, 4), (1001, 6)]
)
def test_case_119_the_height_of_the_figures(grams, mm):
    # reg. 8(3)(d)
    assert minimum_figure_height_mm(Decimal(grams)) == mm


def test_case_120_without_the_mark_the_table_does_not_bind_a_prepacked_jar():
    # reg. 3(6)
    facts = a_label(net_quantity_g=340)
    assert statement("net_quantity", facts).minimum_figure_height_mm is None
    assert by_rule(HEIGHTS, facts, as_printed(facts, figure_height_mm="1.5")) == []


@pytest.mark.parametrize(("mm", "is_lawful"), [("4", True), ("3.9", False)])
def test_case_121_with_the_mark_it_binds(mm, is_lawful):
    # regs 2, 5(3) and 8(3)(d): 227 g, figures 4 mm, the e 3 mm, in the field of the weight
    facts = a_label(net_quantity_g=227, has_e_mark=True)
    found = statement("net_quantity", facts)
    assert (found.text, found.same_field, found.minimum_figure_height_mm) == ("227 g ℮", True, 4)
    assert (HEIGHTS in faults(facts, as_printed(facts, figure_height_mm=mm))) is not is_lawful


def test_the_mark_itself_is_three_millimetres_high():
    facts = a_label(net_quantity_g=40, has_e_mark=True)
    assert statement("net_quantity", facts).minimum_figure_height_mm == 3


@pytest.mark.parametrize(
    ("grams", "is_refused"), [(4, True), (5, False), (10000, False), (11000, True)]
)
def test_case_122_the_mark_is_for_5_g_to_10_kg(grams, is_refused):
    # regs 3(1) and 5(3)(b)
    facts = a_label(net_quantity_g=grams, has_e_mark=True)
    assert ("the_e_mark_is_for_5_g_to_10_kg" in faults(facts)) is is_refused


@pytest.mark.parametrize(("mm", "is_lawful"), [("3", True), ("2.9", False)])
def test_a_pack_for_direct_sale_is_bound_by_the_table(mm, is_lawful):
    # it is no "pre-packed food" in reg. 2, so reg. 3(6) does not free it
    facts = a_label(net_quantity_g=200, way_of_sale="direct")
    found = statement("net_quantity", facts)
    assert (found.minimum_figure_height_mm, found.citation.provision) == (3, "reg. 5(1)(a)")
    assert (HEIGHTS in faults(facts, as_printed(facts, figure_height_mm=mm))) is not is_lawful


def test_direct_sale_without_a_weight_is_looked_at_and_prepacked_refused():
    direct = a_label(net_quantity_g=None, way_of_sale="direct")
    found = by_rule("a_constant_pack_for_direct_sale_shows_its_weight", direct)
    assert [f.level for f in found] == ["look at this"]
    assert "the_net_quantity_is_stated" in faults(a_label(net_quantity_g=None))


@pytest.mark.parametrize("bad", ["-1", "0", "NaN", "Infinity"])
def test_a_quantity_that_is_none_is_missing(bad):
    assert "the_net_quantity_is_stated" in faults(a_label(net_quantity_g=bad))
    assert text_of("net_quantity", a_label(net_quantity_g=bad)) == ""


def test_a_volume_is_for_liquids():
    facts = a_label(net_quantity_g=None, net_quantity_ml=250)
    assert text_of("net_quantity", facts) == "250 ml"
    assert by_rule("the_net_quantity_is_stated", facts)[0].level == "look at this"
    assert quantity_text(Decimal(1500), "ml") == "1.5 l"


def test_the_packers_rules_are_told_of_without_the_mark_and_are_a_promise_with_it():
    # reg. 4; reg. 11 on export
    assert by_rule("the_packers_rules_hold_without_the_mark_too", a_label())
    assert by_rule("the_e_mark_is_a_promise", a_label(has_e_mark=True))[0].level == "look at this"
    assert by_rule("the_packers_rules_hold_without_the_mark_too", a_label(net_quantity_g=4)) == []
