"""Which packs carry which label: versions, printing one again, and where something went."""

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes
from costing.models import Kitchen, Member, Product
from costing.selectors.kitchens import this_kitchens
from costing.views.access import kitchen_view
from labels import law
from labels.forms.reprints import ReprintForm, WhereForm
from labels.models import PrintedLabel
from labels.services.designs import design_of, is_kept, next_free_label
from labels.services.sheets_kept import kept_sheet
from labels.services.standing import Standing
from labels.services.versions import (
    Reprint,
    ReprintRefused,
    reprint,
    standing_today,
    versions_of,
    why_no_reprint,
    with_standing,
)
from labels.services.whereabouts import everything_bought, where_it_went
from labels.views.showing import HEADINGS

COOK = Member.Role.COOK
PER_PAGE = 10
_OF_A_RUN = (
    "product__recipe",
    "design__product__recipe",
    "design__kitchen",
    "recipe_version",
    "batch__recipe",
    "batch__version",
    "kitchen",
)


@kitchen_view(COOK)
def label_versions(request: HttpRequest, kitchen: Kitchen, product_pk: int) -> HttpResponse:
    """The versions of a product's label, each held against what would be printed today."""
    product = this_kitchens(Product, kitchen=kitchen, pk=product_pk, related=("recipe", "kitchen"))
    design = design_of(product)
    if not is_kept(design):
        return redirect("label_design", kitchen.pk, product.pk)
    page = Paginator(versions_of(product), PER_PAGE).get_page(request.GET.get("page"))
    versions = with_standing(page.object_list, design=design, on=timezone.localdate())
    rows = [
        {
            "version": each,
            "market": law.market_named(each.latest.market),
            "changes": _told_of(each.standing),
        }
        for each in versions
    ]
    return render(request, "labels/versions.html", {"product": product, "rows": rows, "page": page})


def _told_of(standing: Standing | None) -> list[dict[str, str]]:
    """What changed since, by the names that the check page uses."""
    return [
        {
            "what": HEADINGS.get(change.kind, change.kind),
            "before": change.before,
            "now": change.now,
            "why": change.why,
            "citation": str(change.citation or ""),
        }
        for change in (standing.changes if standing else ())
    ]


@kitchen_view(COOK)
def printed_reprint(request: HttpRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The very label of a print run once more; a superseded one only with a reason."""
    run = this_kitchens(PrintedLabel, kitchen=kitchen, pk=pk, related=_OF_A_RUN)
    on, sheet = timezone.localdate(), kept_sheet(run.sheet)
    standing = standing_today(run, on=on)
    form = ReprintForm(
        request.POST or None,
        per_page=sheet.per_page,
        initial={"copies": 1, "start_at": next_free_label(kitchen, sheet)},
    )
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        order = Reprint(
            copies=data["copies"],
            start_at=data["start_at"],
            offset_x_mm=data["offset_x_mm"] or Decimal(0),
            offset_y_mm=data["offset_y_mm"] or Decimal(0),
        )
        try:
            again, _ = reprint(run, by=request.user, order=order, reason=data["reason"], on=on)
        except ReprintRefused as refusal:
            form.add_error("reason", str(refusal))
        else:
            messages.success(request, "The same label again, to the byte.")
            return redirect("printed_label", kitchen.pk, again.pk)
    page: dict[str, Any] = {
        "run": run,
        "sheet": sheet,
        "standing": standing,
        "changes": _told_of(standing),
        "no_reprint": why_no_reprint(run) or standing.danger,
        "form": form,
        "mistakes": mistakes(form),
    }
    return render(request, "labels/reprint.html", page)


@kitchen_view(COOK)
def printed_carrying(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """Which lots and labels carry an ingredient, a supplier's lot or one of our own."""
    larder = everything_bought(kitchen)
    choices = [(str(pk), name) for pk, name in larder.items()]
    form = WhereForm(request.GET or None, ingredients=choices)
    page: dict[str, Any] = {"form": form}
    if form.is_valid():
        chosen, lot = form.cleaned_data["ingredient"], " ".join(form.cleaned_data["lot"].split())
        if chosen or lot:
            ingredient = int(chosen) if chosen else None
            page["went"] = where_it_went(kitchen, ingredient=ingredient, lot=lot)
            named = larder[ingredient] if ingredient else ""
            page["asked"] = ", ".join(filter(None, (named, lot and f"lot {lot}")))
    page["mistakes"] = mistakes(form)
    return render(request, "labels/carrying.html", page)
