"""What the batches taught, as a page: read by cooks, decided by the owner."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse

from costing.models import Batch, Ingredient, Lesson, Member, Pan, Recipe
from costing.services.learning import learnt
from costing.services.lessons import every_lesson
from tests.builders import a_cook, a_fruit, a_kitchen, an_owner

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(demo):
    return Member.objects.filter(kitchen=demo, role="owner")[0].user


@pytest.fixture
def page(client, demo, owner):
    client.force_login(owner)
    return reverse("lessons", args=[demo.pk])


def apples(demo):
    return Ingredient.objects.get(kitchen=demo, name="Cooking apples")


def odd(demo):
    """The puree of which a box was given away before it was weighed: 11.2 of 20 kg, 56 %."""
    return Batch.objects.get(kitchen=demo, net_g=11200)


def about_apples(demo, **more):
    return {"subject": "usable", "ingredient": apples(demo).pk, **more}


def test_the_page_says_in_words_what_was_learnt_and_from_how_many(client, page):
    # Five damson purees of 24 kg: 17.70, 17.52, 17.60, 17.76, 17.45 kg got past the sieve:
    # 73.75, 73.00, 73.333, 74.00, 72.708 %, together 366.792; (2 x 75 + 366.792) / 7 = 73.83 %.
    text = client.get(page).content.decode()
    assert "From 5 of your batches: 73.8 % ± 0.2." in text
    assert "Usual figure: 75 %." in text
    assert text.count("<svg") >= 12


def test_the_page_shows_that_what_was_learnt_comes_nearer_than_the_usual_figure(client, page):
    # The sums of both averages stand in test_demo_season: 0.661 and 1.646.
    text = " ".join(client.get(page).content.decode().split())
    assert "were off by 0.66 % on average; by the usual figure 1.6 %" in text


def test_a_batch_that_lies_apart_is_asked_about_and_counts_when_its_maker_says_so(
    client, demo, page
):
    # 74.0, 72.8, 73.1 count: (150 + 219.9) / 5 = 73.98; with the 56 %: 425.9 / 6 = 70.98.
    fruit, batch = apples(demo), odd(demo)
    before = learnt(demo, "usable", ingredient=fruit)
    assert (before.batches, round(before.value, 2)) == (3, Decimal("73.98"))
    assert batch.lot in before.questions[0]
    assert f"{batch.lot} gives 56" in client.get(page).content.decode()
    client.post(page, about_apples(demo, do="count", batch=batch.pk))
    counted = learnt(demo, "usable", ingredient=fruit)
    assert (counted.batches, round(counted.value, 2), counted.questions) == (
        4,
        Decimal("70.98"),
        (),
    )
    client.post(page, about_apples(demo, do="leave", batch=batch.pk))
    left = learnt(demo, "usable", ingredient=fruit)
    assert (left.batches, round(left.value, 2), left.questions) == (3, Decimal("73.98"), ())
    client.post(page, about_apples(demo, do="ask", batch=batch.pk))
    assert learnt(demo, "usable", ingredient=fruit).questions == before.questions


def test_the_owner_pins_a_figure_and_lets_the_batches_speak_again(client, demo, page):
    answer = client.post(page, about_apples(demo, do="pin", value="72,5"))
    assert answer.status_code == 302
    assert f"#usable-{apples(demo).pk}-0-0-0" in answer.url
    assert learnt(demo, "usable", ingredient=apples(demo)).value == Decimal("72.5")
    assert "Pinned by you: 72.5 %" in client.get(page).content.decode()
    client.post(page, about_apples(demo, do="let"))
    assert not learnt(demo, "usable", ingredient=apples(demo)).is_pinned


def test_what_was_before_a_day_is_forgotten_and_taken_up_again(client, demo, page):
    day = odd(demo).made_on + timedelta(days=1)  # one apple puree was cooked after it
    client.post(page, about_apples(demo, do="forget", before=day.isoformat()))
    assert learnt(demo, "usable", ingredient=apples(demo)).batches == 1
    assert "do not count" in client.get(page).content.decode()
    client.post(page, about_apples(demo, do="remember"))
    assert learnt(demo, "usable", ingredient=apples(demo)).batches == 3


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"do": "pin", "value": ""}, "Which figure?"),
        ({"do": "pin", "value": "100.1"}, "is not a percentage from 0 to 100"),
        ({"do": "pin", "value": "seventy"}, "seventy"),
        ({"do": "forget", "before": ""}, "From which day on"),
        ({"do": "count"}, "Say which batch"),
    ],
)
def test_what_cannot_be_decided_is_said_where_it_was_typed(client, demo, page, typed, sentence):
    answer = client.post(page, about_apples(demo, **typed))
    assert answer.status_code == 200
    assert sentence in answer.content.decode()
    assert not Lesson.objects.filter(kitchen=demo).exists()


def test_a_share_of_a_hundred_can_be_pinned(client, demo, page):
    client.post(page, about_apples(demo, do="pin", value="100"))
    assert learnt(demo, "usable", ingredient=apples(demo)).value == 100


def test_a_cook_reads_it_and_decides_nothing(client, demo):
    client.force_login(a_cook(demo))
    address = reverse("lessons", args=[demo.pk])
    text = client.get(address).content.decode()
    assert "From 5 of your batches" in text
    assert "Pin this figure" not in text
    assert client.post(address, about_apples(demo, do="pin", value="70")).status_code == 403
    assert not Lesson.objects.filter(kitchen=demo).exists()


def test_another_kitchens_rows_do_not_exist_here(client, demo, page):
    theirs = a_fruit(a_kitchen())
    typed = {"subject": "usable", "ingredient": theirs.pk, "do": "pin", "value": "70"}
    assert client.post(page, typed).status_code == 404
    assert client.post(page, {**typed, "ingredient": 2**70}).status_code == 200


def test_a_kitchen_without_batches_is_told_what_to_do(client):
    owner = an_owner()
    client.force_login(owner)
    kitchen = Member.objects.get(user=owner).kitchen
    text = client.get(reverse("lessons", args=[kitchen.pk])).content.decode()
    assert "Nothing yet" in text


def test_however_much_is_learnt_the_database_is_asked_as_often(demo, django_assert_max_num_queries):
    """Three for what was measured, one for decisions, five for names; whatever the season held."""
    assert len(every_lesson(demo)) >= 12
    with django_assert_max_num_queries(9):
        every_lesson(demo)


def test_all_at_once_and_one_at_a_time_say_the_same(demo):
    for lesson in every_lesson(demo):
        links = {name: row for name, row in lesson.about.links().items() if row is not None}
        assert learnt(demo, lesson.subject, **links) == lesson.learnt, lesson.key
    assert Pan.objects.filter(kitchen=demo).count() == 3
    assert Recipe.objects.filter(kitchen=demo).exists()
