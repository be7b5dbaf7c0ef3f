"""Suppliers, and entering what they charge."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Count, Max, Q
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.forms.purchases import NEW, PriceForm, SupplierForm, VoidForm, usual_supplier
from costing.models import Ingredient, Kitchen, Supplier, SupplierPrice
from costing.reckoning.purchases import day_in_words
from costing.selectors.ingredients import ingredients_of
from costing.selectors.kitchens import this_kitchens
from costing.selectors.price_book import without_price
from costing.selectors.purchases import price_history, prices_of_supplier, suppliers_of
from costing.selectors.recipes import recipes_of
from costing.services.purchases import (
    PriceWorking,
    record_supplier_price,
    save_supplier,
    void_supplier_price,
    work_out,
)
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.ingredients import searched
from costing.views.menu import ACCOUNTANT, OWNER

LAST_SUPPLIER = "last_supplier"


@kitchen_view(ACCOUNTANT)
def suppliers(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """Who sells to the kitchen, and when each was last asked."""
    q = searched(request)
    rows = suppliers_of(kitchen)
    if q:
        rows = rows.filter(name__icontains=q)
    is_real = Q(prices__voided_at__isnull=True)
    rows = rows.annotate(
        sells=Count("prices__ingredient", filter=is_real, distinct=True),
        last_price=Max("prices__valid_from", filter=is_real),
    )
    context = {"suppliers": rows[:500], "q": q, "may_price": request.member.role == OWNER}
    return render(request, "costing/suppliers.html", context)


@kitchen_view(ACCOUNTANT)
def supplier(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """One supplier: how to reach them, and what they charge."""
    subject = this_kitchens(Supplier, kitchen=kitchen, pk=pk)
    context = {
        "supplier": subject,
        "prices": prices_of_supplier(subject),
        "may_price": request.member.role == OWNER,
    }
    return render(request, "costing/supplier.html", context)


@kitchen_view()
def supplier_new(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """A new supplier."""
    return _edit_supplier(request, kitchen, None)


@kitchen_view()
def supplier_edit(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Change a supplier."""
    return _edit_supplier(request, kitchen, this_kitchens(Supplier, kitchen=kitchen, pk=pk))


def _edit_supplier(
    request: KitchenRequest, kitchen: Kitchen, subject: Supplier | None
) -> HttpResponse:
    form = SupplierForm(request.POST or None, kitchen=kitchen, supplier=subject)
    if request.method == "POST" and form.is_valid():
        try:
            saved = save_supplier(
                kitchen,
                by=request.user,  # type: ignore[arg-type]
                supplier=subject,
                values=form.cleaned_data,
            )
        except ValidationError as error:
            take_errors(form, error)
        else:
            messages.success(request, f"{saved.name} is kept.")
            return redirect("supplier", kitchen.pk, saved.pk)
    context = {"form": form, "supplier": subject, "mistakes": mistakes(form)}
    return render(request, "costing/supplier_form.html", context)


# --- Prices ---------------------------------------------------------------------------------------

SERVICE_NAMES = {"price_includes_tax": "tax", "void_reason": "reason"}


@kitchen_view()
def price_new(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """What a supplier asks, worked out while it is typed, recorded by the button."""
    on = timezone.localdate()
    subject = this_kitchens(Ingredient, kitchen=kitchen, pk=pk)
    history = price_history(subject)
    usual = usual_supplier(history) or request.session.get(LAST_SUPPLIER)
    form = PriceForm(
        request.POST or None,
        kitchen=kitchen,
        suppliers=list(suppliers_of(kitchen)),
        on=on,
        usual=usual,
    )
    if request.htmx:
        return _live(request, form, subject)
    working = None
    if request.method == "POST":
        working = _worked_out(form, subject)
        if working is not None:
            price = _recorded(request, kitchen, subject, form)
            if price is not None:
                return _after_recording(request, kitchen, price, working)
    following = _following(kitchen, subject)
    valid = [price for price in history if price.voided_at is None]
    context = {
        "ingredient": subject,
        "form": form,
        "mistakes": mistakes(form),
        "working": working,
        "last": next((price for price in valid if price.valid_from <= on), None),
        "to_come": next((price for price in reversed(valid) if price.valid_from > on), None),
        "following": following,
    }
    return render(request, "costing/price_new.html", context)


def _worked_out(form: PriceForm, subject: Ingredient) -> PriceWorking | None:
    """What the price comes to; None with the sentences put at their fields."""
    if not form.is_valid():
        return None
    try:
        return work_out(form.entry(), ingredient=subject)
    except ValidationError as error:
        take_errors(form, error, names=SERVICE_NAMES)
        return None


def _live(request: KitchenRequest, form: PriceForm, subject: Ingredient) -> HttpResponse:
    """The sum under the form while typing. Only what was typed is spoken of, nothing is saved."""
    typed = {name for name in form.fields if str(form.data.get(name, "")).strip()}
    working = _worked_out(_without_supplier(form), subject)
    told = [
        mistake
        for name in ("pack_text", "pack_price", "tax_pct", "delivery_per_pack", "valid_from")
        if name in form.errors and (name in typed or name == "tax_pct")
        for mistake in form.errors[name]
    ]
    is_waiting = not {"pack_text", "pack_price"} <= typed
    context = {
        "ingredient": subject,
        "working": working,
        "told": told if not is_waiting or "pack_text" in typed else [],
    }
    return render(request, "costing/partials/price_working.html", context)


def _without_supplier(form: PriceForm) -> PriceForm:
    """The sum does not depend on who sells, so a name not typed yet is no reason to be silent."""
    form.fields.pop("new_supplier")
    form.fields.pop("supplier")
    return form


def _recorded(
    request: KitchenRequest, kitchen: Kitchen, subject: Ingredient, form: PriceForm
) -> SupplierPrice | None:
    user: Any = request.user
    data = form.cleaned_data
    try:
        with transaction.atomic():  # a price that is refused leaves no new supplier behind
            seller = form.by_id.get(data["supplier"])
            if data["supplier"] == NEW or seller is None:
                seller = save_supplier(kitchen, by=user, values={"name": data["new_supplier"]})
            price = record_supplier_price(
                kitchen, by=user, supplier=seller, ingredient=subject, entry=form.entry()
            )
    except ValidationError as error:
        take_errors(form, error, names={**SERVICE_NAMES, "name": "new_supplier"})
        return None
    request.session[LAST_SUPPLIER] = seller.pk
    return price


def _after_recording(
    request: KitchenRequest, kitchen: Kitchen, price: SupplierPrice, working: PriceWorking
) -> HttpResponse:
    told = f"{price.ingredient.name}: {working.sentence}"
    if price.valid_from > timezone.localdate():
        told += f" It counts from {day_in_words(price.valid_from)}; until then the price before."
    messages.success(request, told)
    following = _following(kitchen, price.ingredient)
    if request.POST.get("then") == "next" and following is not None:
        return redirect("price_new", kitchen.pk, following.pk)
    if not recipes_of(kitchen).exists():  # on the way to the first cost, Today knows what is next
        return redirect("today", kitchen.pk)
    return redirect("ingredient", kitchen.pk, price.ingredient_id)


def _following(kitchen: Kitchen, subject: Ingredient) -> Ingredient | None:
    """The next ingredient without a price, so that three prices are entered in one go."""
    rows = without_price(ingredients_of(kitchen), on=timezone.localdate())
    return rows.exclude(pk=subject.pk).first()


@kitchen_view()
def price_void(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Take a mistaken price out of the sums; it stays in the history with the reason."""
    price = this_kitchens(SupplierPrice, kitchen=kitchen, pk=pk, related=("ingredient", "supplier"))
    back = reverse("ingredient", args=[kitchen.pk, price.ingredient_id])
    form = VoidForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        user: Any = request.user
        try:
            void_supplier_price(price, by=user, reason=form.cleaned_data["reason"])
        except ValidationError as error:
            take_errors(form, error, names=SERVICE_NAMES)
        else:
            messages.success(request, "That price no longer counts.")
            return redirect(back)
    context = {"price": price, "form": form, "mistakes": mistakes(form), "back": back}
    return render(request, "costing/price_void.html", context)
