"""A label of one batch: what it says, what it refuses, and what is kept of it."""

from datetime import date
from decimal import Decimal

import pytest

from costing.models import Batch, Ingredient
from costing.services.batches import InputGiven, finish_batch
from labels.models import LabelDesign, QuantifiedIngredient
from labels.services.printing import LabelOrder, LabelRefused, prepare_label, print_labels
from labels.stock import sheet
from tests.builders import (
    NOON,
    a_batch,
    a_damson_paste,
    a_finished_batch,
    a_product,
    no_allergens,
)

pytestmark = pytest.mark.django_db
A4 = "a4-3x7-63.5x38.1"
COOKED_ON = date(2026, 9, 20)


def a_printable(recipe=None):
    """A product of the damson paste whose label has nothing to mend."""
    recipe = recipe or a_damson_paste()
    for each in Ingredient.objects.filter(kitchen=recipe.kitchen):
        no_allergens(each)
    product = a_product(recipe, net_quantity_g=100, fill_g=101, form="piece")
    design = LabelDesign.objects.create(
        kitchen=recipe.kitchen,
        product=product,
        name_of_food="Damson cheese",
        brand_name="Rookfold Kitchen",
        storage="Store in a cool, dry place.",
        shelf_life_months=9,
        largest_surface_cm2=Decimal(100),
        nutrition_exemption="small quantities",
        lot_prefix="DC",
        sheet_code=A4,
    )
    puree = recipe.versions.get().lines.get(preparation__isnull=False).preparation
    QuantifiedIngredient.objects.create(kitchen=recipe.kitchen, design=design, preparation=puree)
    return design


def a_weighed(recipe, **values):
    """9 kg of puree that gave 14.5 kg: 62 %."""
    grams = (9000, 8100, 180)
    inputs = [InputGiven(i, Decimal(g)) for i, g in enumerate(grams)]
    return a_finished_batch(
        recipe, inputs=inputs, **({"pot_g": 14500, "net_g": 14000, "end_brix": 68} | values)
    )


def order(batch, **values):
    """Today's order, in which somebody typed another day and another lot."""
    values = {"on": date(2026, 11, 25), "made_on": date(2026, 1, 1), "lot": "X 1"} | values
    return LabelOrder(sheet=sheet(A4), batch=batch, **values)


def test_share_lot_brix_and_dates_are_the_batchs_own():
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    prepared = prepare_label(design, order=order(batch, best_before=date(2030, 1, 1)))
    facts = prepared.facts
    assert (facts.lot, facts.made_on) == (batch.lot, COOKED_ON)
    # Nine months after 20 September 2026.
    assert facts.best_before == date(2027, 6, 20)
    assert facts.soluble_solids_pct == 68
    listed = next(p.text for p in prepared.particulars if p.kind == "ingredients")
    # 9000 / 14500 = 62.07 %: Regulation (EU) No 1169/2011, Annex VIII, point 4(a).
    assert "62 %" in listed


def test_the_run_keeps_its_batch_and_the_version_that_was_cooked():
    design = a_printable()
    batch = a_weighed(design.product.recipe)
    printed, _ = print_labels(design, by=None, order=order(batch, copies=7))
    printed.refresh_from_db()
    assert (printed.batch, printed.lot) == (batch, batch.lot)
    assert printed.recipe_version == batch.version
    assert batch.version.__class__.objects.get(pk=batch.version_id).frozen_at is not None


@pytest.mark.parametrize("status", [Batch.Status.ON_THE_FIRE, Batch.Status.GIVEN_UP])
def test_a_batch_that_is_not_finished_gets_no_label(status):
    design = a_printable()
    batch = a_batch(design.product.recipe)
    Batch.objects.filter(pk=batch.pk).update(status=status)
    batch.refresh_from_db()
    with pytest.raises(LabelRefused, match=rf"Lot {batch.lot}"):
        print_labels(design, by=None, order=order(batch))


def test_a_weight_that_is_not_known_stops_the_print():
    design = a_printable()
    batch = a_batch(design.product.recipe)
    batch.inputs.filter(position=2).update(weighed_g=None, planned_g=None)
    values = {"pot_g": Decimal(14500), "net_g": Decimal(14000)}
    finish_batch(batch, by=None, finished_at=NOON, values=values)
    prepared = prepare_label(design, order=order(batch))
    assert not prepared.may_print
    assert any("Lemon juice" in question.sentence for question in prepared.food.questions)
