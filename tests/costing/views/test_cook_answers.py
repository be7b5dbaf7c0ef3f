"""What the stove asks, answered by one tap; the pH; bad input; and the page for a lost network."""

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse

from costing.models import BatchReading
from costing.selectors.batches import events_in_force
from costing.services.batches import finish_batch, note_event
from tests.builders import (
    NOON,
    a_batch,
    a_cook,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_pan,
    a_recipe,
    an_owner,
    sugar,
)

pytestmark = pytest.mark.django_db
D = Decimal
BY_SCRIPT = {"X-Requested-With": "stove"}
# The paste: 9 kg puree of 12.5 Brix, 8.1 kg sugar, 0.18 kg lemon juice: 17.28 kg go in, of which
# 9.24 kg are solids; to 75 Brix, in a pan of 3 kg.


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def batch(kitchen):
    pan = a_pan(kitchen, evaporation_g_per_min=60)
    return a_batch(a_damson_paste(kitchen), pan=pan, water_reading_c=D("99.9"))


@pytest.fixture
def stove(client, kitchen, batch):
    client.force_login(a_cook(kitchen))
    return Stove(client, kitchen, batch)


class Stove:
    """A cook at the page of one batch."""

    def __init__(self, client, kitchen, batch):
        self.client, self.kitchen, self.batch = client, kitchen, batch
        self.count = 0

    def at(self, name):
        return reverse(name, args=[self.kitchen.pk, self.batch.pk])

    def page(self):
        return self.client.get(self.at("cook")).content.decode()

    def read(self, kind, value, **more):
        self.count += 1
        sent = {"kind": kind, "value": value, "key": f"{self.count:032x}", **more}
        answer = self.client.post(self.at("cook_event"), sent, headers=BY_SCRIPT)
        return answer.status_code, answer.content.decode()

    def answer(self, text, code, *, headers=None):
        """Press the button of a question, as a browser without a script would."""
        form = next(
            one for one in re.findall(r"<form.*?</form>", text, re.DOTALL) if f'"{code}"' in one
        )
        fields = dict(re.findall(r'name="(reading|answer|key)" value="([^"]+)"', form))
        return self.client.post(self.at("cook_answer"), fields, headers=headers or {})


def in_force(batch):
    return [(row.kind, row.value, row.tare_g) for row in events_in_force(batch)]


def test_fahrenheit_is_asked_and_one_tap_makes_it_celsius(stove):
    # (220.3 - 32) / 1.8 = 104.61.
    _, text = stove.read("temperature", "220,3")
    assert "Is that Fahrenheit?" in text
    assert "Fahrenheit, yes: 104.6" in text
    assert stove.answer(text, "meant").status_code == 302
    assert in_force(stove.batch) == [("temperature", D("104.600"), None)]
    (first, second) = BatchReading.objects.order_by("id")
    assert (second.corrects, second.read_at) == (first, first.read_at)
    assert "Fahrenheit" not in stove.page()


def test_a_forgotten_tare_is_asked_and_one_tap_puts_the_pan_back(stove):
    # 11 kg on a scale set to zero with the pan: 8 kg would be less than the 9.24 kg of solids.
    _, text = stove.read("weight", "11")
    assert "Was the scale set to zero" in text
    assert "The pan was not in it: 11.00" in text
    stove.answer(text, "meant", headers=BY_SCRIPT)
    assert in_force(stove.batch) == [("weight", D(11000), D(0))]
    assert "Was the scale set to zero" not in stove.page()


def test_a_pan_weighed_with_the_food_is_asked_and_taken_off(stove):
    # 18 kg said to be food alone: more than the 17.28 kg that went in; less the pan 15 kg.
    at = NOON + timedelta(minutes=10)
    note_event(stove.batch, by=None, kind="weight", value=D(18000), key="a", read_at=at)
    text = stove.page()
    assert "The pan was in it: 15.00" in text
    stove.answer(text, "meant")
    assert in_force(stove.batch) == [("weight", D(18000), D(3000))]


def test_a_misread_figure_is_struck_out_by_one_tap_and_stays_in_the_record(stove):
    _, text = stove.read("temperature", "45")
    assert "is below boiling water" in text
    stove.answer(text, "strike")
    assert in_force(stove.batch) == []
    assert BatchReading.objects.count() == 2


def test_the_same_answer_twice_is_kept_once_and_another_is_told_it_is_late(stove):
    _, text = stove.read("temperature", "220")
    for _ in range(2):
        assert stove.answer(text, "meant", headers=BY_SCRIPT).status_code == 200
    assert BatchReading.objects.count() == 2
    late = stove.answer(text, "strike", headers=BY_SCRIPT)
    assert BatchReading.objects.count() == 2
    assert "not asked any more" in late.content.decode()
    assert "Is that Fahrenheit?" not in late.content.decode()


@pytest.mark.parametrize("answer", [{}, {"reading": "999", "answer": "meant"}, {"reading": "x"}])
def test_an_answer_to_nothing_is_refused_in_a_sentence(stove, answer):
    told = stove.client.post(stove.at("cook_answer"), answer, headers=BY_SCRIPT)
    assert "not asked any more" in told.content.decode()


@pytest.mark.parametrize(
    ("kind", "value", "words"),
    [
        ("temperature", "99,2", "is below boiling water"),
        ("weight", "25,4", "more than the 17280 g that went in"),
        ("weight", "9,1", "no more than the 9241 g of solids"),
    ],
)
def test_what_cannot_be_is_kept_and_asked_about(stove, kind, value, words):
    status, text = stove.read(kind, value)
    assert status == 200
    assert words in text
    assert "strike it out" in text


def test_a_refractometer_read_hot_is_asked_about_and_not_used(stove):
    status, text = stove.read("brix", "64,5", sample_c="60")
    assert status == 200
    assert "a hot drop shows too little" in text
    assert "Nothing read yet tells how far it is" in text


@pytest.mark.parametrize(("value", "is_kept"), [("130", True), ("130,1", False), ("1O4", False)])
def test_above_130_degrees_is_refused_and_130_is_not(stove, value, is_kept):
    status, _ = stove.read("temperature", value)
    assert (status == 200) is is_kept
    assert BatchReading.objects.exists() is is_kept


@pytest.mark.parametrize("value", ["103,4", "103.4", " 103,40 "])
def test_commas_and_points_are_the_same_reading(stove, value):
    status, _ = stove.read("temperature", value)
    assert status == 200
    assert BatchReading.objects.get().value == D("103.4")


def test_set_and_keeping_stand_on_the_page_the_worst_first_and_promise_nothing(stove):
    text = stove.page()
    assert "no process authority" in text
    assert "water activity" in text.lower()
    assert "± 0.02" in text
    assert "common practice" in text
    assert "What is the pH of the finished, cooled food?" in text
    words = re.findall(r"<b>(Outside|Not known|Inside)[^.]*\.</b>", text)
    assert words == sorted(words, key=["Outside", "Not known", "Inside"].index)
    assert words


def test_the_chapter_stands_open_for_a_fruit_that_may_be_low_in_acid_until_its_ph_is_known(client):
    kitchen = a_kitchen()
    figs = a_fruit(kitchen, name="Figs", brix=17)
    jam = a_recipe(kitchen, lines=[(figs, 5), (sugar(kitchen), 4)], cook_kind="boil down",
                   stop_form="brix", stop_value=65)  # fmt: skip
    client.force_login(a_cook(kitchen))
    stove = Stove(client, kitchen, a_batch(jam))
    assert '<details class="more" id="keeping" open>' in stove.page()
    assert "Figs may be low in acid" in stove.page()
    client.post(stove.at("cook_ph"), {"ph": "3.9"})
    assert '<details class="more" id="keeping">' in stove.page()


def test_a_ph_is_kept_from_the_stove_and_need_not_be_typed_again(stove):
    stove.client.post(stove.at("cook_ph"), {"ph": "3,4"})
    stove.batch.refresh_from_db()
    assert stove.batch.ph == D("3.4")
    assert "What is the pH of" not in stove.page()
    finish = stove.client.get(stove.at("cook_finish")).content.decode()
    assert re.search(r'name="ph"[^>]*value="3.4', finish) or re.search(
        r'value="3.4[^>]*name="ph"', finish
    )


@pytest.mark.parametrize("typed", ["34", "", "sour"])
def test_a_ph_no_food_has_comes_back_with_its_reason(stove, typed):
    text = stove.client.post(stove.at("cook_ph"), {"ph": typed}).content.decode()
    assert 'id="ph-refused"' in text
    assert f'value="{typed}"' in text
    told = stove.client.post(stove.at("cook_ph"), {"ph": typed}, headers=BY_SCRIPT)
    assert told.status_code == 422
    stove.batch.refresh_from_db()
    assert stove.batch.ph is None


def test_what_is_left_to_boil_off_is_said_of_a_soft_pan_and_water_of_one_gone_too_far(stove):
    # 75 Brix: 9241 x 100/75 = 12 322 g; 16 kg are 3678 g over it, 11.5 kg 822 g under.
    _, text = stove.read("weight", "19")
    assert "Too soft yet by solids: 3678 g of water to boil off" in text
    _, text = stove.read("weight", "14,5")
    assert "Stir in 822 g of hot water" in text
    assert "Too soft yet" not in text
    assert "a kilo costs" not in text


def test_the_owner_is_told_what_going_too_far_costs(stove):
    # 3.5 % stays on the pan either way: 12 322 g for 11 500 g is 7.1 % more for each kilo.
    stove.read("weight", "14,5")
    stove.client.force_login(an_owner(stove.kitchen))
    assert "a kilo costs 7.1 % more" in stove.page()


def test_a_paste_that_is_done_shows_when_it_can_be_cut_and_packed(stove):
    assert "Ready to cut" not in stove.page()
    _, text = stove.read("weight", "15,3")
    assert "Done, as far as these readings tell" in text
    assert "Ready to cut" in text
    assert "Ready to pack" in text
    at = NOON + timedelta(hours=2)
    finish_batch(stove.batch, by=None, finished_at=at, values={"net_g": D(11000)})
    text = stove.page()
    assert "Ready to cut" in text


def test_only_a_page_on_the_fire_is_marked_for_keeping_and_the_script_reaches_one_batch(stove):
    page = stove.client.get(stove.at("cook"))
    assert page["X-Stove"]
    worker = stove.client.get(stove.at("cook_worker"))
    assert worker["Content-Type"] == "text/javascript"
    assert stove.at("cook_worker").startswith(stove.at("cook"))
    at = NOON + timedelta(hours=2)
    finish_batch(stove.batch, by=None, finished_at=at, values={"net_g": D(11000)})
    assert "X-Stove" not in stove.client.get(stove.at("cook"))


def test_more_readings_do_not_make_more_questions_to_the_database(
    stove, django_assert_max_num_queries
):
    def queries(limit):
        with django_assert_max_num_queries(limit) as counted:
            stove.page()
        return len(counted)

    stove.page()
    stove.read("temperature", "101")
    few = queries(60)
    for value in ("101,5", "45", "102", "220"):
        stove.read("temperature", value)
    assert queries(60) == few
