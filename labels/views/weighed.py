"""Weigh-and-price labels: the weights, the run as it is drawn step by step, and its sheets."""

from decimal import Decimal
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from costing.forms.fields import mistakes
from costing.models import Batch, Kitchen, Member, Product
from costing.selectors.batches import batches_of
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from costing.views.recipe_words import Pen
from labels.forms.weighed import WeighedForm
from labels.models import LabelDesign, WeighedRun
from labels.services.designs import design_of, is_kept, next_free_label, sheet_named, sheets_for
from labels.services.printing import LabelOrder, LabelRefused
from labels.services.weighed import (
    A_STEP,
    Left,
    cancel_run,
    left_of,
    sheets_of,
    start_run,
    step,
    usual_price_per_kg,
)
from labels.views.designs import PREPACKED
from labels.views.printing import as_pdf
from labels.views.showing import LEVEL

COOK = Member.Role.COOK
_LATEST = 12
_SHOWN = 60
_OF_A_RUN = ("design__product__recipe", "design__kitchen", "batch__recipe", "printed")


@kitchen_view(COOK)
def label_weighed(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """What does each piece weigh: weights in, a label for each out."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("recipe", "kitchen"))
    design = design_of(product)
    if not is_kept(design):
        return redirect("label_design", kitchen.pk, product.pk)
    batches = _finished(product)
    page: dict[str, Any] = {"product": product, "design": design, "batches": batches}
    form = _form(request, design, batches=batches)
    page["form"] = form
    if request.method == "POST" and batches and form.is_valid():
        page["more"] = _more_than_left(form, pen=Pen(kitchen))
        if not page["more"]:
            try:
                run = start_run(
                    design,
                    by=request.user,
                    order=_order(form),
                    weights=form.cleaned_data["net_g"],
                    price_per_kg=form.cleaned_data["price_per_kg"],
                )
                if len(run.pieces) <= A_STEP:
                    run = step(run, by=request.user)
            except LabelRefused as refusal:
                page |= _refused(refusal)
            else:
                return redirect("weighed_run", kitchen.pk, run.pk)
    page["mistakes"] = mistakes(form)
    return render(request, "labels/weighed.html", page)


def _finished(product: Product) -> list[Batch]:
    rows = batches_of(product.kitchen, recipe=product.recipe)
    return list(rows.filter(status=Batch.Status.FINISHED)[:_LATEST])


def _form(request: HttpRequest, design: LabelDesign, *, batches: list[Batch]) -> WeighedForm:
    kitchen = design.kitchen
    sheets = sheets_for(kitchen)
    codes = [sheet.code for sheet in sheets]
    code = design.sheet_code if design.sheet_code in codes else codes[0]
    sheet = sheet_named(kitchen, code)
    first = {
        "batch": request.GET.get("batch"),
        "price_per_kg": usual_price_per_kg(design.product, design),
        "unit": "g",
        "law_on": timezone.localdate(),
        "market": design.market,
        "way_of_sale": PREPACKED,
        "sheet": code,
        "start_at": next_free_label(kitchen, sheet) if sheet else 1,
    }
    return WeighedForm(
        request.POST or None,
        sheets=sheets,
        batches=batches,
        currency=kitchen.currency,
        initial=first,
    )


def _order(form: WeighedForm) -> LabelOrder:
    data = form.cleaned_data
    return LabelOrder(
        on=data["law_on"],
        printed_on=timezone.localdate(),
        made_on=form.chosen_batch.made_on,
        batch=form.chosen_batch,
        sheet=form.label_sheet,
        copies=len(data["net_g"]),
        start_at=data["start_at"],
        market=data["market"],
        way_of_sale=data["way_of_sale"] or PREPACKED,
    )


def _more_than_left(form: WeighedForm, *, pen: Pen) -> str:
    """What to ask when the pieces weigh more than the pan still has; "" if they do not."""
    if form.cleaned_data["is_more_than_left"]:
        return ""
    total_g = sum(form.cleaned_data["net_g"], start=Decimal(0))
    left: Left = left_of(form.chosen_batch)
    if total_g <= left.grams:
        return ""
    form.ask_about_more()
    labelled = f", and {pen.told(left.labelled_g)} of it has labels" if left.labelled_g else ""
    return (
        f"These pieces weigh {pen.told(total_g)}. Of lot {form.chosen_batch.lot} "
        f"{pen.told(left.net_g)} was filled{labelled}. Is a weight typed twice, or is the tare "
        "missing?"
    )


def _refused(refusal: LabelRefused) -> dict[str, Any]:
    return {
        "refusal": refusal.unavailable,
        "findings": [
            {
                "level": LEVEL[each.level],
                "message": each.message,
                "hint": each.hint,
                "citation": str(each.citation or ""),
            }
            for each in refusal.findings
        ],
    }


def _run(kitchen: Kitchen, pk: int) -> WeighedRun:
    return this_kitchens(WeighedRun, kitchen=kitchen, pk=pk, related=_OF_A_RUN)


def _as_page(run: WeighedRun, *, kitchen: Kitchen) -> dict[str, Any]:
    pen = Pen(kitchen)
    pieces = [(Decimal(net_g), Decimal(price)) for net_g, price in run.pieces]
    return {
        "run": run,
        "product": run.design.product,
        "total": len(pieces),
        "left": len(pieces) - run.done,
        "total_mass": pen.told(sum((net_g for net_g, _ in pieces), start=Decimal(0))),
        "total_money": pen.money(sum((price for _, price in pieces), start=Decimal(0))),
        "per_kg": pen.price(run.price_per_kg),
        "pieces": [
            {"number": number, "weight": f"{pen.number(net_g)} g", "price": pen.money(price)}
            for number, (net_g, price) in enumerate(pieces[:_SHOWN], start=1)
        ],
        "not_shown": max(0, len(pieces) - _SHOWN),
    }


@kitchen_view(COOK)
def weighed_run(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """A run: how far it is, or where its sheets are."""
    return render(request, "labels/weighed_run.html", _as_page(_run(kitchen, pk), kitchen=kitchen))


@kitchen_view(COOK)
@require_POST
def weighed_step(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Draw the next pieces; the page asks for the next step until there is none."""
    run = _run(kitchen, pk)
    try:
        run = step(run, by=request.user)
    except LabelRefused as refusal:
        page = _as_page(run, kitchen=kitchen) | _refused(refusal)
    else:
        page = _as_page(run, kitchen=kitchen)
    is_part = request.headers.get("HX-Request") == "true"
    if not is_part and "findings" not in page:
        return redirect("weighed_run", kitchen.pk, run.pk)
    name = "labels/weighed_progress.html" if is_part else "labels/weighed_run.html"
    return render(request, name, page)


@kitchen_view(COOK)
@require_POST
def weighed_cancel(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Stop a run between two steps."""
    run = cancel_run(_run(kitchen, pk), by=request.user)
    return redirect("weighed_run", kitchen.pk, run.pk)


@kitchen_view(COOK)
def weighed_pdf(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The sheets of a finished run."""
    run = _run(kitchen, pk)
    if run.status != WeighedRun.Status.PRINTED:
        raise Http404("Nothing is printed yet.")
    return as_pdf(sheets_of(run), name=f"weighed-{run.batch.lot}-{len(run.pieces)}.pdf")
