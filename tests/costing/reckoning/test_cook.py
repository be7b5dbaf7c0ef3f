"""Where the mass goes, for every kind of cook."""

from dataclasses import replace
from decimal import Decimal

import pytest

from costing.reckoning.book import (
    BOIL_DOWN,
    COOK_LOSS,
    FINAL_WEIGHT,
    NO_COOK,
    READING,
    SHARE,
    WEIGHED_OUT,
    CookRecord,
    KitchenRecord,
)
from costing.reckoning.cook import balance, cook_pan
from costing.reckoning.errors import MassUnknown, ReckoningError
from tests.costing.reckoning.builders import (
    ROOKFOLD,
    a_food,
    boil_to,
    in_pan,
    raw,
    sugar,
    water,
)

D = Decimal
AT_SEA = KitchenRecord(altitude_m=D(0))
LEMON_JUICE = a_food(
    4, "Lemon juice", brix=D("8.5"), insoluble_pct=D(0), hexose_share=D("0.3"), acid_share=D("0.7")
)
DAMSON_PASTE = [
    in_pan(a_food(insoluble_pct=D("1.8")), 2000),
    in_pan(sugar(), 1400),
    in_pan(LEMON_JUICE, 40),
]


def adds_up(mass):
    return mass.ingoing_g == (
        mass.evaporated_g
        + mass.sieved_out_g
        + mass.pan_residue_g
        + mass.handling_loss_g
        + mass.finished_g
    )


def test_a_damson_paste_stopped_by_a_thermometer_that_reads_boiling_water():
    # Solids balance by hand: fruit 0.125 x (2000 - 36) = 245.50, juice 3.40, sugar 1400; a
    # quarter of 1436.825 g of sucrose splits and binds 18.015/342.30 of its mass: 18.91 g, so
    # S = 1667.81. At a true 104.8 C under 1013 hPa the liquid is at 65.84 Brix (water activity
    # after Starzak & Peacock 1997 and Norrish 1966): 1667.81 / 0.6584 + 36 = 2569.0 g.
    cook = CookRecord(
        kind=BOIL_DOWN,
        stop_form=READING,
        stop_value=D("104.8"),
        water_reading_c=D("99.974"),
        pan_residue_g=D(30),
    )
    mass = balance(DAMSON_PASTE, cook=cook, kitchen=AT_SEA)

    assert abs(mass.finishing_brix - D("65.84")) < D("0.02")
    assert abs(mass.pot_g - D("2569.0")) < D("0.8")
    assert abs(mass.evaporated_g - D("871.0")) < D("0.8")
    assert abs(mass.finished_g - D("2539.0")) < D("0.8")
    assert abs(mass.total_solids_pct - D("66.3")) < D("0.05")
    assert adds_up(mass)


def test_strawberry_jam_to_65_with_and_without_inversion():
    # 0.08 x (1000 - 20) = 78.4; 1078.4 / 0.65 + 20 = 1679.08; with a quarter of the 1011.76 g
    # of sucrose split, 1091.71 / 0.65 + 20 = 1699.56.
    jam = [in_pan(a_food(brix=D(8), insoluble_pct=D(2)), 1000), in_pan(sugar(), 1000)]
    assert round(balance(jam, cook=boil_to(65), kitchen=AT_SEA).pot_g, 2) == D("1679.08")
    split = balance(jam, cook=boil_to(65, inverted_pct=D(25)), kitchen=AT_SEA)
    assert round(split.pot_g, 2) == D("1699.56")
    assert adds_up(split)


def test_losses_on_the_pan_and_in_handling_follow_each_other():
    # 1000 g at 50 Brix to 80: 625 g; 4 % + 10 g = 35 on the pan; 2 % of 590 = 11.8 handled away.
    cook = boil_to(80, pan_residue_pct=D(4), pan_residue_g=D(10), handling_loss_pct=D(2))
    mass = balance([raw(1000, soluble="500")], cook=cook, kitchen=AT_SEA)
    assert (mass.pan_residue_g, mass.handling_loss_g) == (35, D("11.8"))
    assert mass.finished_g == D("578.2")
    assert adds_up(mass)


def test_a_known_cook_loss_needs_no_brix():
    # 1000 less 38 % = 620.
    chutney = [in_pan(a_food(brix=None, insoluble_pct=None), 1000)]
    mass = balance(chutney, cook=CookRecord(kind=COOK_LOSS, cook_loss_pct=D(38)), kitchen=AT_SEA)
    assert (mass.evaporated_g, mass.finished_g) == (380, 620)
    assert mass.finishing_brix is None
    assert mass.reading_c is None


def test_what_is_weighed_out_leaves_the_rest_in_the_sieve():
    # 26.4 kg in, 1.2 of steam, 18.0 out: 7.2 kg of stones and skins.
    cook = CookRecord(kind=WEIGHED_OUT, finished_g=D(18000), evaporated_g=D(1200))
    mass = balance([raw(24000), raw(2400)], cook=cook, kitchen=AT_SEA)
    assert mass.sieved_out_g == 7200
    assert adds_up(mass)


def test_weighed_out_works_its_losses_backwards():
    # 882 out after 2 % handling: 900; with 10 g and 9 % on the pan: 910 / 0.91 = 1000.
    cook = CookRecord(
        kind=WEIGHED_OUT,
        finished_g=D(882),
        evaporated_g=D(100),
        handling_loss_pct=D(2),
        pan_residue_pct=D(9),
        pan_residue_g=D(10),
    )
    mass = balance([raw(1200)], cook=cook, kitchen=AT_SEA)
    assert (mass.pot_g, mass.pan_residue_g, mass.handling_loss_g) == (1000, 100, 18)
    assert mass.sieved_out_g == 100
    assert adds_up(mass)


def test_steam_that_was_not_weighed_is_asked_for_unless_nothing_was_heated():
    cook = CookRecord(kind=WEIGHED_OUT, finished_g=D(800))
    cooked = cook_pan([raw(1000)], cook=cook, kitchen=AT_SEA, name="Puree")
    assert [q.about for q in cooked.questions] == ["evaporated"]
    assert not cooked.evaporated_is_known
    cold = cook_pan([raw(1000)], cook=replace(cook, is_heated=False), kitchen=AT_SEA)
    assert not cold.questions
    assert cold.balance.sieved_out_g == 200


def test_what_is_only_mixed_keeps_its_mass():
    mass = balance([raw(500), raw(500)], cook=CookRecord(kind=NO_COOK), kitchen=AT_SEA)
    assert (mass.ingoing_g, mass.evaporated_g, mass.finished_g) == (1000, 0, 1000)


def test_a_measured_brix_of_a_puree_counts_instead_of_what_went_in():
    cook = CookRecord(kind=WEIGHED_OUT, finished_g=D(1000), evaporated_g=D(0), inverted_pct=D(0))
    pan = [in_pan(a_food(brix=D(12), insoluble_pct=D(2)), 1100)]
    worked_out = cook_pan(pan, cook=cook, kitchen=AT_SEA, name="Puree")
    assert "Measure its Brix once" in " ".join(worked_out.balance.cautions)
    assert round(worked_out.balance.finishing_brix, 6) == 12
    measured = replace(cook, measured_brix=D(13), measured_insoluble_pct=D(1))
    cooked = cook_pan(pan, cook=measured, kitchen=AT_SEA, name="Puree")
    # 1 % of 1000 = 10 g of fibre; 13 % of 990 = 128.7 g.
    assert (cooked.solids.soluble_g, cooked.solids.insoluble_g) == (D("128.7"), 10)
    assert sum((cooked.solids.sucrose_g, cooked.solids.hexose_g, cooked.solids.acid_g)) == D(
        "128.7"
    )


def test_a_main_ingredient_of_unknown_brix_is_asked_about():
    with pytest.raises(MassUnknown) as asked:
        balance([in_pan(a_food(brix=None), 1000), in_pan(sugar(), 500)], cook=boil_to(66),
                kitchen=AT_SEA)  # fmt: skip
    (question,) = asked.value.questions
    assert (question.about, question.blocks, question.ingredient_id) == ("brix", "mass", 1)
    assert "What is the Brix of Damson puree?" in question.sentence


# Pair: 1.0 % of the pan unknown is bounded and said; 1.1 % is asked about.
def test_a_pinch_of_unknown_solids_is_counted_as_fibre_and_said():
    spice = in_pan(a_food(9, "Cinnamon", brix=None), 10)
    mass = balance([raw(990, soluble="495"), spice], cook=boil_to(66), kitchen=AT_SEA)
    assert mass.pot_g == D("760")  # 495 / 0.66 + 10
    assert any("solids of Cinnamon are not known; being 1.0 %" in said for said in mass.cautions)
    with pytest.raises(MassUnknown):
        balance(
            [raw(989, soluble="495"), replace(spice, mass_g=D(11), edible_g=D(11))],
            cook=boil_to(66),
            kitchen=AT_SEA,
        )


def test_final_weight_and_share_need_no_brix():
    pan = [in_pan(a_food(brix=None), 1000)]
    by_weight = CookRecord(kind=BOIL_DOWN, stop_form=FINAL_WEIGHT, stop_value=D(700))
    assert balance(pan, cook=by_weight, kitchen=AT_SEA).evaporated_g == 300
    by_share = CookRecord(kind=BOIL_DOWN, stop_form=SHARE, stop_value=D(70))
    assert balance(pan, cook=by_share, kitchen=AT_SEA).evaporated_g == 300


@pytest.mark.parametrize(
    ("cook", "about"),
    [
        (CookRecord(kind=BOIL_DOWN), "stop"),
        (CookRecord(kind=COOK_LOSS), "cook loss"),
        (CookRecord(kind=WEIGHED_OUT), "finished weight"),
    ],
)
def test_a_cook_without_its_figure_is_asked_for_it(cook, about):
    with pytest.raises(MassUnknown) as asked:
        balance([raw(1000, soluble="500")], cook=cook, kitchen=AT_SEA, name="Paste")
    assert asked.value.questions[0].about == about
    assert "Paste" in str(asked.value)


@pytest.mark.parametrize(
    ("cook", "field", "says"),
    [
        (CookRecord(kind="fry"), "cook_kind", "not a way to cook"),
        (boil_to(66, pan_residue_pct=D(100)), "pan_residue_pct", "below 100"),
        (boil_to(66, pan_residue_pct=D(-1)), "pan_residue_pct", "at least 0"),
        (boil_to(66, handling_loss_pct=D(100)), "handling_loss_pct", "below 100"),
        (boil_to(66, pan_residue_g=D(-1)), "pan_residue_g", "negative"),
        (boil_to(66, pan_residue_g=D(1000)), "pan_residue_g", "stick to the pan"),
        (boil_to(66, inverted_pct=D(96)), "inverted_pct", "between 0 and 95"),
        (CookRecord(kind=COOK_LOSS, cook_loss_pct=D(100)), "cook_loss_pct", "below 100"),
        (CookRecord(kind=COOK_LOSS, cook_loss_pct=D(60)), "cook_loss_pct", "Only water"),
        (CookRecord(kind=WEIGHED_OUT, finished_g=D(0)), "finished_g", "Nothing was weighed"),
        (CookRecord(kind=WEIGHED_OUT, finished_g=D(-5)), "finished_g", "negative"),
        (
            CookRecord(kind=WEIGHED_OUT, finished_g=D(900), evaporated_g=D(101)),
            "finished_g",
            "more than the 1000.0 g that went in",
        ),
        (boil_to(66, measured_brix=D(101)), "measured_brix", "not a percentage"),
    ],
)
def test_cooks_that_cannot_be_are_refused_in_a_sentence(cook, field, says):
    with pytest.raises(ReckoningError) as refused:
        balance([raw(1000, soluble="500")], cook=cook, kitchen=AT_SEA)
    assert refused.value.field == field
    assert says in str(refused.value)


def test_an_empty_pan_is_refused():
    with pytest.raises(ReckoningError, match="Nothing goes into the pan"):
        balance([], cook=boil_to(66), kitchen=ROOKFOLD)


def test_water_alone_cannot_be_concentrated():
    with pytest.raises(ReckoningError, match="Nothing to concentrate"):
        balance([in_pan(water(), 1000)], cook=boil_to(66), kitchen=ROOKFOLD)


# Pair: boiled to dryness is the edge; one gram less cannot be.
def test_a_cook_loss_cannot_take_more_than_the_water():
    pan = [raw(1000, soluble="400", insoluble="100")]
    dry = balance(pan, cook=CookRecord(kind=COOK_LOSS, cook_loss_pct=D(50)), kitchen=AT_SEA)
    assert (dry.finished_g, dry.total_solids_pct) == (500, 100)
    with pytest.raises(ReckoningError, match=r"less than the 500\.0 g of solids"):
        balance(pan, cook=CookRecord(kind=COOK_LOSS, cook_loss_pct=D("50.1")), kitchen=AT_SEA)


# Pair: 100 is a Brix (dry sugar), 101 is refused above.
def test_dry_sugar_may_be_measured_at_a_hundred():
    cook = CookRecord(kind=NO_COOK, measured_brix=D(100), measured_insoluble_pct=D(0))
    cooked = cook_pan([in_pan(sugar(), 1000)], cook=cook, kitchen=AT_SEA)
    assert cooked.solids.soluble_g == 1000


def test_a_measured_brix_is_shown_where_the_stop_was_not_one():
    chutney = [in_pan(a_food(brix=D(10)), 1000)]
    loss = CookRecord(kind=COOK_LOSS, cook_loss_pct=D(50), measured_brix=D(24), inverted_pct=D(0))
    assert balance(chutney, cook=loss, kitchen=AT_SEA).finishing_brix == 24
    worked_out = replace(loss, measured_brix=None)
    assert balance(chutney, cook=worked_out, kitchen=AT_SEA).finishing_brix == 20
