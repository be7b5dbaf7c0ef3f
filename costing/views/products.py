"""Products: what is sold, what one costs, and what to ask for it."""

from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from costing.forms.fields import mistakes, take_errors
from costing.forms.packing import TypedPart, TypedParts
from costing.forms.products import PricingForm, ProductForm
from costing.models import Ingredient, Kitchen, Product
from costing.money import format_money
from costing.selectors.ingredients import ingredients_of
from costing.selectors.kitchens import this_kitchens
from costing.selectors.products import products_of
from costing.selectors.recipes import recipes_of
from costing.services.products import price_product, price_products, save_product
from costing.views.access import KitchenRequest, kitchen_view
from costing.views.ingredients import policy_in_words, searched
from costing.views.menu import OWNER, STALL_HAND
from costing.views.product_sums import (
    asked,
    cost_rows,
    list_row,
    money_goes,
    price_page,
)

PER_PAGE = 50
FIRST_ROWS = 3


@kitchen_view(STALL_HAND)
def products(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """What is sold and for how much; to the owner also what one costs and what is left."""
    q = searched(request)
    rows = products_of(kitchen)
    if q:
        rows = rows.filter(name__icontains=q)
    page = Paginator(rows, PER_PAGE).get_page(request.GET.get("page"))
    context: dict[str, Any] = {"page": page, "q": q, "policy": policy_in_words(kitchen)}
    if request.member.role != OWNER:
        context["products"] = [(row, _per_kg(row)) for row in page.object_list]
        return render(request, "costing/products_stall.html", context)
    shown = list(page.object_list)
    sums = price_products(kitchen, shown, on=timezone.localdate())
    context["rows"] = [list_row(sums[row.pk]) for row in shown]
    return render(request, "costing/products.html", context)


def _per_kg(product: Product) -> Any:
    """The price of a kilo that belongs on the ticket; nothing where no price is decided."""
    if not product.stall_price:
        return None
    return product.stall_price * 1000 / product.net_quantity_g


# --- One product and its price --------------------------------------------------------------------


@kitchen_view()
def product(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """What to ask for one product; its button keeps the price."""
    subject = _product(kitchen, pk)
    form = PricingForm(request.POST or None, product=subject, kitchen=kitchen)
    if request.method == "POST" and form.is_valid():
        kept = _keep_price(request, kitchen, subject, form)
        if kept:
            return redirect("product", kitchen.pk, subject.pk)
    context = {
        **_priced(kitchen, subject, form),
        "form": form,
        "mistakes": mistakes(form),
        "policy": policy_in_words(kitchen),
    }
    return render(request, "costing/product.html", context)


@kitchen_view()
def product_reckon(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """The price while it is typed. Nothing is saved."""
    subject = _product(kitchen, pk)
    if request.method != "POST":
        return redirect("product", kitchen.pk, pk)
    form = PricingForm(request.POST, product=subject, kitchen=kitchen)
    context = {**_priced(kitchen, subject, form), "is_live": True}
    return render(request, "costing/product_live.html", context)


def _product(kitchen: Kitchen, pk: int) -> Product:
    subject = this_kitchens(Product, kitchen=kitchen, pk=pk, related=("recipe",))
    subject.kitchen = kitchen
    return subject


def _priced(kitchen: Kitchen, subject: Product, form: PricingForm) -> dict[str, Any]:
    """Everything the page says, for what stands in the form; with a mistake in it, no price."""
    shelf_price, told = None, []
    if form.is_bound and form.is_valid():
        for name, value in form.values().items():
            setattr(subject, name, value)
        shelf_price = form.cleaned_data["shelf_price"]
    elif form.is_bound:
        told = mistakes(form)
    sums = price_product(subject, on=timezone.localdate())
    return {
        "product": subject,
        "sums": sums,
        "page": price_page(sums, shelf_price=shelf_price),
        "questions": asked(sums.questions, product=subject),
        "cost_rows": cost_rows(sums, kitchen=kitchen),
        "picture": money_goes(sums, kitchen=kitchen),
        "told": told,
    }


def _keep_price(
    request: KitchenRequest, kitchen: Kitchen, subject: Product, form: PricingForm
) -> bool:
    """Keep what was typed; the price worked out where no other was typed, or where it is wanted."""
    values = form.values()
    for name, value in values.items():
        setattr(subject, name, value)
    page = price_page(price_product(subject, on=timezone.localdate()))
    wants_ours = request.POST.get("then") == "suggested" or values["stall_price"] is None
    if wants_ours and page.suggested is not None:
        values["stall_price"] = page.suggested.price.inc_tax
    fresh = _product(kitchen, subject.pk)  # unchanged, so that the audit sees what was before
    try:
        save_product(kitchen, by=request.user, product=fresh, values=values)  # type: ignore[arg-type]
    except ValidationError as error:
        take_errors(form, error)
        return False
    messages.success(request, _said(fresh, kitchen=kitchen))
    return True


def _said(subject: Product, *, kitchen: Kitchen) -> str:
    if subject.stall_price is None:
        return "That is kept. No stall price is decided yet."
    price = format_money(
        subject.stall_price, currency=kitchen.currency, locale=kitchen.number_format
    )
    return f"{subject.name}: you now ask {price} at the stall."


# --- Made and changed -----------------------------------------------------------------------------


@kitchen_view()
def product_new(request: KitchenRequest, kitchen: Kitchen) -> HttpResponse:
    """A new product."""
    return _edit(request, kitchen, None)


@kitchen_view()
def product_edit(request: KitchenRequest, kitchen: Kitchen, pk: int) -> HttpResponse:
    """Change what is sold, or what it is packed in."""
    return _edit(request, kitchen, _product(kitchen, pk))


def _edit(request: KitchenRequest, kitchen: Kitchen, subject: Product | None) -> HttpResponse:
    title = subject.name if subject else ""
    stored = list(subject.parts.select_related("item")) if subject else []
    recipes = list(recipes_of(kitchen))
    if subject is not None and subject.recipe.is_archived:
        recipes.append(subject.recipe)
    rows_wanted = request.POST.get("rows", "")
    data = request.POST or None
    form = ProductForm(
        data, recipes=recipes, product=subject, chosen=request.GET.get("recipe", "")[:15]
    )
    parts = _typed_parts(request, stored)
    if rows_wanted:
        form.keep_typing()
    elif request.method == "POST":
        saved = _saved(request, kitchen, subject, form=form, parts=parts)
        if saved is not None:
            messages.success(request, f"{saved.name} is kept.")
            return redirect("product", kitchen.pk, saved.pk)
    context = {
        "product": subject,
        "title": title,
        "form": form,
        "parts": parts,
        "items": _items(kitchen, stored),
        "has_recipes": bool(recipes),
        "mistakes": [] if rows_wanted else [*mistakes(form), *parts.mistakes()],
    }
    return render(request, "costing/product_form.html", context)


def _typed_parts(request: KitchenRequest, stored: list[Any]) -> TypedParts:
    if request.method != "POST":
        parts = TypedParts.stored(stored)
        if not stored:
            parts.rows += [TypedPart() for _ in range(FIRST_ROWS)]
        return parts
    parts = TypedParts.posted(request.POST)
    parts.change(request.POST.get("rows", ""))
    return parts


def _items(kitchen: Kitchen, stored: list[Any]) -> list[tuple[str, str]]:
    """Packaging to choose from; what was given up stays where it is still used."""
    rows = ingredients_of(kitchen, kind=Ingredient.Kind.PACKAGING).values_list("pk", "name")
    known = {str(pk): name for pk, name in rows}
    return list((known | {str(part.item_id): part.item.name for part in stored}).items())


def _saved(
    request: KitchenRequest,
    kitchen: Kitchen,
    subject: Product | None,
    *,
    form: ProductForm,
    parts: TypedParts,
) -> Product | None:
    """The saved product; None when something was refused, with the sentences where they belong."""
    inputs = parts.read()
    if not form.is_valid() or not parts.is_readable:
        return None
    user: Any = request.user
    try:
        return save_product(kitchen, by=user, product=subject, values=form.values(), parts=inputs)
    except ValidationError as error:
        faults = dict(error.error_dict)
        for sentence in error.message_dict.get("parts", []):
            parts.blame(sentence)
        faults.pop("parts", None)
        if faults:
            take_errors(form, ValidationError(faults))
        return None
