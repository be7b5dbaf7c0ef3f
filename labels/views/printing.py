"""Printing labels, the record of every print run, and the sheets they are printed on."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.models import Batch, Kitchen, Member, Product
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from labels import law
from labels.forms.printing import MOST_COPIES, BatchPrintForm, PrintForm, SheetForm
from labels.models import LabelDesign, PrintedLabel
from labels.rendering.fonts import RenderingUnavailable
from labels.rendering.sheet import test_page
from labels.services.batch_facts import why_no_label
from labels.services.designs import (
    design_of,
    is_kept,
    next_free_label,
    printed_in,
    save_own_sheet,
    sheet_named,
    sheets_for,
)
from labels.services.lot_prints import units_filled
from labels.services.packs import papers_of
from labels.services.printing import (
    LabelOrder,
    LabelRefused,
    prepare_label,
    print_labels,
    sheets_pdf,
)
from labels.services.weighed import sheets_of
from labels.stock import LabelSheet
from labels.views.batches import batch_named, lots_of, of_the_batch
from labels.views.check_sheets import judged
from labels.views.designs import PREPACKED, first_order, order_from
from labels.views.elsewhere import second_labels
from labels.views.files import as_pdf, in_words
from labels.views.plan import plan_picture
from labels.views.showing import (
    as_run_findings,
    as_shown,
    is_owner,
    marks_in,
)

COOK = Member.Role.COOK


@kitchen_view(COOK)
def label_print(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """How many, on which sheet, from which free label on; then the sheets."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("recipe", "kitchen"))
    design = design_of(product)
    if not is_kept(design):
        return redirect("label_design", kitchen.pk, product.pk)
    batch = batch_named(request, kitchen)
    page: dict[str, Any] = {"product": product, "design": design, "batch": batch}
    if batch is not None and (why := why_no_label(batch, product)):
        return render(request, "labels/print.html", page | {"no_label": why})
    sheets = sheets_for(kitchen)
    form = _print_form(request, design, batch, sheets=sheets)
    page["form"] = form
    if request.method == "POST" and form.is_valid():
        order = _order(form, batch)
        try:
            printed, _pdf = print_labels(design, by=request.user, order=order)
        except LabelRefused as refusal:
            prepared = prepare_label(design, order=order)
            shown = as_shown(prepared, kitchen=kitchen, product=product, is_owner=is_owner(request))
            page["findings"] = [finding for finding in shown if finding.level == "mend"]
            page["refusal"] = refusal.unavailable
        else:
            return redirect("printed_label", kitchen.pk, printed.pk)
    page["mistakes"] = mistakes(form)
    page["plan"] = _plan(form, sheets, papers=papers_of(design))
    page |= {"lots": lots_of(product)} if batch is None else of_the_batch(batch, design)
    return render(request, "labels/print.html", page)


def _print_form(
    request: HttpRequest,
    design: LabelDesign,
    batch: Batch | None,
    *,
    sheets: tuple[LabelSheet, ...],
) -> PrintForm:
    """The form with what is usual in it; of a batch, as many labels as were filled."""
    kitchen = design.kitchen
    usual = first_order(design, sheets=sheets, on=timezone.localdate())
    asked = {name: request.GET[name] for name in usual if request.GET.get(name)}
    first = usual | asked | {"copies": 1, "start_at": _next_free(kitchen, usual | asked)}
    if batch is None:
        return PrintForm(request.POST or None, sheets=sheets, initial=first)
    filled = units_filled(batch).get(design.product_id) or 1
    first |= {"copies": min(filled, MOST_COPIES), "batch": batch.pk}
    return BatchPrintForm(request.POST or None, sheets=sheets, initial=first)


def _next_free(kitchen: Kitchen, chosen: Mapping[str, Any]) -> int:
    sheet = sheet_named(kitchen, str(chosen["sheet"]))
    return next_free_label(kitchen, sheet) if sheet else 1


def _order(form: PrintForm, batch: Batch | None) -> LabelOrder:
    data = form.cleaned_data
    if batch is None:
        order = order_from(form)
    else:
        order = LabelOrder(
            on=data["law_on"],
            made_on=batch.made_on,
            sheet=form.label_sheet,
            printed_on=timezone.localdate(),
            batch=batch,
            market=data["market"],
            way_of_sale=data["way_of_sale"] or PREPACKED,
        )
    return replace(
        order,
        copies=data["copies"],
        start_at=data["start_at"],
        offset_x_mm=data["offset_x_mm"] or Decimal(0),
        offset_y_mm=data["offset_y_mm"] or Decimal(0),
    )


def _plan(form: PrintForm, sheets: Any, *, papers: int) -> Any:
    """The first sheet as a picture, from what is in the form, whether or not it is complete."""
    by_code = {sheet.code: sheet for sheet in sheets}
    sheet = by_code.get(str(form["sheet"].value()), sheets[0])
    return plan_picture(
        sheet,
        copies=_whole(form["copies"].value()) * papers,
        start_at=_whole(form["start_at"].value()),
    )


def _whole(value: Any) -> int:
    text = str(value or "").strip()
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 and int(text) else 1


@kitchen_view(COOK)
def label_plan(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """The picture of the sheet again, while the numbers are being typed."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("label_design",))
    sheets = sheets_for(kitchen)
    form = PrintForm(request.GET, sheets=sheets)
    plan = _plan(form, sheets, papers=papers_of(design_of(product)))
    return render(request, "labels/plan.html", {"plan": plan})


@kitchen_view(COOK)
def printed_labels(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """Every print run, the newest first."""
    runs = Paginator(printed_in(kitchen), 50).get_page(request.GET.get("page"))
    return render(request, "labels/printed.html", {"page": runs})


@kitchen_view(COOK)
def printed_label(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """One print run: the file to send to the printer, and what it was judged by."""
    run = this_kitchens(
        PrintedLabel,
        kitchen=kitchen,
        pk=pk,
        related=("product", "printed_by", "recipe_version", "batch", "reprint_of"),
    )
    seen = judged(run)
    page: dict[str, Any] = {
        "run": run,
        "market": law.market_named(run.market),
        "statements": seen.statements,
        "findings": as_run_findings(seen.findings),
        "marks": marks_in(seen.statements, findings=seen.findings),
        "elsewhere": [] if getattr(run, "weighed", None) else second_labels(run, seen.facts),
    }
    return render(request, "labels/printed_one.html", page)


@kitchen_view(COOK)
def printed_label_pdf(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The sheets of a print run again, exactly as they were."""
    run = this_kitchens(PrintedLabel, kitchen=kitchen, pk=pk, related=("product", "weighed"))
    weighed = getattr(run, "weighed", None)
    sheets = sheets_pdf(run) if weighed is None else sheets_of(weighed)
    return as_pdf(sheets, name=f"labels-{run.lot}-{run.copies}.pdf")


@kitchen_view(COOK)
def printed_single_pdf(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The single label of a print run, as an accessible record."""
    run = this_kitchens(PrintedLabel, kitchen=kitchen, pk=pk)
    return as_pdf(bytes(run.label_pdf), name=f"label-{run.lot}.pdf")


@kitchen_view(COOK)
def sheets(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """The sheets of labels there are, each drawn to scale."""
    rows = [
        {"sheet": sheet, "plan": plan_picture(sheet, copies=0, start_at=1)}
        for sheet in sheets_for(kitchen)
    ]
    return render(request, "labels/sheets.html", {"rows": rows})


@kitchen_view(COOK)
def sheet_new(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """A sheet of labels described with a ruler; it must add up to its page."""
    form = SheetForm(request.POST or None, initial=_blank(kitchen))
    if request.method == "POST" and form.is_valid():
        try:
            save_own_sheet(kitchen, by=request.user, values=form.cleaned_data)
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, "The sheet adds up and is kept.")
            return redirect("sheets", kitchen.pk)
    return render(request, "labels/sheet_new.html", {"form": form, "mistakes": mistakes(form)})


def _blank(kitchen: Kitchen) -> dict[str, str]:
    a4 = kitchen.paper_size == "A4"
    return {
        "page_width_mm": "210" if a4 else "215.9",
        "page_height_mm": "297" if a4 else "279.4",
        "corner_radius_mm": "0",
    }


@kitchen_view(COOK)
def sheet_test(request: HttpRequest, kitchen: Kitchen, code: str) -> HttpResponse:
    """A page for plain paper, to hold against a sheet of labels."""
    sheet = sheet_named(kitchen, code)
    if sheet is None:
        raise Http404("No such sheet in this kitchen.")
    try:
        return as_pdf(test_page(sheet), name=f"test-{sheet.code}.pdf")
    except RenderingUnavailable as reason:
        return in_words(str(reason), status=503)
