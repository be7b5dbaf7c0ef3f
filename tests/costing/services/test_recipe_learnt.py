"""A figure of a recipe taken over from its batches."""

from decimal import Decimal

import pytest

from costing.models import AuditEntry
from costing.services.recipe_learnt import subjects_of, take_over
from costing.services.recipes import freeze_version
from tests.builders import a_cook, a_damson_paste, a_recipe, an_ingredient

pytestmark = pytest.mark.django_db
SOURCE = "Own batches: from 5 of your batches: 3.1 % ± 0.08."


def told(paste):
    """The lines as they are written."""
    lines = paste.versions.get(is_current=True).lines.order_by("position")
    return [
        (one.ingredient_id, one.preparation_id, one.amount, one.unit, one.is_base) for one in lines
    ]


@pytest.mark.parametrize(("is_printed", "number"), [(False, 1), (True, 2)])
def test_only_the_figure_changes_and_what_was_printed_from_stays(is_printed, number):
    paste = a_damson_paste()
    version, lines, cook = paste.versions.get(), told(paste), a_cook(paste.kitchen)
    before = version.pan_residue_pct
    if is_printed:
        freeze_version(version)
    take_over(paste, by=cook, subject="residue", value=Decimal("3.1"), source=SOURCE)
    now = paste.versions.get(is_current=True)
    assert (now.number, now.pan_residue_pct) == (number, Decimal("3.1"))
    assert (now.stop_form, now.stop_value) == (version.stop_form, version.stop_value)
    assert told(paste) == lines
    version.refresh_from_db()
    assert version.pan_residue_pct == (before if is_printed else Decimal("3.1"))
    kept = AuditEntry.objects.get(subject="recipe", field="pan_residue_pct_source")
    assert (kept.new, kept.by) == (SOURCE, cook)


def test_a_puree_learns_its_brix_a_boil_its_residue_and_a_mix_nothing():
    paste = a_damson_paste()
    puree = paste.versions.get().lines.get(preparation__isnull=False).preparation
    mix = a_recipe(lines=[(an_ingredient(), 1)], cook_kind="no cook").versions.get()
    assert subjects_of(puree.versions.get()) == ("brix",)
    boiled = paste.versions.get()
    assert subjects_of(boiled) == (() if boiled.pan_residue_g else ("residue",))
    boiled.pan_residue_g, boiled.cook_kind = Decimal(0), "boil down"
    assert subjects_of(boiled) == ("residue",)
    boiled.pan_residue_g = Decimal(400)  # of a pan, not of the recipe
    assert subjects_of(boiled) == ()
    assert subjects_of(mix) == ()
