"""The list of labels, one label's check page, its picture, and its design."""

from base64 import b64encode
from datetime import date
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.models import Kitchen, Member, Product
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from labels import law
from labels.forms.designs import DesignForm
from labels.forms.printing import OrderForm
from labels.models import LabelDesign
from labels.rendering.preview import APART_MM, label_png
from labels.services.comparison import Changes, Standpoint, what_changes
from labels.services.designs import (
    as_rows,
    design_of,
    is_kept,
    products_with_labels,
    quantifiable,
    save_design,
    sheets_for,
)
from labels.services.naming import names_everywhere
from labels.services.printing import (
    LabelOrder,
    LabelRefused,
    PreparedLabel,
    prepare_label,
    proof_pdf,
)
from labels.services.storage_words import latest_storage_words
from labels.stock import LabelSheet
from labels.views.nutrition import nutrition_shown
from labels.views.packs import pack_context
from labels.views.showing import as_shown, is_owner, marks_in, statements

COOK = Member.Role.COOK
PER_PAGE = 50
PREPACKED = "prepacked"


@kitchen_view(COOK)
def labels(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """The products, with what the label of each was last printed for."""
    page = Paginator(products_with_labels(kitchen), PER_PAGE).get_page(request.GET.get("page"))
    return render(request, "labels/labels.html", {"products": page.object_list, "page": page})


def _product(kitchen: Kitchen, pk: int) -> Product:
    return this_kitchens(Product, kitchen=kitchen, pk=pk, related=("recipe", "kitchen"))


def first_order(design: LabelDesign, *, sheets: tuple[LabelSheet, ...], on: date) -> dict[str, Any]:
    """What stands in an order form before anybody types: today's batch on the design's sheet."""
    codes = [sheet.code for sheet in sheets]
    return {
        "made_on": on,
        "law_on": on,
        "lot": "",
        "best_before": None,
        "sheet": design.sheet_code if design.sheet_code in codes else codes[0],
        "market": design.market,
        "way_of_sale": PREPACKED,
    }


def order_from(form: OrderForm) -> LabelOrder:
    """A filled-in form as an order."""
    data = form.cleaned_data
    return LabelOrder(
        on=data["law_on"],
        made_on=data["made_on"],
        sheet=form.label_sheet,
        lot=" ".join(data["lot"].split()),
        best_before=data["best_before"],
        printed_on=timezone.localdate(),
        market=data["market"],
        way_of_sale=data["way_of_sale"] or PREPACKED,
    )


def _order_form(request: HttpRequest, design: LabelDesign, kitchen: Kitchen) -> OrderForm:
    """The order in the address, each empty box filled with what is usual."""
    sheets = sheets_for(kitchen)
    first = first_order(design, sheets=sheets, on=timezone.localdate())
    filled = {name: request.GET.get(name) or value for name, value in first.items()}
    return OrderForm(filled, sheets=sheets)


def order_asked_for(
    request: HttpRequest, design: LabelDesign, kitchen: Kitchen
) -> LabelOrder | None:
    """The order that the address names; None where it cannot be read."""
    form = _order_form(request, design, kitchen)
    return order_from(form) if form.is_valid() else None


@kitchen_view(COOK)
def label(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """May I sell it with this label: the label drawn large, and every finding."""
    product = _product(kitchen, product_pk)
    design = design_of(product)
    if not is_kept(design):
        return redirect("label_design", kitchen.pk, product.pk)
    form = _order_form(request, design, kitchen)
    page: dict[str, Any] = {
        "product": product,
        "design": design,
        "form": form,
        "mistakes": mistakes(form),
    }
    if form.is_valid():
        order = order_from(form)
        prepared = prepare_label(design, order=order)
        findings = as_shown(prepared, kitchen=kitchen, product=product, is_owner=is_owner(request))
        page |= {
            "prepared": prepared,
            "order": order,
            "findings": findings,
            "pressing": [each for each in findings if each.level != "info"],
            "to_know": [each for each in findings if each.level == "info"],
            "to_mend": sum(finding.level == "mend" for finding in findings),
            "statements": (shown := statements(prepared)),
            "marks": marks_in(shown, findings=prepared.findings),
            "nutrition": nutrition_shown(prepared.facts),
            "not_checked": law.not_checked(prepared.facts.market),
            "market": law.market_named(prepared.facts.market),
            "changes": _changes(design, prepared, order),
            "naming": names_everywhere(prepared.facts, on=order.on),
            "query": request.GET.urlencode(),
            "width_px": _screen_px(_drawn_mm(prepared, order)),
            "height_px": _screen_px(order.sheet.label_height_mm),
            "drawn_mm": _drawn_mm(prepared, order),
            "ticks": range(0, int(_drawn_mm(prepared, order)) + 1, 10),
        }
        page |= pack_context(design, prepared, order=order, sheets=sheets_for(kitchen))
    return render(request, "labels/check.html", page)


def _changes(design: LabelDesign, prepared: PreparedLabel, order: LabelOrder) -> Changes | None:
    """What the chosen market, way and day change against the design as it is sold today."""
    facts = prepared.facts
    own = Standpoint(design.market, PREPACKED, timezone.localdate())
    asked = Standpoint(facts.market, facts.way_of_sale, order.on)
    return None if own == asked else what_changes(facts, before=own, after=asked)


def _drawn_mm(prepared: PreparedLabel, order: LabelOrder) -> Decimal:
    """How wide the picture of a label is: a front and a back stand beside each other [mm]."""
    papers = prepared.fitted.arrangement.leaves if prepared.fitted else 1
    return papers * order.sheet.label_width_mm + (papers - 1) * APART_MM


def _screen_px(length_mm: Decimal) -> int:
    """True size on a screen: CSS counts 96 pixels to the inch."""
    return round(length_mm * 960 / 254)


@kitchen_view(COOK)
def label_picture(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """The label as a picture, drawn from the PDF that would be printed."""
    pdf = _proof(request, kitchen, product_pk)
    if isinstance(pdf, HttpResponse):
        return pdf
    return HttpResponse(label_png(pdf), content_type="image/png")


@kitchen_view(COOK)
def label_proof(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """One label as a PDF, marked as a proof while anything must be mended."""
    pdf = _proof(request, kitchen, product_pk)
    if isinstance(pdf, HttpResponse):
        return pdf
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = 'inline; filename="label.pdf"'
    return response


def _proof(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> bytes | HttpResponse:
    design = design_of(_product(kitchen, product_pk))
    form = _order_form(request, design, kitchen)
    if not is_kept(design) or not form.is_valid():
        return redirect("label", kitchen.pk, product_pk)
    try:
        return proof_pdf(prepare_label(design, order=order_from(form)))
    except LabelRefused as refusal:
        return HttpResponse(str(refusal), status=503, content_type="text/plain; charset=utf-8")


@kitchen_view()
def label_design(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """What the label says beyond the recipe, and how it looks."""
    product = _product(kitchen, product_pk)
    design = design_of(product)
    options: dict[str, Any] = {
        "sheets": [(sheet.code, sheet.name) for sheet in sheets_for(kitchen)],
        "quantifiable": quantifiable(product, on=timezone.localdate()),
        "initial": _stored(design),
    }
    form = DesignForm(request.POST or None, **options)
    if request.method == "POST" and form.is_valid():
        try:
            save_design(product, by=request.user, values=form.values, quantified=form.quantified)
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, "The design is kept. This is what the label says now.")
            return redirect("label", kitchen.pk, product.pk)
    page = {"product": product, "design": design, "form": form, "mistakes": mistakes(form)}
    page["words"] = latest_storage_words(kitchen, recipe=product.recipe)
    return render(request, "labels/design.html", page)


@kitchen_view()
def label_sketch(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """The label as it would be with what stands in the design form now, not saved."""
    product = _product(kitchen, product_pk)
    design = design_of(product)
    today = timezone.localdate()
    sheets = sheets_for(kitchen)
    form = DesignForm(
        request.POST,
        sheets=[(sheet.code, sheet.name) for sheet in sheets],
        quantifiable=quantifiable(product, on=today),
    )
    page: dict[str, Any] = {"is_readable": form.is_valid()}
    if form.is_valid():
        for name, value in form.values.items():
            setattr(design, name, value)
        sheet = next((each for each in sheets if each.code == design.sheet_code), sheets[0])
        order = LabelOrder(on=today, made_on=today, sheet=sheet)
        rows = as_rows(design, quantified=form.quantified)
        prepared = prepare_label(design, order=order, quantified=rows)
        page |= {"prepared": prepared, "order": order, "picture": _as_data(prepared)}
        findings = as_shown(prepared, kitchen=kitchen, product=product, is_owner=is_owner(request))
        page["to_mend"] = [finding for finding in findings if finding.level == "mend"]
        page["naming"] = names_everywhere(prepared.facts, on=today)
        page |= pack_context(design, prepared, order=order, sheets=sheets)
    return render(request, "labels/sketch.html", page)


def _as_data(prepared: PreparedLabel) -> str:
    """The picture inside the page itself: a design that is not saved has no address."""
    if prepared.fitted is None:
        return ""
    return "data:image/png;base64," + b64encode(label_png(prepared.fitted.pdf)).decode()


def _stored(design: LabelDesign) -> dict[str, Any]:
    stored = {name: getattr(design, name) for name in DesignForm.base_fields}
    if is_kept(design):
        for row in design.quantified.all():
            kind = "recipe" if row.preparation_id else "ingredient"
            pk = row.preparation_id or row.ingredient_id
            stored[f"quantify_{kind}-{pk}"] = row.reason
    return stored
