"""What came out of a pan as typed: grams, offcuts kept and thrown away, and what is asked once."""

from decimal import Decimal

import pytest

from costing.forms.cook_finish import CorrectForm, FinishForm, GiveUpForm, PutRightForm
from costing.models import Batch, Mould, Pan
from costing.reckoning.coming_out import Counted, OddFigure

D = Decimal
TRAY = Mould(pk=4, name="Tray", length_mm=D(310), width_mm=D(210), depth_mm=D(40), owned=6)


def finish(**typed):
    form = FinishForm(typed, moulds=[TRAY])
    form.is_valid()
    return form


def test_both_kinds_of_offcuts_stand_at_once_and_only_what_is_thrown_away_is_taken_off():
    # 11.8 kg came out, 0.1 kept, 0.3 thrown away: 11.5 kg bear the cost. 11.8 - 11.385 - 0.4 = 15 g
    form = finish(net_kg="11,8", offcuts_kg="0.1", thrown_kg="0,3")
    out = form.coming_out([Counted("Piece", 110, D(11385))])
    assert (out.kept_g, out.thrown_away_g, out.finished_g, out.rest_g) == (100, 300, 11500, 15)
    assert form.values(tare_g=None)["net_g"] == 11500


@pytest.mark.parametrize(("tare_g", "pot_g"), [(D(4150), 12300), (None, 16450)])
def test_the_pan_is_taken_off_where_its_weight_is_known(tare_g, pot_g):
    form = finish(net_kg="11.8", pot_kg="16,45")
    assert form.values(tare_g=tare_g)["pot_g"] == pot_g


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({}, "net_kg", "How many kilos came out?"),
        ({"net_kg": "0"}, "net_kg", "more than 0"),
        ({"net_kg": "11.8", "moulds_filled": "6"}, "mould", "Which mould were they?"),
        ({"net_kg": "11.8", "mould": "5"}, "mould", "valid choice"),
        ({"net_kg": "11.8", "thrown_kg": "-1"}, "thrown_kg", "0"),
        ({"net_kg": "11.8", "end_brix": "95.1"}, "end_brix", "95"),
        ({"net_kg": "11.8", "end_reading_c": "131"}, "end_reading_c", "130"),
    ],
)
def test_what_cannot_be_kept_is_said_at_its_box(typed, field, words):
    assert words in str(finish(**typed).errors[field])


def test_what_is_seldom_so_is_asked_until_it_was_looked_at_and_the_impossible_always():
    seldom, never = OddFigure("ph", "Read again?"), OddFigure("net_kg", "No.", is_impossible=True)
    form = finish(net_kg="11.8")
    form.ask_about([seldom])
    assert (form.odd, list(form.errors)) == ([seldom], ["ph"])
    looked = finish(net_kg="11.8", checked="on")
    looked.ask_about([seldom])
    assert (looked.odd, looked.is_looked_at, looked.errors) == ([], True, {})
    looked.ask_about([never])
    assert list(looked.errors) == ["net_kg"]


def test_the_boxes_of_a_record_are_filled_so_that_nothing_changes():
    # 11.5 kg are kept, 0.3 were thrown away: 11.8 came out. Pan and food: 12.3 + 4.15 = 16.45.
    batch = Batch(
        net_g=D(11500), pot_g=D(12300), pan=Pan(tare_g=D(4150)), mould_id=4, moulds_filled=6
    )
    form = PutRightForm(None, batch=batch, moulds=[TRAY], kept_g=D(100), thrown_away_g=D(300))
    names = ("net_kg", "pot_kg", "offcuts_kg", "thrown_kg", "mould", "moulds_filled")
    shown = [form[name].value() for name in names]
    assert shown == ["11.8", "16.45", "0.1", "0.3", 4, 6]


@pytest.mark.parametrize(
    ("form", "field"),
    [
        (CorrectForm({"value": "103", "key": "0123456789abcdef"}, unit="°C"), "reason"),
        (CorrectForm({"reason": "Slip", "key": "0123456789abcdef"}, unit="°C"), "value"),
        (CorrectForm({"value": "103", "reason": "Slip", "key": "x"}, unit="°C"), "key"),
        (GiveUpForm({"reason": " "}), "reason"),
    ],
)
def test_a_correction_and_giving_up_need_their_reason(form, field):
    assert list(form.errors) == [field]
