"""Label designs and sheets of a kitchen: read, saved, and what may be chosen for them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import OuterRef, QuerySet, Subquery

from costing.models import Kitchen, Product, Recipe
from costing.reckoning.composition import Used, composition
from costing.selectors.recipes import load_book
from costing.services.audit import record_changes
from labels import law
from labels.models import LabelDesign, OwnSheet, PrintedLabel, QuantifiedIngredient
from labels.stock import SHEETS, LabelSheet


@dataclass(frozen=True)
class Quantifiable:
    """Something in a recipe whose quantity the label could declare.

    key: "ingredient-12" or "recipe-3", as a form sends it back.
    """

    key: str
    name: str


def products_with_labels(kitchen: Kitchen) -> QuerySet[Product]:
    """Products for the list of labels, each with its design and its latest print run."""
    latest = PrintedLabel.objects.filter(product=OuterRef("pk")).order_by("-printed_at", "-pk")
    return (
        Product.objects.filter(kitchen=kitchen, is_archived=False)
        .select_related("recipe", "label_design")
        .annotate(
            last_printed=Subquery(latest.values("printed_at")[:1]),
            last_lot=Subquery(latest.values("lot")[:1]),
        )
        .order_by("name")
    )


def products_of_recipe(recipe: Recipe) -> QuerySet[Product]:
    """Products made of a recipe, each with its design and what that declares; archived ones too."""
    return (
        Product.objects.filter(kitchen_id=recipe.kitchen_id, recipe=recipe)
        .select_related("recipe", "label_design")
        .prefetch_related("label_design__quantified")
        .order_by("name")
    )


def design_of(product: Product) -> LabelDesign:
    """The product's label design, or an unsaved one that proposes what can be guessed."""
    try:
        return product.label_design
    except LabelDesign.DoesNotExist:
        kitchen = product.kitchen
        return LabelDesign(
            kitchen=kitchen,
            product=product,
            name_of_food=product.recipe.label_name or product.recipe.name,
            brand_name=kitchen.trading_name,
            market=law.home_market(kitchen.country).code,
            lot_prefix="".join(word[0] for word in product.recipe.name.split())[:2].upper(),
        )


def is_kept(design: LabelDesign) -> bool:
    """Whether the design was saved, and is not only proposed."""
    return not design._state.adding


def printed_in(kitchen: Kitchen) -> QuerySet[PrintedLabel]:
    """Print runs of a kitchen, the newest first, without their files."""
    return (
        PrintedLabel.objects.filter(kitchen=kitchen)
        .select_related("product", "printed_by", "recipe_version")
        .defer("label_pdf", "facts")
    )


def next_free_label(kitchen: Kitchen, sheet: LabelSheet) -> int:
    """Where the last print run on such sheets stopped: its next label, counted from 1."""
    last = printed_in(kitchen).filter(sheet__code=sheet.code).first()
    if last is None:
        return 1
    filled = last.copies * int(last.sheet.get("papers", 1))
    return (int(last.sheet["start_at"]) - 1 + filled) % sheet.per_page + 1


def quantifiable(product: Product, *, on: Any) -> tuple[Quantifiable, ...]:
    """What the label could quantify: every preparation and ingredient of the recipe, once."""
    book = load_book(product.kitchen, [product.recipe_id], on=on)
    water = {pk for pk, ingredient in book.ingredients.items() if ingredient.is_water}
    found: dict[str, str] = {}
    _collect(composition(book, product.recipe_id), found)
    return tuple(
        Quantifiable(key, name)
        for key, name in found.items()
        if key not in {f"ingredient-{pk}" for pk in water}
    )


def _collect(used: Used, found: dict[str, str]) -> None:
    for part in used.parts:
        key = f"recipe-{part.recipe_id}" if part.recipe_id else f"ingredient-{part.ingredient_id}"
        found.setdefault(key, part.name)
        _collect(part, found)


@transaction.atomic
def save_design(
    product: Product, *, by: Any, values: Mapping[str, Any], quantified: Mapping[str, str]
) -> LabelDesign:
    """Keep a design; `quantified` maps what is declared ("recipe-3") to the reason for it."""
    design = design_of(product)
    before = {name: getattr(design, name) for name in values} if is_kept(design) else {}
    for name, value in values.items():
        setattr(design, name, value)
    design.full_clean()
    design.save()
    if before:
        record_changes(design, by=by, before=before, after=dict(values))
    design.quantified.all().delete()
    for row in as_rows(design, quantified=quantified):
        row.full_clean()
        row.save()
    return design


def as_rows(design: LabelDesign, *, quantified: Mapping[str, str]) -> list[QuantifiedIngredient]:
    """What is declared ("recipe-3" -> the reason) as rows, not saved."""
    rows = []
    for key, reason in quantified.items():
        kind, _, pk = key.partition("-")
        row = QuantifiedIngredient(kitchen=design.kitchen, design=design, reason=reason)
        setattr(row, "preparation_id" if kind == "recipe" else "ingredient_id", int(pk))
        rows.append(row)
    return rows


def sheets_for(kitchen: Kitchen) -> tuple[LabelSheet, ...]:
    """The sheets a kitchen can print on: those of its paper size first, its own before all."""
    own = tuple(as_sheet(row) for row in OwnSheet.objects.filter(kitchen=kitchen))
    width = 210 if kitchen.paper_size == "A4" else 215

    def is_other_paper(sheet: LabelSheet) -> bool:
        return int(min(sheet.page_width_mm, sheet.page_height_mm)) != width

    return own + tuple(sorted(SHEETS, key=is_other_paper))


def sheet_named(kitchen: Kitchen, code: str) -> LabelSheet | None:
    """The sheet of that code, if this kitchen can print on it."""
    return next((sheet for sheet in sheets_for(kitchen) if sheet.code == code), None)


def as_sheet(row: OwnSheet) -> LabelSheet:
    """A sheet the kitchen described itself, as geometry. Raises ValueError if it cannot be."""
    return LabelSheet(
        code=f"own-{row.pk or 'new'}",
        name=row.name,
        **{name: getattr(row, name) for name in SHEET_NUMBERS},
    )


SHEET_NUMBERS: Sequence[str] = (
    "page_width_mm",
    "page_height_mm",
    "columns",
    "rows",
    "label_width_mm",
    "label_height_mm",
    "margin_left_mm",
    "margin_top_mm",
    "pitch_x_mm",
    "pitch_y_mm",
    "corner_radius_mm",
)


@transaction.atomic
def save_own_sheet(kitchen: Kitchen, *, by: Any, values: Mapping[str, Any]) -> OwnSheet:
    """Keep a sheet of labels if its numbers add up to the page; else say what does not."""
    row = OwnSheet(kitchen=kitchen, **values)
    row.full_clean()
    try:
        as_sheet(row)
    except ValueError as reason:
        raise ValidationError(str(reason)) from reason
    row.save()
    record_changes(row, by=by, before={}, after=dict(values))
    return row
