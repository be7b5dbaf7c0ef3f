"""Saving recipes: versions, loops, bases, and two people at the same recipe."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from costing.models import AuditEntry, Recipe, RecipeVersion
from costing.selectors.recipes import current_version, edit_stamp
from costing.services.recipes import LineInput, cost_recipe, freeze_version, save_recipe
from tests.builders import (
    TODAY,
    a_damson_paste,
    a_fruit,
    a_kitchen,
    a_recipe,
    an_ingredient,
    an_owner,
    packaging,
    sugar,
)

pytestmark = pytest.mark.django_db

JAM = {"cook_kind": "boil down", "stop_form": "brix", "stop_value": Decimal(65), "method": "Stir."}


def line(what, amount, unit="kg", **values):
    link = {"recipe_id": what.pk} if isinstance(what, Recipe) else {"ingredient_id": what.pk}
    return LineInput(amount=Decimal(str(amount)), unit=unit, **link, **values)


def saved(kitchen, *lines, recipe=None, name="Jam", by=None, expected=None, **version_values):
    return save_recipe(
        kitchen,
        by=by,
        recipe=recipe,
        values={"name": name},
        version_values=version_values,
        lines=lines,
        expected_version=expected,
    )


def faults(kitchen, *lines, **values):
    with pytest.raises(ValidationError) as refused:
        saved(kitchen, *lines, **values)
    return refused.value.message_dict


def test_a_recipe_is_saved_with_its_first_version_and_lines_in_order():
    kitchen = a_kitchen()
    fruit, white = a_fruit(kitchen), sugar(kitchen)
    by = an_owner(kitchen)
    recipe = saved(kitchen, line(fruit, 5), line(white, "4.5"), by=by, **JAM)

    version = current_version(recipe)
    assert (version.number, version.created_by, version.method) == (1, by, "Stir.")
    assert [(row.ingredient, row.amount) for row in version.lines.all()] == [
        (fruit, 5),
        (white, Decimal("4.5")),
    ]


def test_the_stopping_point_is_kept_as_stated_and_as_brix():
    # 5 kg of 10 Brix and 5 kg of sugar, nothing inverted: 5.5 kg of solids in 8 kg is 68.75 Brix.
    kitchen = a_kitchen()
    recipe = saved(
        kitchen,
        line(a_fruit(kitchen), 5),
        line(sugar(kitchen), 5),
        cook_kind="boil down",
        stop_form="final weight",
        stop_value=Decimal(8000),
        inverted_pct=Decimal(0),
    )
    version = current_version(recipe)
    assert (version.stop_form, version.stop_value) == ("final weight", 8000)
    assert version.finishing_brix == Decimal("68.750")


def test_an_unknown_brix_does_not_keep_a_recipe_from_being_saved():
    kitchen = a_kitchen()
    recipe = saved(kitchen, line(an_ingredient(kitchen), 5), line(sugar(kitchen), 5), **JAM)
    assert current_version(recipe).finishing_brix is None
    assert "brix" in {question.about for question in cost_recipe(recipe, on=TODAY).questions}


def test_a_version_that_nothing_was_printed_from_is_changed_in_place():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = saved(kitchen, line(white, 5))
    saved(kitchen, line(white, 6), recipe=recipe, method="Stir more.")

    version = recipe.versions.get()
    assert (version.number, version.revision, version.method) == (1, 2, "Stir more.")
    assert version.lines.get().amount == 6


def test_a_frozen_version_is_kept_and_a_new_one_begins_like_it():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = saved(kitchen, line(white, 5), method="Stir.", handling_loss_pct=Decimal(2))
    freeze_version(current_version(recipe))
    by = an_owner(kitchen)
    saved(kitchen, line(white, 6), recipe=recipe, by=by, handling_loss_pct=Decimal(3))

    new, old = recipe.versions.all()
    assert (old.number, old.is_current, old.handling_loss_pct) == (1, False, 2)
    assert old.lines.get().amount == 5
    assert (new.number, new.is_current, new.handling_loss_pct) == (2, True, 3)
    assert (new.method, new.frozen_at, new.created_by) == ("Stir.", None, by)


def test_freezing_a_recipe_freezes_the_preparations_in_it():
    paste = a_damson_paste()
    freeze_version(current_version(paste))
    assert not RecipeVersion.objects.filter(frozen_at=None).exists()
    first = set(RecipeVersion.objects.values_list("frozen_at", flat=True))

    freeze_version(current_version(paste))  # again: the first moment stands
    assert set(RecipeVersion.objects.values_list("frozen_at", flat=True)) == first


def test_freezing_a_recipe_leaves_others_alone():
    paste = a_damson_paste()
    other = a_recipe(paste.kitchen, lines=[(sugar(paste.kitchen, name="Sugar 2"), 1)])
    freeze_version(current_version(paste))
    assert current_version(other).frozen_at is None


def test_of_two_people_the_second_does_not_overwrite_the_first():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = saved(kitchen, line(white, 5))
    opened = edit_stamp(current_version(recipe))
    saved(kitchen, line(white, 6), recipe=recipe, expected=opened)

    with pytest.raises(ValidationError, match="Somebody saved this recipe while you had it open"):
        saved(kitchen, line(white, 7), recipe=recipe, expected=opened)
    assert current_version(recipe).lines.get().amount == 6
    saved(kitchen, line(white, 7), recipe=recipe, expected=edit_stamp(current_version(recipe)))


def test_a_new_version_also_counts_as_saved_since():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = saved(kitchen, line(white, 5))
    opened = edit_stamp(current_version(recipe))
    freeze_version(current_version(recipe))
    saved(kitchen, line(white, 6), recipe=recipe, expected=opened)
    with pytest.raises(ValidationError, match="Somebody saved"):
        saved(kitchen, line(white, 7), recipe=recipe, expected=opened)


def test_a_recipe_cannot_be_made_of_itself():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    first = saved(kitchen, line(white, 1), name="Syrup")
    second = saved(kitchen, line(first, 1), name="Candied peel")
    third = saved(kitchen, line(second, 1), name="Fruit cake")

    told = faults(kitchen, line(white, 1), line(third, 1), recipe=first, name="Syrup")
    (sentence,) = told["lines"]
    assert "Syrup -> Fruit cake -> Candied peel -> Syrup" in sentence
    assert current_version(first).lines.count() == 1

    assert (
        "Syrup -> Syrup" in faults(kitchen, line(first, 1), recipe=first, name="Syrup")["lines"][0]
    )


def test_a_preparation_used_twice_is_no_loop():
    kitchen = a_kitchen()
    puree = saved(kitchen, line(sugar(kitchen), 1), name="Puree")
    jam = saved(kitchen, line(puree, 1), name="Jam")
    saved(kitchen, line(puree, 1), line(jam, 1), name="Trifle")


def test_percent_needs_a_base():
    kitchen = a_kitchen()
    told = faults(kitchen, line(sugar(kitchen), 90, "%"))
    assert told["lines"][0].startswith("Percent of what?")


def test_the_parts_of_a_base_make_a_hundred():
    kitchen = a_kitchen()
    pears, apples = a_fruit(kitchen, name="Pears"), a_fruit(kitchen, name="Apples")
    lines = [line(pears, 60, "%", is_base=True), line(apples, 39, "%", is_base=True)]
    told = faults(kitchen, *lines, base_g=Decimal(10000))
    assert "99 %, not 100 %" in told["lines"][0]
    lines[1] = line(apples, 40, "%", is_base=True)
    assert "base_g" in faults(kitchen, *lines)  # percent of how much?
    saved(kitchen, *lines, line(sugar(kitchen), 75, "%"), base_g=Decimal(10000))


@pytest.mark.parametrize(
    ("amount", "unit", "words"),
    [
        ("0", "kg", "more than nothing"),
        ("-1", "kg", "more than nothing"),
        ("0.000001", "kg", "more than nothing"),  # a milligram's thousandth is stored as nothing
        ("NaN", "kg", "not a number"),
        ("Infinity", "kg", "not a number"),
        ("1e12", "kg", "more than any kitchen has"),
        ("1234567890123456789012345678901234567890", "g", "more than any kitchen has"),
        ("900000", "t", "more than any pan holds"),
        ("1", "cm", "measures a length"),
        ("1", "pint", "has two sizes"),
        ("1", "🍐", "not a unit"),
    ],
)
def test_an_amount_that_cannot_be_is_refused_at_its_line(amount, unit, words):
    kitchen = a_kitchen()
    told = faults(kitchen, line(sugar(kitchen), 1), line(a_fruit(kitchen), amount, unit))
    assert list(told) == ["lines"]
    assert words in told["lines"][0]
    assert told["lines"][0].startswith("Line 2")
    assert not Recipe.objects.exists()


def test_all_faults_are_told_together():
    kitchen = a_kitchen()
    told = faults(
        kitchen,
        line(sugar(kitchen), 0),
        line(a_fruit(kitchen), 1, "cm"),
        name="",
        pan_residue_pct=Decimal(100),
        stop_form="taste",
    )
    assert {"name", "lines", "pan_residue_pct", "stop_form"} == set(told)
    assert len(told["lines"]) == 2


def test_an_empty_recipe_is_asked_what_goes_in():
    assert "at least one line" in faults(a_kitchen())["lines"][0]


def test_packaging_is_no_food():
    kitchen = a_kitchen()
    assert "packaging" in faults(kitchen, line(packaging(kitchen), 1))["lines"][0]


@pytest.mark.parametrize("what", [an_ingredient, a_recipe])
def test_nothing_of_another_kitchen_goes_into_a_recipe(what):
    told = faults(a_kitchen(), line(what(), 1))
    assert "of this kitchen" in told["lines"][0]


@pytest.mark.parametrize("pk", [0, -5, 10**30])
def test_a_number_that_no_row_has_is_refused(pk):
    told = faults(a_kitchen(), LineInput(amount=Decimal(1), ingredient_id=pk))
    assert "of this kitchen" in told["lines"][0]


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"stop_value": Decimal(86)}, "stop_value"),
        ({"stop_form": "reading", "stop_value": Decimal(99)}, "stop_value"),
        ({"stop_form": "final weight", "stop_value": Decimal(10001)}, "stop_value"),
        ({"stop_form": "share", "stop_value": Decimal(101)}, "stop_value"),
        ({"inverted_pct": Decimal(96)}, "inverted_pct"),
        ({"attended_minutes": Decimal(-1)}, "attended_minutes"),
        ({"cook_kind": "cook loss", "cook_loss_pct": Decimal(100)}, "cook_loss_pct"),
        ({"cook_kind": "fry"}, "cook_kind"),
        ({"finishing_brix": Decimal(99), "stop_value": Decimal(0)}, "stop_value"),
    ],
)
def test_a_cook_that_cannot_be_is_refused_at_its_field(values, field):
    kitchen = a_kitchen()
    lines = [line(a_fruit(kitchen), 5), line(sugar(kitchen), 5)]
    told = faults(kitchen, *lines, **JAM | values)
    assert list(told) == [field]
    assert not Recipe.objects.exists()


def test_what_follows_from_saving_cannot_be_typed():
    kitchen = a_kitchen()
    recipe = saved(
        kitchen, line(sugar(kitchen), 1), number=9, revision=9, frozen_at=None, is_current=False
    )
    version = recipe.versions.get()
    assert (version.number, version.revision, version.is_current) == (1, 1, True)


def test_a_name_is_taken_once_whatever_its_capitals():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    saved(kitchen, line(white, 1), name="Damson cheese")
    told = faults(kitchen, line(white, 1), name="damson CHEESE")
    assert told == {"name": ["There is already a recipe of that name."]}


def test_each_changed_figure_is_written_down_and_nothing_else():
    kitchen = a_kitchen()
    by = an_owner(kitchen)
    white = sugar(kitchen)
    recipe = saved(kitchen, line(white, 5), by=by, pan_residue_pct=Decimal(3), method="Stir.")
    AuditEntry.objects.all().delete()
    saved(
        kitchen,
        line(white, "5.5"),
        recipe=recipe,
        by=by,
        pan_residue_pct=Decimal("3.0"),
        method="Stir less.",
    )
    told = AuditEntry.objects.filter(subject="recipe", subject_id=recipe.pk, by=by)
    assert set(told.values_list("field", "old", "new")) == {
        ("method", "Stir.", "Stir less."),
        ("lines", "White sugar 5 kg", "White sugar 5.5 kg"),
    }
    assert told.count() == AuditEntry.objects.count()


@pytest.mark.parametrize("text", ["<b>{{ x }}</b> {% now %}", "🍐 50 % off %(name)s"])
def test_texts_are_saved_as_typed(text):
    kitchen = a_kitchen()
    recipe = saved(kitchen, line(sugar(kitchen), 1), name=text, method=text, base_name=text)
    version = current_version(recipe)
    assert (version.recipe.name, version.method, version.base_name) == (text, text, text)


@pytest.mark.parametrize("text", ["a\x00b", "half \ud83c"])
def test_a_text_no_database_stores_is_refused_in_words(text):
    kitchen = a_kitchen()
    told = faults(kitchen, line(sugar(kitchen), 1), name=text, method=text)
    assert "cannot be stored" in told["name"][0]
    assert "cannot be stored" in told["method"][0]


def test_a_fault_leaves_the_saved_recipe_as_it_was():
    kitchen = a_kitchen()
    white = sugar(kitchen)
    recipe = saved(kitchen, line(white, 5), name="Jam")
    faults(kitchen, line(white, 0), recipe=recipe, name="Jelly")
    recipe.refresh_from_db()
    assert (recipe.name, current_version(recipe).lines.get().amount) == ("Jam", 5)
    assert current_version(recipe).revision == 1
