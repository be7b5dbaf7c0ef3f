"""The page where a look at cross-contact is written down, above the looks that were taken."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.models import Kitchen, Member
from costing.selectors.kitchens import possible_ids
from costing.views.access import kitchen_view
from labels.forms.cross_contact import CrossContactForm
from labels.services.allergens import products_to_tell
from labels.services.cross_contact import assessments, record_assessment

COOK = Member.Role.COOK
MOST_SHOWN = 100


@kitchen_view(COOK)
def label_cross_contact(request: HttpRequest, kitchen: Kitchen) -> HttpResponse:
    """What could still get in: write down what was looked at, and read what was found before."""
    today = timezone.localdate()
    products = products_to_tell(kitchen)
    first = {
        "assessed_on": today,
        "product": _asked_for(request),
        "groups": request.GET.get("group"),
    }
    form = CrossContactForm(request.POST or None, products=products, initial=first)
    if request.method == "POST" and form.is_valid():
        values = dict(form.cleaned_data)
        product, groups = values.pop("product"), values.pop("groups")
        try:
            rows = record_assessment(
                kitchen, by=request.user, on=today, product=product, groups=groups, values=values
            )
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, _said(len(rows)))
            return redirect("label_cross_contact", kitchen.pk)
    page: dict[str, Any] = {
        "form": form,
        "mistakes": mistakes(form),
        "looks": assessments(kitchen)[:MOST_SHOWN],
        "today": today,
    }
    return render(request, "labels/cross_contact.html", page)


def _asked_for(request: HttpRequest) -> int | None:
    asked = request.GET.get("product", "")
    found = possible_ids([int(asked)]) if asked.isascii() and asked.isdecimal() else set()
    return next(iter(found), None)


def _said(count: int) -> str:
    many = "one allergen" if count == 1 else f"{count} allergens"
    return f"The look is written down for {many}. Labels and the allergen sheet go by it from now."
