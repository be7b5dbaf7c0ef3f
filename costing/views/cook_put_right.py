"""Putting the record of a finished batch right: new figures with a reason, the old ones kept."""

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpResponse
from django.shortcuts import redirect, render

from costing.forms.cook_finish import PutRightForm
from costing.forms.cook_rows import (
    TypedInput,
    TypedYield,
    inputs_given,
    row_mistakes,
    typed_yields,
    yields_given,
)
from costing.forms.fields import mistakes, take_errors
from costing.models import Batch, BatchYield, Kitchen
from costing.reckoning.coming_out import OFFCUTS_KEPT, THROWN_AWAY, Counted
from costing.selectors.batches import BatchPage, batch_page
from costing.selectors.kitchens import people
from costing.selectors.moulds import moulds_of
from costing.selectors.products import products_of
from costing.services.batch_inputs import YieldGiven
from costing.services.batches import correct_batch
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.cook_finish import NAMES, ask_of_lines, offcuts, sum_of, tare_g, typed_inputs
from costing.views.menu import COOK
from costing.views.recipe_words import Pen


@kitchen_view(COOK)
def cook_put_right(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The boxes of a finished pan as they stand, to be put right with a reason."""
    page = batch_page(kitchen, pk)
    batch = page.batch
    if batch.status != Batch.Status.FINISHED:
        return redirect("cook", kitchen.pk, pk)
    data = request.POST if request.method == "POST" else None
    form = _form(kitchen, page, data)
    rows = typed_yields(
        products_of(kitchen, with_archived=True).filter(recipe=batch.recipe), data, told=page.yields
    )
    inputs = typed_inputs(page, data)
    others = [
        Counted(str(row.product or row.what or "Kept as it is"), row.units, row.mass_g)
        for row in _without_a_box(page, rows)
    ]
    summed = sum_of(form, rows, batch, pen=Pen(kitchen), others=others)
    if request.htmx:
        return render(request, "costing/cook_accounted.html", summed)
    ask_of_lines(form, inputs)
    wrong = row_mistakes(rows, inputs)
    is_read = data is not None and not wrong and form.is_valid()
    if is_read and _put_right(request, page, form, rows, inputs):
        messages.success(request, "Put right. What stood there before stays in the record.")
        return redirect("cook", kitchen.pk, pk)
    grams = tare_g(batch)
    context = summed | {
        "batch": batch,
        "form": form,
        "rows": rows,
        "inputs": inputs,
        "is_record": True,
        "mistakes": [*mistakes(form), *wrong],
        "tare": Pen(kitchen).kilos(grams) if grams else "",
    }
    return render(request, "costing/cook_put_right.html", context)


def _form(kitchen: Kitchen, page: BatchPage, data: Any) -> PutRightForm:
    return PutRightForm(
        data,
        batch=page.batch,
        moulds=list(moulds_of(kitchen, with_archived=True)),
        kept_g=_weight_of(page.yields, OFFCUTS_KEPT),
        thrown_away_g=_weight_of(page.yields, THROWN_AWAY),
        people=[member.user for member in people(kitchen)],
    )


def _weight_of(yields: tuple[BatchYield, ...], what: str) -> Decimal:
    """Grams of offcuts in the record."""
    masses = [row.mass_g for row in yields if row.product_id is None and row.what == what]
    return sum(masses, Decimal(0))


def _put_right(
    request: KitchenRequest,
    page: BatchPage,
    form: PutRightForm,
    rows: list[TypedYield],
    inputs: list[TypedInput],
) -> bool:
    batch = page.batch
    typed = form.values(tare_g=tare_g(batch))
    values = {name: value for name, value in typed.items() if value != getattr(batch, name)}
    yields = _yields(page, form, rows)
    given = inputs_given(inputs)
    if not values and yields is None and not given:
        form.add_error(None, "Nothing here is other than what stands in the record.")
        return False
    try:
        correct_batch(
            batch,
            by=request.user,  # type: ignore[arg-type]
            values=values,
            reason=form.cleaned_data["reason"],
            yields=yields,
            inputs=given,
        )
    except ValidationError as error:
        take_errors(form, error, names=NAMES)
        return False
    return True


def _yields(page: BatchPage, form: PutRightForm, rows: list[TypedYield]) -> list[YieldGiven] | None:
    """What it became, where that is other than in the record; None leaves it."""
    typed: list[tuple[str, Decimal]] = offcuts(form)
    is_same = all(_weight_of(page.yields, what) == mass_g for what, mass_g in typed)
    if is_same and not any(row.is_changed for row in rows):
        return None
    others = [
        YieldGiven(row.mass_g, product=row.product, units=row.units, what=row.what)
        for row in _without_a_box(page, rows)
    ]
    return [*yields_given(rows, offcuts=typed), *others]


def _without_a_box(page: BatchPage, rows: list[TypedYield]) -> list[BatchYield]:
    """What the batch became that this page neither shows nor changes."""
    shown = {row.product.pk for row in rows}
    return [
        row
        for row in page.yields
        if row.product_id not in shown and row.what not in (OFFCUTS_KEPT, THROWN_AWAY)
    ]
