"""The recipe form: what is read from its boxes, and what is said where nothing can be read."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.forms.recipe_fields import (
    MassField,
    MinutesField,
    ResidueField,
    mass_as_typed,
    minutes_as_typed,
    read_minutes,
    read_stop,
)
from costing.forms.recipe_lines import TypedLines
from costing.forms.recipes import RecipeForm
from costing.models import RecipeVersion
from costing.reckoning.book import AS_PURCHASED, BRIX, FINAL_WEIGHT, READING
from costing.units import UnitsError
from tests.builders import a_kitchen, a_recipe, sugar


def typed(**boxes):
    """A posted form, complete but for the lines."""
    return {
        "name": "Damson cheese",
        "kind": "fruit paste",
        "cook_kind": "boil down",
        "stop_form": "brix",
        "stop_value": "66",
        "on_label": "merged",
    } | boxes


def line(number, what, amount, **more):
    boxes = {"what": what, "amount": amount} | more
    return {f"line-{number}-{name}": value for name, value in boxes.items()}


def form(**boxes):
    return RecipeForm(typed(**boxes), kitchen=a_kitchen())


# --- Times, weights, what sticks to the pan ------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("150", 150),
        ("150 min", 150),
        ("2 h 30", 150),
        ("2h30", 150),
        ("2:30", 150),
        ("2,5 h", 150),
        ("2.5 hours", 150),
        ("1 h 15 min", 75),
        ("0", 0),
    ],
)
def test_a_time_is_read_in_minutes_or_hours(text, minutes):
    assert read_minutes(text) == minutes


@pytest.mark.parametrize(
    "text", ["soon", "2 h and a bit", "h", ":", "🍓", "<b>2</b>", "1e3", "{{7}}"]
)
def test_a_time_that_cannot_be_read_is_answered_with_an_example(text):
    with pytest.raises((UnitsError, ValidationError)):
        MinutesField().read(text)


@pytest.mark.parametrize("text", ["-5", "10081", "400 h"])
def test_nobody_stands_at_a_pan_for_less_than_nothing_or_more_than_a_week(text):
    with pytest.raises(ValidationError):
        MinutesField().read(text)


@pytest.mark.parametrize("minutes", ["0", "45", "60", "150", "7.5"])
def test_a_time_written_out_reads_as_itself(minutes):
    assert read_minutes(minutes_as_typed(Decimal(minutes))) == Decimal(minutes)


@pytest.mark.parametrize(
    ("text", "residue"),
    [
        ("3,5 %", ("3.5", "0")),
        ("3.5", ("3.5", "0")),
        ("400 g", ("0", "400")),
        ("0,4 kg", ("0", "400")),
        ("3 % + 20 g", ("3", "20")),
        ("0", ("0", "0")),
        ("0 %", ("0", "0")),
    ],
)
def test_what_stays_on_the_pan_is_a_share_or_a_weight(text, residue):
    assert ResidueField().read(text) == tuple(Decimal(part) for part in residue)


@pytest.mark.parametrize("text", ["100 %", "-3 %", "3 l", "60 % + 50 %", "most of it"])
def test_what_cannot_stay_on_a_pan_is_refused(text):
    with pytest.raises((UnitsError, ValidationError)):
        ResidueField().read(text)


@pytest.mark.parametrize("grams", ["430", "9000", "2375", "1250", "0.5", "12321.6"])
def test_a_weight_written_out_reads_as_itself(grams):
    # 2375 g would be 2.375 kg, which is asked about; so it is written with one nought more.
    assert MassField().read(mass_as_typed(Decimal(grams))) == Decimal(grams)


def test_nothing_may_boil_off_but_not_nothing_be_finished():
    assert MassField(or_nought=True).read("0 kg") == 0
    with pytest.raises(UnitsError):
        MassField().read("0 kg")


@pytest.mark.parametrize(
    ("text", "how", "value"),
    [
        ("66", BRIX, "66"),
        ("66,5 Brix", BRIX, "66.5"),
        ("104.4 °C", READING, "104.4"),
        ("12,3 kg", FINAL_WEIGHT, "12300"),
        ("12,3", FINAL_WEIGHT, "12300"),
    ],
)
def test_the_stopping_point_may_carry_its_unit(text, how, value):
    assert read_stop(text, form=how) == Decimal(value)


@pytest.mark.parametrize(("text", "how"), [("66 kg", BRIX), ("12 l", FINAL_WEIGHT), ("0", BRIX),
                                           ("-4", READING), ("1001", READING)])  # fmt: skip
def test_a_stopping_point_of_the_wrong_kind_is_refused(text, how):
    with pytest.raises((UnitsError, ValidationError)):
        read_stop(text, form=how)


# --- Lines ---------------------------------------------------------------------------------------


def test_rows_are_read_in_their_order_and_blank_ones_passed_over():
    lines = TypedLines.posted(
        line(7, "i3", "90 %") | line(2, "p5", "9 kg", base="on") | line(4, "", "  ")
    )
    first, second = lines.read()
    assert (first.recipe_id, first.amount, first.unit, first.is_base) == (5, 9, "kg", True)
    assert (second.ingredient_id, second.amount, second.unit) == (3, 90, "%")
    assert lines.is_readable


def test_a_number_alone_is_kilos():
    (read,) = TypedLines.posted(line(0, "i3", "2,5", state=AS_PURCHASED)).read()
    assert (read.amount, read.unit, read.state) == (Decimal("2.5"), "kg", "as purchased")


@pytest.mark.parametrize(
    ("what", "amount", "box"),
    [
        ("i3", "", "amount"),
        ("i3", "some", "amount"),
        ("i3", "1.250 kg", "amount"),
        ("i3", "5 m", "amount"),
        ("", "2 kg", "what"),
        ("x9", "2 kg", "what"),
        ("i3; drop table", "2 kg", "what"),
    ],
)
def test_a_row_that_cannot_be_read_says_so_at_its_box(what, amount, box):
    lines = TypedLines.posted(line(0, what, amount))
    assert lines.read() == []
    (mistake,) = lines.mistakes()
    assert mistake.anchor == f"line-0-{box}"
    assert mistake.sentence.endswith((".", "?"))


def test_what_a_service_says_of_a_line_stands_at_its_row_blank_rows_not_counted():
    lines = TypedLines.posted(line(0, "i1", "1 kg") | line(1, "", "") | line(2, "i2", "1 kg"))
    lines.read()
    lines.blame("Line 2 (Sugar (white)): choose something else.")
    assert lines.rows[2].errors
    lines.blame("A recipe needs at least one line.")
    assert lines.faults == ["A recipe needs at least one line."]


def test_taking_out_a_row_keeps_what_the_others_say():
    lines = TypedLines.posted(line(0, "i1", "8,1 kg") | line(1, "i2", "tw") | line(2, "i3", "3"))
    lines.take_out(1)
    assert [row.amount for row in lines.rows] == ["8,1 kg", "3"]
    lines.take_out(99)
    lines.add()
    assert len(lines.rows) == 3


def test_a_thousand_rows_are_cut_off_and_not_read_for_ever():
    data = {}
    for number in range(999):
        data |= line(number, "i1", "1")
    assert len(TypedLines.posted(data).rows) == 120


# --- The form as a whole -------------------------------------------------------------------------

pytestmark = pytest.mark.django_db


def test_boxes_of_another_way_of_finishing_are_not_mistaken():
    wrong = {"stop_value": "hot", "cook_loss_pct": "lots"}
    assert not form(**line(0, "i1", "1"), **wrong).is_valid()
    mixed = form(**line(0, "i1", "1"), **wrong, cook_kind="no cook")
    assert mixed.is_valid(), mixed.mistakes()
    assert mixed.version_values()["stop_value"] is None


def test_the_default_share_of_split_sugar_is_taken_when_the_box_is_empty():
    one = form(**line(0, "i1", "1"), inverted_pct="")
    assert one.is_valid()
    assert one.version_values()["inverted_pct"] == 25


def test_comma_and_point_are_the_same():
    boxes = {"pan_residue": "3.5 %", "stop_value": "66.5", "base_weight": "9.5 kg",
             "attended": "2.5 h", "water_reading_c": "99.4"}  # fmt: skip
    with_point = form(**line(0, "i1", "2.5 kg"), **boxes)
    with_comma = form(
        **line(0, "i1", "2,5 kg"), **{name: text.replace(".", ",") for name, text in boxes.items()}
    )
    assert with_point.is_valid()
    assert with_comma.is_valid()
    assert with_point.version_values() == with_comma.version_values()
    assert with_point.line_inputs() == with_comma.line_inputs()


def test_a_saved_recipe_stands_in_the_form_so_that_it_reads_as_itself():
    kitchen = a_kitchen()
    recipe = a_recipe(
        kitchen, lines=[(sugar(kitchen), "2.375", "kg")], cook_kind="boil down",
        stop_form="final weight", stop_value="2375", pan_residue_pct="3.5", pan_residue_g="20",
        attended_minutes="150", base_g="9000", inverted_pct="30", handling_loss_pct="1.25",
    )  # fmt: skip
    version = RecipeVersion.objects.select_related("recipe").get(recipe=recipe)
    shown = RecipeForm(kitchen=kitchen, version=version)
    data = {name: shown[name].value() for name in shown.fields}
    data = {name: value for name, value in data.items() if value not in (None, False)}
    for number, row in enumerate(shown.lines.rows):
        data |= line(number, row.what, row.amount, state=row.state)
    again = RecipeForm(data, kitchen=kitchen, version=version)
    assert again.is_valid(), again.mistakes()
    for name, value in again.version_values().items():
        assert value == getattr(version, name), name
    assert again.line_inputs()[0].amount == Decimal("2.375")


def test_every_service_fault_reaches_a_box_or_the_top():
    one = form(**line(0, "i1", "1"))
    assert one.is_valid()
    one.take(ValidationError({"base_g": ["Too light."], "lines": ["Line 1: no."], "odd": ["?!"]}))
    anchors = {mistake.sentence: mistake.anchor for mistake in one.mistakes()}
    assert anchors == {"Too light.": "id_base_weight", "No.": "line-0-amount", "?!": ""}


def test_a_row_half_filled_is_not_a_misunderstanding_and_a_bad_figure_is():
    half = form(**line(0, "i1", "1 kg"), **line(1, "i2", ""))
    half.is_valid()
    assert half.is_clear
    bad = form(**line(0, "i1", "1 kg"), **line(1, "i2", "8,1 kq"))
    bad.is_valid()
    assert not bad.is_clear
