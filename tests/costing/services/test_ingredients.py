"""Ingredients with their allergen answers and their parts."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AllergenAnswer, AuditEntry, Ingredient
from costing.selectors.ingredients import allergen_answers, compound_parts
from costing.services.ingredients import (
    PartInput,
    add_from_pantry,
    answer_none_of_the_allergens,
    save_ingredient,
)
from costing.services.pantry import pantry_items
from tests.builders import a_kitchen, an_ingredient, an_owner

pytestmark = pytest.mark.django_db


def faults(kitchen=None, **values):
    with pytest.raises(ValidationError) as refused:
        save_ingredient(kitchen or a_kitchen(), by=None, **{"values": {"name": "Fig"}} | values)
    return refused.value.message_dict


def test_an_ingredient_needs_only_a_name_and_nothing_is_taken_as_known():
    ingredient = save_ingredient(a_kitchen(), by=None, values={"name": " Damsons "})
    ingredient.refresh_from_db()
    assert ingredient.name == "Damsons"
    assert ingredient.brix is ingredient.density_kg_per_l is ingredient.each_g is None
    assert set(allergen_answers(ingredient).values()) == {None}


def test_answers_are_kept_and_each_change_is_written_down():
    kitchen = a_kitchen()
    by = an_owner(kitchen)
    seed = save_ingredient(
        kitchen,
        by=by,
        values={"name": "Mustard seed"},
        allergens={"mustard": ("contains", " mustard "), "celery": ("unknown", "")},
    )
    save_ingredient(kitchen, by=by, ingredient=seed, values={}, allergens={"celery": ("free", "")})
    answers = allergen_answers(seed)
    assert (answers["mustard"].answer, answers["mustard"].named_as) == ("contains", "mustard")
    assert answers["celery"].answer == "free"
    told = AuditEntry.objects.filter(subject="ingredient", field="allergen celery")
    assert list(told.order_by("pk").values_list("old", "new")) == [
        ("", "unknown"),
        ("unknown", "free"),
    ]


@pytest.mark.parametrize(
    ("answers", "words"),
    [
        ({"mustard": ("contains", " ")}, "Mustard: Say which one it is"),
        ({"mustard": ("maybe", "")}, "Mustard: Choose one of the answers"),
        ({"pollen": ("free", "")}, "pollen: Choose one of the answers"),
        ({"nuts": ("contains", "x" * 61)}, "Nuts: This is too long"),
    ],
)
def test_an_answer_that_cannot_be_is_refused_by_its_group(answers, words):
    told = faults(allergens=answers)
    assert list(told) == ["allergens"]
    assert told["allergens"][0].startswith(words)
    assert not Ingredient.objects.exists()


def test_none_of_the_allergens_answers_only_what_was_open():
    seed = save_ingredient(
        a_kitchen(),
        by=None,
        values={"name": "Mustard seed"},
        allergens={"mustard": ("contains", "mustard"), "celery": ("unknown", "")},
    )
    answer_none_of_the_allergens(seed, by=None)
    answers = {group: row.answer for group, row in allergen_answers(seed).items()}
    assert answers.pop("mustard") == "contains"
    assert set(answers.values()) == {"free"}
    assert AllergenAnswer.objects.count() == 14


def test_the_groups_are_those_the_label_law_counts():
    from labels.facts import ALLERGEN_GROUPS

    assert tuple(AllergenAnswer.Group.values) == ALLERGEN_GROUPS


def test_the_shares_of_the_solids_make_one_whole():
    values = {"name": "Fig", "sucrose_share": Decimal("0.15"), "hexose_share": Decimal("0.75")}
    assert list(faults(values=values)) == ["acid_share"]  # two of three
    assert (
        "add up to 0.95"
        in faults(values=values | {"acid_share": Decimal("0.05")})["sucrose_share"][0]
    )
    save_ingredient(a_kitchen(), by=None, values=values | {"acid_share": Decimal("0.10")})


def test_parts_are_kept_in_the_order_of_the_supplier():
    kitchen = a_kitchen()
    sugar, cocoa = an_ingredient(kitchen), an_ingredient(kitchen)
    parts = [PartInput(cocoa.pk, Decimal("60.5")), PartInput(sugar.pk)]
    chocolate = save_ingredient(
        kitchen, by=None, values={"name": "Chocolate", "is_compound": True}, parts=parts
    )
    assert [(p.part, p.share_pct) for p in compound_parts(chocolate)] == [
        (cocoa, Decimal("60.5")),
        (sugar, None),
    ]
    save_ingredient(kitchen, by=None, ingredient=chocolate, values={"note": "new"})
    assert len(compound_parts(chocolate)) == 2
    save_ingredient(kitchen, by=None, ingredient=chocolate, values={}, parts=[])
    assert compound_parts(chocolate) == []


def test_parts_that_cannot_be_are_refused():
    kitchen = a_kitchen()
    part = an_ingredient(kitchen)
    for parts, words in (
        ([PartInput(an_ingredient().pk)], "not an ingredient of this kitchen"),
        ([PartInput(10**30)], "not an ingredient of this kitchen"),
        ([PartInput(part.pk), PartInput(part.pk)], "listed twice"),
        ([PartInput(part.pk, Decimal(0))], "more than 0 %"),
        (
            [PartInput(part.pk, Decimal(60)), PartInput(an_ingredient(kitchen).pk, Decimal(41))],
            "add up to 101 %",
        ),
    ):
        told = faults(kitchen, parts=parts)
        assert list(told) == ["parts"]
        assert words in told["parts"][0]


def test_an_ingredient_is_no_part_of_itself_not_even_through_others():
    kitchen = a_kitchen()
    outer, middle, inner = (
        an_ingredient(kitchen, name=name) for name in ("Cake", "Icing", "Glaze")
    )

    def contains(whole, part):
        save_ingredient(kitchen, by=None, ingredient=whole, values={}, parts=[PartInput(part.pk)])

    contains(outer, middle)
    contains(middle, inner)
    with pytest.raises(ValidationError, match="Glaze contains Cake contains Icing contains Glaze"):
        contains(inner, outer)
    with pytest.raises(ValidationError, match="Glaze contains Glaze"):
        contains(inner, inner)


def test_the_pantry_is_copied_into_the_kitchen_that_asks():
    kitchen = a_kitchen()
    slugs = [item.slug for item in pantry_items()][:2]
    added = add_from_pantry(kitchen, by=an_owner(kitchen), slugs=slugs)
    assert {row.kitchen for row in added} == {kitchen}
    assert Ingredient.objects.count() == 2
