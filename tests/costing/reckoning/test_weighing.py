"""The size of a cook by what there is, and weights a scale can show."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.reckoning.errors import MassUnknown, ReckoningError
from costing.reckoning.recipes import cost_recipe
from costing.reckoning.weighing import (
    as_weighed,
    pan_capacity_ml,
    pan_caution,
    round_to_weigh,
    start_by_base,
    start_by_jars,
    start_by_moulds,
    start_by_net,
    start_by_pan,
    start_by_pieces,
    start_by_scarcest,
    weighing_list,
    weighing_step_g,
)
from tests.costing.reckoning.builders import R1, R3, boil_to, recipe_of, rookfold

D = Decimal
# Invented: 9000 g of puree, 8100 g of sugar and 180 g of lemon leave 11 890.344 g of damson cheese.
DAMSON = cost_recipe(rookfold(), R1)
CHUTNEY = cost_recipe(rookfold(), R3)


# --- Rounding -------------------------------------------------------------------------------------


# Pairs at each limit: 5 g below 1 kg, then 10 g, then 50 g; small ones finer (common practice).
@pytest.mark.parametrize(
    ("exact_g", "step_g"),
    [
        ("9.99", "0.1"),
        ("10", "1"),
        ("49.9", "1"),
        ("50", "5"),
        ("999.9", "5"),
        ("1000", "10"),
        ("9999", "10"),
        ("10000", "50"),
    ],
)
def test_the_step_grows_with_the_weight(exact_g, step_g):
    assert weighing_step_g(D(exact_g)) == D(step_g)


def test_spices_are_weighed_to_a_gram():
    assert weighing_step_g(D(300), is_spice=True) == 1
    assert weighing_step_g(D(12000), is_spice=True) == 1
    assert weighing_step_g(D(4), is_spice=True) == D("0.1")


@pytest.mark.parametrize(
    ("exact_g", "weigh_g", "error_g"),
    [
        ("7372.4", "7370", "-2.4"),
        ("7375", "7380", "5"),  # half a step goes up
        ("163.8", "165", "1.2"),
        ("12345", "12350", "5"),
        ("3.44", "3.4", "-0.04"),
        ("0.02", "0.02", "0"),  # a trace is never rounded to nothing
        ("0", "0", "0"),
    ],
)
def test_rounding_is_shown(exact_g, weigh_g, error_g):
    found = round_to_weigh("Sugar", exact_g=D(exact_g))
    assert (found.weigh_g, found.error_g) == (D(weigh_g), D(error_g))


def test_a_large_share_is_flagged():
    # 57.5 -> 60 is 4.3 %; 252 -> 250 is 0.8 %
    assert round_to_weigh("Salt", exact_g=D("57.5")).is_large
    assert not round_to_weigh("Salt", exact_g=D(252)).is_large


def test_a_list_adds_up_and_names_what_is_missing():
    start = start_by_base(DAMSON, base_g=D(8191.5))
    sheet = cost_recipe(rookfold(r105=start.recipe), R1)
    found = weighing_list(sheet)
    # 8191.5 -> 8190; 90 % = 7372.35 -> 7370; 2 % = 163.83 -> 165
    assert [line.weigh_g for line in found.lines] == [8190, 7370, 165]
    assert found.weigh_g == 15725
    assert found.error_g == D("-2.68")
    assert found.unknown == ()
    unweighed = replace(sheet, lines=(*sheet.lines[:2], replace(sheet.lines[2], used_g=None)))
    assert weighing_list(unweighed).unknown == ("Lemon juice",)
    assert weighing_list(unweighed).weigh_g == 15560


def test_spices_by_position():
    assert CHUTNEY.lines[8].name == "Ground ginger"
    half = replace(CHUTNEY.lines[8], used_g=D("57.4"))
    sheet = replace(CHUTNEY, lines=(*CHUTNEY.lines[:8], half))
    assert weighing_list(sheet).lines[8].weigh_g == 55
    assert weighing_list(sheet, spices=[8]).lines[8].weigh_g == 57


@settings(max_examples=100, deadline=None)
@given(st.decimals(D("0.001"), D(60000), places=3), st.booleans())
def test_rounding_is_never_off_by_more_than_half_a_step(exact_g, is_spice):
    found = round_to_weigh("x", exact_g=exact_g, is_spice=is_spice)
    assert abs(found.error_g) <= found.step_g / 2
    assert found.weigh_g > 0


# --- Size -----------------------------------------------------------------------------------------


def test_by_the_puree_in_hand():
    # 6300 / 9000 = 0.7
    start = start_by_base(DAMSON, base_g=D(6300))
    assert (start.factor, start.recipe.base_g) == (D("0.7"), 6300)
    assert "6300 g of the base" in start.because


def test_by_the_mass_wanted():
    start = start_by_net(DAMSON, net_g=D(5000))
    made = cost_recipe(rookfold(r105=start.recipe), R1)
    assert round(made.finished_g, 5) == 5000


def test_by_jars_moulds_and_pieces():
    jars = start_by_jars(DAMSON, jars=20, fill_g=D(342))  # 6840 g
    moulds = start_by_moulds(DAMSON, moulds=4, mould_g=D("2695.14"))  # 10 780.56 g
    # 90 pieces at 24 a mould: 3.75, so 4 moulds and 96 pieces
    pieces = start_by_pieces(DAMSON, pieces=90, pieces_a_mould=24, mould_g=D("2695.14"))
    for start, net_g in ((jars, "6840"), (moulds, "10780.56"), (pieces, "10780.56")):
        made = cost_recipe(rookfold(r105=start.recipe), R1)
        assert round(made.finished_g, 5) == D(net_g)
    assert (jars.units, moulds.units, pieces.units) == (20, 4, 96)


@pytest.mark.parametrize(("pieces", "units"), [(24, 24), (25, 48)])
def test_a_mould_is_filled_whole(pieces, units):
    start = start_by_pieces(DAMSON, pieces=pieces, pieces_a_mould=24, mould_g=D("2695.14"))
    assert start.units == units


def test_by_the_scarcest_ingredient():
    # 9000 puree in hand: 1.0; 4050 sugar: 0.5; so half: 4500 puree used, 4500 left.
    start = start_by_scarcest(DAMSON, in_hand_g={0: D(9000), 1: D(4050)})
    assert start.factor == D("0.5")
    assert start.left_over == {0: 4500, 1: 0}
    assert "White sugar" in start.because
    assert "Lemon juice" in start.cautions[0]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.decimals(D("0.1"), D(20000), places=1), min_size=3, max_size=3))
def test_the_scarcest_leaves_nothing_short(have):
    start = start_by_scarcest(DAMSON, in_hand_g=dict(enumerate(have)))
    assert min(start.left_over.values()) >= D("-1e-20")
    assert 0 in start.left_over.values()


def test_by_a_pan_half_full():
    # Diameter 400, height 200 mm: pi x 20^2 x 20 = 25 133 ml; half 12 566.5 ml; as water
    # 12 566.5 g / 17 280 g = 0.72723
    pan_ml = pan_capacity_ml(diameter_mm=D(400), height_mm=D(200))
    assert pan_ml == 25133
    start = start_by_pan(DAMSON, pan_ml=pan_ml)
    assert round(start.factor, 5) == D("0.72723")
    assert "foams up" in start.cautions[-1]
    # What is denser stands lower: 1.2 times as much.
    denser = start_by_pan(DAMSON, pan_ml=pan_ml, density_g_per_ml=D("1.2"))
    assert round(denser.factor / start.factor, 9) == D("1.2")


@pytest.mark.parametrize(("ingoing_g", "is_said"), [("10000", False), ("10200", True)])
def test_more_than_half_full_is_said(ingoing_g, is_said):
    assert bool(pan_caution(D(ingoing_g), pan_ml=D(20000))) is is_said


# Pairs: from 0.5 to 2 times the recipe nothing but the foam is said.
@pytest.mark.parametrize(("base_g", "said"), [("4499", 2), ("4500", 1), ("18000", 1), ("18100", 2)])
def test_another_size_asks_for_a_second_look(base_g, said):
    start = start_by_base(DAMSON, base_g=D(base_g))
    assert len(start.cautions) == said
    assert ("Review spices" in start.cautions[0]) is (said == 2)


def test_the_film_on_the_pan_stays_the_same():
    recipe = replace(recipe_of(R1), cook=boil_to(75, pan_residue_g=D(30)))
    sheet = cost_recipe(rookfold(r105=recipe), R1)
    twice = start_by_jars(sheet, jars=2, fill_g=sheet.finished_g)
    assert twice.factor < 2
    made = cost_recipe(rookfold(r105=twice.recipe), R1)
    assert made.balance.pan_residue_g == 30


@pytest.mark.parametrize(
    ("call", "field"),
    [
        (lambda: start_by_base(DAMSON, base_g=D(0)), "base_g"),
        (lambda: start_by_base(CHUTNEY, base_g=D(1)), "is_base"),
        (lambda: start_by_net(DAMSON, net_g=D(-1)), "net_g"),
        (lambda: start_by_net(DAMSON, net_g=D("NaN")), "net_g"),
        (lambda: start_by_jars(DAMSON, jars=0, fill_g=D(342)), "jars"),
        (lambda: start_by_jars(DAMSON, jars=1, fill_g=D(0)), "fill_g"),
        (lambda: start_by_moulds(DAMSON, moulds=0, mould_g=D(1)), "moulds"),
        (lambda: start_by_moulds(DAMSON, moulds=1, mould_g=D(0)), "mould_g"),
        (
            lambda: start_by_pieces(DAMSON, pieces=1, pieces_a_mould=0, mould_g=D(1)),
            "pieces_a_mould",
        ),
        (lambda: start_by_scarcest(DAMSON, in_hand_g={}), "in_hand_g"),
        (lambda: start_by_scarcest(DAMSON, in_hand_g={3: D(1)}), "in_hand_g"),
        (lambda: start_by_scarcest(DAMSON, in_hand_g={0: D(0)}), "in_hand_g"),
        (lambda: start_by_scarcest(DAMSON, in_hand_g={0: D(-1)}), "in_hand_g"),
        (lambda: start_by_pan(DAMSON, pan_ml=D(0)), "pan_ml"),
        (lambda: start_by_pan(DAMSON, pan_ml=D(1), full_pct=D("50.1")), "full_pct"),
        (lambda: start_by_pan(DAMSON, pan_ml=D(1), density_g_per_ml=D(1300)), "density_g_per_ml"),
        (lambda: pan_capacity_ml(diameter_mm=D(0), height_mm=D(1)), "diameter_mm"),
        (lambda: round_to_weigh("Salt", exact_g=D(-1)), "amount"),
    ],
)
def test_sizes_that_cannot_be_are_refused_at_their_field(call, field):
    with pytest.raises(ReckoningError) as refused:
        call()
    assert refused.value.field == field


def test_what_is_not_known_stops_the_sum_with_its_question():
    unweighed = replace(DAMSON.lines[0], used_g=None)
    with pytest.raises(MassUnknown):
        start_by_scarcest(
            replace(DAMSON, lines=(unweighed, *DAMSON.lines[1:])), in_hand_g={0: D(1)}
        )
    with pytest.raises(MassUnknown):
        start_by_pan(replace(DAMSON, ingoing_g=None), pan_ml=D(20000))
    with pytest.raises(MassUnknown):
        start_by_net(replace(DAMSON, balance=None), net_g=D(1))


def test_what_is_written_as_bought_is_weighed_as_bought():
    # 9 kg of prepared puree halved are 4.5 kg; written as bought, what is bought counts.
    puree = next(line for line in DAMSON.lines if line.line.is_base)
    halved = as_weighed(DAMSON, factor=D("0.5"))
    assert halved.lines[DAMSON.lines.index(puree)].used_g == puree.used_g / 2 == D(4500)
    bought = replace(puree, line=replace(puree.line, state="as purchased"), purchased_g=D(12000))
    sheet = replace(DAMSON, lines=(bought,))
    assert as_weighed(sheet).lines[0].used_g == D(12000)
