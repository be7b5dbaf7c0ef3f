"""Pages of the moulds: the list, a new one, a change."""

from decimal import Decimal

import pytest
from django.urls import reverse

from costing.models import Mould
from tests.builders import a_cook, a_kitchen, a_mould

pytestmark = pytest.mark.django_db
TYPED = {"name": "Steel tray", "length_mm": "310", "width_mm": "210,5", "depth_mm": "40"}


@pytest.fixture
def kitchen():
    return a_kitchen()


@pytest.fixture
def cook(client, kitchen):
    client.force_login(a_cook(kitchen))
    return client


def _at(name, kitchen, *more):
    return reverse(name, args=[kitchen.pk, *more])


def test_an_empty_kitchen_is_told_the_way_on(cook, kitchen):
    assert "Measure yours inside once" in cook.get(_at("moulds", kitchen)).content.decode()


def test_a_mould_is_typed_with_a_comma_and_listed_with_its_plan(cook, kitchen):
    answer = cook.post(_at("mould_new", kitchen), TYPED, follow=True)
    mould = Mould.objects.get(kitchen=kitchen)
    assert mould.width_mm == Decimal("210.5")
    assert mould.owned is None
    text = answer.content.decode()
    assert "310 × 210.5" in text
    assert "not known yet" in text
    assert _at("mould_plan", kitchen, mould.pk) in text


@pytest.mark.parametrize("wrong", [{"name": ""}, {"length_mm": "31x"}, {"owned": "-1"}])
def test_what_is_wrong_is_said_and_what_was_typed_stays(cook, kitchen, wrong):
    text = cook.post(_at("mould_new", kitchen), TYPED | wrong).content.decode()
    assert "One thing needs another look" in text
    assert 'value="210,5"' in text
    assert not Mould.objects.exists()


def test_a_name_that_is_taken_is_said_at_its_box(cook, kitchen):
    a_mould(kitchen, name="STEEL TRAY")
    text = cook.post(_at("mould_new", kitchen), TYPED).content.decode()
    assert "There is already a mould of that name." in text


def test_a_mould_is_put_away(cook, kitchen):
    mould = a_mould(kitchen)
    cook.post(_at("mould_edit", kitchen, mould.pk), TYPED | {"is_archived": "on", "owned": "3"})
    mould.refresh_from_db()
    assert (mould.is_archived, mould.owned) == (True, 3)
    assert "no longer used" in cook.get(_at("moulds", kitchen)).content.decode()


def test_more_moulds_are_no_more_questions(cook, kitchen, django_assert_num_queries):
    a_mould(kitchen)
    cook.get(_at("moulds", kitchen))
    for _ in range(5):
        a_mould(kitchen)
    # The session, the person, their place in the kitchen, the moulds.
    with django_assert_num_queries(4):
        cook.get(_at("moulds", kitchen))


def test_what_a_link_brings_along_goes_on_to_every_plan(cook, kitchen):
    mould = a_mould(kitchen)
    text = cook.get(_at("moulds", kitchen) + "?of=recipe-7&net_kg=11,9").content.decode()
    assert f"{_at('mould_plan', kitchen, mould.pk)}?of=recipe-7&amp;net_kg=11%2C9" in text
