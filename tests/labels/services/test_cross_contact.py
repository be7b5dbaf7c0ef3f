"""Assessments of cross-contact: recorded whole, never changed, and asked again when they are old.

That a look is asked for again after a year is common practice, no source.
"""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, Product
from costing.services.ingredients import save_ingredient
from costing.services.recipes import LineInput, save_recipe
from labels.models import CrossContact
from labels.services.cross_contact import answers_for, read_assessed, record_assessment
from tests.builders import a_product, an_owner, sugar

pytestmark = pytest.mark.django_db
LOOKED = date(2026, 9, 20)
RECORDED = datetime(2026, 9, 20, 12, tzinfo=UTC)


def recorded(kitchen, *, product=None, groups=("nuts",), on=LOOKED, **values):
    values = {
        "outcome": "remains",
        "named_as": "hazelnuts",
        "looked_at": "Sieve and spoons are shared with the walnut paste; wet cleaning between.",
        "assessed_by": "Ana",
        "assessed_on": LOOKED,
    } | values
    rows = record_assessment(kitchen, by=None, on=on, product=product, groups=groups, values=values)
    CrossContact.objects.filter(pk__in=[row.pk for row in rows]).update(recorded_at=RECORDED)
    return rows


def answers(product, *, on=LOOKED, ingredient_ids=()):
    return answers_for(
        product.pk,
        assessed=read_assessed(product.kitchen),
        ingredient_ids=ingredient_ids,
        recipe_ids=[product.recipe_id],
        on=on,
    )


@pytest.fixture
def product():
    return a_product()


def test_nothing_recorded_says_nothing(product):
    assert answers(product) == ()


def test_one_look_at_several_groups_is_kept_for_each_with_who_what_and_when(product):
    owner = an_owner(product.kitchen)
    rows = record_assessment(
        product.kitchen,
        by=owner,
        on=LOOKED,
        product=None,
        groups=["eggs", "fish", "eggs"],
        values={
            "outcome": "none found",
            "named_as": "",
            "looked_at": "Neither is in the house.",
            "assessed_by": "Ana",
            "assessed_on": LOOKED,
        },
    )
    assert [row.group for row in rows] == ["eggs", "fish"]
    assert {row.review_by for row in rows} == {date(2027, 9, 20)}
    assert {row.recorded_by for row in rows} == {owner}
    assert AuditEntry.objects.filter(subject="crosscontact", by=owner).count() == 2
    assert [(a.group, a.remains) for a in answers(product)] == [("eggs", False), ("fish", False)]
    assert answers(product)[0].assessed == "Ana, 20 September 2026"


@pytest.mark.parametrize(
    ("values", "where", "words"),
    [
        ({"assessed_on": LOOKED + timedelta(days=1)}, "assessed_on", "has not come yet"),
        ({"review_by": date(2027, 9, 21)}, "review_by", "within a year"),
        ({"looked_at": ""}, "looked_at", "cannot be left empty"),
        ({"assessed_by": ""}, "assessed_by", "cannot be left empty"),
        ({"named_as": ""}, "named_as", "the word to print"),
        ({"review_by": LOOKED}, "review_by", "comes after"),
    ],
)
def test_a_look_that_says_too_little_is_refused(product, values, where, words):
    with pytest.raises(ValidationError) as refused:
        recorded(product.kitchen, **values)
    told = refused.value.message_dict
    assert words in " ".join(sentence for sentences in told.values() for sentence in sentences)
    assert CrossContact.objects.count() == 0
    assert where in told or "__all__" in told


def test_a_look_at_no_allergen_is_refused(product):
    with pytest.raises(ValidationError, match="for which allergens"):
        recorded(product.kitchen, groups=())


def test_the_day_it_is_a_year_old_it_still_stands_and_the_day_after_it_asks(product):
    recorded(product.kitchen)
    assert answers(product, on=date(2027, 9, 20))[0].outdated_because == ""
    assert "more than a year ago" in answers(product, on=date(2027, 9, 21))[0].outdated_because


def test_an_earlier_day_to_look_again_counts(product):
    recorded(product.kitchen, review_by=date(2026, 12, 1))
    assert answers(product, on=date(2026, 12, 1))[0].outdated_because == ""
    assert "by 1 December 2026" in answers(product, on=date(2026, 12, 2))[0].outdated_because


def test_29_february_is_looked_at_again_by_the_28th(product):
    (row,) = recorded(product.kitchen, assessed_on=date(2024, 2, 29))
    assert row.review_by == date(2025, 2, 28)


def test_the_latest_look_counts_and_the_older_ones_stay(product):
    recorded(product.kitchen)
    recorded(product.kitchen, outcome="none found", named_as="", looked_at="A pan of its own now.")
    (answer,) = answers(product)
    assert not answer.remains
    assert CrossContact.objects.count() == 2


def test_a_products_own_look_goes_before_the_kitchens_unless_the_kitchen_got_worse(product):
    other = a_product(product.recipe)
    recorded(product.kitchen, named_as="walnuts")
    recorded(product.kitchen, product=product, outcome="none found", named_as="")
    assert not answers(product)[0].remains
    assert answers(other)[0].named_as == "walnuts"
    later = LOOKED + timedelta(days=1)
    recorded(product.kitchen, named_as="hazelnuts", assessed_on=later, on=later)
    assert answers(product, on=later)[0].named_as == "hazelnuts"


def changed_at(moment):
    AuditEntry.objects.update(at=moment)


def test_a_recipe_whose_lines_changed_since_is_looked_at_again(product):
    recorded(product.kitchen)
    white = sugar(product.kitchen)
    save_recipe(
        product.kitchen,
        by=None,
        recipe=product.recipe,
        values={},
        version_values={},
        lines=[LineInput(amount=Decimal(1), ingredient_id=white.pk)],
    )
    changed_at(RECORDED - timedelta(minutes=1))
    assert answers(product)[0].outdated_because == ""
    changed_at(RECORDED + timedelta(minutes=1))
    assert "what goes into the recipe was changed" in answers(product)[0].outdated_because


def test_an_ingredient_answered_anew_is_looked_at_again_only_where_it_goes_in(product):
    recorded(product.kitchen, product=product)
    chocolate = save_ingredient(
        product.kitchen,
        by=None,
        values={"name": "Chocolate"},
        allergens={"nuts": ("contains", "hazelnuts")},
    )
    changed_at(RECORDED + timedelta(days=3))
    assert answers(product)[0].outdated_because == ""
    (answer,) = answers(product, ingredient_ids=[chocolate.pk])
    assert "answered anew on 23 September 2026" in answer.outdated_because


def test_a_new_allergen_in_the_house_asks_the_whole_kitchen_again_for_that_group(product):
    recorded(product.kitchen, groups=["nuts", "milk"], named_as="traces")
    save_ingredient(
        product.kitchen,
        by=None,
        values={"name": "Chocolate"},
        allergens={"nuts": ("contains", "hazelnuts"), "milk": ("free", "")},
    )
    changed_at(RECORDED + timedelta(days=3))
    milk, nuts = answers(product)
    assert milk.outdated_because == ""
    assert "something with it came in on 23 September 2026" in nuts.outdated_because


def test_another_kitchens_look_is_not_ours(product):
    recorded(a_product().kitchen)
    assert answers(product) == ()
    assert Product.objects.count() == 2
